"""Small traps a newcomer falls into, each with the words that lead out of it."""

from __future__ import annotations

import re
from importlib import resources

import fitwright as fw
import pytest

TOLD = {
    "modulus": "210 GPa",
    "expansion": 12e-6,
    "yield_strength": "500 MPa",
    "poisson": 0.3,
    "density": 7850,
    "heating_limit": "150 degC",
}
CHILLED = {"start": 20, "ambient": -78.5, "outer_film": 100, "duration": 600, "material": "4340"}


def test_a_body_has_diameters_and_refuses_radii_by_their_new_names():
    with pytest.raises(fw.InputError, match=r"outer: is a diameter now.*outside=, twice"):
        fw.heat.body(outer="40 mm", **CHILLED)
    with pytest.raises(fw.InputError, match=r"inner: is a diameter now.*inside="):
        fw.heat.body(inner="10 mm", outside="80 mm", **CHILLED)
    with pytest.raises(
        fw.InputError, match="outside: 80 mm must be larger than the inside diameter"
    ):
        fw.heat.body(inside="90 mm", outside="80 mm", **CHILLED)
    with pytest.raises(fw.InputError, match="place: 90 mm must lie between"):
        fw.heat.body(outside="80 mm", place="90 mm", **CHILLED)
    # A solid bar in a bath far better than its metal: the core of a wide one lags (Incropera,
    # chapter 5).
    thin, thick = (fw.heat.body(outside=d, **CHILLED).innermost for d in ("20 mm", "160 mm"))
    assert thin < thick


def test_own_metal_of_single_numbers_asks_how_far_they_hold():
    with pytest.raises(fw.InputError) as refused:
        fw.materials.own("mine", **TOLD)
    text = str(refused.value)
    assert "mine.lowest: must be told: the lowest temperature the data hold for" in text
    assert "mine.highest: must be told: the highest temperature" in text
    assert "heating_limit" not in text  # no second error of the same cause
    metal = fw.materials.own("mine", **TOLD, lowest="-20 degC", highest="200 degC")
    assert (metal.lowest, metal.highest) == (-20.0, 200.0)
    assert metal.at("yield", "150 degC") == metal.at("yield", 20) == 500e6


def test_own_metal_of_pairs_holds_as_far_as_they_go():
    pairs = [("0 degC", "210 GPa"), ("180 degC", "200 GPa")]
    metal = fw.materials.own("mine", **{**TOLD, "modulus": pairs})
    assert (metal.lowest, metal.highest) == (0.0, 180.0)
    with pytest.raises(
        fw.InputError,
        match=r"mine\.heating_limit: 190\.0 degC must lie between lowest and highest, 0\.0 degC to",
    ):
        fw.materials.own("mine", **{**TOLD, "modulus": pairs, "heating_limit": "190 degC"})


def test_a_material_is_had_by_its_name_or_told_how():
    assert fw.Material("4340").name == "4340"
    assert fw.Material(fw.materials.material("4340")).name == "4340"
    assert repr(fw.Material("4340")).startswith("<Material 4340: ")
    for wrong in ((), (4340,), ("4340", 1)):
        with pytest.raises(fw.InputError, match=r"takes the name of a metal.*fw\.materials\.own"):
            fw.Material(*wrong)
    with pytest.raises(fw.InputError, match='"4341"'):
        fw.Material("4341")


def test_a_property_is_looked_up_at_a_temperature_with_its_unit():
    metal = fw.materials.material("4340")
    assert metal.at("yield", "20 degC") == metal.at("yield", 20.0)
    assert metal.at("yield", "212 degF") == pytest.approx(metal.at("yield", 100.0))
    with pytest.raises(fw.InputError, match='temperature: "20 K" reads as a temperature diff'):
        metal.at("yield", "20 K")
    with pytest.raises(fw.InputError, match="temperature:"):
        metal.at("yield", [20.0, 30.0])


def test_one_comma_makes_one_error(tmp_path):
    text = (resources.files("fitwright") / "demos" / "blower.toml").read_text(encoding="utf-8")
    wrong = re.sub(r'"(\d+)\.(\d+) mm"', r'"\1,\2 mm"', text, count=1)
    assert wrong != text
    (tmp_path / "wrong.toml").write_text(wrong)
    with pytest.raises(fw.InputError) as refused:
        fw.Job.load(tmp_path / "wrong.toml")
    assert len(refused.value.problems) == 1
    assert "has a comma; a decimal is written with a point" in str(refused.value)


def test_strains_are_not_shown_as_nothing():
    fit = fw.rings.fit(
        shaft=fw.Shaft(bore="30 mm", seat="80.038 mm", material="4340"),
        ring=fw.Ring(bore="80 mm", outside="105 mm", length="30 mm", material="52100"),
        shaft_temperature="70 degC",
        ring_temperature="80 degC",
    )
    shown = {row["output"]: row["value"] for row in fit.table().to_dict()}
    assert shown["ring_strain"].endswith("e-6")
    assert float(shown["ring_strain"]) == pytest.approx(fit.ring_strain, abs=0.06e-6)


def test_reuse_limits_are_told_beside_a_limit_that_fails(demo):
    """Without the shim the bearing has no end play: what a bore may be is told all the same."""
    good = demo.reuse_limits("rings.sleeve.bore")["rings.sleeve.bore"]
    bad = demo.replace({"bearing.shim": "300 um"})
    limits = bad.reuse_limits()
    assert {side.path for side in limits.aside} >= {"bearing.end_play"}
    assert any(found.low.stop in ("limit", "range", "domain") for found in limits)
    assert all(found.low.stop != "already" for found in limits)
    found = limits["rings.sleeve.bore"]
    # The sleeve is no part of the bearing: same ends as in the job that holds.
    assert float(found.low.value) == pytest.approx(float(good.low.value), abs=1e-9)
    assert found.high.fails.path == good.high.fails.path
    assert "set aside, as they fail already: bearing." in str(limits)
    shim = bad.reuse_limits("bearing.shim")["bearing.shim"]
    assert "bearing.end_play" in {side.path for side in shim.moved}


def test_a_study_names_the_rules_that_samples_break():
    study = fw.single(
        fw.rings.fit,
        shaft=fw.Shaft(
            bore="30 mm",
            seat={"value": "80 mm", "spread": "normal", "deviation": "10 mm"},
            material="4340",
        ),
        ring=fw.Ring(bore="80 mm", outside="105 mm", length="30 mm", material="52100"),
    ).study(20_000, seed=3, progress=False)
    assert study.out_of_domain > 0
    rules = study.broken_rules
    assert sum(rule.count for rule in rules) == study.out_of_domain
    assert all(": " in rule.rule and "breaks a rule of" not in rule.rule for rule in rules)
    assert f"{rules[0].count} break a rule, first sample {rules[0].first}: " in study.title
    again = [study.sample(rule.first) for rule in rules]
    assert len(again) == len(rules)


def test_rooms_show_their_names_only():
    assert "InputError" not in dir(fw.materials)
    assert set(dir(fw.materials)) == {"Material", "library", "material", "own"}
    assert "renamed" not in dir(fw.heat)
