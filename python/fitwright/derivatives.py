"""Exact derivatives of a job, each with whether it holds on both sides."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from fitwright.tables import Table
from fitwright.units import in_system, shown

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from fitwright.job import Job

#: what a mark in a table says
ONE_SIDED = "* holds on one side only: the output has a kink here"


class Derivatives(dict[tuple[str, str, str], float]):
    """(state, output, input) -> value (SI). `one_sided`: those that hold on one side only."""

    def __init__(
        self, job: Job, matrix: NDArray[np.float64], flags: Sequence[Sequence[bool]]
    ) -> None:
        self._job = job
        super().__init__(
            {
                (state, path, source): float(matrix[i, j])
                for i, (state, path, *_) in enumerate(job._outputs)
                for j, (source, *_) in enumerate(job._inputs)
            }
        )
        self.one_sided = frozenset(
            (state, path, source)
            for (state, path, *_), row in zip(job._outputs, flags, strict=True)
            for (source, *_), flag in zip(job._inputs, row, strict=True)
            if flag
        )

    def table(self, state: str, path: str, units: str | None = None) -> Table:
        """Derivatives of one output, times a hundredth of the input; greatest first, no zeros."""
        job, units = self._job, in_system(units, self._job.units)
        quantity = job._outputs[job._core.output(state, path)][2]
        step = "difference" if quantity == "temperature" else quantity
        values = dict(zip((i[0] for i in job._inputs), job._core.values(), strict=True))
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
