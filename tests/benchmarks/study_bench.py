"""The study beside NumPy, Numba and JAX programs of the same job, on the same cores.

`make bench` runs this last. All sides draw the inputs, shape their distributions, run the model and
reduce to yields and quantiles, each with its own generator. Answers are checked before anything is
timed; a wrong one ends the run with status 1. Where Numba or JAX is missing, the run says so and
goes on: `tools/setup.sh build yardsticks` brings them.
"""

from __future__ import annotations

import importlib.util
import json
import os
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

PROGRAM = Path(__file__).parents[2] / "build" / "release" / "cpp" / "fitwright_study_bench"
SAMPLES = 1 << 17
SECONDS = 3.0
CORES = min(2, os.cpu_count() or 1)


def check(right: bool, what: str) -> None:
    if not right:
        raise SystemExit(f"WRONG ANSWER: {what}")


def told(*words: str, level: str = "") -> Any:
    env = {**os.environ, "FITWRIGHT_LEVEL": level} if level else dict(os.environ)
    run = subprocess.run([PROGRAM, *words], env=env, stdout=subprocess.PIPE, text=True, check=True)
    return json.loads(run.stdout)


def line(what: str, value: float, unit: str, wanted: str = "", ok: bool = True) -> None:
    text = f"  {what:<58} {value:10.3f} {unit:<9}"
    print((text + (f" wanted {wanted}  {'ok' if ok else 'MISSED'}" if wanted else "")).rstrip())


def quantile(bins: Any, ranges: Any, share: float) -> float:
    import numpy as np

    held = np.cumsum(bins)
    k = int(np.searchsorted(held, share * held[-1]))
    return float(ranges[0] + (ranges[1] - ranges[0]) * (k + 0.5) / bins.size)


def compare(name: str, job: Any, ranges: Any, core: Any) -> dict[str, float]:
    """Answers of a yardstick checked, then its times."""
    import numpy as np
    import study_programs
    from study_models import Job

    rows = Job(job).rows
    given = np.array(job["samples"]).reshape(-1, len(job["nominal"]))[:, rows].T.copy()
    wanted = np.array(job["answers"]).reshape(-1, 12).T
    got = study_programs.answers_to(name, job, given)
    scale = np.abs(wanted).max(axis=1, keepdims=True)
    check(bool((np.abs(got - wanted) <= 1e-9 * scale).all()), f"{name}: outputs of given inputs")
    start = time.perf_counter()
    program = study_programs.make(name, job, ranges, CORES)
    program.study(1 << 15, CORES)
    first = time.perf_counter() - start
    sums = program.study(1 << 20, CORES)
    n = 1.0 / sums.count + 1.0 / (1 << 20)
    for t in range(12):
        share = core["yields"][t]
        error = 5.0 * (max(share * (1.0 - share), 1e-5) * n) ** 0.5
        check(abs(sums.passed[t] / sums.count - share) < error, f"{name}: yield of output {t}")
        spread = core["high"][t] - core["low"][t]  # 4.65 standard deviations of a normal
        off = abs(sums.sums[t] / sums.count - core["means"][t])
        check(off < 5.0 * spread / 4.0 * n**0.5, f"{name}: mean of output {t}")
        for q, key in ((0.01, "low"), (0.99, "high")):
            off = abs(quantile(sums.bins[t], ranges[t], q) - core[key][t])
            check(off < 0.02 * spread, f"{name}: quantile {q} of output {t}")
    found = {"first": first}
    program.model(SAMPLES, CORES)
    for what in ("model", "study"):
        run = getattr(program, what)
        for key, cores in ((what, CORES), (f"{what}_1", 1)):
            least = study_programs.least_time(lambda r=run, n=cores: r(SAMPLES, n), SECONDS)
            found[key] = least * 1e9 / SAMPLES
    program.close()
    return found


def ours(levels: list[str], yardsticks: dict[str, dict[str, float]]) -> None:
    others = {n: y for n, y in yardsticks.items() if n != "NumPy"}
    labels = {"model": "model alone", "study": "with sampling and statistics"}
    m: dict[str, Any] = {}
    for level in levels:
        m = told("measure", str(SAMPLES), str(CORES), level=level)
        print(f"\nlevel {level}: 6 rings, 4 states, 36 scattered inputs")
        for key in ("model_1", "model", "study_1", "study"):
            cores = "1 core" if key.endswith("_1") else f"{CORES} cores"
            line(f"{labels[key.removesuffix('_1')]}, {cores}, per sample", m[key], "ns")
            ratio = yardsticks["NumPy"][key] / m[key]
            line("    times as fast as NumPy", ratio, "times", ">= 6", ratio >= 6.0)
            if others:
                name, other = min(others.items(), key=lambda o, key=key: o[1][key])
                ratio = other[key] / m[key]
                line(f"    times as fast as {name}", ratio, "times", ">= 1.5", ratio >= 1.5)
        scaling = m["study_1"] / m["study"] / CORES
        line(f"one thread over {CORES}, per thread: study", scaling, "", ">= 0.9", scaling >= 0.9)
        scaling = m["model_1"] / m["model"] / CORES
        line("    model alone", scaling, "")
        cost = m["derivative_cost"]
        most = 0.8 if level == "v2" else 0.5
        line("demo job, derivatives by one input, in evaluations", cost, "", f"<= {most}",
             cost <= most)  # fmt: skip
        rate = m["operations"] / m["model_1"]
        line("model alone, one thread", rate, "Gflop/s")
        line("    share of the measured multiply-add peak", 100 * rate / m["peak"], "%")
        line("study, one thread: drawing 36 inputs", m["drawing"], "ns")
        line("    statistics of 12 outputs", m["statistics"], "ns")
    print(
        f"\n  {m['operations']:.0f} operations in a sample (exact count), of which"
        f" {m['divisions']:.0f} divisions and {m['roots']:.0f} roots"
    )


def main() -> None:
    import numpy as np
    from fitwright import _core

    for name in ("OPENBLAS_CORETYPE", "OPENBLAS_L2_SIZE"):  # set, they slow NumPy
        os.environ.pop(name, None)
    for name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS"):
        os.environ.setdefault(name, str(CORES))
    print("\nThe study beside array programs: the same job, distributions and cores")
    if os.getloadavg()[0] > 0.5 * CORES:
        print("Others are at work here: what uses all cores will be slower, on all sides.")
    job = told("describe")
    core = told("run", str(1 << 20), str(CORES))
    check(core["out_of_domain"] == 0, "samples out of domain")
    low, high = np.array(core["low"]), np.array(core["high"])
    ranges = np.stack([low - (high - low), high + (high - low)], axis=1)
    yardsticks: dict[str, dict[str, float]] = {}
    for name in ("NumPy", "Numba", "JAX"):
        if importlib.util.find_spec(name.lower()) is None:
            print(f"  {name} is not installed: left out (tools/setup.sh build yardsticks)")
            continue
        found = yardsticks[name] = compare(name, job, ranges, core)
        print(f"\n{name}, {CORES} cores (answers agree)")
        for key, cores in (("model_1", 1), ("model", CORES), ("study_1", 1), ("study", CORES)):
            what = "model alone" if "model" in key else "with sampling and statistics"
            line(f"{what}, {cores} core{'s'[: cores - 1]}, per sample", found[key], "ns")
        line("from nothing to its first result", found["first"], "s")
    levels = [f"v{n}" if n else "" for n in _core.usable_levels()]
    ours(levels, yardsticks)
    first = float("inf")
    for _ in range(3):
        start = time.perf_counter()
        told("run", str(1 << 15), str(CORES))
        first = min(first, time.perf_counter() - start)
    line("process start to the first result, 32768 samples", first, "s", "<= 0.3", first <= 0.3)
    for samples in (10**6, 10**7):
        mb = told("run", str(samples), str(CORES))["memory_mb"]
        line(f"peak of memory, {samples:.0e} samples", mb, "MB", "<= 300", mb <= 300.0)


if __name__ == "__main__":
    if len(sys.argv) > 1:
        PROGRAM = Path(sys.argv[1])
    main()
