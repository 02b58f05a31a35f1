"""Matching and allocating, against every assignment and every set of grades."""

from __future__ import annotations

import importlib
import itertools

import fitwright as fw
import numpy as np
import pytest
from fitwright import _core, sizes
from fitwright.studies.assign import COST_OF_GRADE

SEAT = "seats.main.diameter"


@pytest.fixture(scope="module")
def measured():
    scatter = np.random.default_rng(7)
    seats = 0.080036 + scatter.normal(0.0, 4e-6, 5)
    return seats, 0.079995 + scatter.normal(0.0, 5e-6, 6)


def reserve(job, seat, bore):
    return job.replace({SEAT: seat, "rings.sleeve.bore": bore}).evaluate().worst.reserve


def test_the_best_of_all_assignments(demo, measured):
    seats, bores = measured
    found = demo.match(seats, {"sleeve": bores})
    table = [[reserve(demo, s, b) for b in bores] for s in seats]
    best = max(
        (sum(r >= 0.0 for r in picked), sum(picked))
        for order in itertools.permutations(range(6), 5)
        for picked in [[table[i][k] for i, k in enumerate(order)]]
    )
    assert found.good == best[0]
    assert sum(s.reserve for s in found) == pytest.approx(best[1], abs=1e-12)
    used = [s.rings["sleeve"][0] for s in found]
    assert len(set(used)) == 5
    assert found.left_over == {"sleeve": [k for k in range(6) if k not in used]}
    assert found.least_reserve == min(s.reserve for s in found)
    assert f"{found.good} good sets of 5" in str(found)


def test_several_rings_at_once(demo, measured):
    seats, bores = measured
    rings = {"sleeve": bores, "inner_thrust": bores[:5] - 1e-6}
    found = demo.match(list(seats), rings)
    for s in found:
        changes = {f"rings.{name}.bore": float(bore) for name, (_, bore) in s.rings.items()}
        worst = demo.replace({SEAT: float(s.seat), **changes}).evaluate().worst
        assert s.reserve == worst.reserve
    given = sum(
        demo.replace({SEAT: s, "rings.sleeve.bore": a, "rings.inner_thrust.bore": b})
        .evaluate()
        .passed
        for s, a, b in zip(seats, bores, rings["inner_thrust"], strict=False)
    )
    assert found.good >= given


def test_two_kinds_are_the_best_of_all_assignments(demo, measured):
    """Against every order of both kinds."""
    seats, bores = measured[0][:4], measured[1][:4]
    rings = {"sleeve": bores, "inner_thrust": bores[::-1] - 1.5e-6}
    found = demo.match(list(seats), rings)
    assert found.proven
    assert "proven best" in str(found)
    table = [
        [
            [
                demo.replace({SEAT: s, "rings.sleeve.bore": a, "rings.inner_thrust.bore": float(b)})
                .evaluate()
                .worst.reserve
                for b in rings["inner_thrust"]
            ]
            for a in bores
        ]
        for s in seats
    ]
    best = max(
        (sum(r >= 0.0 for r in picked), sum(picked))
        for first in itertools.permutations(range(4))
        for second in itertools.permutations(range(4))
        for picked in [[table[i][first[i]][second[i]] for i in range(4)]]
    )
    assert found.good == best[0]
    assert sum(s.reserve for s in found) == pytest.approx(best[1], abs=1e-12)


def test_without_scipy(demo, measured, monkeypatch):
    real = importlib.import_module

    def missing(name, *more):
        if name.startswith("scipy"):
            raise ImportError(name)
        return real(name, *more)

    monkeypatch.setattr(importlib, "import_module", missing)
    with pytest.raises(fw.InputError, match=r"needs SciPy.*fitwright\[study\]"):
        demo.match(measured[0], {"sleeve": measured[1]})


PATHS = [SEAT, "rings.sleeve.bore", "rings.inner_thrust.bore"]


def test_no_cheaper_set_of_grades_passes(demo):
    costs = {3: 9.0, 4: 6.0, 5: 3.5, 6: 1.8}
    # Expansion of the metals alone keeps the demo itself below 95 %, whatever the grades.
    tight = demo.replace({"rings.sleeve.bore": "79.995 mm"})
    found = tight.allocate(PATHS, 0.95, costs=costs, samples=20_000)
    assert found.pass_rate >= 0.95
    assert found.cost == pytest.approx(sum(costs[g] for g in found.grades.values()))
    values = {path: float(tight[path]) for path in PATHS}
    for path, grade in found.grades.items():
        assert found.widths[path] == sizes.standard_tolerance(grade, values[path])
        assert found.job.spreads[path].deviation == pytest.approx(found.widths[path] / 6)
    for grades in itertools.product(costs, repeat=3):
        if sum(costs[g] for g in grades) >= found.cost - 1e-9:
            continue
        spreads = dict(tight.spreads)
        for path, grade in zip(PATHS, grades, strict=True):
            width = sizes.standard_tolerance(grade, values[path])
            spreads[path] = _core.tolerance_spread(tight.core, path, width)
        cheaper = fw.Job(tight.core, tight.file, spreads)
        assert cheaper.study(20_000, level="quick", progress=False).pass_rate < 0.95
    assert "IT" in str(found)


def test_costs_of_ones_own(demo):
    dear = {path: {4: 1.0, 5: 1.0} for path in PATHS}
    assert demo.allocate(PATHS, 0.5, costs=dear, samples=20_000).cost == 3.0
    grades = sorted(COST_OF_GRADE)
    assert all(COST_OF_GRADE[a] > COST_OF_GRADE[b] for a, b in itertools.pairwise(grades))


@pytest.mark.parametrize(
    ("ask", "told"),
    [
        (lambda j: j.match([0.08], {}), "rings: name at least one ring"),
        (lambda j: j.match([0.08], {"slave": [0.08]}), "rings.slave: is not a ring"),
        (lambda j: j.match([], {"sleeve": [0.08]}), "seats: must be a list of measured values"),
        (lambda j: j.match([0.08, 0.08], {"sleeve": [0.08]}), "rings.sleeve: 1 bores for 2 seats"),
        (lambda j: j.match(["80 kg"], {"sleeve": [0.08]}), "seats: "),
        (lambda j: j.match([float("nan")], {"sleeve": [0.08]}), "seats: "),
        (lambda j: j.match([0.08], {"sleeve": [0.08]}, rounds=0), "rounds: 0 must be"),
        (lambda j: j.allocate([], 0.9), "paths: name at least one dimension"),
        (lambda j: j.allocate(["nut.torque"], 0.9), "nut.torque: is not a size"),
        (lambda j: j.allocate([SEAT], 1.5), "rate: 1.5 must be a pass rate"),
        (lambda j: j.allocate([SEAT], 0.9, costs={40: 1.0}), "40 must be a grade from -1 to 18"),
        (lambda j: j.allocate([SEAT], 0.9, costs={4: -1.0}), "cost -1.0 of IT4"),
        (lambda j: j.allocate([SEAT], 0.9, costs={"other": {4: 1.0}}), f"costs.{SEAT}: is missing"),
        (lambda j: j.allocate([SEAT], 0.9999, costs={10: 1.0}), "no set of grades comes near"),
    ],
)
def test_wrong_questions(demo, ask, told):
    with pytest.raises(fw.InputError) as error:
        ask(demo)
    assert told in str(error.value)
