"""The history of a job on parts in section, and the quick model's error told beside it."""

from __future__ import annotations

import pickle
from importlib import resources

import fitwright as fw
import pytest

BLOWER = (resources.files("fitwright") / "demos" / "blower.toml").read_text(encoding="utf-8")
COLLAR = '\n[shoulder]\noutside = "96 mm"\nlength = "20 mm"\nland_inside = "84 mm"\n'


@pytest.fixture(scope="module")
def bars() -> fw.Job:
    return fw.Job.loads(BLOWER + COLLAR)


@pytest.fixture(scope="module")
def section(bars) -> fw.Job:
    return bars.at_fidelity("section")


@pytest.fixture(scope="module")
def found(section):
    return section.evaluate("history")


def test_the_file_asks_for_it_and_findings_say_so(bars, section, found):
    told = fw.Job.loads('fidelity = "section"\n' + BLOWER + COLLAR)
    assert told.fidelity == section.fidelity == "section" != bars.fidelity
    assert told.hash == section.hash != bars.hash
    assert "parts in section" in repr(found)
    assert "parts in section" not in repr(bars.evaluate("history"))
    with pytest.raises(fw.InputError, match="fidelity: 'beams' must be bars or section"):
        fw.Job.loads('fidelity = "beams"\n' + BLOWER)
    with pytest.raises(fw.InputError, match=r"fidelity: .* must be bars or section"):
        bars.at_fidelity("beams")


def test_outputs_of_the_history_come_from_the_section(bars, section, found):
    steps = section.section()
    for name in ("full_load", "trip"):
        assert float(found[name, "shoulder.clamp"]) == pytest.approx(
            float(steps[name].faces[0].force), rel=1e-9
        )
        assert found[name, "shoulder.clamp_least"] <= found[name, "shoulder.clamp"]
    before = bars.evaluate("history")
    assert found["full_load", "shoulder.clamp"] != before["full_load", "shoulder.clamp"]
    # What is quick is the same.
    assert found["full_load", "shoulder.clamp_low"] == before["full_load", "shoulder.clamp_low"]


def test_it_lies_inside_the_bounds(section, found):
    for state in section.states[1:]:
        assert found[state, "shoulder.clamp_low"] <= found[state, "shoulder.clamp"]
        assert found[state, "shoulder.clamp"] <= found[state, "shoulder.clamp_high"]


def test_microns_are_the_same_mesh_and_the_same_answer_after_a_pickle(section):
    moved = section.replace({"rings.sleeve.bore": float(section["rings.sleeve.bore"]) - 2e-6})
    assert moved.fidelity == "section"
    again = pickle.loads(pickle.dumps(moved))
    assert again.fidelity == "section"
    state = section.states[-1]
    one, other = moved.evaluate("history"), again.evaluate("history")
    assert one[state, "shoulder.clamp"] == other[state, "shoulder.clamp"]


def test_what_cannot_be_meshed_is_refused_by_name(bars):
    thin = bars.replace({"shoulder.outside": "80.1 mm", "shoulder.land_inside": "80.05 mm"})
    thin.evaluate("quick")
    with pytest.raises(fw.InputError, match=r"shaft\.behind: .* has no shoulder"):
        thin.at_fidelity("section").evaluate("history")


def test_the_error_of_the_quick_model_is_told(bars):
    compared = bars.compare_fidelity()
    assert {row.path for row in compared.all} >= {"shoulder.clamp", "nut.clamp"}
    assert all(row.section is not None for row in compared.all)
    assert bool(compared.warning) == bool(compared.far)
    assert "section" in repr(compared)
    assert not bars.compare_fidelity(share=9.0).far
    assert "sleeve" in repr(compared.factors())
    assert len(compared.to_dict()) == len(compared.all)
    with pytest.raises(fw.InputError, match="share: 0 must be above 0"):
        bars.compare_fidelity(share=0)


def test_the_end_effect_found_is_carried_into_the_quick_level(bars):
    compared = bars.compare_fidelity()
    changes = compared.overhangs()
    assert "rings.inner_thrust.overhang" in changes
    assert "rings.wheel.overhang" not in changes  # it does not grip
    carried = bars.replace(changes).evaluate("quick")
    built = bars.states[0]
    ratios = [
        float(row.section) / float(row.closed)
        for row in compared.all
        if row.path == "rings.inner_thrust.pressure"
    ]
    told = changes["rings.inner_thrust.overhang"]
    if told["high"] < 1.0:
        assert min(ratios) <= float(carried[built, "rings.inner_thrust.end_effect"]) <= max(ratios)
        assert float(carried[built, "rings.inner_thrust.end_effect_high"]) == pytest.approx(
            max(ratios), rel=1e-9
        )
    assert all(0.0 <= x["low"] <= x["value"] <= x["high"] <= 1.0 for x in changes.values())


def test_pictures_of_a_step(section, tmp_path):
    steps = section.section()
    axes = steps.plot("full_load")
    assert "times as large" in axes.get_title()
    assert "after full_load" in axes.get_title()
    fixed = steps.plot("full_load", scale=50.0, units="inch")
    assert "50 times" in fixed.get_title()
    assert "ksi" in fixed.get_figure().axes[1].get_ylabel()
    seats = steps.plot_seats("full_load")
    assert seats.get_ylabel() == "pressure [MPa]"
    assert len(seats.get_legend().get_texts()) == len(steps["full_load"].seats)


# -- H1 of the shared checks, as a job ------------------------------------------------------------

#: Invented shapes; figures by a separate finite-element code. The nut's own spring is 0.15 um/kN:
#: a ring of 106 mm with 0.55 of the steel's modulus, on a thread so fine that the shaft goes on.
H1 = """
[[material]]
name = "steel"
modulus = "206 GPa"
expansion = "11.5 um/m/K"
poisson = 0.3
density = "7850 kg/m^3"
yield_strength = "2000 MPa"
heating_limit = "300 degC"
lowest = "0 degC"
highest = "300 degC"
[shaft]
material = "steel"
bore = "30 mm"
shoulder_roughness = "0 um"
[shoulder]
outside = "96 mm"
length = "20 mm"
land_inside = "84 mm"
[[seat]]
name = "main"
diameter = "80 mm"
[nut]
material = "steel"
diameter = "80 mm"
pitch = "0.2 mm"
height = "16 mm"
outside = "106 mm"
modulus_factor = 0.55
face_inside = "80 mm"
face_outside = "105 mm"
torque = "800 N m"
face_roughness = "0 um"
settling = "0 um"
""" + "".join(
    f"""
[[ring]]
name = "{name}"
seat = "main"
material = "steel"
bore = "79.955 mm"
outside = "{outside} mm"
length = "{length} mm"
smoothing = 0
friction = {{ value = 0.15, low = 0.15, high = 0.15 }}
press = "{press} kN"
press_against = "outside"
face_roughness = "0 um"
settling = "0 um"
"""
    for name, outside, length, press in (("one", 100, 30, 15), ("two", 105, 35, 12))
) + "".join(
    f"""
[[state]]
name = "{name}"
speed = "{speed} rad/s"
lags = {{ one = "{one} K", two = "{two} K" }}
"""
    for name, speed, one, two in (
        ("built", 0, 0, 0), ("hot", 0, 12, 8), ("full", 1100, 6, 5), ("trip", 0, -5, -6),
        ("cold_again", 0, 0, 0),
    )
)  # fmt: skip


def test_a_job_in_section_meets_finite_elements_through_a_locked_nut():
    job = fw.Job.loads(H1)
    job = job.solve(vary="nut.torque", output="nut.preload", state="built", target="70 kN").job
    steps = job.section()
    rows = (
        ("tighten", 18.93, 40.74, 70.00, 19.28, 22.17),
        ("hot", 63.81, 78.45, 79.75, 13.27, 17.66),
        ("trip", 20.05, 21.70, 55.27, 21.70, 25.44),
        ("cold_again", 34.42, 45.73, 61.59, 19.11, 22.11),
    )
    for name, *forces, first, second in rows:
        step = steps[name]
        for face, force in zip(step.faces, forces, strict=True):
            allowed = 20.0 * forces[-1]  # 2 % of the nut's force
            assert float(face.force) == pytest.approx(1e3 * force, abs=allowed), (name, face.name)
        for ring, pressure in (("one", first), ("two", second)):
            told = float(step.mean_pressure[ring])
            assert told == pytest.approx(1e6 * pressure, rel=0.006), (name, ring)
    # On bars with its told shoulder within 6 % of the nut's force.
    bars = job.history()
    for name, shoulder, _, nut, *_ in rows:
        assert float(bars[name].faces[0].force) == pytest.approx(1e3 * shoulder, abs=60.0 * nut)
