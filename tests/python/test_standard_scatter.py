"""What scatters, and together, without being told; and how it is told otherwise."""

from __future__ import annotations

import pickle

import fitwright as fw
import numpy as np
import pytest

EXPANSIONS = {
    "shaft.expansion_factor": "4340",
    "nut.expansion_factor": "4140",
    "lock.expansion_factor": "1020",
    "bearing.expansion_factor": "52100",
    "rings.sleeve.expansion_factor": "4140",
    "rings.inner_thrust.expansion_factor": "52100",
    "rings.inner_back.expansion_factor": "52100",
    "rings.wheel.expansion_factor": "1045",
    "rings.slinger.expansion_factor": "1045",
}


@pytest.fixture(scope="module")
def text(demo):
    return demo.file.text


def drawn(job, paths, samples=6000):
    study = job.study(samples, level="quick", progress=False)
    leaves = [job.spreads[path].leaf for path in paths]
    return np.array([[study._run.sample(i)[leaf] for leaf in leaves] for i in range(samples)])


def test_expansion_scatters_without_being_told(demo):
    assert sorted(demo.standard_spreads) == sorted(EXPANSIONS)
    for path in EXPANSIONS:
        spread = demo.spreads[path]
        assert (spread.shape, spread.middle) == ("normal", 1.0)
        assert spread.standard_deviation == 0.02
    table = str(demo.inputs())
    line = next(row for row in table.splitlines() if row.startswith("shaft.expansion_factor"))
    assert "normal, deviation 0.020, standard" in line
    # Findings at the nominal values know nothing of it.
    assert demo["shaft.expansion_factor"] == 1.0


def test_a_factor_that_is_told_scatters_only_as_told(text):
    still = fw.Job.loads(text.replace("[shaft]\n", "[shaft]\nexpansion_factor = 1.01\n"))
    assert "shaft.expansion_factor" not in still.spreads
    told = '[shaft]\nexpansion_factor = { value = 1, spread = "normal", deviation = 0.005 }\n'
    own = fw.Job.loads(text.replace("[shaft]\n", told))
    assert own.spreads["shaft.expansion_factor"].standard_deviation == 0.005
    assert "shaft.expansion_factor" not in own.standard_spreads


def test_replace_tells_otherwise_too(demo):
    still = demo.replace({"rings.sleeve.expansion_factor": {"value": 1.0}})
    assert "rings.sleeve.expansion_factor" not in still.spreads
    moved = demo.replace({"rings.sleeve.expansion_factor": 1.02})
    assert moved.spreads["rings.sleeve.expansion_factor"].middle == pytest.approx(1.02)


def test_the_standard_survives_pickling(demo):
    there = pickle.loads(pickle.dumps(demo))
    assert there.standard_spreads == demo.standard_spreads
    assert there.correlations == demo.correlations
    still = demo.replace({"rings.sleeve.expansion_factor": {"value": 1.0}})
    assert list(pickle.loads(pickle.dumps(still)).spreads) == list(still.spreads)


def test_what_is_tied_by_standard(demo):
    tied = demo.correlations
    assert tied["nut.thread_friction", "nut.face_friction"] == 0.8
    seats = [f"rings.{name}.friction" for name in ("sleeve", "inner_thrust", "inner_back")]
    assert {tied[a, b] for i, a in enumerate(seats) for b in seats[i + 1 :]} == {0.5}
    paths = list(demo.spreads)
    for (a, b), value in tied.items():
        assert paths.index(a) < paths.index(b)
        if a in EXPANSIONS:
            assert EXPANSIONS[a] == EXPANSIONS[b]
            assert value == 0.9
    kinds = list(EXPANSIONS.values())
    pairs = sum(kinds.count(k) * (kinds.count(k) - 1) // 2 for k in set(kinds))
    assert len(tied) == 1 + 3 + pairs


def test_samples_have_the_correlation_of_the_standard(demo):
    """Rank correlation of a Gaussian copula: 6/pi asin(r/2) (K. Pearson, 1907), by NumPy."""
    friction = ["nut.thread_friction", "nut.face_friction"]
    seats = ["rings.sleeve.friction", "rings.inner_back.friction"]
    metals = ["rings.inner_thrust.expansion_factor", "bearing.expansion_factor"]
    apart = ["shaft.expansion_factor", "nut.torque"]
    paths = [*friction, *seats, *metals, *apart]
    ranks = drawn(demo, paths).argsort(axis=0).argsort(axis=0)
    found = np.corrcoef(ranks, rowvar=False)
    expected = np.eye(len(paths))
    for first, value in ((0, 0.8), (2, 0.5), (4, 0.9)):
        spearman = 6.0 / np.pi * np.arcsin(value / 2.0)
        expected[first, first + 1] = expected[first + 1, first] = spearman
    assert np.abs(found - expected).max() < 5.0 / np.sqrt(6000)


@pytest.mark.parametrize(("value", "expected"), [(0, 0.0), (-0.3, -0.3)])
def test_correlations_can_be_told_otherwise(text, value, expected):
    told = (
        '\n[[correlation]]\nbetween = ["nut.face_friction", "nut.thread_friction"]\n'
        f"value = {value}\n"
    )
    job = fw.Job.loads(text + told)
    found = [v for pair, v in job.correlations.items() if set(pair) == {
        "nut.face_friction", "nut.thread_friction"}]  # fmt: skip
    assert found == [expected]
    both = drawn(job, ["nut.thread_friction", "nut.face_friction"])
    assert np.corrcoef(both, rowvar=False)[0, 1] == pytest.approx(expected, abs=0.07)


def test_what_contradicts_the_standard_says_what_else_to_tell(text):
    told = (
        '\n[[correlation]]\nbetween = ["rings.sleeve.friction", "rings.inner_back.friction"]\n'
        "value = -0.9\n"
    )
    with pytest.raises(fw.InputError, match=r"with what is tied by the standard: .*friction with"):
        fw.Job.loads(text + told)


def test_the_linear_budget_knows_what_is_tied(demo):
    """Preload hangs on both frictions: tied as one tin they scatter it more than free ones."""
    study = demo.study(40_000, level="quick", outputs=["nut.preload"], progress=False)
    preload = ("cold_build", "nut.preload")
    linear = study._linear(*preload)
    parts = dict(zip(demo.spreads, linear.effects, strict=True))
    a, b = parts["nut.thread_friction"], parts["nut.face_friction"]
    others = sum(v**2 for p, v in parts.items() if "friction" not in p or "rings" in p)
    assert linear.budget == pytest.approx(np.sqrt(a**2 + b**2 + 1.6 * a * b + others))
    assert sum(linear.shares) == pytest.approx(1.0)
    sampled = study[preload].statistics.deviation
    assert linear.budget == pytest.approx(sampled, rel=0.04)


def test_expansion_widens_what_the_study_says(demo):
    """Clamp in a hot state hangs on what rings and shaft expand apart; cold it does not."""
    still = demo.replace({p: {"value": 1.0} for p in demo.standard_spreads})
    wide, narrow = (
        j.study(20_000, level="quick", outputs=["nut.force"], progress=False) for j in (demo, still)
    )
    hot, cold = ("full_load", "nut.force"), ("cold_build", "nut.force")
    assert wide[hot].statistics.deviation > 1.02 * narrow[hot].statistics.deviation
    assert wide[cold].statistics.mean == narrow[cold].statistics.mean


def test_indices_take_what_is_tied_as_one(demo):
    """Preload from torque and both frictions: the two frictions, one tin, go together."""
    found = demo.sobol_indices(8192, outputs=[("cold_build", "nut.preload")], progress=False)
    shares = {s.input: s for s in found["cold_build", "nut.preload"]}
    both = shares["nut.thread_friction + nut.face_friction"]
    torque = shares["nut.torque"]
    assert both.first + torque.first == pytest.approx(1.0, abs=0.05)
    assert both.total == pytest.approx(both.first, abs=0.05)
    assert "nut.thread_friction" not in shares
