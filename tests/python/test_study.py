"""The study: same numbers anywhere, distributions, quantiles, budgets, and what it refuses."""

from __future__ import annotations

import json
import os
import subprocess
import sys

import fitwright as fw
import numpy as np
import pytest
from fitwright import _core
from scipy import stats

CHUNK = 4096


def numbers(study):
    """Everything a study says, for comparison to the bit."""
    return [
        (f.state, f.path, s.mean, s.deviation, s.skewness, s.least, s.greatest, s.least_at,
         s.greatest_at, s.passed, s.bins, f.pass_rate, f.interval)
        for f in study
        for s in [f.statistics]
    ]  # fmt: skip


def run(job, samples=20_000, **more):
    """At the quick level alone: what joins the levels is tested in test_study_levels.py."""
    return job.study(samples, **{"seed": 1, "progress": False, "level": "quick", **more})


# -- the same answer anywhere ---------------------------------------------------------------------


def test_the_same_seed_gives_the_same_numbers(demo):
    first, again, other = run(demo), run(demo), run(demo, seed=2)
    assert numbers(first) == numbers(again)
    assert numbers(first) != numbers(other)
    assert first.sample(123) == again.sample(123) != other.sample(123)
    # Another seed, not another answer.
    assert other.pass_rate == pytest.approx(first.pass_rate, abs=0.03)


def test_threads_do_not_matter(demo):
    one = run(demo, 3 * 131_072 + 1000, threads=1)
    two = run(demo, 3 * 131_072 + 1000, threads=2)
    five = run(demo, 3 * 131_072 + 1000, threads=5)
    assert numbers(one) == numbers(two) == numbers(five)


def test_a_longer_study_begins_with_the_shorter_one(demo):
    short, long = run(demo, CHUNK), run(demo, 2 * CHUNK)
    for i in (0, 1, 4095):
        assert short.sample(i) == long.sample(i)


def test_a_stream_belongs_to_its_path(demo):
    """Scatter added elsewhere does not change what an input draws."""
    more = demo.replace({"nut.pitch": {"spread": "normal", "deviation": "1 um"}})
    assert len(more.spreads) == len(demo.spreads) + 1
    few, many = run(demo, 100).sample(42), run(more, 100).sample(42)
    assert {path: many[path] for path in few} == few


SCRIPT = """
import json
import fitwright as fw
from fitwright import _core
job = fw.demo("blower")
study = job.study(12_345, seed=7, progress=False, threads=1, level="quick")
found = [[s.mean, s.deviation, s.least, s.greatest, s.passed, s.bins] for s in
         (f.statistics for f in study)]
_, matrix, _ = job.core.jacobian()
sweep = job.sweep({"nut.torque": ("500 N m", "900 N m", 37)})
print(json.dumps([_core.active_level(), found, [x.hex() for x in job.evaluate()._numbers],
                  matrix.tolist(), [c.tolist() for c in sweep.outputs.values()],
                  study.sample(999)]))
"""


def test_vector_levels_do_not_matter():
    usable = _core.usable_levels()
    answers = {}
    for level in (2, 3, 4):
        if level not in usable and usable != [0]:
            print(f"level v{level} not tested here: this processor lacks it")
            continue
        done = subprocess.run(
            [sys.executable, "-c", SCRIPT],
            env={**os.environ, "FITWRIGHT_LEVEL": f"v{level}"},
            capture_output=True,
            text=True,
            check=True,
        )
        ran, *answer = json.loads(done.stdout)
        assert ran == level or usable == [0]
        answers[level] = answer
    first = next(iter(answers.values()))
    assert all(answer == first for answer in answers.values())


def test_a_wrong_level_is_told():
    done = subprocess.run(
        [sys.executable, "-c", "import fitwright as fw; fw.demo('blower').study(10)"],
        env={**os.environ, "FITWRIGHT_LEVEL": "v9"},
        capture_output=True,
        text=True,
        check=False,
    )
    if _core.usable_levels() == [0]:
        pytest.skip("this processor has no levels to choose from")
    assert done.returncode != 0
    assert "FITWRIGHT_LEVEL=v9: must be v2, v3 or v4" in done.stderr


# -- distributions --------------------------------------------------------------------------------

SPREADS = {
    "nut.torque": (
        {"value": 820.0, "spread": "normal", "deviation": 20.0},
        stats.norm(820.0, 20.0),
    ),
    "nut.thread_friction": (
        {"value": 0.12, "low": 0.10, "high": 0.16, "spread": "triangular"},
        stats.triang((0.12 - 0.10) / 0.06, 0.10, 0.06),
    ),
    "bearing.clearance": (
        {"value": 150e-6, "low": 140e-6, "high": 160e-6, "spread": "uniform"},
        stats.uniform(140e-6, 20e-6),
    ),
    "seats.main.diameter": (
        {"value": 0.080036, "low": 0.080034, "high": 0.08004, "spread": "truncated_normal",
         "deviation": 2e-6},
        stats.truncnorm(-1.0, 2.0, 0.080036, 2e-6),
    ),
}  # fmt: skip


@pytest.mark.parametrize("path", sorted(SPREADS))
def test_spreads_against_scipy(demo, path):
    given, exact = SPREADS[path]
    spread = demo.replace({path: given}).spreads[path]
    assert spread.shape == given["spread"]
    assert spread.standard_deviation == pytest.approx(exact.std(), rel=1e-9)
    for u in (1e-9, 1e-4, 0.02, 0.31, 0.5, 0.77, 0.999, 1.0 - 1e-9):
        # Of the width: the value itself may be a large number with a small scatter.
        assert spread.quantile(u) == pytest.approx(exact.ppf(u), abs=1e-7 * exact.std())


@pytest.mark.parametrize("path", sorted(SPREADS))
def test_samples_follow_their_distribution(demo, path):
    given, exact = SPREADS[path]
    study = run(demo.replace({path: given}), CHUNK)
    drawn = np.array([study.sample(i)[path] for i in range(CHUNK)])
    assert stats.kstest(drawn, exact.cdf).pvalue > 1e-3


def test_inputs_scatter_independently_but_for_what_is_tied(demo):
    study = run(demo, 2000)
    drawn = np.array([list(study.sample(i).values()) for i in range(2000)])
    correlation = np.corrcoef(drawn, rowvar=False) - np.eye(drawn.shape[1])
    place = {path: i for i, path in enumerate(demo.spreads)}
    for a, b in demo.correlations:
        correlation[place[a], place[b]] = correlation[place[b], place[a]] = 0.0
    # About 1300 pairs: five deviations of a correlation of independent samples.
    assert np.abs(correlation).max() < 5.0 / np.sqrt(2000)


# -- statistics -----------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def linear(demo):
    """Only the bearing's clearance and the torque scatter, so that the output's law is known."""
    still = {path: {"value": float(demo[path])} for path in demo.spreads}
    job = demo.replace(still).replace(
        {"nut.torque": {"value": 820.0, "spread": "normal", "deviation": 20.0}}
    )
    assert list(job.spreads) == ["nut.torque"]
    return job, run(job, 400_000, seed=3, outputs=["nut.preload"])


def test_statistics_of_a_linear_output(linear):
    """Preload is the torque times a constant: its distribution is that of the torque."""
    job, study = linear
    preload = job.evaluate()["cold_build", "nut.preload"]
    exact = stats.norm(preload, preload * 20.0 / 820.0)
    found = study["cold_build", "nut.preload"].statistics
    count = 400_000
    assert found.count == count
    # Four standard errors.
    assert found.mean == pytest.approx(exact.mean(), abs=4 * exact.std() / np.sqrt(count))
    assert found.deviation == pytest.approx(exact.std(), rel=4 / np.sqrt(2 * count))
    assert abs(found.skewness) < 4 * np.sqrt(6 / count)
    for share in (0.001, 0.01, 0.25, 0.5, 0.9, 0.999):
        quantile = found.quantile(share)
        sampling = np.sqrt(share * (1 - share) / count) / exact.pdf(exact.ppf(share))
        assert quantile.error < 0.05 * exact.std()
        assert quantile.value == pytest.approx(exact.ppf(share), abs=quantile.error + 4 * sampling)
    assert found.quantile(0.0).value == pytest.approx(found.least)
    assert found.quantile(1.0).value == pytest.approx(found.greatest)
    assert sum(found.bins) == count


def test_the_least_sample_can_be_seen_again(linear):
    job, study = linear
    found = study["cold_build", "nut.preload"].statistics
    for index, value in ((found.least_at, found.least), (found.greatest_at, found.greatest)):
        again = job.replace(study.sample(index)).evaluate()
        assert again["cold_build", "nut.preload"] == value


def test_pass_rate_is_the_share_inside_the_limit(linear):
    job, study = linear
    shares = {f.path: f.pass_rate for f in study if f.state == "cold_build"}
    # Clamp at the shoulder grows with the torque: its limit is a quantile of the torque.
    needed = job.solve(vary="nut.torque", output="shoulder.clamp_low", target="8 kN").value
    inside = stats.norm(820.0, 20.0).sf(float(needed))
    assert shares["shoulder.clamp_low"] == pytest.approx(inside, abs=4 * 0.5 / np.sqrt(400_000))


def test_the_interval_of_a_pass_rate(study):
    for finding in study:
        low, high = finding.interval
        assert 0.0 <= low <= finding.pass_rate <= high <= 1.0
    # Wilson's interval (E. B. Wilson, 1927), from scipy.
    for passed, count in ((0, 10), (3, 10), (1234, 2000), (10, 10)):
        exact = stats.binomtest(passed, count).proportion_ci(0.95, "wilson")
        assert _core.interval_of_share(passed, count) == pytest.approx((exact.low, exact.high))


def test_linear_budget_is_close_to_the_samples(demo, study):
    compared = 0
    for finding in study:
        sampled = finding.statistics.deviation
        # A margin to the nearer end of a window has its kink amid the samples; a life is a steep
        # power; what holds the bearing's ring is friction times a clamp not below nothing.
        kinked = finding.path in ("nut.window_margin", "bearing.duty_time", "bearing.inner_margin")
        scatters = finding.statistics.least < finding.statistics.greatest
        if scatters and not kinked and finding.path.startswith(("shoulder.", "nut.", "bearing.")):
            compared += 1
            linear = study._linear(finding.state, finding.path).budget
            # A safety that stands for no load at all scatters by rounding alone.
            rounding = 1e-15 * abs(finding.statistics.mean)
            assert linear == pytest.approx(sampled, rel=0.06, abs=rounding), finding.path
    assert compared > 10


def test_sensitivity(demo, study):
    parts = study.contributions("cold_build", "shoulder.clamp_low")
    assert list(parts) == sorted(parts, key=lambda path: -abs(parts[path]))
    # Derivatives where the samples scatter: an input with ends is one number in each sample.
    ranged = [path for path in demo.spreads if any(p == f"{path}_low" for p, *_ in demo.input_rows)]
    one = demo.replace({path: {"low": demo[path], "high": demo[path]} for path in ranged})
    slopes = one.derivatives()
    ends = ("nut.torque", "nut.torque_low", "nut.torque_high")
    torque = sum(slopes["cold_build", "shoulder.clamp_low", end] for end in ends) * 20.0
    assert parts["nut.torque"] == pytest.approx(torque)
    text = str(study.sensitivity())
    assert "rings.sleeve.grip_left in overspeed" in text  # of what is most at risk
    text = str(study.sensitivity("cold_build", "shoulder.clamp_low"))
    assert "shoulder.clamp_low in cold_build" in text
    assert "nut.face_friction" in text
    shares = [int(row[2].rstrip("%")) for row in study.sensitivity().rows]
    assert sum(shares) == pytest.approx(100, abs=len(shares))
    clamp = ("cold_build", "shoulder.clamp_low")
    metric, inch = (str(study.sensitivity(*clamp, units=units)) for units in ("metric", "inch"))
    assert "kN" in metric
    assert "lbf" in inch


# -- stopping, progress, refusals -----------------------------------------------------------------


class Bar:
    """Stands in for the progress bar; stops by hand at the given update."""

    def __init__(self, stop_at):
        self.stop_at, self.seen, self.closed = stop_at, [], False

    def update(self, count):
        self.seen.append(count)
        if len(self.seen) == self.stop_at:
            raise KeyboardInterrupt

    def close(self):
        self.closed = True


def test_a_study_stopped_by_hand_keeps_what_is_done(demo, monkeypatch):
    bar = Bar(2)
    monkeypatch.setattr("fitwright.studies.run.progress_bar", lambda seconds, show: bar)
    study = run(demo, 1_000_000, threads=1)
    assert bar.closed
    assert study.stopped
    assert study.samples < 1_000_000
    assert study.samples % CHUNK == 0
    assert len(bar.seen) == 2
    monkeypatch.undo()
    assert numbers(study) == numbers(run(demo, study.samples))
    assert "stopped by hand" in repr(study)
    assert "stopped by hand" not in repr(run(demo, 100))


def test_the_bar_shows_only_where_someone_looks(demo, capsys):
    run(demo, 5000, progress=None)
    assert capsys.readouterr().err == ""
    run(demo, 5000, progress=True)
    assert "5000 samples at quick level: about" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("arguments", "path", "said"),
    [
        ({"samples": 0}, "samples", "must be a whole number above 0"),
        ({"samples": 1e6}, "samples", "1000000.0 must be a whole number"),
        ({"samples": "many"}, "samples", "'many' must be a whole number"),
        ({"seed": -1}, "seed", "must be a whole number from 0 to below 2^64"),
        ({"seed": 1 << 64}, "seed", "must be a whole number"),
        ({"seed": 1.5}, "seed", "must be a whole number"),
        ({"threads": 0}, "threads", "must be a whole number from 1 to 1024"),
        ({"threads": "2"}, "threads", "'2' must be a whole number"),
        ({"outputs": ["nut.farce"]}, "nut.farce", "nearest: nut.force"),
    ],
)
def test_what_a_study_refuses(demo, arguments, path, said):
    with pytest.raises(fw.InputError) as caught:
        demo.study(**{"samples": 10, **arguments})
    assert any(p == path and said in text for p, text in caught.value.problems), caught.value


def test_all_wrong_arguments_at_once(demo):
    with pytest.raises(fw.InputError) as caught:
        demo.study(-1, seed=-1, threads=-1)
    assert [p for p, _ in caught.value.problems] == ["samples", "seed", "threads"]


def test_a_job_in_which_nothing_scatters(demo):
    still = demo.replace({path: {"value": float(demo[path])} for path in demo.spreads})
    assert still.spreads == {}
    with pytest.raises(fw.InputError, match="job: has no input that scatters; give one a spread"):
        still.study(10)


def test_samples_out_of_domain_are_counted_and_located(demo):
    # A washer scattered so widely that some samples have no thickness: out of its range.
    wild = demo.replace({"lock.thickness": {"spread": "normal", "deviation": "0.75 mm"}})
    study = run(wild, 10_000)
    expected = stats.norm(1.5, 0.75).cdf(0.01) * 10_000
    assert study.out_of_domain == pytest.approx(expected, abs=4 * np.sqrt(expected))
    first = study._run.first_fault
    assert study.sample(first)["lock.thickness"] <= 1e-5
    assert all(study.sample(i)["lock.thickness"] > 1e-5 for i in range(first))
    assert f"out of domain: {study.out_of_domain} at quick level" in repr(study)
    [broken] = study.broken_rules
    assert (broken.first, broken.count) == (first, study.out_of_domain)
    assert f"{broken.count} break a rule, first sample {first}: lock.thickness: " in repr(study)
    assert all(np.isfinite(f.statistics.mean) for f in study)
    # They count as not passed.
    assert study.pass_rate <= 1.0 - study.out_of_domain / 10_000


def test_a_study_without_one_good_sample(demo):
    lost = demo.replace(
        {"nut.pitch": {"value": "2 mm", "spread": "uniform", "low": "-2 mm", "high": "-1 mm"}}
    )
    with pytest.raises(fw.InputError, match=r"no sample can be evaluated.*nut\.pitch"):
        run(lost, 100)


def test_what_was_not_tracked(study):
    assert study["cold_build", "shoulder.clamp_low"].path == "shoulder.clamp_low"
    with pytest.raises(
        fw.InputError, match=r'was not tracked; pass outputs=\["stack.compliance"\]'
    ):
        _ = study["trip", "stack.compliance"]
    with pytest.raises(fw.InputError, match="is not an output of state trip"):
        _ = study["trip", "stack.complaint"]
    for wrong in (-1, 200_000):
        with pytest.raises(fw.InputError, match=r"index: .* must be from 0 to 199999"):
            study.sample(wrong)
    with pytest.raises(fw.InputError, match=r"shares: 1.5 must be from 0 to 1"):
        study.quantiles([0.5, 1.5])


def test_one_sample(demo):
    study = run(demo, 1)
    assert study.samples == 1
    assert study.pass_rate in (0.0, 1.0)
    assert "nan" not in repr(study).lower()
    assert "nan" not in str(study.quantiles()).lower()
