"""What a user of the Python package waits for, at each vector level.

`make bench` runs this after fitwright_bench. Each level runs in processes of its own, with
FITWRIGHT_LEVEL set. Ends with 1 when an answer is wrong, never because something was slow.
"""

from __future__ import annotations

import json
import os
import platform
import statistics
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from fitwright.fields.units import Number

MILLION = 1_000_000
IMPORT = (
    "import time; t = time.perf_counter(); import fitwright; a = time.perf_counter() - t; "
    "job = fitwright.demo('blower'); print(a, time.perf_counter() - t)"
)
#: label, key of the measurement, unit, seconds per unit, wanted at most (in that unit)
ROWS = (
    ("import fitwright, median of 5 processes", "import", "s", 1.0, 0.2),
    ("    with the demo job read", "import_job", "s", 1.0, None),
    ("fw.rings.fit, a million interferences", "fit", "ms", 1e-3, 60.0),
    ("    the first call of a process", "fit_cold", "ms", 1e-3, None),
    ('demo job.evaluate(level="quick")', "evaluate", "ms", 1e-3, 0.3),
    ("demo job.study, a million quick samples, all cores", "study", "s", 1.0, 3.0),
    ("    every finding: 1e6 quick, 1e4 history, 2000 heating", "whole", "s", 1.0, 60.0),
    ("    told beforehand", "whole_told", "s", 1.0, None),
    ("    a sample of the history, processor time", "history", "ms", 1e-3, 1.9),
    ("    a sample with its ovens, processor time", "heating", "ms", 1e-3, None),
)


def least_time(run: Callable[[], object], repeats: int) -> float:
    """Least time of several runs: the one that others disturbed least."""
    best = float("inf")
    for _ in range(repeats):
        start = time.perf_counter()
        run()
        best = min(best, time.perf_counter() - start)
    return best


def check(right: bool, what: str) -> None:
    if not right:
        raise SystemExit(f"WRONG ANSWER: {what}")


def measure() -> None:
    """One level, in this process: times and answers as JSON on the last line."""
    import fitwright as fw
    import numpy as np

    found: dict[str, float] = {}
    interference = np.linspace(1e-5, 1e-4, MILLION)
    shaft = fw.Shaft(bore="30 mm", seat="80 mm", material="4340")
    ring = fw.Ring(bore="80 mm", outside="105 mm", length="30 mm", material="52100")

    def fit(value: Number) -> Any:
        return fw.rings.fit(shaft=shaft, ring=ring, interference=value, speed="11000 rpm")

    start = time.perf_counter()
    many = fit(interference)
    found["fit_cold"] = time.perf_counter() - start
    for index in (0, 12_345, MILLION - 1):
        alone = fit(float(interference[index]))
        for name in ("pressure", "ring_von_mises", "loss_temperature"):
            same = getattr(many, name)[index] == getattr(alone, name)
            check(bool(same), f"fit {index}: {name} in an array and alone differ")
    found["fit"] = least_time(lambda: fit(interference), 9)

    job = fw.demo("blower")
    outputs = np.array(job.core.evaluate())
    values, _, _ = job.core.jacobian()
    check(np.array_equal(outputs, np.array(values)), "values beside the Jacobian differ")
    found["evaluate"] = least_time(lambda: job.evaluate(level="quick"), 2000)

    few = job.study(100_000, seed=1, progress=False, threads=1, level="quick")
    start = time.perf_counter()
    study = job.study(MILLION, seed=1, progress=False, level="quick")
    found["study"] = time.perf_counter() - start
    again = job.study(100_000, seed=1, progress=False, level="quick")
    check(again.pass_rate == few.pass_rate, "pass rate on one thread and on all differ")
    check(study.out_of_domain == 0, "samples out of domain")
    found["study"] = min(
        found["study"],
        least_time(lambda: job.study(MILLION, seed=1, progress=False, level="quick"), 2),
    )
    measure_levels(job, found)
    spread = [(f.statistics.mean, f.statistics.deviation, f.statistics.passed) for f in study]
    answers = {
        "fit": float(np.sum(many.pressure)).hex(),
        "job": [float(v).hex() for v in outputs],
        "study": [study.pass_rate, spread],
    }
    print(json.dumps({"found": found, "answers": answers}))


def measure_levels(job: Any, found: dict[str, float]) -> None:
    """The study of every finding, and what a sample of each dear level takes."""
    levels = {"quick": 50_000, "history": 200, "heating": 50}
    one, two = (job.study(50_000, levels=levels, threads=t, progress=False) for t in (1, 2))
    check(one.pass_rate == two.pass_rate, "joined rate on one thread and on two differ")
    shares = 1.0
    before = None
    for _, run in one._levels:
        last = run.stages - 1
        shares *= run.passed_to(last) / (run.done if before is None else run.passed_to(before))
        before = last
    check(abs(shares - one.pass_rate) < 1e-14, "joined rate is not the product of its shares")
    for level, count in (("history", 400), ("heating", 64)):
        best = float("inf")
        for _ in range(3):
            start = time.process_time()
            job.study(count, level=level, threads=1, progress=False)
            best = min(best, time.process_time() - start)
        found[level] = best / count
    found["whole_told"] = job.study_time(MILLION).seconds
    start = time.perf_counter()
    study = job.study(MILLION, seed=1, progress=False)
    found["whole"] = time.perf_counter() - start
    check(study.not_counted == [], "findings that are not counted")
    check(study.levels == {"quick": MILLION, "history": 10_000, "heating": 2_000}, "other samples")


def output_of(arguments: list[str], level: str) -> str:
    run = subprocess.run(
        [sys.executable, *arguments],
        env={**os.environ, "FITWRIGHT_LEVEL": level},
        stdout=subprocess.PIPE,
        text=True,
        check=False,
    )
    if run.returncode != 0:
        raise SystemExit(f"bench.py: {level} ended with {run.returncode}")
    return run.stdout.strip().splitlines()[-1]


def machine() -> str:
    model = platform.processor() or platform.machine()
    flags: set[str] = set()
    try:
        for line in Path("/proc/cpuinfo").read_text(encoding="utf-8").splitlines():
            name, _, value = line.partition(":")
            if name.strip() == "model name":
                model = value.strip()
            elif name.strip() == "flags":
                flags = set(value.split())
    except OSError:
        pass
    wide = "AVX-512" if "avx512f" in flags else "AVX2" if "avx2" in flags else "no AVX2"
    compiler = os.environ.get("CXX", "c++")
    try:
        told = subprocess.run(
            [*compiler.split(), "--version"], stdout=subprocess.PIPE, text=True, check=False
        )
        compiler = (told.stdout.splitlines() or [compiler])[0]
    except OSError:
        pass
    python = f"Python {platform.python_version()}"
    return f"{model} ({wide}), {os.cpu_count()} cores; {compiler}; {python}"


def main() -> None:
    from fitwright import _core

    busy = os.getloadavg()[0]
    print(f"\nPython, on {machine()}")
    if busy > 0.5 * (os.cpu_count() or 1):
        print(f"Others are at work here (load {busy:.1f}): what uses all cores will be slower.")
    levels = [f"v{n}" if n else "" for n in _core.usable_levels()]
    answers = {}
    for level in levels:
        told = [output_of(["-c", IMPORT], level).split() for _ in range(5)]
        result = json.loads(output_of([__file__, "--measure"], level))
        result["found"]["import"] = statistics.median(float(t[0]) for t in told)
        result["found"]["import_job"] = statistics.median(float(t[1]) for t in told)
        answers[level] = result["answers"]
        print(f"\nlevel {level or 'baseline'}")
        for label, key, unit, scale, wanted in ROWS:
            value = result["found"][key] / scale
            line = f"  {label:<58} {value:10.3f} {unit:<9}"
            if wanted is not None:
                line += f" wanted <= {wanted:g}  {'ok' if value <= wanted else 'MISSED'}"
            print(line.rstrip())
    check(
        all(a == answers[levels[0]] for a in answers.values()),
        "the levels differ in the bits of an answer",
    )
    print(f"\nThe same bits of every answer at {', '.join(levels)}.")


if __name__ == "__main__":
    measure() if "--measure" in sys.argv[1:] else main()
