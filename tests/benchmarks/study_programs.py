"""The study of study_models.py as NumPy, Numba and JAX programs: draw, evaluate, reduce.

Each offers `study(samples)` and `model(samples)` (inputs laid ready), on the cores given.
"""

from __future__ import annotations

import os
import time
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from types import SimpleNamespace
from typing import Any

import numpy as np
from study_models import BINS, OUTPUTS, Job, array_model, loop_model

ROWS = 36
NORMAL, UNIFORM = 0, 2


class Sums:
    """Samples, and per output how many passed, the sum, and the histogram."""

    def __init__(self, count: int, passed: Any, sums: Any, bins: Any) -> None:
        self.count, self.passed, self.sums, self.bins = count, passed, sums, bins

    @staticmethod
    def merged(parts: list[Sums]) -> Sums:
        return Sums(*(sum(getattr(p, n) for p in parts) for n in vars(parts[0])))


def bounds_of(job: Job) -> tuple[Any, Any]:
    low = np.array([-np.inf if a is None else a for a, _ in job.limits])
    high = np.array([np.inf if b is None else b for _, b in job.limits])
    return low, high


def rows_of(job: Job) -> tuple[Any, Any, Any, Any]:
    """Rows of normal and uniform inputs with columns of (middle, deviation) and (low, span)."""
    shapes = np.array(
        [[np.nan if v is None else v for v in shape] for shape in job.shapes], dtype=float
    )
    kinds = shapes[:, 0].astype(int)
    return kinds, shapes[:, 1], shapes[:, 2], shapes[:, 3:]


# ---- NumPy: blocks that fit the cache, one process per core

NUMPY_BLOCK = 1024


def numpy_program(job: Job, ranges: Any) -> SimpleNamespace:
    rng = np.random.Generator(np.random.SFC64(os.getpid()))
    model = array_model(job, np)
    kinds, middle, deviation, ends = rows_of(job)
    x = np.empty((ROWS, NUMPY_BLOCK))
    runs = []  # rows that lie side by side with the same shape are drawn in one call
    for row in range(ROWS):
        if runs and kinds[runs[-1][0]] == kinds[row]:
            runs[-1][1] = row + 1
        else:
            runs.append([row, row + 1])
    low, high = bounds_of(job)

    def draw() -> None:
        for first, last in runs:
            rows = x[first:last]
            if kinds[first] == NORMAL:
                rng.standard_normal(out=rows)
                rows *= deviation[first:last, None]
                rows += middle[first:last, None]
                continue
            rng.random(out=rows)
            a, b = ends[first:last, 0, None], ends[first:last, 1, None]
            if kinds[first] == UNIFORM:
                rows *= b - a
                rows += a
            else:
                c = middle[first:last, None]
                rising = rows < (c - a) / (b - a)
                tail = np.where(rising, rows, 1.0 - rows)
                root = np.sqrt(tail * (np.where(rising, c - a, b - c) * (b - a)))
                np.copyto(rows, np.where(rising, a + root, b - root))

    def study(samples: int) -> Sums:
        passed = np.zeros(OUTPUTS, dtype=np.int64)
        sums = np.zeros(OUTPUTS)
        bins = np.zeros((OUTPUTS, BINS), dtype=np.int64)
        blocks = -(-samples // NUMPY_BLOCK)
        per_unit = BINS / (ranges[:, 1] - ranges[:, 0])
        for _ in range(blocks):
            draw()
            for t, y in enumerate(model(x)):
                limit_low, limit_high = low[t], high[t]
                passed[t] += np.count_nonzero(y >= limit_low if limit_low > -np.inf
                                              else y <= limit_high)  # fmt: skip
                sums[t] += y.sum()
                place = (y - ranges[t, 0]) * per_unit[t]
                np.clip(place, 0.0, BINS - 0.5, out=place)
                bins[t] += np.bincount(place.astype(np.int64), minlength=BINS)
        return Sums(blocks * NUMPY_BLOCK, passed, sums, bins)

    def alone(samples: int) -> None:
        for _ in range(-(-samples // NUMPY_BLOCK)):
            model(x)

    draw()
    return SimpleNamespace(study=study, model=alone)


# ---- JAX: jitted, 64 bit, one process per core

JAX_BLOCK = 8192


def jax_program(job: Job, ranges: Any) -> SimpleNamespace:
    import jax
    import jax.numpy as jnp

    jax.config.update("jax_enable_x64", True)
    model = array_model(job, jnp)
    kinds, middle, deviation, ends = rows_of(job)
    at = {kind: np.flatnonzero(kinds == kind) for kind in (0, 2, 3)}
    back = np.argsort(np.concatenate([at[0], at[2], at[3]]))
    low, high = bounds_of(job)
    per_unit = BINS / (ranges[:, 1] - ranges[:, 0])

    def draw(key: Any) -> Any:
        # Philox of XLA; its own default generator is slower on a CPU.
        first, second = jax.random.split(key)
        normal = jax.random.normal(first, (at[0].size, JAX_BLOCK))
        u = jax.random.uniform(second, (at[2].size + at[3].size, JAX_BLOCK))
        normal = normal * deviation[at[0], None] + middle[at[0], None]
        a, b = ends[at[2], 0, None], ends[at[2], 1, None]
        even = u[: at[2].size] * (b - a) + a
        a, b, c = ends[at[3], 0, None], ends[at[3], 1, None], middle[at[3], None]
        v = u[at[2].size :]
        tri = jnp.where(
            v < (c - a) / (b - a),
            a + jnp.sqrt(v * (c - a) * (b - a)),
            b - jnp.sqrt((1.0 - v) * (b - c) * (b - a)),
        )
        return jnp.concatenate([normal, even, tri])[back]

    @jax.jit
    def block(key: Any) -> Any:
        y = jnp.stack(model(draw(key)))
        passed = ((y >= low[:, None]) & (y <= high[:, None])).sum(axis=1)
        place = jnp.clip((y - ranges[:, 0, None]) * per_unit[:, None], 0.0, BINS - 0.5)
        place = place.astype(jnp.int64) + jnp.arange(OUTPUTS)[:, None] * BINS
        return passed, y.sum(axis=1), place

    inputs = jax.jit(draw)(jax.random.key(1, impl="rbg"))
    bare = jax.jit(lambda x: jnp.stack(model(x)))

    def study(samples: int) -> Sums:
        blocks = -(-samples // JAX_BLOCK)
        passed = np.zeros(OUTPUTS, dtype=np.int64)
        sums = np.zeros(OUTPUTS)
        bins = np.zeros(OUTPUTS * BINS, dtype=np.int64)
        key = jax.random.key(os.getpid(), impl="rbg")
        for k in range(blocks):
            p, s, place = block(jax.random.fold_in(key, k))
            passed += np.asarray(p)
            sums += np.asarray(s)
            # XLA's scatter is slower on a CPU than NumPy's count.
            bins += np.bincount(np.asarray(place).ravel(), minlength=OUTPUTS * BINS)
        return Sums(blocks * JAX_BLOCK, passed, sums, bins.reshape(OUTPUTS, BINS))

    def alone(samples: int) -> None:
        for _ in range(-(-samples // JAX_BLOCK)):
            bare(inputs).block_until_ready()

    return SimpleNamespace(study=study, model=alone)


# ---- one process per core for those two

PROGRAMS = {"NumPy": numpy_program, "JAX": jax_program}
_here: list[SimpleNamespace] = []


def _start(name: str, told: dict[str, Any], ranges: Any, cores: Any) -> None:
    # Where only one core may be used XLA makes one thread; from then on any core will do.
    core = cores.get()
    pin = hasattr(os, "sched_setaffinity")
    if pin:
        usable = os.sched_getaffinity(0)
        os.sched_setaffinity(0, {core})
    _here.append(PROGRAMS[name](Job(told), ranges))
    _run("study", 1)
    if pin:
        for thread in os.listdir("/proc/self/task"):
            os.sched_setaffinity(int(thread), usable)


def _run(what: str, samples: int) -> Any:
    return getattr(_here[0], what)(samples)


class Processes:
    def __init__(self, name: str, told: dict[str, Any], ranges: Any, count: int) -> None:
        spawn = get_context("spawn")
        cores = spawn.Queue()
        usable = sorted(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else [0]
        for k in range(count):
            cores.put(usable[k % len(usable)])
        self.count = count
        self.pool = ProcessPoolExecutor(count, spawn, _start, (name, told, ranges, cores))

    def _all(self, what: str, samples: int, cores: int) -> list[Any]:
        share = -(-samples // cores)
        return [f.result() for f in [self.pool.submit(_run, what, share) for _ in range(cores)]]

    def study(self, samples: int, cores: int) -> Sums:
        return Sums.merged(self._all("study", samples, cores))

    def model(self, samples: int, cores: int) -> None:
        self._all("model", samples, cores)

    def close(self) -> None:
        self.pool.shutdown()


# ---- Numba: one process, prange over chunks

NUMBA_BLOCK = 256
NUMBA_CHUNK = 8192


class Numba:
    def __init__(self, told: dict[str, Any], ranges: Any) -> None:
        import numba

        job = Job(told)
        self._threads = numba.set_num_threads
        model = loop_model(job, numba)
        kinds, middle, deviation, ends = rows_of(job)
        from_, to = ends[:, 0].copy(), ends[:, 1].copy()
        low, high = bounds_of(job)
        start = ranges[:, 0].copy()
        per_unit = BINS / (ranges[:, 1] - ranges[:, 0])

        @numba.njit(error_model="numpy")
        def draw(x):
            for row in range(ROWS):
                a, b, c, kind = from_[row], to[row], middle[row], kinds[row]
                y = x[row]
                if kind == 0:
                    for k in range(y.size):
                        y[k] = c + deviation[row] * np.random.standard_normal()
                else:
                    for k in range(y.size):
                        y[k] = np.random.random()
                    if kind == 2:
                        for k in range(y.size):
                            y[k] = a + (b - a) * y[k]
                    else:
                        edge = (c - a) / (b - a)
                        rising, falling = (c - a) * (b - a), (b - c) * (b - a)
                        for k in range(y.size):
                            u = y[k]
                            up = u < edge
                            root = np.sqrt(u * rising if up else (1.0 - u) * falling)
                            y[k] = a + root if up else b - root

        @numba.njit(parallel=True, fastmath=False, error_model="numpy")
        def study(chunks):
            passed = np.zeros((chunks, OUTPUTS), dtype=np.int64)
            sums = np.zeros((chunks, OUTPUTS))
            bins = np.zeros((chunks, OUTPUTS, BINS), dtype=np.int32)
            for c in numba.prange(chunks):
                x = np.empty((ROWS, NUMBA_BLOCK))
                w = np.empty((80, NUMBA_BLOCK))
                y = np.empty((OUTPUTS, NUMBA_BLOCK))
                for block in range(NUMBA_CHUNK // NUMBA_BLOCK):  # noqa: B007
                    draw(x)
                    model(x, w, y)
                    for t in range(OUTPUTS):
                        total = 0.0
                        ok = 0
                        for k in range(NUMBA_BLOCK):
                            v = y[t, k]
                            total += v
                            ok += (v >= low[t]) & (v <= high[t])
                            place = (v - start[t]) * per_unit[t]
                            place = min(max(place, 0.0), BINS - 0.5)
                            bins[c, t, np.int64(place)] += 1
                        passed[c, t] += ok
                        sums[c, t] += total
            return passed, sums, bins

        @numba.njit(parallel=True, fastmath=False, error_model="numpy")
        def alone(chunks):
            for c in numba.prange(chunks):  # noqa: B007
                x = np.empty((ROWS, NUMBA_BLOCK))
                w = np.empty((80, NUMBA_BLOCK))
                y = np.empty((OUTPUTS, NUMBA_BLOCK))
                draw(x)
                for again in range(64):  # noqa: B007
                    model(x, w, y)

        self._study, self._alone, self.one = study, alone, model

    def study(self, samples: int, cores: int) -> Sums:
        self._threads(cores)
        chunks = -(-samples // NUMBA_CHUNK)
        passed, sums, bins = self._study(chunks)
        return Sums(chunks * NUMBA_CHUNK, passed.sum(axis=0), sums.sum(axis=0), bins.sum(axis=0))

    def model(self, samples: int, cores: int) -> None:
        self._threads(cores)
        self._alone(-(-samples // (64 * NUMBA_BLOCK)))

    def close(self) -> None:
        pass


def make(name: str, told: dict[str, Any], ranges: Any, count: int) -> Any:
    if name == "Numba":
        return Numba(told, ranges)
    return Processes(name, told, ranges, count)


def answers_to(name: str, told: dict[str, Any], x: Any) -> Any:
    """The twelve outputs for given inputs (36 rows), from the program named."""
    job = Job(told)
    if name == "Numba":
        import numba

        out = np.empty((OUTPUTS, x.shape[1]))
        loop_model(job, numba)(x, np.empty((80, x.shape[1])), out)
        return out
    if name == "JAX":
        import jax
        import jax.numpy as jnp

        jax.config.update("jax_enable_x64", True)
        return np.array(jnp.stack(jax.jit(array_model(job, jnp))(jnp.array(x))))
    return np.array(array_model(job, np)(x))


def least_time(run: Any, seconds: float) -> float:
    """Least time of runs that go on for so many seconds, three at least."""
    best = float("inf")
    runs = 0
    end = time.perf_counter() + seconds
    while runs < 3 or time.perf_counter() < end:
        start = time.perf_counter()
        run()
        best = min(best, time.perf_counter() - start)
        runs += 1
    return best
