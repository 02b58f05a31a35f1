"""Curves of heating and cooling, and rings that cool together: what one result does not hold."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from fitwright import _core, units
from fitwright.arguments import checked
from fitwright.errors import InputError
from fitwright.models import Arguments, Result, call
from fitwright.units import Number
from fitwright.usertext import told as shown_as

if TYPE_CHECKING:
    from fitwright.heat import SlipOnResult
    from fitwright.plots import Picture

__all__ = ["Cooling", "GripSlice", "again", "cooling", "draw", "seating_together", "told"]


@dataclass(frozen=True)
class Cooling:
    """A ring from the oven to room temperature, one value per step of time (SI, degC)."""

    time: NDArray[np.float64]
    bore: NDArray[np.float64]
    seat: NDArray[np.float64]
    ring_mean: NDArray[np.float64]
    shaft_mean: NDArray[np.float64]
    ring_bore: NDArray[np.float64]
    ring_outside: NDArray[np.float64]
    shaft_surface: NDArray[np.float64]


@checked
def cooling(result: SlipOnResult) -> Cooling:
    """The run behind a result of `heat.slip_on` (one point, no arrays)."""
    read = Arguments(result._model, result._arguments)
    if result._model != "heat.slip_on" or read.are_arrays:
        raise InputError([("", "a curve belongs to one result of heat.slip_on, without arrays")])
    return Cooling(**_core.slip_on_curve([float(v) for v in read.values], *read.materials))


@checked
def again(result: Result, **changed: Any) -> Any:
    """The same call with other arguments; an array makes a curve of every output."""
    return call(type(result), {**result._arguments, **changed})


@checked
def told(result: Result, path: str) -> float:
    """An input of a result by its path, as given or at its standard value (SI)."""
    read = Arguments(result._model, result._arguments)
    return float(read.values[read.paths.index(path)])


@dataclass(frozen=True)
class GripSlice:
    """A slice of a ring on its seat: what it can hold per length, and how it shrinks."""

    #: rings are numbered from the shoulder; slices of one ring follow each other
    ring: int
    length: Number
    #: axial force per length the cold slice holds [N/m]
    grip: float
    #: strain by which ring and shaft part from first grip until cold (heat.seating gives it)
    parting: float


def seating_together(slices: Sequence[GripSlice], press_force: Number = 0.0) -> list[float]:
    """Gap before each ring [m], shoulder first, of rings that cool together under one press.

    Walls are taken as rigid: finite elements move up to a third of a gap from one place to the
    other (docs/theory-heat.md). Ring by ring is `heat.seating` for each.
    """
    if not isinstance(slices, Sequence) or not all(isinstance(s, GripSlice) for s in slices):
        raise InputError([("slices", "must be a list of fw.heating.GripSlice")])
    problems: list[tuple[str, str]] = []
    for k, s in enumerate(slices):
        if not isinstance(s.ring, int):
            problems.append((f"slices[{k}].ring", f"{shown_as(s.ring)} must be a whole number"))
        for name in ("grip", "parting"):
            if not isinstance(getattr(s, name), int | float):
                problems.append((f"slices[{k}].{name}", "must be a number"))
    lengths: dict[str, tuple[Number, str]] = {
        f"slices[{k}].length": (s.length, "size") for k, s in enumerate(slices)
    }
    read = units.collect({**lengths, "press_force": (press_force, "force")}, problems)
    problems += [(name, "must be one number") for name, value in read.items() if np.ndim(value)]
    if problems:
        raise InputError(problems)
    rows = [
        (s.ring, float(read[f"slices[{k}].length"]), s.grip, s.parting)
        for k, s in enumerate(slices)
    ]
    return list(_core.seating_together(rows, float(read["press_force"])))


@checked
def draw(result: Result, against: str = "", units: str | None = None) -> Picture:
    """The picture of a result.

    `heat.slip_on`: size of bore and seat against their temperature, or `against="time"`.
    `heat.seating`: gap against press force. `heat.oven` and `heat.chill`: ring temperature against
    shaft temperature.
    """
    from fitwright import heat
    from fitwright.plots import heating as figures
    from fitwright.plots import seating

    if isinstance(result, heat.SlipOnResult):
        of = figures.size_against_time if against == "time" else figures.size_against_temperature
        return of(result, units)
    if isinstance(result, heat.SeatingResult):
        return seating.gap_against_press(result, units)
    if isinstance(result, heat.OvenResult | heat.ChillResult):
        return figures.ring_against_shaft(result, units)
    raise InputError([("", f"there is no picture of {result._model}")])
