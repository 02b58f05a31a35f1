"""One or several inputs over a range: a table and a plot of what follows."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from fitwright.fields import units
from fitwright.fields.arguments import checked
from fitwright.fields.errors import InputError
from fitwright.fields.records import Records
from fitwright.fields.tables import Table
from fitwright.fields.units import Number, UnitProblem, in_system, shown
from fitwright.studies.options import StudyOptions
from fitwright.studies.run import run_study

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from fitwright.job.value import Job
    from fitwright.studies.result import Study


def _column(given: Any, quantity: str) -> NDArray[np.float64]:
    """(from, to, how many) or a list of values."""
    if (
        isinstance(given, tuple)
        and len(given) == 3
        and isinstance(given[2], int)
        and not isinstance(given[2], bool)
        and not isinstance(given[0], int)
    ):
        if not 2 <= given[2] <= 1_000_000:
            raise UnitProblem(f"{given[2]} points: must be from 2 to 1000000")
        ends = [units.to_si(end, quantity) for end in given[:2]]
        if not all(isinstance(end, float) for end in ends):
            raise UnitProblem("must be (from, to, how many) with one number at each end")
        return np.linspace(float(ends[0]), float(ends[1]), given[2])
    read = units.to_si(list(given) if isinstance(given, tuple) else given, quantity)
    column = np.atleast_1d(np.asarray(read, dtype=np.float64))
    if column.ndim != 1 or len(column) == 0:
        raise UnitProblem("must be (from, to, how many) or a list of values")
    return column


def run_sweep(
    job: Job,
    ranges: Mapping[str, tuple[Number, Number, int] | Sequence[Number]],
    outputs: Sequence[str] | None,
) -> Sweep:
    if not ranges:
        raise InputError([("ranges", "name at least one input to vary")])
    leaves, columns, problems = [], [], []
    for path, given in ranges.items():
        leaf = job.core.leaf(path)
        try:
            column = _column(given, job.input_rows[leaf][1])
        except UnitProblem as problem:
            problems.append((path, str(problem)))
            continue
        leaves.append(leaf)
        columns.append(column)
    if not problems and len({len(c) for c in columns}) > 1:
        told = ", ".join(f"{p} {len(c)}" for p, c in zip(ranges, columns, strict=True))
        problems.append(("ranges", f"inputs are varied together and differ in length: {told}"))
    if problems:
        raise InputError(problems)
    if outputs is None:
        numbers = [row[0] for row in job.core.limits()]
    else:
        numbers = []
        for path in [outputs] if isinstance(outputs, str) else outputs:
            found = [i for i, (_, p, *_) in enumerate(job.output_rows) if p == path]
            numbers += found or [job.core.output(job.states[0], path)]
    results = job.core.sweep(leaves, [c.tolist() for c in columns], numbers, os.cpu_count() or 1)
    named = {job.output_rows[n][:2]: r for n, r in zip(numbers, results, strict=True)}
    return Sweep(job, dict(zip(ranges, columns, strict=True)), named)


@checked
class Sweep(Records):
    """Inputs and outputs, column by column, in SI. Shows itself as a table."""

    def __init__(
        self,
        job: Job,
        inputs: dict[str, NDArray[np.float64]],
        outputs: dict[tuple[str, str], NDArray[np.float64]],
    ) -> None:
        self.job, self.inputs, self.outputs = job, inputs, outputs
        self._quantity = {path: quantity for path, quantity, *_ in job.input_rows}
        self._kind = {(state, path): q for state, path, q, _ in job.output_rows}

    def __getitem__(self, key: tuple[str, str]) -> NDArray[np.float64]:
        """The column of an output by state and path."""
        if key not in self.outputs:
            raise InputError([(key[1], f"is not in this sweep for state {key[0]}")])
        return self.outputs[key]

    def _moving(self) -> list[tuple[str, str]]:
        """Outputs that move at all, those that move most against their size first."""

        def movement(key: tuple[str, str]) -> float:
            column = self.outputs[key]
            low, high = float(np.min(column)), float(np.max(column))
            size = max(abs(low), abs(high))
            return (high - low) / size if size else 0.0

        moved = {key: movement(key) for key in self.outputs}
        return sorted((k for k in moved if moved[k] > 1e-9), key=lambda k: -moved[k])

    def table(self, units: str | None = None, most: int = 6, rows: int = 12) -> Table:
        """At most `most` outputs that move most, at most `rows` points."""
        units, keys = in_system(units, self.job.units), self._moving()[:most]
        first = next(iter(self.inputs.values()))
        step = max(1, -(-len(first) // rows))
        picked = list(range(0, len(first), step))
        if picked[-1] != len(first) - 1:
            picked.append(len(first) - 1)
        body = [
            [shown(float(c[i]), self._quantity[p], units) for p, c in self.inputs.items()]
            + [shown(float(self.outputs[k][i]), self._kind[k], units) for k in keys]
            for i in picked
        ]
        head = [*self.inputs, *(f"{path} ({state})" for state, path in keys)]
        return Table(head, body, title=self.job.title)

    def to_dict(self) -> list[dict[str, Any]]:
        """One point a line: inputs by path, outputs as "path (state)"; SI, temperatures in degC."""
        first = next(iter(self.inputs.values()))
        return [
            {
                **{path: float(column[i]) for path, column in self.inputs.items()},
                **{f"{p} ({s})": float(column[i]) for (s, p), column in self.outputs.items()},
            }
            for i in range(len(first))
        ]

    def plot(self, most: int = 4) -> Axes:
        """The outputs that move most, each over its limit, against the first input."""
        from fitwright.charts.figures import new_axes, sweep_plot

        keys = self._moving()[:most]
        path, column = next(iter(self.inputs.items()))
        unit = units.shop_unit(self._quantity[path])
        series, limits = {}, {}
        bounds = {
            self.job.output_rows[n][:2]: low if low == low else high
            for n, low, high in self.job.core.limits()
        }
        for key in keys:
            shop = units.shop_unit(self._kind[key])
            name = f"{key[1]} in {key[0]} [{shop['label']}]"
            series[name] = self.outputs[key] * shop["factor"] + shop["offset"]
            if key in bounds:
                limits[name] = bounds[key] * shop["factor"] + shop["offset"]
        axes = new_axes()
        sweep_plot(
            axes,
            column * unit["factor"] + unit["offset"],
            series,
            limits,
            (f"{path} [{unit['label']}]", ""),
        )
        return axes

    def __repr__(self) -> str:
        return str(self.table())

    def _repr_html_(self) -> str:
        return self.table()._repr_html_()


def run_yield_against(
    job: Job, path: str, values: Sequence[Number], samples: int, seed: int
) -> YieldCurve:
    leaf = job.core.leaf(path)
    try:
        column = _column(values, job.input_rows[leaf][1])
    except UnitProblem as problem:
        raise InputError([("values", f"{path}: {problem}")]) from problem
    options = StudyOptions(samples, seed, None, None, False, level=job.level)
    studies: list[Study] = []
    stopped = False
    try:
        for value in column:
            study = run_study(job.replace({path: float(value)}), options)
            if study.stopped:  # a study that is cut short is no point of a curve
                stopped = True
                break
            studies.append(study)
    except KeyboardInterrupt:
        stopped = True
    if stopped and not studies:
        raise KeyboardInterrupt
    told = f"stopped by hand after {len(studies)} of {len(column)} values" if stopped else ""
    return YieldCurve(job, path, column[: len(studies)], studies, told)


@checked
class YieldCurve:
    """Pass rate against one design value, with its 95 % interval and the finding missed most."""

    def __init__(
        self,
        job: Job,
        path: str,
        values: NDArray[np.float64],
        studies: list[Study],
        stopped: str = "",
    ) -> None:
        self.job, self.path, self.values, self.studies = job, path, values, studies
        #: why it ended before its last value, else empty
        self.stopped = stopped
        self._quantity = next(q for p, q, *_ in job.input_rows if p == path)
        self.pass_rates = np.array([study.pass_rate for study in studies])

    def table(self, units: str | None = None) -> Table:
        rows, units = [], in_system(units, self.job.units)
        for value, study in zip(self.values, self.studies, strict=True):
            low, high = study.interval
            risk = study.at_risk[0] if study.at_risk else None
            rows.append(
                [
                    shown(float(value), self._quantity, units),
                    f"{study.pass_rate:.3%}",
                    f"{low:.3%} to {high:.3%}",
                    f"{risk.path} in {risk.state}" if risk else "",
                ]
            )
        head = [self.path, "passes", "95 % interval", "missed most"]
        return Table(head, rows, title=self.stopped)

    def plot(self) -> Axes:
        from fitwright.charts.figures import new_axes, sweep_plot

        unit = units.shop_unit(self._quantity)
        axes = new_axes()
        x = self.values * unit["factor"] + unit["offset"]
        labels = (f"{self.path} [{unit['label']}]", "")
        sweep_plot(axes, x, {"pass rate": self.pass_rates}, None, labels)
        return axes

    def __repr__(self) -> str:
        return str(self.table())

    def _repr_html_(self) -> str:
        return self.table()._repr_html_()
