"""A study on any executor, over interruptions, with columns and early stops: the same bits."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from concurrent.futures import ProcessPoolExecutor, ThreadPoolExecutor

import fitwright as fw
import numpy as np
import pytest
from fitwright.studies.plan import BLOCK_CHUNKS, CHUNK

SAMPLES = 5 * BLOCK_CHUNKS * CHUNK // 2  # two blocks and a half


def bits(study):
    """All that a study says, as bytes and numbers that must be equal."""
    return [
        (
            f.state,
            f.path,
            s.mean,
            s.deviation,
            s.skewness,
            s.least_at,
            s.greatest_at,
            s.passed,
            s.bins,
        )
        for f in study
        for s in [f.statistics]
    ]


@pytest.fixture(scope="module")
def job():
    return fw.demo("blower").replace({"nut.torque": "660 N m"})


@pytest.fixture(scope="module")
def whole(job):
    return job.study(SAMPLES, seed=7, level="quick")


def test_a_job_survives_pickling_with_its_changes(job):
    import pickle

    again = pickle.loads(pickle.dumps(job))
    assert again["nut.torque"] == 660.0
    assert list(again.core.values()) == list(job.core.values())
    assert bits(again.study(5000, level="quick")) == bits(job.study(5000, level="quick"))


@pytest.mark.parametrize("pool", [ThreadPoolExecutor, ProcessPoolExecutor])
def test_an_executor_gives_the_same_bits(job, whole, pool):
    with pool(2) as executor:
        assert bits(job.study(SAMPLES, seed=7, level="quick", executor=executor)) == bits(whole)


def test_a_block_that_fails_is_told(job):
    class Broken:
        def submit(self, *_):
            raise OSError("the cluster is gone")

    with pytest.raises(OSError, match="the cluster is gone"):
        job.study(SAMPLES, executor=Broken(), level="quick")


SCRIPT = """
import fitwright as fw, sys
from fitwright import _core
job = fw.demo("blower").replace({"nut.torque": "660 N m"})
job.study(16 * 16 * 4096, seed=7, level="quick", checkpoint=sys.argv[1], threads=1)
"""


def test_a_study_that_was_killed_carries_on_to_the_same_bits(job, tmp_path):
    folder = tmp_path / "blocks"
    run = subprocess.Popen([sys.executable, "-c", SCRIPT, str(folder)])
    while run.poll() is None and len(list(folder.glob("block-*"))) < 3:
        time.sleep(0.01)
    run.send_signal(signal.SIGKILL)
    run.wait()
    done = len(list(folder.glob("block-*")))
    assert 3 <= done < 16
    resumed = job.study(16 * 16 * 4096, seed=7, level="quick", checkpoint=folder)
    assert len(list(folder.glob("block-*"))) == 16
    assert bits(resumed) == bits(job.study(16 * 16 * 4096, seed=7, level="quick"))


CLUSTER = """
import os, signal, sys, threading, time
import fitwright as fw


def main():
    from dask.distributed import Client, LocalCluster

    job, samples = fw.demo("blower"), 24 * 16 * 4096
    whole = job.study(samples, seed=5, level="quick")
    settings = dict(n_workers=2, threads_per_worker=1, dashboard_address=None)
    with LocalCluster(**settings) as cluster, Client(cluster) as client:
        before = client.run(os.getpid)

        def kill_one():
            time.sleep(0.7)
            os.kill(next(iter(before.values())), signal.SIGKILL)

        killer = threading.Thread(target=kill_one)
        killer.start()
        spread_out = job.study(samples, seed=5, level="quick", executor=client.get_executor())
        killer.join()
        after = client.run(os.getpid)
    assert set(before.values()) != set(after.values()), "no worker was killed"
    one, other = ([(f.statistics.mean, f.statistics.bins) for f in s] for s in (whole, spread_out))
    print("the same bits" if one == other else "different")


if __name__ == "__main__":
    main()
"""


def test_a_cluster_that_loses_a_worker_half_way_gives_the_same_bits(tmp_path):
    script = tmp_path / "cluster.py"
    script.write_text(CLUSTER)
    told = subprocess.run(
        [sys.executable, str(script)], capture_output=True, text=True, cwd=tmp_path, timeout=900
    )
    assert told.stdout.strip() == "the same bits", told.stderr


def test_finished_blocks_are_not_run_again_and_damaged_ones_are(job, whole, tmp_path):
    job.study(SAMPLES, seed=7, level="quick", checkpoint=tmp_path)
    block = tmp_path / "block-00000001"
    block.write_bytes(block.read_bytes()[:-8] + b"damaged!")
    before = {p.name: p.stat().st_mtime_ns for p in tmp_path.glob("block-*")}
    assert bits(job.study(SAMPLES, seed=7, level="quick", checkpoint=tmp_path)) == bits(whole)
    after = {p.name: p.stat().st_mtime_ns for p in tmp_path.glob("block-*")}
    assert [name for name in after if after[name] != before[name]] == ["block-00000001"]


@pytest.mark.parametrize(
    "change", [{"seed": 8}, {"samples": 1000}, {"design": "sobol"}, {"keep": ["nut.force"]}]
)
def test_another_study_may_not_carry_on_from_these_blocks(job, tmp_path, change):
    job.study(2000, seed=7, level="quick", checkpoint=tmp_path)
    arguments = {"samples": 2000, "seed": 7, "level": "quick", **change}
    with pytest.raises(fw.InputError, match="holds another study"):
        job.study(arguments.pop("samples"), checkpoint=tmp_path, **arguments)
    other = job.replace({"nut.torque": "661 N m"})
    with pytest.raises(fw.InputError, match="holds another study"):
        other.study(2000, seed=7, level="quick", checkpoint=tmp_path)


def test_kept_columns_are_the_samples(job):
    study = job.study(10_000, seed=3, level="quick", keep=["nut.force", "shoulder.clamp_low"])
    column = study.columns["trip", "nut.force"]
    assert len(column) == 10_000
    statistics = study["trip", "nut.force"].statistics
    assert np.mean(column) == pytest.approx(statistics.mean, rel=1e-12)
    assert column[statistics.least_at] == statistics.least
    drawn = {path: float(value) for path, value in study.sample(1234).items()}
    there = {k: v for k, v in drawn.items() if not k.endswith("friction")}
    ends = {
        k: {"value": v, "low": v, "high": v} for k, v in drawn.items() if k.endswith("friction")
    }
    redone = job.replace({**there, **ends}).evaluate()
    assert column[1234] == pytest.approx(redone["trip", "nut.force"], rel=1e-12)
    assert set(study.columns) == {
        (state, path) for state in job.states for path in ("nut.force", "shoulder.clamp_low")
    }


def test_columns_can_go_to_disk_by_parts(job, tmp_path):
    pyarrow_parquet = pytest.importorskip("pyarrow.parquet")
    study = job.study(
        SAMPLES, seed=7, level="quick", keep=["nut.force"], columns_to=tmp_path / "parts"
    )
    parts = sorted((tmp_path / "parts").glob("part-*.parquet"))
    assert len(parts) == 3
    table = pyarrow_parquet.read_table(tmp_path / "parts")
    kept = job.study(SAMPLES, seed=7, level="quick", keep=["nut.force"]).columns[
        "trip", "nut.force"
    ]
    assert np.array_equal(table["trip/nut.force"].to_numpy(), kept)
    assert study.columns == {}
    with pytest.raises(fw.InputError, match="already holds parts"):
        job.study(100, level="quick", keep=["nut.force"], columns_to=tmp_path / "parts")


def test_it_stops_when_the_interval_is_narrow_enough_at_the_same_sample_on_any_threads(job):
    one, two = (job.study(10_000_000, until_width=0.002, level="quick", threads=t) for t in (1, 2))
    assert one.samples == two.samples < 10_000_000
    assert one.samples % (BLOCK_CHUNKS * CHUNK) == 0
    low, high = one.interval
    assert high - low <= 0.002
    assert "interval narrow enough" in str(one)
    assert bits(one) == bits(two)


@pytest.mark.parametrize(
    ("argument", "message"),
    [
        ({"executor": 3}, "executor: int has no submit"),
        ({"until_width": 2.0}, "until_width: 2.0 must lie between 0 and 1"),
        ({"keep": ["nut.forces"]}, "nut.forces: is not an output of state cold_build; nearest"),
    ],
)
def test_arguments_are_told(job, argument, message):
    with pytest.raises(fw.InputError, match=message):
        job.study(100, **argument)


def test_memory_does_not_grow_with_the_samples():
    """Ten times the samples, the same peak (within 5 MB)."""
    script = (
        "import fitwright as fw, resource, sys; job = fw.demo('blower'); "
        "job.study(int(sys.argv[1]), level='quick'); "
        "print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)"
    )
    peaks = [
        int(
            subprocess.run(
                [sys.executable, "-c", script, n],
                capture_output=True,
                text=True,
                check=True,
                env=os.environ,
            ).stdout
        )
        for n in ("100000", "1000000")
    ]
    assert peaks[1] - peaks[0] < 5 * 1024
