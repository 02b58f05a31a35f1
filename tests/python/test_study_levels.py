"""One study of every finding: many samples of what is quick, fewer of what is dear, one rate."""

from __future__ import annotations

import signal
import subprocess
import sys
import time
from concurrent.futures import ProcessPoolExecutor, ThreadPoolExecutor

import fitwright as fw
import numpy as np
import pytest
from fitwright import _core
from scipy import stats

COUNTS = {"quick": 20_000, "history": 300, "heating": 40}


def bits(study):
    """All that a study says, as numbers that must be equal."""
    return [study.pass_rate, study.interval] + [
        (f.level, f.state, f.path, f.samples, s.mean, s.deviation, s.least_at, s.passed, s.bins)
        for f in study
        for s in [f.statistics]
    ]


def run(job, levels=COUNTS, **more):
    return job.study(levels["quick"], **{"levels": levels, "progress": False, **more})


@pytest.fixture(scope="module")
def job(demo):
    """The demo with limits that the history and the ovens miss now and then."""
    text = demo.file.text + LIMITS
    return fw.Job.loads(text)


LIMITS = """
[[limit]]
output = "shoulder.clamp"
states = ["full_load"]
at_least = "40 kN"

[[limit]]
output = "rings.sleeve.slip_on.time_left"
states = ["cold_build"]
at_least = "0 s"
"""


@pytest.fixture(scope="module")
def whole(job):
    return run(job)


# -- what is counted ------------------------------------------------------------------------------


def test_every_finding_that_evaluate_lists_is_counted(job, whole):
    assert {(f.state, f.path) for f in job.evaluate()} == {(f.state, f.path) for f in whole}
    assert whole.not_counted == []
    assert {f.level for f in whole} == {"quick", "history", "heating"}
    assert all(f.samples == COUNTS[f.level] for f in whole)
    assert whole.levels == COUNTS
    table = str(whole.table())
    assert "20000 samples at quick level, 300 samples at history level, 40 samples at heating" in (
        table
    )
    assert "not counted" not in table


def test_the_usual_samples_of_each_level(demo):
    assert demo.study_time(1_000_000).levels == {
        "quick": 1_000_000,
        "history": 10_000,
        "heating": 2_000,
    }
    assert demo.study_time(10_000).levels == {"quick": 10_000, "history": 400, "heating": 200}
    assert demo.study_time(100).levels == {"quick": 100, "history": 100, "heating": 100}


def test_the_joined_rate_by_brute_force(job, whole):
    """Each sample evaluated by itself: what passes up to each level, and the product of shares."""
    full = job.at_level("heating")
    core = full.core
    limits = [(core.level_of(o), o, low, high) for o, low, high in core.limits()]

    def passes(outputs, levels):
        return all(
            not outputs[o] < low and not outputs[o] > high
            for level, o, low, high in limits
            if level in levels
        )

    def shares(count, level, before, own):
        here = core.at(level).copy()
        kept = total = 0
        for i in range(count):
            for leaf, value in enumerate(whole._run.sample(i)):
                here.set(leaf, value)
            outputs = here.evaluate()
            if passes(outputs, before):
                total += 1
                kept += passes(outputs, own)
        return kept, total

    quick = whole._run.passed_to(0) / COUNTS["quick"]
    history = shares(COUNTS["history"], "history", {"quick"}, {"history"})
    heating = shares(COUNTS["heating"], "heating", {"quick", "history"}, {"heating"})
    assert 0 < history[0] < history[1] <= COUNTS["history"]
    assert whole.pass_rate == pytest.approx(
        quick * history[0] / history[1] * heating[0] / heating[1], rel=1e-14
    )
    low, high = whole.interval
    assert low < whole.pass_rate < high


def test_the_interval_of_a_joined_rate_holds_what_it_says():
    """Brute force with NumPy: studies of three levels, nested as the library's are, 4000 times."""
    rng = np.random.default_rng(7)
    for many, few, fewest, q, h, o in (
        (100_000, 1_000, 200, 0.97, 0.98, 0.99),
        (10_000, 400, 200, 0.6, 0.8, 0.9),
        (1_000_000, 10_000, 2_000, 0.999, 0.995, 0.998),
    ):
        hits, rates = 0, []
        for _ in range(4000):
            q_fewest = rng.binomial(fewest, q)
            h_fewest = rng.binomial(q_fewest, h)
            o_fewest = rng.binomial(h_fewest, o)
            q_few = q_fewest + rng.binomial(few - fewest, q)
            h_few = h_fewest + rng.binomial(q_few - q_fewest, h)
            q_many = q_few + rng.binomial(many - few, q)
            rate, low, high = _core.joined_rate(
                [(many, many, q_many), (few, q_few, h_few), (fewest, h_fewest, o_fewest)]
            )
            hits += low <= q * h * o <= high
            rates.append(rate)
        # Unbiased, and 95 % within a tail's width (Wilson's interval itself is right to 1 to 2 %).
        assert np.mean(rates) == pytest.approx(q * h * o, abs=5 * np.std(rates) / np.sqrt(4000))
        assert 0.93 <= hits / 4000 <= 0.975


def test_joining_is_sharper_than_the_fewer_samples_alone(whole):
    """What the control variate is for: the history's own count of everything is far wider."""
    history = whole._levels[1].run
    low, high = _core.interval_of_share(history.passed_to(1), history.done)
    joined = _core.joined_rate(
        [
            (COUNTS["quick"], COUNTS["quick"], whole._run.passed_to(0)),
            (history.done, history.passed_to(0), history.passed_to(1)),
        ]
    )
    assert joined[2] - joined[1] <= high - low


def test_a_level_left_out_is_told(job):
    two = run(job, {"quick": 5000, "history": 64})
    left = {path for _, _, path in two.not_counted}
    assert {level for level, *_ in two.not_counted} == {"heating"}
    assert "rings.sleeve.slip_on.time_left" in left
    assert "every limit that was counted holds in" in two.title
    assert f"not counted: {len(two.not_counted)} findings of heating level: rings.*." in two.title
    quick = job.study(5000, level="quick", progress=False)
    assert quick.levels == {"quick": 5000}
    assert "findings of history level" in quick.title
    assert "findings of heating level" in quick.title
    # The rate of one level alone is a plain share.
    assert quick.pass_rate == quick._run.all_passed / 5000
    with pytest.raises(fw.InputError, match='is of level "history", which was not counted'):
        _ = quick["full_load", "shoulder.clamp"]


def test_all_samples_at_one_level(job):
    history = job.study(64, level="history", progress=False)
    assert history.levels == {"history": 64}
    assert {f.samples for f in history} == {64}
    assert {f.level for f in history} == {"quick", "history"}
    assert bits(history) == bits(job.at_level("history").study(64, progress=False))


def test_more_samples_of_the_history_begin_with_the_fewer(job, whole):
    longer = run(job, {**COUNTS, "history": 400})
    few, many = whole._levels[1].run, longer._levels[1].run
    assert few.sample(299) == many.sample(299) == whole._run.sample(299)


def test_shares_of_the_time(job):
    times = job.study_time(20_000, levels={"history": 0.3, "heating": 0.3})
    assert times.levels["quick"] == 20_000
    assert 64 <= times.levels["heating"] <= times.levels["history"] <= 20_000
    # Two digits, so that it can be told again.
    assert all(str(n)[2:] in ("", "0" * (len(str(n)) - 2)) for n in times.levels.values())
    assert times.seconds == pytest.approx(sum(times.by_level.values()))
    assert "about" in str(times)
    assert "on " in str(times)


# -- what stands still, what ties -----------------------------------------------------------------


def test_what_stands_still_is_told(job, whole):
    assert "states.full_load.speed" not in whole.standing
    assert "rings.sleeve.overhang" in whole.standing  # its ends lie apart
    assert "nut.torque" not in whole.standing  # it scatters
    fixed = job.replace({"nut.torque": {"value": "650 N m"}})
    study = fixed.study(100, level="quick", progress=False)
    assert "nut.torque" in study.standing
    assert "\nno spread: " in study.title
    assert "rings.*.overhang (" in study.title


# -- the same bits anywhere -----------------------------------------------------------------------


@pytest.mark.parametrize("threads", [1, 3])
def test_threads_do_not_matter(job, whole, threads):
    assert bits(run(job, threads=threads)) == bits(whole)


@pytest.mark.parametrize("pool", [ThreadPoolExecutor, ProcessPoolExecutor])
def test_an_executor_gives_the_same_bits(job, whole, pool):
    with pool(2) as executor:
        assert bits(run(job, executor=executor)) == bits(whole)


def test_columns_of_every_level(job):
    paths = ["shoulder.clamp_low", "shoulder.clamp"]
    study = run(job, {"quick": 5000, "history": 64}, keep=paths)
    assert len(study.columns["full_load", "shoulder.clamp_low"]) == 5000
    clamp = study.columns["full_load", "shoulder.clamp"]
    assert len(clamp) == 64
    assert study["full_load", "shoulder.clamp"].statistics.mean == pytest.approx(clamp.mean())


def test_columns_of_every_level_as_files(job, tmp_path):
    pyarrow = pytest.importorskip("pyarrow.parquet")
    run(job, {"quick": 5000, "history": 64}, keep=["shoulder.clamp"], columns_to=tmp_path)
    assert [p.name for p in sorted(tmp_path.iterdir())] == ["history-part-00000000.parquet"]
    table = pyarrow.read_table(tmp_path / "history-part-00000000.parquet")
    assert table.num_rows == 64
    assert "full_load/shoulder.clamp" in table.column_names


SCRIPT = """
import fitwright as fw, sys
job = fw.Job.loads(open(sys.argv[2], encoding="utf-8").read())
levels = {"quick": 200_000, "history": 1500, "heating": 64}
job.study(200_000, levels=levels, checkpoint=sys.argv[1], threads=1, progress=False)
"""


def test_a_study_that_was_killed_carries_on_to_the_same_bits(job, tmp_path):
    folder, file = tmp_path / "blocks", tmp_path / "job.toml"
    file.write_text(job.file.text, encoding="utf-8")
    killed = subprocess.Popen([sys.executable, "-c", SCRIPT, str(folder), str(file)])
    while killed.poll() is None and len(list(folder.glob("history-block-*"))) < 2:
        time.sleep(0.01)
    killed.send_signal(signal.SIGKILL)
    killed.wait()
    done = {p.name for p in folder.glob("*block-*")}
    assert {name.rpartition("block")[0] for name in done} >= {"", "history-"}
    levels = {"quick": 200_000, "history": 1500, "heating": 64}
    assert len(done) < 4 + 6 + 1
    resumed = run(job, levels, checkpoint=folder)
    assert len(list(folder.glob("*block-*"))) == 4 + 6 + 1
    assert bits(resumed) == bits(run(job, levels))
    with pytest.raises(fw.InputError, match="holds another study"):
        run(job, {**levels, "history": 1400}, checkpoint=folder)


def test_a_study_stops_where_its_joined_interval_is_narrow_enough(job):
    levels = {"quick": 1_000_000, "history": 20_000}
    one, two = (run(job, levels, until_width=0.06, threads=t) for t in (1, 2))
    assert bits(one) == bits(two)
    assert one.stopped == "interval narrow enough"
    assert one.interval[1] - one.interval[0] <= 0.06
    assert one.levels["history"] < 20_000
    # Both levels went forward together.
    assert one.levels["quick"] > 30 * one.levels["history"]


def test_a_study_says_beforehand_how_long_it_takes(job, capsys):
    run(job, {"quick": 5000, "history": 64}, progress=True)
    said = capsys.readouterr().err
    assert "study of 5000 samples at quick level, 64 samples at history level: about" in said
    run(job, {"quick": 5000, "history": 64})
    assert capsys.readouterr().err == ""


# -- questions to a study of several levels -------------------------------------------------------


def test_sensitivity_of_a_finding_of_the_history(whole):
    parts = whole.contributions("full_load", "shoulder.clamp")
    assert abs(parts["nut.torque"]) > 0.0
    table = whole.sensitivity("full_load", "shoulder.clamp")
    assert "shoulder.clamp in full_load" in str(table)
    assert sum(int(row[2].rstrip("%")) for row in table.rows) == pytest.approx(100, abs=20)


def test_worst_samples_of_a_finding_of_the_history(whole):
    figure = whole.worst_samples("full_load", "shoulder.clamp", inputs=2, samples=64)
    assert len(figure.axes) >= 3


# -- what is refused ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("levels", "path", "said"),
    [
        ({"fast": 100}, "levels", '"fast" is not a level; there are quick, history, heating'),
        ({}, "levels", "must be a table of level and samples"),
        (100, "levels", "100 must be a table (dict) with names as keys"),
        ({"history": 0}, "levels.history", "0 must be a whole number above 0"),
        ({"history": "many"}, "levels.history", "'many' must be a number of samples"),
        ({"history": True}, "levels.history", "True must be a number of samples"),
        ({"history": 1.5}, "levels.history", "must be a whole number, or a share below 1"),
        ({"quick": 0.5}, "levels.quick", "0.5 must be a whole number of samples"),
        ({"heating": 10}, "levels.heating", 'needs "history" as well'),
        ({"history": 2000}, "levels.history", "2000 must be at most the 1000 of level quick"),
        (
            {"quick": 500, "history": 100, "heating": 200},
            "levels.heating",
            "200 must be at most the 100 of level history",
        ),
        ({"history": 0.6, "heating": 0.5}, "levels", "must leave some for the quick level"),
    ],
)
def test_levels_that_make_no_sense(demo, levels, path, said):
    with pytest.raises(fw.InputError) as caught:
        demo.study(1000, levels=levels, progress=False)
    assert any(p == path and said in text for p, text in caught.value.problems), caught.value


def test_levels_and_a_level_are_not_told_together(demo):
    with pytest.raises(fw.InputError, match='levels: cannot be told together with level = "quick"'):
        demo.study(1000, level="quick", levels={"history": 10})


def test_a_level_that_does_not_exist(demo):
    for ask in (demo.study, demo.study_time):
        with pytest.raises(
            fw.InputError, match='level: "slow" is not a level; there are quick, history, heating'
        ):
            ask(1000, level="slow")
    with pytest.raises(fw.InputError, match='level: "slow" is not a level'):
        demo.evaluate(level="slow")


def test_a_share_of_the_time_cannot_be_carried_on(demo, tmp_path):
    with pytest.raises(fw.InputError, match=r"levels\.history: a share of the time gives another"):
        demo.study(5000, levels={"history": 0.5}, checkpoint=tmp_path, progress=False)


def test_a_job_in_which_only_the_standard_scatters(demo):
    still = demo.replace(
        {p: {"value": float(demo[p])} for p in demo.spreads if p not in demo.standard_spreads}
    )
    assert set(still.spreads) == set(demo.standard_spreads) != set()
    for ask in (lambda: still.study(10), lambda: still.worst_case(), still.sobol_indices):
        with pytest.raises(
            fw.InputError,
            match="job: has no input that scatters but the expansion of its metals, which needs no "
            "telling; give one a spread",
        ):
            ask()


def test_quantiles_of_a_binomial_law_stand_behind_the_interval():
    """Two levels with everything kept: the interval is that of the fewer samples (Wilson)."""
    rate, low, high = _core.joined_rate([(10**6, 10**6, 10**6), (400, 400, 400)])
    exact = stats.binomtest(400, 400).proportion_ci(0.95, "wilson")
    assert (rate, high) == (1.0, 1.0)
    assert low == pytest.approx(exact.low, abs=1e-5)
