"""Running a study: arguments, blocks through the core, a progress bar, columns."""

from __future__ import annotations

import os
import pickle
import sys
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from fitwright import _core
from fitwright.blocks import ParquetParts, Plan, blocks
from fitwright.checkpoint import Checkpoint
from fitwright.errors import InputError
from fitwright.study import Study, StudyLevel, joined
from fitwright.study_levels import StudyTime, parts_of, prepare, problems_of_levels

if TYPE_CHECKING:
    from fitwright.job import Job
    from fitwright.study_levels import Prepared

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
    level: str | None = None
    levels: Mapping[str, int | float] | None = None

    @property
    def workers(self) -> int:
        return self.threads or os.cpu_count() or 1

    def problems(self) -> list[tuple[str, str]]:
        found = []
        counted = isinstance(self.samples, int) and not isinstance(self.samples, bool)
        if not counted or self.samples < 1:
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
        if counted and self.samples > 0:
            found += problems_of_levels(self.levels, self.level, self.samples)
        return found


def check_run(job: Job, problems: list[tuple[str, str]], level: str) -> None:
    """What every study needs before it starts."""
    job._check_scatter(problems)
    if problems:
        raise InputError(problems)
    # A job that cannot be evaluated is told as such, not as lost samples.
    job._core.at(level).evaluate()


def prepared(job: Job, options: StudyOptions) -> Prepared:
    """The runs of a study, ready to go."""
    # Where a level was asked for before (`at_level`), it is meant here as well.
    level = options.level or (job._chosen if options.levels is None else None)
    problems = options.problems()
    if level is not None:
        job._core.at(level)  # raises where there is no such level
    if problems:
        check_run(job, problems, "quick")
    outputs = [options.outputs] if isinstance(options.outputs, str) else options.outputs or ()
    keep = [options.keep] if isinstance(options.keep, str) else options.keep
    parts = parts_of(job, options.samples, level, options.levels, outputs, keep)
    check_run(job, [], parts[-1][0].level)
    plan = Plan(
        pickle.dumps(job, 5), tuple(part for part, _ in parts), options.seed, options.design
    )
    shares = [share for _, share in parts]
    return prepare(job, plan, shares, options.workers, options.checkpoint is not None)


def study_time(job: Job, options: StudyOptions) -> StudyTime:
    return StudyTime(prepared(job, options), options.workers)


def run_study(job: Job, options: StudyOptions) -> Study:
    ready = prepared(job, options)
    plan, runs = ready.plan, ready.runs
    rows = job._core.at("heating").outputs()
    checkpoint = None
    if options.checkpoint is not None:
        checkpoint = Checkpoint(options.checkpoint, plan, runs)
    named = [[rows[part.tracked[n][0]][:2] for n in part.kept] for part in plan.parts]
    files = None
    if options.columns_to is not None:
        names = {
            part.level: [f"{state}/{path}" for state, path in own]
            for part, own in zip(plan.parts, named, strict=True)
        }
        files = ParquetParts(options.columns_to, names)
    columns: list[dict[int, list[NDArray[np.float64]]]] = [{} for _ in named]

    def keep_columns(place: int, number: int, block: _core.Block) -> None:
        """Once or again: the same block leaves the same behind."""
        part = plan.parts[place]
        found = _parts(block, len(part.kept))
        if files is not None:
            files.write(part.level, number, found)
        else:
            columns[place][number] = found

    show = sys.stderr.isatty() if options.progress is None else options.progress
    if show:
        print(f"study of {StudyTime(ready, options.workers)}", file=sys.stderr)
    bar = progress_bar(max(sum(ready.seconds), 1e-9), show)
    stopped = ""
    current: tuple[int, int, _core.Block] | None = None
    try:
        for place, number, block in blocks(
            plan, runs, options.executor, options.workers, checkpoint
        ):
            part, run = plan.parts[place], runs[place]
            before, current = run.done, (place, number, block)
            run.merge(block)
            keep_columns(*current)
            current = None
            bar.update(ready.seconds[place] * (run.done - before) / part.samples)
            _, (low, high) = joined(plan.parts, runs)
            if options.until_width is not None and high - low <= options.until_width:
                whole = all(r.done == p.samples for r, p in zip(runs, plan.parts, strict=True))
                stopped = "" if whole else "interval narrow enough"
                break
    except KeyboardInterrupt:
        if any(run.done == 0 for run in runs):
            raise
        # It may have come between what is counted and what is kept of it.
        if current is not None:
            place, number, block = current
            if runs[place].done > block.first_chunk * plan.parts[place].chunk:
                keep_columns(place, number, block)
        stopped = "stopped by hand"  # what is done is kept
    finally:
        bar.close()
    for part, run in zip(plan.parts, runs, strict=True):
        if run.out_of_domain == run.done:
            fault = run.fault_of(job._core.at(part.level))
            raise InputError([("job", f"no sample can be evaluated; the first: {fault}")])
    levels = [StudyLevel(part, run) for part, run in zip(plan.parts, runs, strict=True)]
    study = Study(job, levels, options.seed, stopped)
    if files is None:
        for own, found in zip(named, columns, strict=True):
            for number, key in enumerate(own):
                study.columns[key] = np.concatenate([found[k][number] for k in sorted(found)])
    return study


def _parts(block: _core.Block, kept: int) -> list[NDArray[np.float64]]:
    flat: NDArray[np.float64] = block.columns
    return [] if kept == 0 else list(flat.reshape(kept, -1))


def progress_bar(work: float, show: bool) -> Any:
    """In seconds of work, as the first samples told it, or in anything else that takes its time."""
    from tqdm import tqdm

    form = "{l_bar}{bar}| {elapsed} gone, {remaining} to go"
    return tqdm(total=work, bar_format=form, disable=not show, leave=False)
