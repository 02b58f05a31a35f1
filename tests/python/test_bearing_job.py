"""The bearing of a job at speed and in service: what is told of it, shown of it, refused of it."""

from __future__ import annotations

import html
import json
import re
import tomllib
from importlib import resources
from pathlib import Path

import fitwright as fw
import jsonschema
import numpy as np
import pytest
from fitwright.job.running import clearance_steps

PER_TURN = 2.0 * np.pi


@pytest.fixture(scope="module")
def plain(demo_text: str) -> str:
    """The demo without its service."""
    text = re.sub(r"\[service\]\n(?:.+\n)*\n\[pocket\]\n(?:.+\n)*\n", "", demo_text)
    return re.sub(r"(?m)^(share|oil_temperature) = .*\n", "", text)


# -- job file ---------------------------------------------------------------------------------


def test_without_a_service_there_are_angles_but_no_lives(plain: str, demo: fw.Job) -> None:
    job = fw.Job.loads(plain)
    paths = {path for _, path, *_ in job.output_rows}
    assert "bearing.inner_angle" in paths
    assert "bearing.outer_pass" in paths
    assert "bearing.static_safety" not in paths
    assert "service.viscosity_40" not in {path for path, *_ in job.input_rows}
    found, served = job.evaluate(), demo.evaluate()
    for state in job.states:
        assert found[state, "bearing.inner_angle"] == served[state, "bearing.inner_angle"]
    assert "static safety" not in str(job.bearing.table())


def test_the_demo_holds_with_its_service(demo: fw.Job) -> None:
    found = demo.evaluate()
    assert found.passed
    limited = {(f.state, f.path) for f in found}
    for name in ("inner_edge", "outer_edge", "arch_gap", "static_safety", "load_ratio"):
        assert ("full_load", f"bearing.{name}") in limited
    for name in ("viscosity_ratio", "inner_margin", "outer_margin"):
        assert ("full_load", f"bearing.{name}") in limited


def test_a_wanted_life_is_a_limit(demo_text: str) -> None:
    limit = '\n[[limit]]\noutput = "bearing.duty_time"\nat_least = "{} hour"\n'
    life = float(fw.demo().evaluate()["cold_build", "bearing.duty_time"]) / 3600.0
    for hours, holds in ((0.5 * life, True), (2.0 * life, False)):
        job = fw.Job.loads(demo_text + limit.format(hours))
        (finding,) = [f for f in job.evaluate() if f.path == "bearing.duty_time"]
        assert finding.passed == holds


@pytest.mark.parametrize(
    ("old", "new", "path", "said"),
    [
        ('viscosity_100 = "6.8 mm^2/s"\n', "", "service.viscosity", "must be given, or else"),
        ('"6.8 mm^2/s"', '"68 mm^2/s"', "service.viscosity_100", "below the viscosity at 40"),
        ('"6.8 mm^2/s"', "6.8", "service.viscosity_100", "has no unit"),
        ("oil_filtered", "oil_filterd", "service.lubrication", "must be one of oil_filtered"),
        ("reliability = 0.95", "reliabilty = 0.95", "service.reliabilty", "not a known key"),
        ("reliability = 0.95", "reliability = 1.0", "service.reliability", "0.9999"),
        ("share = 0.97", "share = 97", "states.full_load.share", "from 0 to 1"),
        ("share = 0.97", "shares = 0.97", "states.full_load.shares", "did you mean share"),
        ('value = "74 degC"', 'value = "740 degC"', "states.full_load.oil_temperature", "300"),
        ("[pocket]\n", "[pockets]\n", "pockets", "did you mean pocket"),
        ('seat_diameter = "170 mm"\n', "", "pocket.seat_diameter", "must be given"),
        ('"9 kN", spread', '"-9 kN", spread', "states.full_load.thrust", ""),
    ],
)
def test_one_thing_wrong(demo_text: str, old: str, new: str, path: str, said: str) -> None:
    assert old in demo_text, old
    text = demo_text.replace(old, new, 1)
    if not said:  # thrust the other way, and no shoulder there
        text = text.replace("[bearing]\n", "[bearing]\nback_shoulder = 0\n")
        said = "has no shoulder"
    with pytest.raises(fw.InputError) as caught:
        fw.Job.loads(text)
    told = [problem for wrong, problem in caught.value.problems if wrong == path]
    assert [said in text for text in told] == [True], caught.value.problems


def test_what_asks_for_a_service_says_so(demo_text: str, plain: str) -> None:
    text = plain.replace('thrust = "4 kN"\n', 'thrust = "4 kN"\nshare = 0.5\n')
    with pytest.raises(fw.InputError, match=r"states\.start\.share: needs a table \[service\]"):
        fw.Job.loads(text)
    pocket = '[pocket]\nseat_diameter = "150 mm"\nlength = "30 mm"\n\n[[state]]'
    with pytest.raises(fw.InputError, match=r"pocket: needs a table \[service\]"):
        fw.Job.loads(plain.replace("[[state]]", pocket, 1))


def test_balls_flung_out_name_the_state(demo: fw.Job) -> None:
    # Tight grooves, and an outer ring so hot that what the speed adds lets the inner ring pass.
    tight = {
        "bearing.shim": 0.0,
        "bearing.inner_curvature": 0.502,
        "bearing.outer_curvature": 0.502,
        "bearing.clearance": "60 um",
        "service.contact_angle": "25 deg",
        "states.start.thrust": "50 N",
    }
    demo.replace(tight)
    with pytest.raises(fw.InputError) as caught:
        demo.replace({**tight, "states.start.lags.outer_ring": "47 K"})
    (problem,) = caught.value.problems
    assert problem[0] == "states.start.speed"
    assert "7000 rpm flings the balls so far into the outer grooves" in problem[1]


def test_the_schema_knows_the_service(demo_text: str) -> None:
    text = (resources.files("fitwright") / "job.schema.json").read_text(encoding="utf-8")
    schema = jsonschema.Draft202012Validator(json.loads(text))
    document = tomllib.loads(demo_text)
    assert list(schema.iter_errors(document)) == []
    for table, key, value in (
        ("service", "viscosity_41", "40 mm^2/s"),
        ("service", "cleanliness", "spotless"),
        ("pocket", "length", 30),
    ):
        wrong = tomllib.loads(demo_text)
        wrong[table][key] = value
        assert list(schema.iter_errors(wrong)) != []


# -- what follows -----------------------------------------------------------------------------


def test_speed_turns_the_angles_apart(demo: fw.Job) -> None:
    found = demo.evaluate()
    for state in ("start", "full_load", "overspeed", "hot_restart"):
        inner, outer = (found[state, f"bearing.{ring}_angle"] for ring in ("inner", "outer"))
        assert inner > found[state, "bearing.loaded_angle"] > outer > 0.0
        assert found[state, "bearing.outer_load"] > found[state, "bearing.inner_load"]
    assert found["trip", "bearing.inner_load"] == 0.0


def test_frequencies_add_up(demo: fw.Job) -> None:
    # All balls pass either ring: inner and outer pass make Z turns. common practice
    found = demo.evaluate()
    for state in ("start", "full_load"):
        turns = float(demo[f"states.{state}.speed"]) / PER_TURN
        passes = (found[state, "bearing.inner_pass"], found[state, "bearing.outer_pass"])
        assert sum(passes) == pytest.approx(15.0 * turns, rel=1e-12)
        assert passes[1] == pytest.approx(15.0 * found[state, "bearing.cage"], rel=1e-12)
        assert 0.35 < found[state, "bearing.cage_ratio"] < 0.5  # common practice
    table = str(demo.bearing.frequencies())
    assert "cold_build" not in table
    assert table.count("full_load") == 4


def test_a_failing_bearing_creeps_where_a_healthy_one_does_not(demo: fw.Job) -> None:
    seized = demo.replace({"service.failing_torque": "5000 N m"}).evaluate()
    for name in ("inner_margin", "outer_margin"):
        assert demo.evaluate()["full_load", f"bearing.{name}"] > 0.0
        assert seized["full_load", f"bearing.{name}"] < 0.0
    assert not seized.passed


def test_oil_and_dirt_move_the_life(demo: fw.Job) -> None:
    def life(changes: dict[str, str]) -> float:
        return float(demo.replace(changes).evaluate()["cold_build", "bearing.duty_time"])

    told = life({"service.viscosity_40": "46 mm^2/s"})
    assert life({"states.full_load.oil_temperature": "105 degC"}) < told
    assert life({"service.contamination_factor": "0.01"}) < told
    assert life({"service.reliability": "0.99"}) < told
    assert life({"states.full_load.thrust": "12 kN"}) < told


def test_a_study_and_the_worst_case_take_the_running_bearing(demo: fw.Job) -> None:
    outputs = ["bearing.inner_peak", "bearing.duty_time"]
    study = demo.study(4_000, level="quick", outputs=outputs, progress=False)
    assert "bearing.inner_peak" in str(study)
    case = next(iter(demo.worst_case("full_load", "bearing.inner_peak")))
    assert case.least.value < case.nominal < case.greatest.value
    assert not case.least.proven
    assert (
        case.least.proof()
        == "not proven: found by search; balls at speed, plate and tools have no bounds"
    )
    assert case.least.gap == float("inf")


def test_derivatives_are_finite_and_flagged_at_rest_alone(demo: fw.Job) -> None:
    derivatives = demo.derivatives()
    flagged = {(s, o, i) for s, o, i in derivatives.one_sided}
    here = ("bearing.inner_peak", "states.{}.thrust")
    assert ("trip", here[0], here[1].format("trip")) in flagged
    assert ("full_load", here[0], here[1].format("full_load")) not in flagged
    assert derivatives["full_load", here[0], here[1].format("full_load")] > 0.0


# -- what is shown ----------------------------------------------------------------------------


def test_the_waterfall_ends_at_the_clearance(demo: fw.Job, tmp_path: Path) -> None:
    found = demo.evaluate()
    for state in demo.states:
        steps = clearance_steps(demo, state)
        left = found[state, "bearing.clearance"]
        assert sum(steps.values()) == pytest.approx(left, abs=1e-15)
    assert steps["on the bench"] == pytest.approx(150e-6)
    assert steps["fit and clamp of the inner ring"] < 0.0
    full = clearance_steps(demo, "full_load")
    assert full["its speed"] < 0.0 < full["heat of the outer ring"]
    axes = demo.bearing.waterfall("full_load")
    written = [label.get_text() for label in axes.get_yticklabels()]
    assert written == [*full, "left"]
    axes.figure.savefig(tmp_path / "waterfall.png")
    with pytest.raises(fw.InputError, match='"fullload" is not one of'):
        demo.bearing.waterfall("fullload")


def test_angles_over_speed(demo: fw.Job) -> None:
    axes = demo.bearing.angles("full_load")
    inner, outer = (line.get_ydata() for line in axes.get_lines()[:2])
    assert inner[0] == pytest.approx(outer[0])  # at rest
    assert np.all(np.diff(inner - outer) > 0.0)
    with pytest.raises(fw.InputError, match="stands still"):
        demo.bearing.angles("trip")


def sheet_of(job: fw.Job, folder: Path) -> str:
    text = job.sheet(folder / "sheet.html").read_text(encoding="utf-8")
    return html.unescape(re.sub(r"<[^>]+>", " ", text))


def test_the_sheet_tells_life_and_frequencies(demo: fw.Job, plain: str, tmp_path: Path) -> None:
    text = sheet_of(demo, tmp_path)
    assert "A life is a statistic" in text
    assert "for a probe at the casing" in text
    assert "per turn of the shaft" in text
    found = demo.evaluate()
    for path in ("bearing.outer_pass", "bearing.static_safety", "bearing.inner_margin"):
        assert found["full_load", path].shown("metric").split()[0] in text
    assert "creep margin, outer" in text
    bare = sheet_of(fw.Job.loads(plain), tmp_path)
    assert "for a probe at the casing" in bare
    assert "A life is a statistic" not in bare
    assert "creep margin" not in bare


def test_tables_need_a_bearing(plain: str) -> None:
    document = re.sub(r"\[bearing\]\n(?:.+\n)*\n", "", plain)
    document = re.sub(r"(?m)^(thrust|outer_ring|balls) = .*\n", "", document)
    document = re.sub(r'\[\[limit\]\]\noutput = "bearing(?:.+\n)*\n?', "", document)
    job = fw.Job.loads(document)
    for ask in (job.bearing.table, job.bearing.frequencies, job.bearing.waterfall):
        with pytest.raises(fw.InputError, match="bearing: is not in this job"):
            ask()
