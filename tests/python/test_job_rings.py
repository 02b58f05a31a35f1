"""One ring of a job: its end effect, the fit that yields, the oven that does not open it."""

from __future__ import annotations

import re

import fitwright as fw
import numpy as np
import pytest
from fitwright.charts import picture

SLEEVE = 'bore = { value = "79.999 mm", spread = "normal", deviation = "2 um" }'
SLEEVE_OVEN = 'oven = { value = "110 degC", spread = "normal", deviation = "4 K" }\n'
SLEEVE_LENGTHS = 'outside = "100 mm"\nlength = "32 mm"\ncontact_length = "29 mm"\n'
INNER = 'bore = { value = "79.992 mm", spread = "normal", deviation = "1.5 um" }'
INNER_OVEN = 'oven = { value = "110 degC", spread = "normal", deviation = "2.5 K" }\n'
STEPS = (
    'slices = [{ outside = "104 mm", length = "20 mm" }, '
    '{ outside = "94 mm", length = "12 mm", contact_length = "9 mm" }]\n'
)
OVERHANG = 'overhang = { value = "0.4", low = "0", high = "0.5" }\nslip_clearance'


def job(*changes: tuple[str, str]) -> fw.Job:
    whole = fw.demo().file.text
    for old, new in changes:
        assert old in whole
        whole = whole.replace(old, new)
    return fw.Job.loads(whole)


def yielding_sleeve(bore: str = "79.855 mm", *more: tuple[str, str]) -> fw.Job:
    """Of a steel that yields at 310 MPa, and no oven told."""
    metal = ('material = "4140"\nbore', 'material = "1045"\nbore')
    return job((SLEEVE_OVEN, ""), metal, (SLEEVE, f'bore = "{bore}"'), *more)


def as_parts(there: fw.Job) -> dict[str, object]:
    """Shaft and sleeve of the demo, put together by hand."""
    shaft = fw.Shaft(bore="30 mm", seat="80.036 mm", roughness="1.6 um", material="4340")
    sleeve = fw.Ring(
        bore=float(there["rings.sleeve.bore"]),
        outside="100 mm",
        length="32 mm",
        contact_length="29 mm",
        roughness="2.5 um",
        friction_low="0.12",
        friction_high="0.18",
        material=there.file.document["ring"][0]["material"],
    )
    return {"shaft": shaft, "ring": sleeve}


def page_of(there: fw.Job, tmp_path) -> str:
    page = there.sheet(tmp_path / "sheet.html").read_text(encoding="utf-8")
    return page.replace("\N{NO-BREAK SPACE}", " ")


def said(there: fw.Job, tmp_path) -> list[str]:
    page = page_of(there, tmp_path)
    told = re.findall(r'<p><span class="warn">.*?</p>', page)
    return [re.sub("<.*?>", "", line).replace("&#39;", "'") for line in told]


# -- end effect -----------------------------------------------------------------------------------


def test_the_end_effect_of_a_ring_of_a_job_is_that_of_the_model():
    there = fw.demo()
    found = there.evaluate(level="quick")
    clamp = float(found["cold_build", "nut.force"])
    parts = as_parts(there)
    for share, name in ((0.4, "end_effect"), (0.5, "end_effect_high")):
        # Its stress is at its greatest before the nut presses on it.
        alone = fw.rings.overhang(**parts, overhang=share)
        assert found["cold_build", f"rings.sleeve.{name}"] == pytest.approx(alone.factor, rel=1e-12)
    assert found["cold_build", "rings.sleeve.ring_hoop_high"] == pytest.approx(
        alone.ring_hoop, rel=1e-9
    )
    # Von Mises' stress is greatest under the greatest force: the clamp presses along the ring.
    most = float(found["cold_build", "nut.force_high"])
    pressed = fw.rings.overhang(**parts, overhang=0.5, axial_force=most)
    assert found["cold_build", "rings.sleeve.ring_yield_use_high"] == pytest.approx(
        max(alone.ring_yield_use, pressed.ring_yield_use), rel=1e-9
    )
    # The plain fit is what it was: Lame's, with nothing of it.
    plain = fw.rings.fit(**parts, axial_force=clamp)
    assert found["cold_build", "rings.sleeve.pressure"] == pytest.approx(plain.pressure, rel=1e-9)


def test_the_stress_with_the_end_effect_is_a_finding():
    held = {f.path: f for f in fw.demo().evaluate(level="quick").governing()}
    assert held["rings.sleeve.ring_yield_use_high"].limit == 0.9
    assert "job.yielding" in held["rings.sleeve.ring_yield_use_high"].meaning
    # An inner ring may not feel more hoop stress than it can bear for life, end effect or not.
    assert held["rings.inner_back.ring_hoop_high"].limit == held["rings.inner_back.ring_hoop"].limit
    assert held["rings.inner_back.ring_hoop_high"].value > held["rings.inner_back.ring_hoop"].value
    # What only slides on has none.
    assert "rings.wheel.ring_yield_use_high" not in held


def test_a_ring_among_its_like_has_no_end_effect():
    there = job((OVERHANG, 'overhang = { value = "0", low = "0", high = "0" }\nslip_clearance'))
    found = there.evaluate(level="quick")
    for state in ("cold_build", "overspeed"):
        assert found[state, "rings.sleeve.end_effect_high"] == 1.0
    # Then the greatest stress is that of the plain fit, before the nut presses on it.
    alone = fw.rings.fit(**as_parts(there))
    assert found["cold_build", "rings.sleeve.ring_hoop_high"] == pytest.approx(
        alone.ring_hoop, rel=1e-9
    )


def test_of_slices_the_worst_one_counts():
    found = job((SLEEVE_LENGTHS, STEPS)).evaluate(level="quick")
    here = "rings.sleeve"
    for state in ("cold_build", "overspeed"):
        assert found[state, f"{here}.ring_hoop_high"] > found[state, f"{here}.ring_hoop"]
        assert found[state, f"{here}.ring_yield_use_high"] > found[state, f"{here}.ring_yield_use"]


# -- what the calculation owes is no finding of the fitter's --------------------------------------


def test_the_heat_that_does_not_add_up_is_told_but_held_by_tests():
    found = fw.demo().evaluate()
    for ring in ("sleeve", "inner_thrust", "inner_back"):
        path = f"rings.{ring}.slip_on.energy_error"
        assert 0.0 <= found["cold_build", path] <= 1e-6
        assert path not in {f.path for f in found}


# -- a fit that yields ----------------------------------------------------------------------------


def test_yielding_is_the_model_with_the_numbers_of_the_job():
    there = yielding_sleeve()
    assert there.evaluate(level="quick")["cold_build", "rings.sleeve.ring_yield_use"] > 1.0
    told = there.ring("sleeve").yielding("overspeed")
    alone = fw.rings.elastic_plastic_fit(**as_parts(there), speed="12650 rpm")
    for name in ("pressure", "plastic_share", "permanent_bore_growth", "speed_pressure"):
        assert getattr(told, name) == pytest.approx(getattr(alone, name), rel=1e-9), name
    assert told.pressure < told.elastic_pressure
    assert told.permanent_bore_growth > 0.0
    assert told.next_interference == pytest.approx(
        told.interference_left - told.permanent_bore_growth - told.permanent_seat_loss
    )
    # A stronger steel on its certificate.
    assert there.ring("sleeve").yielding(ring_yield="600 MPa").plastic_share == 0.0
    # Elastic: the plain fit without a clamp.
    plain = fw.rings.fit(**as_parts(fw.demo()))
    assert fw.demo().ring("sleeve").yielding().pressure == pytest.approx(plain.pressure, rel=1e-9)


def test_yielding_of_a_ring_with_steps_is_that_of_a_slice():
    there = yielding_sleeve("79.88 mm", (SLEEVE_LENGTHS, STEPS))
    thin, thick = (there.ring("sleeve").yielding(slice=k) for k in (2, 1))
    assert thin.plastic_share > thick.plastic_share


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        ({"ring": "slev"}, r'ring: "slev" is not a ring of this job: sleeve, inner_thrust'),
        ({"ring": "sleeve", "state": "hot"}, r'state: "hot" is not a state .*: cold_build, start'),
        ({"ring": "sleeve", "slice": 1}, r"slice: sleeve has no slices"),
        (
            {"ring": "sleeve", "ring_tangent_modulus": "190 GPa"},
            r"ring_tangent_modulus: .* outside|must be at most half of Young's modulus",
        ),
    ],
)
def test_yielding_that_cannot_be_asked(arguments, message):
    with pytest.raises(fw.InputError, match=message):
        named = dict(arguments)
        yielding_sleeve().ring(named.pop("ring")).yielding(**named)


def test_a_ring_with_steps_asks_for_the_slice():
    there = job((SLEEVE_LENGTHS, STEPS))
    with pytest.raises(fw.InputError, match=r"slice: sleeve has steps: name one .* 1 to 2"):
        there.ring("sleeve").yielding()
    with pytest.raises(fw.InputError, match=r"slice: must be 1 to 2, from the shoulder"):
        there.ring("sleeve").yielding(slice=3)


def test_the_sheet_tells_what_yields_and_what_that_leaves(tmp_path):
    there = yielding_sleeve()
    (line,) = said(there, tmp_path)
    out = there.ring("sleeve").yielding()
    assert line.startswith("labyrinth sleeve yields when it is put on: pressure and grip on this")
    assert f"{out.plastic_share:.0%} of the section yields" in line
    assert f"the bore stays {out.permanent_bore_growth * 1e3:.3f} mm larger" in line
    assert f"{out.next_interference * 1e3:.3f} mm of interference is left" in line
    # So much that the whole wall goes: the sheet is still made, and says so.
    (line,) = said(yielding_sleeve("79.80 mm"), tmp_path)
    assert "makes the whole wall of the ring yield; take less interference" in line
    assert said(fw.demo(), tmp_path) == []


# -- an oven that does not open the fit -----------------------------------------------------------


def test_a_ring_the_oven_does_not_open_tells_what_could(tmp_path):
    there = job((INNER, 'bore = "79.86 mm"'), (INNER_OVEN, ""))
    held = {f.path: f for f in there.evaluate().governing()}
    finding = held["rings.inner_back.oven_margin"]
    assert not finding.passed
    assert "job.chill" in finding.meaning
    plan = there.ring("inner_back").chill()
    assert plan.ring_temperature == 120.0
    assert plan.shaft_needed < -78.5 < 20.0
    assert plan.dry_ice_margin < 0.0 < plan.nitrogen_margin
    # Chilled so far the ring slips on: the bore at its limit has the slip clearance.
    alone = fw.heat.oven(
        shaft=fw.Shaft(bore="30 mm", seat="80.036 mm", material="4340"),
        ring=fw.Ring(bore="79.86 mm", outside="104 mm", length="19.5 mm", material="52100"),
        shaft_temperature=plan.shaft_needed,
        slip_clearance="30 um",
    )
    assert alone.oven_needed == pytest.approx(120.0, abs=1e-6)
    lines = said(there, tmp_path)
    assert len(lines) == 2
    assert lines[1].startswith("The oven alone does not open bearing inner ring, back half. ")
    assert (
        f"With the ring at its limit of 120 °C the shaft must be at {plan.shaft_needed:.0f} °C"
        in lines[1]
    )
    assert f"end {plan.chill_margin:.0f} K below that" in lines[1]


def test_where_no_chill_helps_the_sheet_says_what_does(tmp_path):
    there = job((INNER, 'bore = "79.80 mm"'), (INNER_OVEN, ""))
    with pytest.raises(fw.InputError, match=r"clearance is missing .* a smaller interference, a"):
        there.ring("inner_back").chill()
    assert "Nor does a chilled shaft: " in said(there, tmp_path)[0]
    with pytest.raises(fw.InputError, match=r"shaft_lowest: -250 degC is below .* leave it out"):
        there.ring("inner_back").chill(shaft_lowest="-250 degC")


def test_an_oven_set_above_the_limit_tells_the_limit_and_the_way_out():
    wanted = r"inner_back.oven: 150 degC is above .* part, 120 degC: leave oven out, .*job.chill"
    with pytest.raises(fw.InputError, match=wanted):
        fw.demo().replace({"rings.inner_back.oven": "150 degC"})


# -- a ring that stands off its face --------------------------------------------------------------


@pytest.mark.parametrize("against", ["shaft", "outside"])
def test_the_sheet_tells_how_to_shut_a_ring(tmp_path, against):
    press = 'press = { value = "18 kN", spread = "normal", deviation = "1 kN" }'
    there = job((press, f'press = "2 kN"\npress_against = "{against}"'))
    found = there.evaluate()
    assert not {f.path: f for f in found.governing()}["rings.sleeve.seating.gap_margin"].passed
    page = page_of(there, tmp_path)
    (line,) = re.findall(r"<p class=.small.><b>labyrinth sleeve</b> may stand off .*?</p>", page)
    gap = found["cold_build", "rings.sleeve.seating.gap_high"]
    slide = found["cold_build", "rings.sleeve.seating.press_to_slide"]
    assert f"up to {gap * 1e3:.4f} mm, where 0.0050 mm may stay" in line
    assert f"{slide / 1e3:.1f} kN slides it home" in line
    assert ("A press held from outside leaves" in line) == (against == "outside")
    assert "may stand off" not in fw.demo().sheet(tmp_path / "demo.html").read_text("utf-8")


# -- the pictures of a ring of a job --------------------------------------------------------------


@pytest.mark.parametrize("ring", ["sleeve", "inner_back"])
def test_a_ring_on_its_own_is_the_ring_of_the_job(ring):
    there = fw.demo()
    found = there.evaluate()
    runs = {"slip_on": there.ring(ring).slip_on(), "seating": there.ring(ring).seating()}
    for group, names in (
        ("slip_on", ("window", "window_low", "grab", "time_to_room", "time_left", "ring_at_touch")),
        ("seating", ("gap", "gap_low", "gap_high", "gap_margin", "clamp_left", "reading")),
    ):
        for name in names:
            told = found["cold_build", f"rings.{ring}.{group}.{name}"]
            assert getattr(runs[group], name) == pytest.approx(told, rel=1e-12, abs=1e-15), name


def test_window_grab_and_gap_of_a_ring_of_a_job_are_drawn():
    window = fw.heat.draw(fw.demo().ring("sleeve").slip_on())
    assert "grab" in picture.svg_text(window)
    gap = fw.heat.draw(fw.demo().ring("sleeve").seating(), units="inch")
    assert "press force" in picture.svg_text(gap)
    steps = job((SLEEVE_LENGTHS, STEPS))
    windows = [steps.ring("sleeve").slip_on(slice=k).window for k in (1, 2)]
    whole = steps.evaluate()["cold_build", "rings.sleeve.slip_on.window"]
    assert windows[1] < whole < windows[0], "the thin step is in a hurry"
    with pytest.raises(fw.InputError, match=r"slice: sleeve has steps: name one"):
        steps.ring("sleeve").seating()


# -- loosening ------------------------------------------------------------------------------------


def test_loosening_takes_the_numbers_of_the_job():
    there = fw.demo()
    out = there.ring("sleeve").loosen(heat_flux="300 kW/m^2")
    alone = fw.heat.loosen(**as_parts(there), heat_flux="300 kW/m^2", loose_clearance="30 um")
    assert out.time_to_free == pytest.approx(alone.time_to_free, rel=1e-9)
    assert out.time_free > 0.0
    assert there.ring("sleeve").loosen(heat_flux="600 kW/m^2").time_to_free < out.time_to_free
    with pytest.raises(
        fw.InputError, match=r"of opening is missing .* heat faster, cool the shaft"
    ):
        there.ring("sleeve").loosen(heater="bath", bath="120 degC")


def test_extreme_heating_ends_with_an_answer_or_a_reason():
    """Random rings, fluxes to 100 MW/m2, all corners of the joint: no failure of the solver."""
    rng = np.random.default_rng(3)

    def between(low: float, high: float) -> float:
        return float(np.exp(rng.uniform(np.log(low), np.log(high))))

    answered = 0
    reasons: list[str] = []
    for _ in range(300):
        d = between(0.005, 1.0)
        hollow = float(rng.choice([0.0, rng.uniform(0.0, 0.95)]))
        given = {
            "shaft": fw.Shaft(
                seat=d, bore=hollow * d, material=str(rng.choice(["4340", "1045", "304"]))
            ),
            "ring": fw.Ring(
                bore=d - between(2e-5, 5e-3) * d,
                outside=d * (1.0 + between(0.02, 1.5)),
                length=between(0.05, 3.0) * d,
                material=str(rng.choice(["4140", "52100", "1045", "304", "6061-t6"])),
            ),
            "shaft_temperature": float(rng.uniform(-20.0, 120.0)),
            "heater": str(rng.choice(["induction", "bath"])),
            "heat_flux": between(1e3, 1e8),
            "skin_depth": between(1e-5, 0.1),
            "bath": float(rng.uniform(50.0, 280.0)),
            "bath_film": between(5.0, 20000.0),
            "loose_clearance": between(1e-6, 3e-3) * d,
            "room": float(rng.uniform(-40.0, 60.0)),
            "gas_conductivity": between(0.001, 2.0),
            "asperity_height": between(5e-8, 1e-4),
            "contact_hardness": between(1e8, 2e10),
            "shaft_goes_on": float(rng.integers(0, 3)),
            "cells": float(rng.integers(10, 250)),
            "tolerance": between(1e-7, 1e-2),
        }
        try:
            out = fw.heat.loosen(**given)
        except fw.InputError as refused:
            reasons.append(str(refused))
            continue
        answered += 1
        assert 0.0 < out.time_to_loose <= out.time_to_free
    assert answered > 60
    assert [text for text in reasons if "converge" in text] == []


# -- beyond the data of a metal -------------------------------------------------------------------


def test_beyond_the_data_the_message_tells_how_far_they_go():
    parts = as_parts(fw.demo())
    known = r"4340 is known from -196.0 degC to 300.0 degC; 4140 is known from -196.0 degC to 300.0"
    with pytest.raises(fw.InputError, match=r"ring_temperature: 350 degC is outside .*; " + known):
        fw.rings.fit(**parts, ring_temperature="350 degC")
    with pytest.raises(fw.InputError, match=r"ring_temperature\[1\]: 350 degC .*; " + known):
        fw.rings.fit(**parts, ring_temperature=[50.0, 350.0])
    with pytest.raises(
        fw.InputError,
        match=r"lags.inner_back: 300 degC .* 52100 is known from -70 degC to 280 degC",
    ):
        fw.demo().replace({"states.overspeed.lags.inner_back": "228 K"})
