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
    with pytest.raises(fw.InputError, match="share: 0 must be above 0"):
        bars.compare_fidelity(share=0)


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
