"""A Python function of one's own on the columns that a study kept."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fitwright import _core
from fitwright.fields import units
from fitwright.fields.errors import InputError
from fitwright.fields.units import QUANTITIES
from fitwright.fields.value import Value

__all__ = ["ColumnFinding", "Kept", "column_finding"]

Column = NDArray[np.float64]

#: Samples a call of the function gets, and samples whose inputs are drawn again for the shares.
BLOCK = 65_536
DRAWN_AGAIN = 4096


@dataclass(frozen=True)
class Kept:
    """What a study kept: its columns, its states and spreads, and the run that draws them again."""

    columns: Mapping[tuple[str, str], Column]
    states: Sequence[str]
    spreads: Mapping[str, _core.Spread]
    run: _core.StudyRun
    system: str


@dataclass(frozen=True)
class ColumnFinding:
    """What a function of one's own makes of the samples of a study, held against its limits."""

    name: str
    state: str
    quantity: str
    system: str
    at_least: float
    at_most: float
    #: its values, sample by sample (SI); not a number where the function had none
    column: Column
    statistics: _core.Statistics
    #: squares of the correlation with each input that scatters; the largest first
    shares: dict[str, float]

    @property
    def samples(self) -> int:
        return len(self.column)

    @property
    def not_numbers(self) -> int:
        """Samples of which the function made no number; they count as not passed."""
        return self.samples - self.statistics.count

    @property
    def mean(self) -> Value:
        return self._value(self.statistics.mean)

    @property
    def deviation(self) -> float:
        """Standard deviation (SI)."""
        return self.statistics.deviation

    @property
    def pass_rate(self) -> float:
        return self.statistics.passed / self.samples

    @property
    def interval(self) -> tuple[float, float]:
        """Of the pass rate, 95 %."""
        low, high = _core.interval_of_share(self.statistics.passed, self.samples)
        return low, high

    def quantile(self, share: float) -> Value:
        """The value below which a share of the samples lies, to 1/2048 of their range."""
        if not 0.0 <= share <= 1.0:
            raise InputError([("share", f"{share} must be from 0 to 1")])
        return self._value(self.statistics.quantile(share).value)

    def _value(self, number: float) -> Value:
        return Value(number, self.quantity, self.system)

    def __repr__(self) -> str:
        text = f"{self.name} in {self.state}: {self.quantile(0.01)} to {self.quantile(0.99)} in "
        text += f"98 % of {self.samples} samples, mean {self.mean}"
        if max(self.at_least, -self.at_most) > float("-inf"):
            low, high = self.interval
            text += f"; within its limits in {self.pass_rate:.3%} ({low:.3%} to {high:.3%})"
        if self.not_numbers:
            text += f"; no number in {self.not_numbers}, counted as not passed"
        return text


def column_finding(
    kept: Kept,
    function: Callable[..., Column],
    paths: Sequence[str],
    state: str | None,
    quantity: str,
    at_least: str | float | None,
    at_most: str | float | None,
) -> ColumnFinding:
    """The function on the kept columns, block by block."""
    name = getattr(function, "__name__", "function")
    state = kept.states[0] if state is None else state
    if quantity not in QUANTITIES:
        known = ", ".join(sorted(QUANTITIES))
        raise InputError([("quantity", f'"{quantity}" is none of {known}')])
    low = float("-inf") if at_least is None else _limit("at_least", at_least, quantity)
    high = float("inf") if at_most is None else _limit("at_most", at_most, quantity)
    missing = [path for path in paths if (state, path) not in kept.columns]
    if missing or not paths:
        known = ", ".join(sorted({path for s, path in kept.columns if s == state})) or "none"
        told = ", ".join(missing) or "nothing"
        text = f'{told} was not kept in {state}; ask study(keep=["PATH"]); kept are: {known}'
        raise InputError([("outputs", text)])
    columns = [kept.columns[state, path] for path in paths]
    if len({len(column) for column in columns}) > 1:
        text = "are of levels with different numbers of samples; ask for outputs of one level"
        raise InputError([("outputs", text)])
    values = np.concatenate(
        [
            _block(function, name, [column[first : first + BLOCK] for column in columns], first)
            for first in range(0, len(columns[0]), BLOCK)
        ]
    )
    statistics = _core.statistics_of(values, low, high)
    if statistics.count == 0:
        raise InputError([("function", f"{name} made no number of any sample")])
    shares = _shares(kept, values)
    return ColumnFinding(name, state, quantity, kept.system, low, high, values, statistics, shares)


def _limit(name: str, told: str | float, quantity: str) -> float:
    try:
        return float(units.to_si(told, quantity))
    except units.UnitProblem as problem:
        raise InputError([(name, str(problem))]) from problem


def _block(function: Callable[..., Column], name: str, columns: list[Column], first: int) -> Column:
    where = f"in samples {first} to {first + len(columns[0]) - 1}"
    try:
        found = np.asarray(function(*(column.copy() for column in columns)), dtype=np.float64)
    except Exception as error:
        text = f"{name} raised {type(error).__name__} {where}: {error}"
        raise InputError([("function", text)]) from error
    if found.shape != columns[0].shape:
        text = f"{name} gave an array of shape {found.shape} {where}; it must be as its columns are"
        raise InputError([("function", f"{text}, {columns[0].shape}")])
    return found


def _shares(kept: Kept, values: Column) -> dict[str, float]:
    count = min(len(values), DRAWN_AGAIN)
    drawn = np.array([kept.run.sample(index) for index in range(count)])
    squares = _core.correlation_squares(values[:count], drawn)
    shares = {path: squares[spread.leaf] for path, spread in kept.spreads.items()}
    return dict(sorted(shares.items(), key=lambda pair: -pair[1]))
