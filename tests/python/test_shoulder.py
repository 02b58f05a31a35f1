"""The collar that the first ring stands against: told, refused, counted, drawn."""

from __future__ import annotations

import json
import tomllib
from importlib import resources

import fitwright as fw
import jsonschema
import numpy as np
import pytest

COLLAR = """
[shoulder]
outside = "96 mm"
length = "20 mm"
fillet = "1.5 mm"
"""
TEXT = (resources.files("fitwright") / "demos" / "blower.toml").read_text(encoding="utf-8")


def told(collar: str = COLLAR) -> fw.Job:
    return fw.Job.loads(TEXT + collar)


@pytest.fixture(scope="module")
def rigid() -> fw.Job:
    return fw.Job.loads(TEXT)


@pytest.fixture(scope="module")
def job() -> fw.Job:
    return told()


def test_a_told_shoulder_makes_the_joint_softer(job, rigid):
    soft, hard = job.evaluate("quick"), rigid.evaluate("quick")
    built = job.states[0]
    give = float(soft[built, "shoulder.compliance"])
    assert float(soft[built, "stack.compliance"]) == pytest.approx(
        float(hard[built, "stack.compliance"]) + give, rel=1e-12
    )
    assert float(soft[built, "shoulder.give"]) == pytest.approx(
        give * float(soft[built, "nut.preload"]), rel=1e-12
    )
    assert float(soft[built, "shoulder.reach"]) == 1.0
    # What heat gains is less on it, and what cooling loses too.
    assert soft["start", "nut.force"] < hard["start", "nut.force"]
    assert soft["trip", "nut.force"] > hard["trip", "nut.force"]


def test_the_history_takes_it_too(job, rigid):
    soft, hard = job.evaluate("history"), rigid.evaluate("history")
    assert soft["trip", "shoulder.clamp"] > hard["trip", "shoulder.clamp"]


def test_without_it_the_findings_say_what_that_may_cost(job, rigid):
    assert "The shoulder is taken as rigid" in repr(rigid.evaluate("quick"))
    assert "10 to 56 % of the nut's force" in repr(rigid.shoulder())
    assert "rigid" not in repr(job.evaluate("quick"))
    assert "share of the joint's compliance" in repr(job.shoulder())
    with pytest.raises(fw.InputError, match="is not an output of state"):
        rigid.evaluate("quick")[rigid.states[0], "shoulder.compliance"]


def test_outside_its_family_a_finding_says_so():
    # A flange far thinner than any the compliance was fitted on.
    finding = next(
        f
        for f in told(COLLAR.replace("20 mm", "3 mm").replace("1.5 mm", "1 mm"))
        .evaluate("quick")
        .all
        if f.path == "shoulder.reach"
    )
    assert not finding.passed


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ('outside = "70 mm"', "shoulder.outside: 70 mm must be above the first seat"),
        (
            'land_outside = "97 mm"',
            "shoulder.land_outside: 97 mm must not be above the outside",
        ),
        (
            'land_inside = "79 mm"',
            "shoulder.land_inside: 79 mm must not be below the first seat",
        ),
        ('land_inside = "95.999 mm"', "shoulder.land_inside: 95.999 mm leaves no land that meets"),
        ('fillet = "9 mm"', "shoulder.fillet: 9 mm is more than the collar bears"),
        ('beyond = "29 mm"', "shoulder.beyond: 29 mm must be above the bore of the shaft"),
        ('length = "0 mm"', "shoulder.length: "),
        ('land = "90 mm"', "shoulder.land: is not a known key; did you mean"),
    ],
)
def test_what_is_wrong_is_told_by_path_value_and_rule(change, message):
    key = change.split(" ")[0]
    kept = "\n".join(line for line in COLLAR.splitlines() if not line.startswith(f"{key} "))
    with pytest.raises(fw.InputError) as error:
        told(f"{kept}\n{change}\n")
    assert message in str(error.value)


def test_needed_sizes_and_sizes_told_twice():
    with pytest.raises(fw.InputError, match=r"shoulder\.length: must be given"):
        told('\n[shoulder]\noutside = "96 mm"\n')
    with pytest.raises(fw.InputError, match=r"shaft\.shoulder_outside: is told by \[shoulder\]"):
        fw.Job.loads(
            TEXT.replace('shoulder_roughness = "1.6 um"', 'shoulder_outside = "96 mm"') + COLLAR
        )
    with pytest.raises(fw.InputError, match=r"shoulder: must be a table \[shoulder\]"):
        fw.Job.loads('shoulder = "96 mm"\n' + TEXT)


def test_it_is_an_input_like_any_other(job, tmp_path):
    soft = job.replace({"shoulder.length": "12 mm", "shoulder.beyond": "80 mm"})
    again = fw.Job.load(soft.save(tmp_path / "soft.toml"))
    assert (
        again.evaluate("quick")[job.states[0], "shoulder.compliance"]
        == (soft.evaluate("quick")[job.states[0], "shoulder.compliance"])
    )
    assert again.hash == soft.hash != job.hash
    swept = job.sweep({"shoulder.length": ("15 mm", "30 mm", 4)})
    assert len(swept.table().rows) == 4


def test_its_derivatives_are_those_of_small_steps(job):
    step = 1e-6
    state, path = "full_load", "nut.force"
    slope = float(job.derivatives("quick")[state, path, "shoulder.length"])
    there = [
        float(job.replace({"shoulder.length": x}).evaluate("quick")[state, path])
        for x in (0.020 - step, 0.020 + step)
    ]
    assert slope == pytest.approx((there[1] - there[0]) / (2.0 * step), rel=1e-4)


def test_worst_cases_hold_it(job):
    scattered = told(
        COLLAR.replace(
            '"20 mm"', '{ value = "20 mm", spread = "uniform", low = "18 mm", high = "22 mm" }'
        )
    )
    worst = scattered.worst_case("hot_restart", "nut.force")
    for length in ("18 mm", "20 mm", "22 mm"):
        force = job.replace({"shoulder.length": length}).evaluate("quick")[
            "hot_restart", "nut.force"
        ]
        case = worst["hot_restart", "nut.force"]
        assert float(case.least.value) <= force <= float(case.greatest.value)


def test_a_study_runs_on_it():
    scattered = told(
        COLLAR.replace(
            '"20 mm"', '{ value = "20 mm", spread = "uniform", low = "18 mm", high = "22 mm" }'
        )
    )
    study = scattered.study(4000, seed=3, progress=False, level="quick")
    assert 0.0 <= study.pass_rate <= 1.0


def test_the_section_draws_the_collar(job, tmp_path):
    axes = job.draw(tmp_path / "collar.svg")
    corners = np.concatenate(
        [p.get_xy() for p in axes.patches if hasattr(p, "get_xy") and np.ndim(p.get_xy()) == 2]
    )
    assert np.any((abs(corners[:, 0] + 20.0) < 1e-6) & (abs(corners[:, 1] - 48.0) < 1e-6))


def test_the_schema_for_editors_knows_it():
    schema = json.loads(
        (resources.files("fitwright") / "job.schema.json").read_text(encoding="utf-8")
    )
    check = jsonschema.Draft202012Validator(schema)
    assert list(check.iter_errors(tomllib.loads('fidelity = "section"\n' + TEXT + COLLAR))) == []
    assert list(check.iter_errors(tomllib.loads(TEXT + COLLAR.replace("outside", "outer"))))
    assert list(check.iter_errors(tomllib.loads('fidelity = "beams"\n' + TEXT)))
