"""Running a study block by block: on threads, on anything with `submit`, and over interruptions.

A block is a whole number of fixed chunks. Blocks are merged in order, and stopping is decided at
block ends only, so that neither executor nor interruption changes a bit of the answer.
"""

from __future__ import annotations

import hashlib
import json
import os
import pickle
import struct
from collections import deque
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from fitwright import _core
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

    @property
    def block_count(self) -> int:
        return -(-self.samples // (BLOCK_CHUNKS * CHUNK))

    def name(self) -> str:
        """A hash of the plan and of the version that runs it."""
        from fitwright import __version__

        told = pickle.dumps((self.job, self.tracked, self.kept, self.seed, self.samples), 5)
        return hashlib.sha256(told + self.design.encode() + __version__.encode()).hexdigest()


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
    return _run_of(plan).run_block(number * BLOCK_CHUNKS, BLOCK_CHUNKS, 1, list(plan.kept))


class Checkpoint:
    """Blocks of one study on disk. A folder that belongs to another study is refused."""

    def __init__(self, folder: str | os.PathLike[str], plan: Plan) -> None:
        self.folder, self.name = Path(folder), plan.name()
        self.folder.mkdir(parents=True, exist_ok=True)
        manifest = self.folder / "study.json"
        told = {"study": self.name, "seed": plan.seed, "samples": plan.samples}
        if manifest.exists():
            try:
                found = json.loads(manifest.read_text(encoding="utf-8"))
            except ValueError as error:
                raise InputError([("checkpoint", f"{manifest} cannot be read")]) from error
            if not isinstance(found, dict) or found.get("study") != self.name:
                raise InputError(
                    [
                        (
                            "checkpoint",
                            f"{self.folder} holds another study (job, seed, samples, outputs or "
                            "version differ); name another folder",
                        )
                    ]
                )
        else:
            self._write(manifest, json.dumps(told, indent=1).encode())

    def _path(self, number: int) -> Path:
        return self.folder / f"block-{number:08d}"

    def _write(self, path: Path, data: bytes) -> None:
        """To a temporary name first: a file that is there is whole."""
        temporary = path.with_name(f".{path.name}.{os.getpid()}")
        temporary.write_bytes(data)
        os.replace(temporary, path)

    def load(self, number: int) -> _core.Block | None:
        path = self._path(number)
        if not path.exists():
            return None
        data = path.read_bytes()
        digest, body = data[:32], data[32:]
        if hashlib.sha256(body).digest() != digest:
            return None  # damaged: run it again
        return _block_from(body)

    def save(self, number: int, block: _core.Block) -> None:
        body = _block_bytes(block)
        self._write(self._path(number), hashlib.sha256(body).digest() + body)


def _block_bytes(block: _core.Block) -> bytes:
    """Plain numbers only: a file on disk is data, never unpickled."""
    first, chunks, *arrays = block.state()
    head = struct.pack("<7q", first, chunks, *(len(a) for a in arrays))
    return head + b"".join(arrays)


def _block_from(body: bytes) -> _core.Block:
    first, chunks, *sizes = struct.unpack_from("<7q", body)
    place = struct.calcsize("<7q")
    arrays: list[bytes] = []
    for size in sizes:
        arrays.append(body[place : place + size])
        place += size
    return _core.Block.from_state((first, chunks, *arrays))


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
        self.folder, self.names = Path(folder), list(names)
        self.folder.mkdir(parents=True, exist_ok=True)
        if any(self.folder.glob("part-*.parquet")):
            raise InputError([("columns_to", f"{self.folder} already holds parts")])

    def write(self, number: int, columns: Sequence[Any]) -> None:
        """A part that is there is whole: it is written under a temporary name first."""
        path = self.folder / f"part-{number:08d}.parquet"
        temporary = path.with_name(f".{path.name}.{os.getpid()}")
        self._parquet.write_table(
            self._table(dict(zip(self.names, columns, strict=True))), temporary
        )
        os.replace(temporary, path)


def blocks(
    plan: Plan, run: _core.StudyRun, executor: Any, threads: int, checkpoint: Checkpoint | None
) -> Iterator[_core.Block]:
    """The blocks of a study in order, from disk where they are there."""
    if executor is None:
        for number in range(plan.block_count):
            block = checkpoint.load(number) if checkpoint else None
            if block is None:
                block = run.run_block(number * BLOCK_CHUNKS, BLOCK_CHUNKS, threads, list(plan.kept))
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
                future = block if block is not None else executor.submit(run_block, plan, following)
                waiting.append((following, future))
                following += 1
            number, future = waiting.popleft()
            if isinstance(future, _core.Block):
                yield future
                continue
            block = future.result()
            if checkpoint:
                checkpoint.save(number, block)
            yield block
    finally:
        for _, future in waiting:
            if hasattr(future, "cancel"):
                future.cancel()
