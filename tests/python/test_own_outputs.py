"""Outputs of one's own: against plain arithmetic, their units, and what is refused."""

import json
import math
import pickle
from importlib import resources

import fitwright as fw
import jsonschema
import numpy as np
import pytest
from test_single import parts, plain

DEMO = (resources.files("fitwright") / "demos" / "blower.toml").read_text(encoding="utf-8")
MARGIN = """
[[output]]
name = "spare"
of = "shoulder.clamp_low - state.thrust"
at_least = "2 kN"
title = "clamp left when the thrust is taken off"

[[output]]
name = "grip_change"
of = "rings.sleeve.grip_left@full_load / rings.sleeve.grip_left@cold_build"
"""


@pytest.fixture(scope="module")
def job():
    return fw.Job.loads(DEMO + MARGIN)


def test_they_stand_in_the_findings_of_every_state(job):
    found = job.evaluate()
    for state in job.states:
        clamp = float(found[state, "shoulder.clamp_low"])
        thrust = float(job[f"states.{state}.thrust"])
        assert float(found[state, "outputs.spare"]) == clamp - thrust
    own = [f for f in found if f.path == "outputs.spare"]
    assert [f.state for f in own] == job.states
    assert all(float(f.limit) == 2e3 and f.level == "quick" for f in own)
    # what names states of its own stands in the first
    ratio = found[job.states[0], "outputs.grip_change"]
    wanted = float(found["full_load", "rings.sleeve.grip_left"]) / float(
        found["cold_build", "rings.sleeve.grip_left"]
    )
    assert float(ratio) == wanted
    # all else is as it was
    before = fw.demo("blower").evaluate()
    assert {(f.state, f.path, float(f.value)) for f in before} == {
        (f.state, f.path, float(f.value)) for f in found if not f.path.startswith("outputs.")
    }


def test_they_are_asked_as_any_other(job):
    found = job.derivatives("quick")
    for source in ("nut.torque", "states.full_load.thrust", "rings.sleeve.bore"):
        wanted = found["full_load", "shoulder.clamp_low", source]
        wanted -= 1.0 if source == "states.full_load.thrust" else 0.0
        assert found["full_load", "outputs.spare", source] == pytest.approx(wanted, rel=1e-12)
    solved = job.solve(vary="nut.torque", output="outputs.spare", target="9 kN", state="full_load")
    there = solved.job.evaluate("quick")["full_load", "outputs.spare"]
    assert float(there) == pytest.approx(9e3, rel=1e-9)
    sweep = job.sweep({"nut.torque": ("600 N m", "700 N m", 3)}, "outputs.spare")
    clamp = job.sweep({"nut.torque": ("600 N m", "700 N m", 3)}, "shoulder.clamp_low")
    assert sweep["cold_build", "outputs.spare"] == pytest.approx(
        clamp["cold_build", "shoulder.clamp_low"], rel=1e-14
    )
    case = job.worst_case("full_load", "outputs.spare", budget=200)
    assert not case["full_load", "outputs.spare"].least.proven


def test_a_study_counts_them(job):
    study = job.study(8192, levels={"quick": 8192, "history": 64}, progress=False)
    finding = study["full_load", "outputs.spare"]
    assert finding.level == "quick"
    keep = ["shoulder.clamp_low", "outputs.spare"]
    again = job.study(8192, level="quick", keep=keep, progress=False)
    own = again.columns["cold_build", "outputs.spare"]
    clamp = again.columns["cold_build", "shoulder.clamp_low"]
    assert np.array_equal(own, clamp)  # no thrust as built
    assert finding.pass_rate == pytest.approx(
        np.mean(again.columns["full_load", "outputs.spare"] >= 2e3)
    )
    assert study.contributions("full_load", "outputs.spare")
    assert study["full_load", "shoulder.clamp_low"].samples == 8192
    plain_study = fw.demo("blower").study(8192, level="quick", progress=False)
    for f in plain_study:
        assert again[f.state, f.path].statistics.mean == f.statistics.mean


def test_of_a_single_model():
    one = fw.single(fw.rings.fit, **parts()).with_outputs(
        {
            "half": {"of": "holding_force / 2", "at_least": "8 kN"},
            "shear": "holding_force / (3.14159 * inputs.ring.bore * ring.length)",
            "left": "interference_left - 8 um",
            "least": "min(ring_yield_use, shaft_yield_use)",
            "root": "sqrt(pressure * pressure)",
            "warm": "ring_temperature - shaft_temperature",
        }
    )
    found, model = one.evaluate(), plain()
    wanted = {
        "half": model.holding_force / 2,
        "shear": model.holding_force / (3.14159 * 0.08 * 0.03),
        "left": model.interference_left - 8e-6,
        "least": min(model.ring_yield_use, model.shaft_yield_use),
        "root": math.sqrt(model.pressure**2),
        "warm": 0.0,
    }
    for name, value in wanted.items():
        assert float(found["as_given", f"outputs.{name}"]) == pytest.approx(value, rel=1e-14), name
    assert found["as_given", "outputs.shear"].quantity == "stress"
    assert found["as_given", "outputs.left"].quantity == "fine"
    assert found["as_given", "outputs.warm"].quantity == "difference"
    again = pickle.loads(pickle.dumps(one))
    assert float(again.evaluate()["as_given", "outputs.half"]) == wanted["half"]
    study = again.study(4096, progress=False)
    assert study["outputs.half"].pass_rate < 1.0
    assert float(one.replace({"ring.length": "40 mm"}).evaluate()["as_given", "outputs.half"]) > 0


def test_it_saves_and_has_a_hash(job, tmp_path):
    other = fw.Job.load(job.save(tmp_path / "own.toml"))
    assert other.hash == job.hash
    assert job.hash != fw.demo("blower").hash
    assert float(other.evaluate("quick")["full_load", "outputs.spare"]) == float(
        job.evaluate("quick")["full_load", "outputs.spare"]
    )
    more = job.with_outputs({"twice": "2 * shoulder.clamp_low"})
    assert pickle.loads(pickle.dumps(more)).evaluate("quick")["full_load", "outputs.twice"] > 0
    with pytest.raises(fw.InputError, match=r"outputs\.twice: was told by with_outputs"):
        more.save(tmp_path / "more.toml")
    with pytest.raises(fw.InputError, match=r"outputs\.spare: is there already"):
        job.with_outputs({"spare": "shoulder.clamp_low"})


def test_the_schema_knows_them(job):
    schema = json.loads(
        (resources.files("fitwright") / "job.schema.json").read_text(encoding="utf-8")
    )
    jsonschema.validate(job.file.document, schema)


WRONG = [
    ("holding_force +", "cannot be read"),
    ("holding_force pressure", 'cannot be read at "pressure"'),
    ("holding_force + pressure", "[N] + [Pa] cannot be: the units differ"),
    ("holding_force - 3", "[N] - [1] cannot be: the units differ"),
    ("min(holding_force, 3 mm)", "[N] min [m] cannot be: the units differ"),
    ("(holding_force", 'needs a ")" before its end'),
    ("holding_forse", "is neither an input nor an output; nearest: holding_force"),
    ("pow(holding_force, 2)", '"pow" is not one of min, max, abs, sqrt'),
    ("__import__('os').system('ls')", "cannot be read"),
    ("holding_force.real", "is neither an input nor an output"),
    ("min(holding_force)", "min needs two values or more"),
    ("abs(shaft_temperature)", "abs of a temperature on its scale says nothing"),
    ("shaft_temperature * 2", 'a temperature on its scale has no "*"'),
    ("shaft_temperature + ring_temperature", "two temperatures cannot be added"),
    ("holding_force * holding_force * holding_force", "a unit that no quantity here has"),
    ("3 kN", "names no input and no output"),
    ("", "must be an expression as text"),
    ("(" * 40 + "holding_force" + ")" * 40, "brackets and signs within each other"),
    ("holding_force + " * 200 + "holding_force", "at most 2000"),
    ("holding_force@cold", '"cold" is not a state; there is as_given'),
    ("holding_force + 3 kN kN", "the units differ"),
    ("3 sheep * holding_force", "is not a unit of any quantity here"),
    ("inputs.sped", "sped is not an input; nearest: speed"),
]


@pytest.mark.parametrize(("text", "message"), WRONG)
def test_wrong_expressions_are_named(text, message):
    one = fw.single(fw.rings.fit, **parts())
    with pytest.raises(fw.InputError) as error:
        one.with_outputs({"mine": text})
    assert message in str(error.value)
    assert str(error.value).startswith("outputs.mine: ")


def test_wrong_tables_are_named():
    one = fw.single(fw.rings.fit, **parts())
    cases = [
        ({"Mine": "gap"}, "outputs.Mine: must be named by a lower-case word"),
        ({"mine": {"off": "gap"}}, "outputs.mine: must tell of, and may tell states"),
        ({"mine": {"of": "gap", "at_least": "3 kN"}}, "outputs.mine: at_least"),
        ({"mine": {"of": "gap", "at_least": 2.0, "at_most": 1.0}}, "at_least must not be above"),
        ({"mine": {"of": "gap", "states": ["hot"]}}, "states ['hot'] must be a list of some of"),
    ]
    for told, message in cases:
        with pytest.raises(fw.InputError) as error:
            one.with_outputs(told)
        assert message in str(error.value)
    with pytest.raises(fw.InputError) as error:
        fw.Job.loads(DEMO + '\n[[output]]\nname = "a"\nof = "nut.torque + 3 mm"\n')
    assert "outputs.a: [N*m] + [m] cannot be" in str(error.value)
    with pytest.raises(fw.InputError) as error:
        fw.Job.loads(DEMO + '\n[[output]]\nname = "a"\nof = "nut.torque"\nat_least = 3.0\n')
    assert "has no unit" in str(error.value)
    with pytest.raises(fw.InputError) as error:
        fw.Job.loads(DEMO + '\n[[output]]\nof = "nut.torque"\n')
    assert "output[0].name: must be given, as text" in str(error.value)


def test_division_by_zero_within_the_spread_is_counted_and_named():
    one = fw.single(fw.rings.fit, **parts()).with_outputs({"mine": "holding_force / gap"})
    with pytest.raises(fw.InputError, match=r"outputs\.mine: 0 is divided by"):
        one.evaluate()
    # a root of what is below zero in half of all
    half = fw.single(fw.rings.fit, **parts()).with_outputs(
        {"mine": "sqrt((interference_left - 40 um) * 1 m)"}
    )
    half = half.replace({"shaft.seat": "80.0401 mm"})
    study = half.study(4096, outputs=["outputs.mine"], progress=False)
    assert 0.4 < study.out_of_domain / 4096 < 0.6
    assert "outputs.mine" in study.title
