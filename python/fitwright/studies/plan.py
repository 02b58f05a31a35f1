"""What a study counts, part by part: all that a block's answer depends on."""

from __future__ import annotations

import hashlib
import pickle
from dataclasses import dataclass
from functools import cached_property

from fitwright import _core

__all__ = ["BLOCK_CHUNKS", "CHUNK", "Limits", "Part", "Plan"]

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
    def block_samples(self) -> int:
        return BLOCK_CHUNKS * self.chunk

    @property
    def block_count(self) -> int:
        return -(-self.samples // self.block_samples)


@dataclass(frozen=True, eq=False)
class Plan:
    """All that a block's answer depends on, as bytes that can be sent anywhere."""

    job: bytes
    parts: tuple[Part, ...]
    seed: int
    design: str

    @cached_property
    def name(self) -> str:
        """A hash of the plan and of the version that runs it."""
        # As text: the bytes of a pickle also tell which strings are one object.
        job = pickle.loads(self.job).identity
        parts = [(p.level, p.samples, p.tracked, p.held, p.kept) for p in self.parts]
        told = (job, parts, self.seed, self.design, _core.version())
        return hashlib.sha256(repr(told).encode("utf-8", "backslashreplace")).hexdigest()

    # By what it says: limits that are not there are NaN, which no comparison finds again.
    def __hash__(self) -> int:
        return hash(self.name)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Plan) and self.name == other.name

    def order(self) -> list[tuple[int, int]]:
        """Part and number of every block: all parts go forward together, so that a study that stops
        early has something of each."""
        rows = [
            ((number + 1) * part.block_samples / part.samples, place, number)
            for place, part in enumerate(self.parts)
            for number in range(part.block_count)
        ]
        return [(place, number) for _, place, number in sorted(rows)]
