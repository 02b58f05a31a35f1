"""Running a study: arguments, blocks through the core, a progress bar, columns."""

from __future__ import annotations

import pickle
import sys
from functools import partial
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from fitwright import _core
from fitwright.fields.errors import InputError
from fitwright.studies.blocks import ParquetParts, blocks
from fitwright.studies.checkpoint import Checkpoint
from fitwright.studies.finding import StudyLevel, joined
from fitwright.studies.levels import StudyTime, parts_of, prepare
from fitwright.studies.options import StudyOptions, check_run, progress_bar
from fitwright.studies.plan import Plan
from fitwright.studies.result import Study

if TYPE_CHECKING:
    from fitwright.job.system import System
    from fitwright.studies.levels import Prepared


def prepared(job: System, options: StudyOptions) -> Prepared:
    """The runs of a study, ready to go."""
    # Where a level was asked for before (`at_level`), it is meant here as well.
    level = options.level or (job.chosen_level if options.levels is None else None)
    problems = options.problems()
    if level is not None:
        job.asked.at(level)  # raises where there is no such level
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


def study_time(job: System, options: StudyOptions) -> StudyTime:
    return StudyTime(prepared(job, options), options.workers)


def run_study(job: System, options: StudyOptions) -> Study:
    ready = prepared(job, options)
    plan, runs = ready.plan, ready.runs
    rows = job.asked.at("heating").outputs()
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
            fault = "; ".join(
                f"{count} times {rule}"
                for rule, _, count in run.faults_of(job.asked.at(part.level))
            )
            raise InputError(
                [(job.kind_of_system, f"no sample can be evaluated; the first: {fault}")]
            )
    levels = [StudyLevel(part, run) for part, run in zip(plan.parts, runs, strict=True)]
    study = Study(job, levels, options.seed, stopped, partial(again, job, options.seed))
    if files is None:
        for own, found in zip(named, columns, strict=True):
            for number, key in enumerate(own):
                study.columns[key] = np.concatenate([found[k][number] for k in sorted(found)])
    return study


def again(job: System, seed: int, samples: int, path: str, level: str) -> Study:
    """The first samples of a study once more, with the column of one output."""
    options = StudyOptions(samples, seed, None, None, False, keep=[path], level=level)
    return run_study(job, options)


def _parts(block: _core.Block, kept: int) -> list[NDArray[np.float64]]:
    flat: NDArray[np.float64] = block.columns
    return [] if kept == 0 else list(flat.reshape(kept, -1))
