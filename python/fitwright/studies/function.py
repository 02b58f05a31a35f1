"""A system as a function of arrays: what an optimiser or another library asks for."""

from __future__ import annotations

import os
from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from fitwright.fields.arguments import checked
from fitwright.fields.errors import InputError
from fitwright.fields.user_text import told
from fitwright.job.system import System

__all__ = ["Function"]

OUTSIDE = ("raise", "nan")


@checked
class Function:
    """`f(X) -> Y`, its derivatives `f.jacobian(X)`; made by `job.function` and `fw.function`.

    `X` holds the inputs in the last axis, one point a row (or one point alone), in SI, temperatures
    in degC; `Y` the outputs alike. It pickles, and runs without the interpreter's lock.
    """

    def __init__(
        self,
        system: System,
        inputs: Sequence[str],
        outputs: Sequence[str] | Sequence[tuple[str, str]],
        outside: str = "raise",
        threads: int | None = None,
    ) -> None:
        problems: list[tuple[str, str]] = []
        if outside not in OUTSIDE:
            problems.append(("outside", f"{told(outside)} must be one of {', '.join(OUTSIDE)}"))
        if not inputs:
            problems.append(("inputs", "must name one input or more"))
        if len(set(inputs)) < len(inputs):
            problems.append(("inputs", "must not name an input twice"))
        if not outputs:
            problems.append(("outputs", "must name one output or more"))
        self._leaves, self._outputs = [], []
        for path in inputs:
            try:
                self._leaves.append(system.asked.leaf(path))
            except InputError as error:
                problems += error.problems
        for wanted in outputs:
            state, path = (
                (system.states[0], wanted) if isinstance(wanted, str) else (wanted[0], wanted[1])
            )
            try:
                self._outputs.append(system.asked.output(state, path))
            except InputError as error:
                problems += error.problems
        if problems:
            raise InputError(problems)
        #: what is asked, and the names of columns
        self.system, self.inputs, self.outputs = system, list(inputs), list(outputs)
        self.outside, self.threads = outside, threads

    def __reduce__(self) -> tuple[Any, ...]:
        return type(self), (self.system, self.inputs, self.outputs, self.outside, self.threads)

    @property
    def nominal(self) -> NDArray[np.float64]:
        """The inputs as the system stands."""
        values = self.system.core.values()
        return np.array([values[leaf] for leaf in self._leaves])

    def _points(self, x: ArrayLike) -> NDArray[np.float64]:
        try:
            points = np.asarray(x, dtype=np.float64)
        except (TypeError, ValueError):
            raise InputError(
                [("X", "must be an array of numbers (SI, temperatures in degC)")]
            ) from None
        if points.ndim not in (1, 2) or points.shape[-1] != len(self.inputs):
            rule = f"must have {len(self.inputs)} columns, one for each input"
            raise InputError([("X", f"an array of shape {points.shape} {rule}")])
        return points

    def __call__(self, X: ArrayLike) -> NDArray[np.float64]:
        """Outputs of one point, or of one point a row."""
        points = self._points(X)
        rows = points.reshape(-1, len(self.inputs))
        try:
            columns = self.system.asked.sweep(
                self._leaves,
                [column.tolist() for column in rows.T],
                self._outputs,
                self.threads or os.cpu_count() or 1,
            )
            found = np.ascontiguousarray(np.array(columns).T)
        except InputError:
            if self.outside == "raise":
                raise
            found = np.array([self._one(row) for row in rows])
        return found.reshape(*points.shape[:-1], len(self.outputs))

    def _one(self, row: NDArray[np.float64]) -> list[float]:
        """A point alone; NaN where it has no answer."""
        try:
            columns = self.system.asked.sweep(
                self._leaves, [[float(x)] for x in row], self._outputs, 1
            )
        except InputError:
            return [float("nan")] * len(self.outputs)
        return [float(column[0]) for column in columns]

    def jacobian(self, X: ArrayLike) -> NDArray[np.float64]:
        """Exact derivatives, outputs by inputs; for several points one such matrix a row of X."""
        points = self._points(X)
        rows = points.reshape(-1, len(self.inputs))
        found = []
        there = self.system.asked.copy()
        for number, row in enumerate(rows):
            for leaf, value in zip(self._leaves, row, strict=True):
                there.set(leaf, float(value))
            try:
                found.append(there.slopes(self._outputs, self._leaves)[1])
            except InputError as error:
                if self.outside == "raise":
                    where = f" (point {number})"
                    raise InputError([(p, text + where) for p, text in error.problems]) from None
                nothing = [float("nan")] * len(self._leaves)
                found.append(np.array([nothing] * len(self._outputs)))
        shape = (*points.shape[:-1], len(self.outputs), len(self.inputs))
        return np.array(found).reshape(shape)

    def __repr__(self) -> str:
        counts = f"{len(self.inputs)} inputs, {len(self.outputs)} outputs"
        return f"<function of {self.system.title}: {counts}>"
