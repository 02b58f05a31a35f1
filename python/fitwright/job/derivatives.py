"""Exact derivatives of a job, each with whether it holds on both sides."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cached_property
from typing import TYPE_CHECKING, Any

import numpy as np

from fitwright.fields.arguments import checked
from fitwright.fields.errors import InputError
from fitwright.fields.tables import Table
from fitwright.fields.units import in_system, shown

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from fitwright.job.value import Job

#: what a mark in a table says
ONE_SIDED = "* holds on one side only: the output has a kink here"


#: A job of some hundred states would fill the memory with zeros.
MOST = 50_000_000


def derivatives(job: Job, level: str | None = None) -> Derivatives:
    """See `Job.derivatives`."""
    if level is not None and level != job.level:
        job = job.at_level(level)
    count = len(job.output_rows) * len(job.input_rows)
    if count > MOST:
        told = f"{count} derivatives: at most {MOST}; a study's contributions() tell of one output"
        raise InputError([("job", told)])
    _, matrix, _ = job.core.jacobian()
    flags = job.core.one_sided()
    for (state, path, *_), row in zip(job.output_rows, matrix, strict=True):
        if not np.all(np.isfinite(row)):
            raise InputError([(path, f"has a derivative in state {state} that is not finite")])
    return Derivatives(job, matrix, flags)


@checked
class Derivatives(Mapping[tuple[str, str, str], float]):
    """(state, output, input) -> value (SI). `one_sided`: those that hold on one side only."""

    def __init__(self, job: Job, matrix: NDArray[np.float64], flags: NDArray[Any]) -> None:
        self._job, self._matrix, self._flags = job, matrix, flags
        self._rows = {(state, path): i for i, (state, path, *_) in enumerate(job.output_rows)}
        self._columns = {source: j for j, (source, *_) in enumerate(job.input_rows)}

    def __getitem__(self, key: tuple[str, str, str]) -> float:
        state, path, source = key
        return float(self._matrix[self._rows[state, path], self._columns[source]])

    def __iter__(self) -> Iterator[tuple[str, str, str]]:
        for state, path in self._rows:
            for source in self._columns:
                yield state, path, source

    def __len__(self) -> int:
        return self._matrix.size

    @cached_property
    def one_sided(self) -> frozenset[tuple[str, str, str]]:
        """Those that hold on one side only."""
        rows, columns = list(self._rows), list(self._columns)
        return frozenset(
            (*rows[i], columns[j]) for i, j in zip(*self._flags.nonzero(), strict=True)
        )

    def table(self, state: str, path: str, units: str | None = None) -> Table:
        """Derivatives of one output, times a hundredth of the input; greatest first, no zeros."""
        job, units = self._job, in_system(units, self._job.units)
        quantity = job.output_rows[job.core.output(state, path)][2]
        step = "difference" if quantity == "temperature" else quantity
        values = dict(zip((i[0] for i in job.input_rows), job.core.values(), strict=True))
        found = []
        for source, value in values.items():
            moved = self[state, path, source] * value * 0.01 if abs(value) < float("inf") else 0.0
            sided = (state, path, source) in self.one_sided
            if moved != 0.0 or sided:
                found.append((abs(moved), source, moved, sided))
        found.sort(key=lambda row: -row[0])
        rows = [
            [
                source + ("*" if sided else ""),
                shown(moved, step, units),
                f"{self[state, path, source]:.6g}",
            ]
            for _, source, moved, sided in found
        ]
        title = f"{path} in {state}: 1 % of each input moves it by"
        if any(sided for *_, sided in found):
            title += f" ({ONE_SIDED})"
        return Table(["input", "effect", "derivative (SI)"], rows, title)
