"""Running a study block by block: on threads, on anything with `submit`, and over interruptions.

A study has a part for each level it counts: many samples of what is quick, fewer of what is dear. A
block is a whole number of fixed chunks of one part. Blocks of a part are merged in order, and
stopping is decided at block ends only, so that neither executor nor interruption changes a bit of
the answer.
"""

from __future__ import annotations

import hashlib
import json
import os
import pickle
import struct
from collections import deque
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from fitwright import _core
from fitwright.errors import InputError

if TYPE_CHECKING:
    from fitwright.job import Job

#: Chunks in a block: some tens of milliseconds of work at the quick level, a second at the others.
BLOCK_CHUNKS = 16
#: Samples in a chunk of the quick level.
CHUNK = 4096

Limits = tuple[tuple[int, float, float], ...]


@dataclass(frozen=True)
class Part:
    """What a study counts at one level."""

    level: str
    samples: int
    #: outputs with their limits: those that have statistics, and those of earlier levels
    tracked: Limits
    held: Limits
    #: places in `tracked` whose samples come back as columns
    kept: tuple[int, ...]
    #: samples in a chunk, and where the histograms lie, found once
    chunk: int = CHUNK
    scales: tuple[tuple[float, float, float], ...] = ()

    @property
    def block_count(self) -> int:
        return -(-self.samples // (BLOCK_CHUNKS * self.chunk))


@dataclass(frozen=True, eq=False)
class Plan:
    """All that a block's answer depends on, as bytes that can be sent anywhere."""

    job: bytes
    parts: tuple[Part, ...]
    seed: int
    design: str

    def name(self) -> str:
        """A hash of the plan and of the version that runs it."""
        from fitwright import __version__

        parts = [(p.level, p.samples, p.tracked, p.held, p.kept) for p in self.parts]
        told = pickle.dumps((self.job, parts, self.seed), 5)
        return hashlib.sha256(told + self.design.encode() + __version__.encode()).hexdigest()

    # By what it says: limits that are not there are NaN, which no comparison finds again.
    def __hash__(self) -> int:
        return hash(self.name())

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Plan) and self.name() == other.name()

    def order(self) -> list[tuple[int, int]]:
        """Part and number of every block: all parts go forward together, so that a study that stops
        early has something of each."""
        rows = [
            ((number + 1) * BLOCK_CHUNKS * part.chunk / part.samples, place, number)
            for place, part in enumerate(self.parts)
            for number in range(part.block_count)
        ]
        return [(place, number) for _, place, number in sorted(rows)]


def make_run(job: Job, plan: Plan, part: Part, threads: int = 1) -> _core.StudyRun:
    return _core.StudyRun(
        job.at_level(part.level)._core,
        list(job.spreads.values()),
        list(part.tracked),
        plan.seed,
        part.samples,
        plan.design,
        job._tied(),
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
    kept = list(plan.parts[place].kept)
    return _run_of(plan, place).run_block(number * BLOCK_CHUNKS, BLOCK_CHUNKS, 1, kept)


class Checkpoint:
    """Blocks of one study on disk. A folder that belongs to another study is refused."""

    def __init__(self, folder: str | os.PathLike[str], plan: Plan) -> None:
        self.folder, self.name = Path(folder), plan.name()
        self._levels = [part.level for part in plan.parts]
        self.folder.mkdir(parents=True, exist_ok=True)
        manifest = self.folder / "study.json"
        samples = {part.level: part.samples for part in plan.parts}
        told = {"study": self.name, "seed": plan.seed, "samples": samples}
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
                            f"{self.folder} holds another study (job, seed, samples, levels, "
                            "outputs or version differ); name another folder",
                        )
                    ]
                )
        else:
            self._write(manifest, json.dumps(told, indent=1).encode())

    def _path(self, place: int, number: int) -> Path:
        level = self._levels[place]
        return self.folder / f"{'' if level == 'quick' else level + '-'}block-{number:08d}"

    def _write(self, path: Path, data: bytes) -> None:
        """To a temporary name first: a file that is there is whole."""
        temporary = path.with_name(f".{path.name}.{os.getpid()}")
        temporary.write_bytes(data)
        os.replace(temporary, path)

    def load(self, place: int, number: int) -> _core.Block | None:
        path = self._path(place, number)
        if not path.exists():
            return None
        data = path.read_bytes()
        digest, body = data[:32], data[32:]
        if hashlib.sha256(body).digest() != digest:
            return None  # damaged: run it again
        return _block_from(body)

    def save(self, place: int, number: int, block: _core.Block) -> None:
        body = _block_bytes(block)
        self._write(self._path(place, number), hashlib.sha256(body).digest() + body)


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
        self.folder, self.names = Path(folder), {k: list(v) for k, v in names.items()}
        self.folder.mkdir(parents=True, exist_ok=True)
        if any(self.folder.glob("*part-*.parquet")):
            raise InputError([("columns_to", f"{self.folder} already holds parts")])

    def write(self, level: str, number: int, columns: Sequence[Any]) -> None:
        """A part that is there is whole: it is written under a temporary name first."""
        names = self.names[level]
        if not names:
            return
        before = "" if level == "quick" else f"{level}-"
        path = self.folder / f"{before}part-{number:08d}.parquet"
        temporary = path.with_name(f".{path.name}.{os.getpid()}")
        self._parquet.write_table(self._table(dict(zip(names, columns, strict=True))), temporary)
        os.replace(temporary, path)


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
                kept = list(plan.parts[place].kept)
                block = runs[place].run_block(number * BLOCK_CHUNKS, BLOCK_CHUNKS, threads, kept)
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
                asked = executor.submit(run_block, plan, place, number) if block is None else block
                waiting.append((place, number, asked))
                following += 1
            place, number, asked = waiting.popleft()
            if not isinstance(asked, _core.Block):
                asked = asked.result()
                if checkpoint:
                    checkpoint.save(place, number, asked)
            yield place, number, asked
    finally:
        for _, _, asked in waiting:
            if hasattr(asked, "cancel"):
                asked.cancel()
