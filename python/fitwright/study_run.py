"""Running a study: arguments, blocks through the core, a progress bar, columns."""

from __future__ import annotations

import os
import pickle
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from fitwright import _core
from fitwright.blocks import BLOCK_CHUNKS, CHUNK, ParquetParts, Plan, blocks, make_run
from fitwright.checkpoint import Checkpoint
from fitwright.errors import InputError
from fitwright.study import Study

if TYPE_CHECKING:
    from fitwright.job import Job

#: What the core starts at most.
MOST_THREADS = 1024
DESIGNS = ("plain", "latin_hypercube", "sobol")


@dataclass(frozen=True)
class StudyOptions:
    """The arguments of `Job.study`."""

    samples: int
    seed: int
    outputs: Sequence[str] | str | None
    threads: int | None
    progress: bool | None
    design: str = "plain"
    executor: Any = None
    checkpoint: str | os.PathLike[str] | None = None
    keep: Sequence[str] | str = ()
    until_width: float | None = None
    columns_to: str | os.PathLike[str] | None = None

    def problems(self) -> list[tuple[str, str]]:
        found = []
        if not isinstance(self.samples, int) or self.samples < 1:
            found.append(("samples", f"{self.samples!r} must be a whole number above 0"))
        if not isinstance(self.seed, int) or not 0 <= self.seed < 1 << 64:
            found.append(("seed", f"{self.seed!r} must be a whole number from 0 to below 2^64"))
        if self.threads is not None and not 1 <= self.threads <= MOST_THREADS:
            told = f"{self.threads!r} must be a whole number from 1 to {MOST_THREADS}"
            found.append(("threads", told))
        if self.design not in DESIGNS:
            found.append(("design", f"{self.design!r} must be one of {', '.join(DESIGNS)}"))
        if self.executor is not None and not hasattr(self.executor, "submit"):
            found.append(("executor", f"{type(self.executor).__name__} has no submit"))
        if self.until_width is not None and not 0.0 < self.until_width < 1.0:
            found.append(("until_width", f"{self.until_width!r} must lie between 0 and 1"))
        return found


def check_run(job: Job, problems: list[tuple[str, str]]) -> None:
    """What every study needs before it starts."""
    if not job.spreads:
        problems = [*problems, ("job", "has no input that scatters; give one a spread")]
    if problems:
        raise InputError(problems)
    job._core.evaluate()  # a job that cannot be evaluated is told as such, not as lost samples


def run_study(job: Job, options: StudyOptions) -> Study:
    check_run(job, options.problems())
    tracked = list(job._core.limits())
    known = {(state, path): i for i, (state, path, *_) in enumerate(job._outputs)}
    limited = {row[0] for row in tracked}
    keep = [options.keep] if isinstance(options.keep, str) else list(options.keep)
    wanted = [options.outputs] if isinstance(options.outputs, str) else list(options.outputs or ())
    for path in dict.fromkeys([*wanted, *keep]):
        found = [i for (_, p), i in known.items() if p == path]
        if not found:
            job._core.output(job.states[0], path)  # raises, with the nearest paths
        tracked += [(i, float("nan"), float("nan")) for i in found if i not in limited]
    kept = tuple(n for n, row in enumerate(tracked) if job._outputs[row[0]][1] in keep)
    plan = Plan(
        pickle.dumps(job, 5),
        tuple(tracked),
        kept,
        options.seed,
        options.samples,
        options.design,
        BLOCK_CHUNKS if job.level == "quick" else 1,
    )
    run = make_run(job, plan)
    checkpoint = None if options.checkpoint is None else Checkpoint(options.checkpoint, plan, run)
    workers = options.threads or os.cpu_count() or 1
    show = sys.stderr.isatty() if options.progress is None else options.progress
    bar = progress_bar(options.samples, show)
    stopped = ""
    named = [job._outputs[tracked[number][0]][:2] for number in kept]
    parts = None
    if options.columns_to is not None:
        parts = ParquetParts(options.columns_to, [f"{state}/{path}" for state, path in named])
    columns: dict[int, list[NDArray[np.float64]]] = {}

    def keep_columns(block: _core.Block) -> None:
        """Once or again: the same block leaves the same behind."""
        found = _parts(block, len(kept))
        if parts is not None:
            parts.write(plan.number_of(block), found)
        else:
            columns[block.first_chunk] = found

    current: _core.Block | None = None
    try:
        for block in blocks(plan, run, options.executor, workers, checkpoint):
            before, current = run.done, block
            run.merge(block)
            keep_columns(block)
            current = None
            bar.update(run.done - before)
            low, high = _core.interval_of_share(run.all_passed, run.done)
            if options.until_width is not None and high - low <= options.until_width:
                stopped = "" if run.done == options.samples else "interval narrow enough"
                break
    except KeyboardInterrupt:
        if run.done == 0:
            raise
        # It may have come between what is counted and what is kept of it.
        if current is not None and run.done > current.first_chunk * CHUNK:
            keep_columns(current)
        stopped = "stopped by hand"  # what is done is kept
    finally:
        bar.close()
    if run.out_of_domain == run.done:
        fault = run.fault_of(job._core)
        raise InputError([("job", f"no sample can be evaluated; the first: {fault}")])
    study = Study(job, run, tracked, options.seed, stopped)
    if parts is None:
        for number, key in enumerate(named):
            blocks_of = [columns[first][number] for first in sorted(columns)]
            study.columns[key] = np.concatenate(blocks_of)
    return study


def _parts(block: _core.Block, kept: int) -> list[NDArray[np.float64]]:
    flat: NDArray[np.float64] = block.columns
    return [] if kept == 0 else list(flat.reshape(kept, -1))


def progress_bar(count: int, show: bool, of: str = "samples") -> Any:
    from tqdm import tqdm

    return tqdm(total=count, unit=f" {of}", unit_scale=True, disable=not show, leave=False)
