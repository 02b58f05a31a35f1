"""Running a study block by block: on threads, on anything with `submit`, and over interruptions.

A study has a part for each level it counts: many samples of what is quick, fewer of what is dear. A
block is a whole number of fixed chunks of one part. Blocks of a part are merged in order, and
stopping is decided at block ends only, so that neither executor nor interruption changes a bit of
the answer.
"""

from __future__ import annotations

import os
import pickle
from collections import deque
from collections.abc import Iterator, Mapping, Sequence
from concurrent.futures import BrokenExecutor
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from fitwright import _core
from fitwright.fields import files
from fitwright.fields.errors import InputError
from fitwright.studies.checkpoint import Checkpoint, name_of
from fitwright.studies.plan import BLOCK_CHUNKS, Part, Plan

if TYPE_CHECKING:
    from fitwright.job.system import System


def make_run(job: System, plan: Plan, part: Part, threads: int = 1) -> _core.StudyRun:
    return _core.StudyRun(
        job.at_level(part.level).asked,
        list(job.spreads.values()),
        list(part.tracked),
        plan.seed,
        part.samples,
        plan.design,
        job.tied(),
        list(part.held),
        list(part.scales),
        threads,
    )


@lru_cache(maxsize=12)
def _run_of(plan: Plan, place: int) -> _core.StudyRun:
    """A worker makes the study of a part once and keeps it for the blocks that follow."""
    return make_run(pickle.loads(plan.job), plan, plan.parts[place])


def run_block(plan: Plan, place: int, number: int) -> _core.Block:
    """One block, on one thread: what an executor is given."""
    return _block_of(plan, place, _run_of(plan, place), number, 1)


def _block_of(
    plan: Plan, place: int, run: _core.StudyRun, number: int, threads: int
) -> _core.Block:
    kept = list(plan.parts[place].kept)
    return run.run_block(number * BLOCK_CHUNKS, BLOCK_CHUNKS, threads, kept)


class ParquetParts:
    """Columns on disk, one Parquet file per block; needs pyarrow."""

    def __init__(self, folder: str | os.PathLike[str], names: Mapping[str, Sequence[str]]) -> None:
        try:
            import pyarrow.parquet
        except ImportError as error:
            raise InputError(
                [("columns_to", "Parquet needs pyarrow: pip install pyarrow")]
            ) from error
        self._parquet = pyarrow.parquet
        self._table = pyarrow.table
        #: names of the columns of each level
        self.folder = files.path_of(folder, "columns_to")
        self.names = {level: list(of_level) for level, of_level in names.items()}
        files.make_folder(self.folder)
        if any(self.folder.glob("*part-*.parquet")):
            raise InputError([("columns_to", f"{self.folder} already holds parts")])

    def write(self, level: str, number: int, columns: Sequence[Any]) -> None:
        """A part that is there is whole: it is written under a temporary name first."""
        names = self.names[level]
        if not names:
            return
        with files.new_file(self.folder / name_of("part", level, number, ".parquet")) as file:
            self._parquet.write_table(self._table(dict(zip(names, columns, strict=True))), file)


def submit(executor: Any, plan: Plan, place: int, number: int) -> Any:
    try:
        return executor.submit(run_block, plan, place, number)
    except BrokenExecutor as error:
        raise _lost(error) from error


def _lost(error: BrokenExecutor) -> InputError:
    told = (
        f"has lost a worker ({type(error).__name__}); with a checkpoint the same call on a new one "
        "carries on from the blocks that are done"
    )
    return InputError([("executor", told)])


def blocks(
    plan: Plan,
    runs: Sequence[_core.StudyRun],
    executor: Any,
    threads: int,
    checkpoint: Checkpoint | None,
) -> Iterator[tuple[int, int, _core.Block]]:
    """Part, number and answer of every block, in order; from disk where they are there."""
    order = plan.order()
    if executor is None:
        for place, number in order:
            block = checkpoint.load(place, number) if checkpoint else None
            if block is None:
                block = _block_of(plan, place, runs[place], number, threads)
                if checkpoint:
                    checkpoint.save(place, number, block)
            yield place, number, block
        return
    # A window of blocks is under way; they are taken in order.
    waiting: deque[tuple[int, int, Any]] = deque()
    window, following = max(2 * threads, 4), 0
    try:
        while following < len(order) or waiting:
            while following < len(order) and len(waiting) < window:
                place, number = order[following]
                block = checkpoint.load(place, number) if checkpoint else None
                asked = submit(executor, plan, place, number) if block is None else block
                waiting.append((place, number, asked))
                following += 1
            place, number, asked = waiting.popleft()
            if not isinstance(asked, _core.Block):
                try:
                    asked = asked.result()
                except BrokenExecutor as error:
                    raise _lost(error) from error
                if checkpoint:
                    checkpoint.save(place, number, asked)
            yield place, number, asked
    finally:
        for _, _, asked in waiting:
            if hasattr(asked, "cancel"):
                asked.cancel()
