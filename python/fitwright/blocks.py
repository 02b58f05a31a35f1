"""Running a study block by block: on threads, on anything with `submit`, and over interruptions.

A block is a whole number of fixed chunks. Blocks are merged in order, and stopping is decided at
block ends only, so that neither executor nor interruption changes a bit of the answer.
"""

from __future__ import annotations

import hashlib
import os
import pickle
from collections import deque
from collections.abc import Iterator, Sequence
from concurrent.futures import BrokenExecutor
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from fitwright import _core, files
from fitwright.checkpoint import Checkpoint
from fitwright.errors import InputError

if TYPE_CHECKING:
    from fitwright.job import Job

#: Chunks of 4096 samples in a block: some tens of milliseconds of work.
BLOCK_CHUNKS = 16
CHUNK = 4096


@dataclass(frozen=True)
class Plan:
    """All that a block's answer depends on, as bytes that can be sent anywhere."""

    job: bytes
    tracked: tuple[tuple[int, float, float], ...]
    kept: tuple[int, ...]
    seed: int
    samples: int
    design: str
    chunks: int = BLOCK_CHUNKS  # in a block: fewer where a sample takes its time

    @property
    def block_count(self) -> int:
        return -(-self.samples // (self.chunks * CHUNK))

    def first_chunk(self, number: int) -> int:
        return number * self.chunks

    def number_of(self, block: _core.Block) -> int:
        return block.first_chunk // self.chunks

    def name(self) -> str:
        """A hash of the plan and of the version that runs it."""
        from fitwright import __version__

        # As text: the bytes of a pickle also tell which strings are one object.
        job = pickle.loads(self.job).__reduce__()[1]
        asked = (self.tracked, self.kept, self.seed, self.samples, self.design, self.chunks)
        told = (job, asked, __version__)
        return hashlib.sha256(repr(told).encode("utf-8", "backslashreplace")).hexdigest()


def make_run(job: Job, plan: Plan) -> _core.StudyRun:
    spreads = list(job.spreads.values())
    correlations = job._file.correlations_of(job.spreads)
    tracked = list(plan.tracked)
    return _core.StudyRun(
        job._core, spreads, tracked, plan.seed, plan.samples, plan.design, correlations
    )


@lru_cache(maxsize=4)
def _run_of(plan: Plan) -> _core.StudyRun:
    """A worker makes the study once and keeps it for the blocks that follow."""
    return make_run(pickle.loads(plan.job), plan)


def run_block(plan: Plan, number: int) -> _core.Block:
    """One block, on one thread: what an executor is given."""
    return _run_of(plan).run_block(plan.first_chunk(number), plan.chunks, 1, list(plan.kept))


class ParquetParts:
    """Columns on disk, one Parquet file per block; needs pyarrow."""

    def __init__(self, folder: str | os.PathLike[str], names: Sequence[str]) -> None:
        try:
            import pyarrow.parquet
        except ImportError as error:
            raise InputError(
                [("columns_to", "Parquet needs pyarrow: pip install pyarrow")]
            ) from error
        self._parquet = pyarrow.parquet
        self._table = pyarrow.table
        self.folder, self.names = files.path_of(folder, "columns_to"), list(names)
        files.make_folder(self.folder)
        if any(self.folder.glob("part-*.parquet")):
            raise InputError([("columns_to", f"{self.folder} already holds parts")])

    def write(self, number: int, columns: Sequence[Any]) -> None:
        """A part that is there is whole: it is written under a temporary name first."""
        with files.new_file(self.folder / f"part-{number:08d}.parquet") as file:
            self._parquet.write_table(
                self._table(dict(zip(self.names, columns, strict=True))), file
            )


def submit(executor: Any, plan: Plan, number: int) -> Any:
    try:
        return executor.submit(run_block, plan, number)
    except BrokenExecutor as error:
        raise _lost(error) from error


def _lost(error: BrokenExecutor) -> InputError:
    told = (
        f"has lost a worker ({type(error).__name__}); with a checkpoint the same call on a new one "
        "carries on from the blocks that are done"
    )
    return InputError([("executor", told)])


def blocks(
    plan: Plan, run: _core.StudyRun, executor: Any, threads: int, checkpoint: Checkpoint | None
) -> Iterator[_core.Block]:
    """The blocks of a study in order, from disk where they are there."""
    if executor is None:
        for number in range(plan.block_count):
            block = checkpoint.load(number) if checkpoint else None
            if block is None:
                first = plan.first_chunk(number)
                block = run.run_block(first, plan.chunks, threads, list(plan.kept))
                if checkpoint:
                    checkpoint.save(number, block)
            yield block
        return
    # A window of blocks is under way; they are taken in order.
    waiting: deque[tuple[int, Any]] = deque()
    window, following = max(2 * threads, 4), 0
    try:
        while following < plan.block_count or waiting:
            while following < plan.block_count and len(waiting) < window:
                block = checkpoint.load(following) if checkpoint else None
                future = block if block is not None else submit(executor, plan, following)
                waiting.append((following, future))
                following += 1
            number, future = waiting.popleft()
            if isinstance(future, _core.Block):
                yield future
                continue
            try:
                block = future.result()
            except BrokenExecutor as error:
                raise _lost(error) from error
            if checkpoint:
                checkpoint.save(number, block)
            yield block
    finally:
        for _, future in waiting:
            if hasattr(future, "cancel"):
                future.cancel()
