"""Can it be put together, what fails when it should, and what a job passes by its own word."""

from __future__ import annotations

import fitwright as fw
import pytest


def loads(text, *changes):
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return fw.Job.loads(text)


def finding(job, path, state=None):
    (found,) = (
        f
        for f in job.evaluate(level="quick")
        if f.path == path and f.state == (state or job.states[0])
    )
    return found


WASHER = ('bore = "75.5 mm"', 'bore = "74.6 mm"')


def test_every_part_tells_its_own_size_and_what_it_passes(demo):
    table = demo.assembly()
    ways = {(row[0], row[1]): row for row in table.rows}
    own, passes, left, mark = ways["sleeve", "on to its place"][2:]
    # 79.999 mm at 110 degC over the seat of 80.036 mm.
    found = demo.evaluate(level="quick")
    growth = 90.0 * fw.materials.material("4140").at("expansion", 110.0)
    assert found["cold_build", "rings.sleeve.on_bore"] == pytest.approx(0.079999 * (1.0 + growth))
    assert own == found["cold_build", "rings.sleeve.on_bore"].shown()
    assert (passes, mark) == ("80.036 mm", "ok")
    assert left == found["cold_build", "rings.sleeve.opening"].shown()
    assert ways["lock", "on to its place"][2:5] == ["75.500 mm", "75.000 mm", "500.0 um"]
    # What no field tells of is not looked at, and not shown.
    assert not any("opening" in way for _, way in ways)
    assert ("shoulder", "stops the first ring") not in ways


def test_a_washer_smaller_than_its_thread_fails_with_both_sizes(demo_text):
    job = loads(demo_text, WASHER)
    found = finding(job, "lock.on_clearance")
    assert not found.passed
    assert found.margin == pytest.approx(-0.4e-3)
    row = next(r for r in job.assembly().rows if r[:2] == ["lock", "on to its place"])
    assert row[2:] == ["74.600 mm", "75.000 mm", "-400.0 um", "NOT MET"]
    assert "bad" in job.assembly().marks


def test_what_slides_on_must_be_loose(demo_text):
    job = loads(demo_text, ('"80.058 mm", spread', '"80.030 mm", spread'))
    assert finding(job, "rings.wheel.on_clearance").margin == pytest.approx(-6e-6)


def test_openings_and_places_are_looked_at_where_they_are_told(demo_text):
    job = loads(
        demo_text,
        ("[nut]\n", '[nut]\nopening = "102 mm"\nthread_start = "103 mm"\nthread_end = "118 mm"\n'),
        ('name = "main"\n', 'name = "main"\nend = "70 mm"\n'),
    )
    # The nut is 104 mm; stack 101 mm and washer 1.5 mm; its height 20 mm.
    assert finding(job, "nut.opening_clearance").margin == pytest.approx(-2e-3)
    assert finding(job, "nut.run_on_margin").margin == pytest.approx(-0.5e-3)
    assert finding(job, "nut.engaged_margin").margin == pytest.approx(-4.5e-3)
    # The back half ends at 71 mm, its contact 1.25 mm before; the wheel lies beyond.
    assert finding(job, "rings.inner_back.seat_margin").margin == pytest.approx(0.25e-3)
    assert finding(job, "rings.wheel.seat_margin").margin == pytest.approx(-15e-3)
    shown = {held.path for held in job.evaluate(level="quick").governing()}
    assert "rings.wheel.seat_margin" in shown
    assert "rings.wheel.opening_clearance" not in shown  # nobody told of one
    titles = [row[:2] for row in job.assembly("inch").rows]
    assert ["nut", "through its opening"] in titles
    assert ["inner_back", "contact on its seat"] in titles


def test_a_land_no_ring_sits_on_is_passed_by_all(demo_text):
    land = '[[seat]]\nname = "land"\ndiameter = "76 mm"\n\n[[ring]]\nname = "sleeve"'
    job = loads(demo_text, ('[[ring]]\nname = "sleeve"', land))
    assert finding(job, "lock.on_clearance").margin == pytest.approx(-0.5e-3)
    assert finding(job, "nut.on_clearance").margin == pytest.approx(-3.165e-3, abs=1e-6)
    assert finding(job, "rings.wheel.on_clearance").passed


def test_impossible_geometry_is_an_error(demo_text):
    with pytest.raises(fw.InputError, match=r"lock\.outside: 118 mm and the bore leave no face"):
        loads(
            demo_text,
            ('bore = "75.5 mm"\noutside = "98 mm"', 'bore = "103 mm"\noutside = "118 mm"'),
        )


def test_a_nut_of_the_wrong_hand_fails_and_insisting_is_told(demo_text, tmp_path):
    wrong = loads(demo_text, ('hand = "left"', 'hand = "right"'))
    found = finding(wrong, "nut.sense", "trip")
    assert not found.passed
    assert "the hand of the thread is wrong for this rotation" in found.meaning
    assert not wrong.evaluate(level="quick").passed
    insisted = loads(
        demo_text,
        ('hand = "left"', 'hand = "right"'),
        (
            '[[limit]]\noutput = "bearing.clearance"',
            '[[limit]]\noutput = "nut.sense"\nat_least = -1\n\n'
            '[[limit]]\noutput = "bearing.clearance"',
        ),
    )
    assert finding(insisted, "nut.sense", "trip").passed
    eased = insisted.evaluate(level="quick").eased
    assert [e.path for e in eased] == ["nut.sense"] * 6
    assert (eased[0].told, eased[0].usual) == (">= -1", ">= 0")
    said = repr(insisted.evaluate(level="quick"))
    assert "limits eased by this job: 6" in said
    assert "nut.sense (trip): >= -1, usually >= 0: 1: what lags behind" in said
    assert "eased" not in repr(loads(demo_text).evaluate(level="quick"))
    text = insisted.sheet(tmp_path / "sheet.html").read_text(encoding="utf-8")
    assert "passes by its own word: 6 limits wider than usual" in text
    assert "LOOSENS this right-hand nut" in text


def test_a_limit_on_the_other_side_takes_the_place_of_the_usual_one(demo_text):
    """A job that only tells a greatest value drops the usual least one: that is told too."""
    other = '[[limit]]\noutput = "nut.force_low"\nat_most = "90 kN"\n\n'
    job = loads(
        demo_text,
        (
            '[[limit]]\noutput = "bearing.clearance"',
            f'{other}[[limit]]\noutput = "bearing.clearance"',
        ),
    )
    assert {e.path for e in job.evaluate(level="quick").eased} == {"nut.force_low"}


def test_the_stop_begins_at_the_greatest_speed_of_all_states(demo, demo_text):
    found = demo.evaluate(level="quick")
    assert found["trip", "nut.stop_from"] == demo["states.overspeed.speed"]
    assert found["cold_build", "nut.stop_from"] == 0.0
    assert found["trip", "nut.trip_torque"] < 0.0
    slow = loads(
        demo_text,
        (
            'shaft_temperature = "76 degC"\n',
            'shaft_temperature = "76 degC"\ntrip_speed = "3000 rpm"\n',
        ),
    )
    assert slow.evaluate(level="quick")["trip", "nut.trip_torque"] == pytest.approx(
        float(found["trip", "nut.trip_torque"]) * 3000.0 / 12650.0
    )


def test_the_bearing_drags_what_it_rubs(demo):
    found = demo.evaluate(level="quick")
    for state in ("start", "full_load"):
        assert found[state, "nut.bearing_drag"] == found[state, "bearing.friction_torque"]


def test_torque_and_tabs_are_held_to_their_window(demo_text):
    low = loads(demo_text, ('"840 N m", spread', '"580 N m", spread'))
    assert finding(low, "nut.window_margin").margin == pytest.approx(-160.0)
    by_luck = loads(demo_text, ('miss = "0.3 deg"\n', ""))
    assert finding(by_luck, "lock.chance_low").limit == pytest.approx(0.9)
    angle = by_luck.evaluate(level="quick")["cold_build", "lock.window_angle"]
    measured = loads(demo_text, ('miss = "0.3 deg"', f'miss = "{0.7 * float(angle)!r} rad"'))
    assert finding(measured, "lock.chance_low").value == 1.0
    torque = measured.evaluate(level="quick")["cold_build", "lock.meeting_torque"]
    assert torque == pytest.approx(740.0 + 0.7 * 190.0)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("[nut]\n", '[nut]\nthread_class = "6g"\n', "nut.thread_class: .*classes of nut and shaft"),
        (
            "[nut]\n",
            '[nut]\nthread_class = "9Z/6g"\n',
            "nut.thread_class: .*not a class of ISO 965",
        ),
        ("[nut]\n", "[nut]\nthread_class = 6\n", "nut.thread_class: must be text"),
        (
            'seat_diameter = "170 mm"\n',
            'seat_diameter = "170 mm"\nring_outside = "170.01 mm"\nhousing_outside = "220 mm"\n',
            "pocket.material: must be given",
        ),
        (
            'seat_diameter = "170 mm"\n',
            'seat_diameter = "170 mm"\nring_outside = "170.01 mm"\nmaterial = "grey_iron"\n',
            "pocket.housing_outside: must be given",
        ),
        ('miss = "0.3 deg"', 'miss = "400 deg"', "lock.miss"),
    ],
)
def test_what_is_told_wrongly_is_refused(demo_text, old, new, said):
    with pytest.raises(fw.InputError, match=said):
        loads(demo_text, (old, new))


def test_the_pocket_takes_running_clearance(demo, demo_text):
    job = loads(
        demo_text,
        (
            'seat_diameter = "170 mm"\n',
            'seat_diameter = "170 mm"\nring_outside = "170.016 mm"\nhousing_outside = "230 mm"\n'
            'material = "ductile_iron"\n',
        ),
    )
    tight, free = job.evaluate(level="quick"), demo.evaluate(level="quick")
    assert tight["cold_build", "bearing.pocket_interference"] == pytest.approx(16e-6)
    assert tight["cold_build", "bearing.clearance"] < free["cold_build", "bearing.clearance"]
    alone = fw.bearings.housing_fit(
        outside="170.016 mm",
        raceway=float(demo["bearing.pitch_diameter"] + demo["bearing.ball_diameter"]) + 75e-6,
        shoulder=float(demo["bearing.pitch_diameter"] + 0.6 * demo["bearing.ball_diameter"])
        + 75e-6,
        material="52100",
        housing=fw.Housing(bore="170 mm", outside="230 mm", material="ductile_iron"),
    )
    assert tight["cold_build", "bearing.pocket_pressure"] == pytest.approx(alone.pressure)
    assert tight["cold_build", "bearing.outer_growth"] == pytest.approx(alone.outer_growth)
    # Warm, in an iron that grows with it: its lag is a field of the state.
    assert "states.full_load.lags.pocket" in {path for path, *_ in job.input_rows}


def test_a_pocket_without_oil_needs_a_ring_to_fit(demo_text):
    lines = demo_text.split("[service]")
    rest = lines[1].split("[pocket]")[1]
    bare = "".join(
        line
        for line in (lines[0] + "[pocket]" + rest).splitlines(keepends=True)
        if not line.startswith(("share", "oil_temperature"))
    )
    with pytest.raises(fw.InputError, match=r"pocket: needs a table \[service\], or ring_outside"):
        fw.Job.loads(bare)
    fitted = bare.replace(
        'seat_diameter = "170 mm"\n',
        'seat_diameter = "170 mm"\nring_outside = "170.016 mm"\nhousing_outside = "230 mm"\n'
        'material = "ductile_iron"\n',
    )
    found = fw.Job.loads(fitted).evaluate(level="quick")
    assert found["cold_build", "bearing.pocket_pressure"] > 0.0


def test_derivatives_of_ways_and_pocket(demo_text):
    job = loads(
        demo_text,
        (
            'seat_diameter = "170 mm"\n',
            'seat_diameter = "170 mm"\nring_outside = "170.016 mm"\nhousing_outside = "230 mm"\n'
            'material = "ductile_iron"\n',
        ),
    )
    slopes = job.derivatives(level="quick")
    for path, step, output in (
        ("pocket.ring_outside", 1e-8, "bearing.clearance"),
        ("pocket.housing_outside", 1e-6, "bearing.pocket_pressure"),
        ("rings.sleeve.oven", 1e-3, "rings.sleeve.on_clearance"),
        ("lock.bore", 1e-7, "lock.on_clearance"),
    ):
        up, down = (
            job.replace({path: float(job[path]) + way * step}).evaluate(level="quick")[
                "cold_build", output
            ]
            for way in (1.0, -1.0)
        )
        assert slopes["cold_build", output, path] == pytest.approx(
            (up - down) / (2 * step), rel=1e-5
        )
