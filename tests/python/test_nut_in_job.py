"""Lock tabs, hand and threads of the nut, and squareness, in a job: composed of the same models."""

from __future__ import annotations

import math

import fitwright as fw
import numpy as np
import pytest

MISS = 'miss = "0.3 deg"\n'
WINDOW = 'torque_window_low = "740 N m"\ntorque_window_high = "930 N m"\n'


@pytest.fixture(scope="module")
def found(demo):
    return demo.evaluate(level="quick")


def loads(text, *changes):
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return fw.Job.loads(text)


@pytest.fixture(scope="module")
def by_luck(demo_text):
    """The demo before its next meeting was measured."""
    return loads(demo_text, (MISS, ""))


def test_meetings_are_those_of_the_model(by_luck):
    alone = by_luck.lock_tabs()
    here = by_luck.states[0]
    found = by_luck.evaluate(level="quick")
    for name in ("meetings_per_turn", "meeting_angle", "preload_step", "torque_step"):
        assert found[here, f"lock.{name}"] == pytest.approx(getattr(alone, name), rel=1e-12)
    assert found[here, "lock.meeting_torque"] == pytest.approx(alone.next_torque, rel=1e-12)
    for name in ("chance", "chance_low", "chance_high", "preload_mean", "preload_greatest"):
        assert found[here, f"lock.{name}"] == pytest.approx(getattr(alone, name), rel=1e-12)


def test_a_step_is_lead_over_meetings_over_compliance(demo, found):
    """17 tabs and 4 slots have no divisor in common: 68 meetings, 5.294 degrees. Counting."""
    here = demo.states[0]
    assert found[here, "lock.meetings_per_turn"] == 68.0
    assert found[here, "lock.meeting_angle"] == pytest.approx(2 * math.pi / 68)
    step = demo["nut.pitch"] / 68 / found[here, "stack.compliance"]
    assert found[here, "lock.preload_step"] == pytest.approx(step, rel=1e-9)
    rest = found[here, "lock.preload_next"] - found[here, "nut.preload"]
    assert rest == pytest.approx(step, rel=1e-9)


def test_a_chance_can_be_a_limit(demo_text):
    limit = '\n[[limit]]\noutput = "lock.chance"\nat_least = 0.99\n'
    assert all(f.path != "lock.chance" for f in fw.Job.loads(demo_text).evaluate())
    (finding,) = (f for f in fw.Job.loads(demo_text + limit).evaluate() if f.path == "lock.chance")
    assert finding.value == pytest.approx(
        fw.Job.loads(demo_text).evaluate()["cold_build", "lock.chance"]
    )


def test_a_measured_meeting_is_no_matter_of_chance(demo, found):
    """0.3 degrees past 740 N m: at 790 N m, inside the window."""
    alone = demo.lock_tabs()
    assert found["cold_build", "lock.meeting_torque"] == pytest.approx(alone.next_torque, rel=1e-12)
    assert 780.0 < alone.next_torque < 800.0
    assert found["cold_build", "lock.chance"] == found["cold_build", "lock.chance_low"] == 1.0


def test_no_window_no_chance(demo_text):
    job = loads(demo_text, (WINDOW, ""))
    found = job.evaluate(level="quick")
    assert found["cold_build", "lock.preload_step"] > 0.0
    with pytest.raises(fw.InputError, match=r"lock\.chance: is not an output"):
        found["cold_build", "lock.chance"]


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("slots = 4\n", "", "lock.slots: must be given: tabs meet slots"),
        ("slots = 4\n", "slots = 0\n", "lock.slots: must be a whole number from 1 to 360"),
        ("tabs = 17\n", "tabs = 17.5\n", "lock.tabs: must be a whole number"),
        ("tabs = 17\n", "tabs = 361\n", "lock.tabs: must be a whole number from 1 to 360"),
        (
            'torque_window_high = "930 N m"\n',
            "",
            "nut.torque_window_high: must be given with torque_window_low",
        ),
        (
            'torque_window_high = "930 N m"',
            'torque_window_high = "740 N m"',
            "nut.torque_window_high: must be above torque_window_low",
        ),
        (
            'rotation = "clockwise"',
            'rotation = "left"',
            "shaft.rotation: .*must be one of not_told",
        ),
        ('start_time = "20 s"', 'start_time = "0 s"', "shaft.start_time"),
    ],
)
def test_what_is_wrong_is_told(demo_text, old, new, said):
    with pytest.raises(fw.InputError, match=said):
        loads(demo_text, (old, new))


@pytest.mark.parametrize("hand", ["left", "right"])
@pytest.mark.parametrize("rotation", ["clockwise", "anticlockwise"])
def test_a_nut_is_tightened_by_what_lags_when_its_hand_turns_against_the_shaft(
    demo_text, hand, rotation
):
    """Clockwise seen from the nut end: rings that lag turn anticlockwise against the shaft, which
    takes a left-hand nut on. Common practice on hands of thread."""
    job = loads(
        demo_text,
        ('hand = "left"', f'hand = "{hand}"'),
        ('rotation = "clockwise"', f'rotation = "{rotation}"'),
    )
    found = job.evaluate(level="quick")
    tightens = (hand == "left") == (rotation == "clockwise")
    for state in job.states:
        assert found[state, "nut.sense"] == (1.0 if tightens else -1.0)
        assert (found[state, "nut.start_torque"] < 0.0) == (
            not tightens and job[f"states.{state}.speed"] > 0.0
        )
    assert found["full_load", "nut.trip_torque"] == pytest.approx(
        -5.0 * found["full_load", "nut.start_torque"]
    )


def test_the_drive_is_that_of_the_model(demo, found):
    nut = {
        name: float(demo[f"nut.{name}"])
        for name in ("diameter", "pitch", "height", "outside", "face_inside", "face_outside")
    }
    frictions = {
        f"{which}_friction{end}": float(demo[f"nut.{which}_friction{end}"])
        for which in ("thread", "face")
        for end in ("", "_low", "_high")
    }
    alone = fw.threads.hand(
        nut=fw.Nut(**nut, **frictions, hand="left", material="4140"),
        rotation="clockwise",
        preload=float(found["overspeed", "nut.force_low"]),
        drag_torque=float(found["overspeed", "bearing.friction_torque"]),
        speed=float(demo["states.overspeed.speed"]),
        start_time="20 s",
        trip_time="4 s",
        shaft_bore=float(demo["shaft.bore"]),
    )
    for name in ("drag_margin", "start_margin", "trip_margin", "creep_margin", "thread_hold"):
        assert found["overspeed", f"nut.{name}"] == pytest.approx(getattr(alone, name), rel=1e-12)


def test_threads_are_those_of_the_model(demo, found):
    nut = {
        name: float(demo[f"nut.{name}"])
        for name in ("diameter", "pitch", "height", "outside", "face_inside", "face_outside")
    }
    bolt, hole = fw.sizes.thread("M75x2-6g"), fw.sizes.thread("M75x2-6H")
    alone = fw.threads.stripping(
        nut=fw.Nut(**nut, material="4140"),
        material="4340",
        external_major=bolt.major[0],
        external_pitch=bolt.pitch_diameter[0],
        internal_minor=hole.minor[1],
        internal_pitch=hole.pitch_diameter[1],
        preload=float(found["cold_build", "nut.preload_high"]),
        shaft_bore=float(demo["shaft.bore"]),
    )
    # The tables round basic pitch and minor diameters to whole micrometres.
    assert found["cold_build", "nut.shaft_thread_use"] == pytest.approx(
        alone.external_use, rel=1e-3
    )
    assert found["cold_build", "nut.nut_thread_use"] == pytest.approx(alone.internal_use, rel=1e-3)
    assert found["cold_build", "nut.face_pressure_high"] == pytest.approx(alone.face_pressure)
    # The washer is the softer of the two; it stands under the nut.
    softer = min(
        fw.materials.material(name).at("yield", float(demo["states.cold_build.shaft_temperature"]))
        for name in ("4140", "1020")
    )
    assert found["cold_build", "nut.face_use"] == pytest.approx(alone.face_pressure / softer)
    assert found["cold_build", "nut.force_high"] == found["cold_build", "nut.preload_high"]


def test_squareness_of_the_job_is_that_of_the_stack(demo, found):
    """By the job's own formula with the moduli of the state, and by the square stack at 20 degC."""
    stack = demo.squareness("cold_build", rotor_mass="180 kg", speed="11000 rpm")
    whole = stack.evaluate()
    assert found["cold_build", "stack.bend_moment"] == pytest.approx(whole.moment, rel=1e-9)
    assert found["cold_build", "stack.end_runout"] == pytest.approx(whole.end_runout, rel=1e-9)
    for ring in demo.rings:
        one = whole.rings[ring]
        assert found["cold_build", f"rings.{ring}.runout"] == pytest.approx(
            one.ring_runout, rel=1e-9
        )
        assert found["cold_build", f"rings.{ring}.tilt"] == pytest.approx(one.ring_tilt, rel=1e-9)


def test_squareness_in_a_state(demo):
    square = demo.squareness("full_load", rotor_mass="180 kg")
    held = square.evaluate()
    assert held.permissible == pytest.approx(180.0 * 2.5e-3 / float(demo["states.full_load.speed"]))
    assert 0.0 < held.opening_use < 1.0
    better = square.clock("runout", slots=6)
    assert better.best <= better.as_given


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"state": "nowhere"}, '"nowhere" is not a state'),
        ({"state": "trip"}, "speed: the shaft stands still"),
        ({"state": "full_load", "masses": {"fan": "3 kg"}}, "masses.fan: is not a ring"),
        ({"state": "full_load", "clamp": "-1 kN"}, "clamp"),
    ],
)
def test_squareness_refuses(demo, given, said):
    with pytest.raises(fw.InputError, match=said):
        demo.squareness(rotor_mass="180 kg", **given)


def test_a_job_that_tells_nothing_has_none_of_it(demo_text):
    lines = [
        line
        for line in demo_text.splitlines()
        if not line.startswith(
            (
                *("wedge", "runout", "shoulder_runout", "shoulder_angle", "face_runout"),
                *("rotation", "tabs", "slots", "miss", "torque_window"),
            )
        )
    ]
    job = fw.Job.loads("\n".join(lines))
    paths = {path for _, path, *_ in job.output_rows}
    assert not paths & {"lock.meetings_per_turn", "lock.chance", "nut.window_margin"}
    assert not paths & {"stack.bend_moment", "nut.sense", "rings.wheel.runout"}
    assert job.evaluate(level="quick").passed


def test_derivatives_of_it_are_those_of_differences(demo):
    """Central differences; steps by the scale of each input."""
    slopes = demo.derivatives(level="quick")
    cases = [
        ("nut.torque", 0.05, "cold_build", "lock.preload_step"),
        ("nut.torque_window_low", 0.05, "cold_build", "lock.meetings_in_window"),
        ("nut.thread_friction_low", 1e-6, "full_load", "nut.start_margin"),
        ("nut.torque", 0.05, "full_load", "nut.nut_thread_use"),
        ("rings.wheel.wedge", 1e-9, "full_load", "rings.sleeve.runout"),
        ("rings.sleeve.runout_angle", 1e-4, "full_load", "rings.sleeve.runout"),
        ("shaft.shoulder_runout", 1e-9, "full_load", "stack.opening_margin"),
    ]
    for path, step, state, output in cases:
        up, down = (
            demo.replace({path: float(demo[path]) + way * step}).evaluate(level="quick")[
                state, output
            ]
            for way in (1.0, -1.0)
        )
        assert slopes[state, output, path] == pytest.approx((up - down) / (2 * step), rel=2e-4)


def test_worst_cases_bound_it(demo):
    worst = demo.worst_case("full_load", "nut.start_margin", budget=500, boxes=20)
    study = demo.study(2_000, seed=3, level="quick", progress=False, keep=["nut.start_margin"])
    column = np.asarray(study.columns["full_load", "nut.start_margin"])
    (one,) = worst
    assert one.least.bound <= column.min()
    assert column.max() <= one.greatest.bound


def test_the_sheet_says_it_in_words(demo, demo_text, tmp_path):
    text = demo.sheet(tmp_path / "sheet.html").read_text(encoding="utf-8")
    for words in (
        "TIGHTENS this left-hand nut",
        "meet 68 times a turn",
        "Never back off to align",
        "runout to expect",
    ):
        assert words in text
    other = loads(demo_text, ('hand = "left"', 'hand = "right"'))
    text = other.sheet(tmp_path / "other.html").read_text(encoding="utf-8")
    assert "LOOSENS this right-hand nut" in text


def test_lanes_give_the_bits_of_one_evaluation(demo):
    """A sweep runs on lanes of the vector level at hand, evaluate on plain doubles."""
    wedges = [0.0, 0.4e-6, 1.1e-6, 2.3e-6, 3.0e-6, 0.7e-6, 1.9e-6, 2.8e-6, 0.1e-6]
    paths = [
        *("stack.bend_moment", "stack.opening_margin", "stack.end_runout"),
        *("rings.slinger.runout", "rings.sleeve.tilt", "nut.start_margin", "nut.creep_margin"),
        *("nut.nut_thread_use", "nut.shaft_thread_use", "nut.force_high"),
    ]
    swept = demo.sweep({"rings.wheel.wedge": wedges}, outputs=paths, level="quick")
    for number, wedge in enumerate(wedges):
        alone = demo.replace({"rings.wheel.wedge": wedge}).evaluate(level="quick")
        for path in paths:
            assert swept["overspeed", path][number] == float(alone["overspeed", path])
    torques = [600.0 + 10.0 * k for k in range(12)]
    paths = ["lock.preload_step", "lock.chance", "lock.preload_next", "lock.window_low"]
    swept = demo.sweep({"nut.torque": torques}, outputs=paths, level="quick")
    for number, torque in enumerate(torques):
        alone = demo.replace({"nut.torque": torque}).evaluate(level="quick")
        for path in paths:
            assert swept["cold_build", path][number] == float(alone["cold_build", path])
