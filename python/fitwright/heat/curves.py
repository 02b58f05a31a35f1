"""Curves of heating and cooling, and rings that cool together: what one result does not hold."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from fitwright import _core
from fitwright.fields import units
from fitwright.fields.arguments import checked
from fitwright.fields.errors import InputError
from fitwright.fields.units import Number
from fitwright.fields.user_text import told as shown_as
from fitwright.models.results import Arguments, Result, call

if TYPE_CHECKING:
    from fitwright.heat.formulas import SlipOnResult

__all__ = ["Cooling", "GripSlice", "again", "cooling", "seating_together", "told"]


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
    """The run behind a result of `heat.slip_on` (one point, no arrays).

    `result` has the inputs of the run; the answer has temperatures and sizes against time.

    >>> import fitwright as fw
    >>> shaft = fw.Shaft(bore="30 mm", seat="80 mm", material="4340")
    >>> ring = fw.Ring(bore="80 mm", outside="105 mm", length="30 mm", material="52100")
    >>> on = fw.heat.slip_on(shaft=shaft, ring=ring, interference="38 um", oven="115 degC")
    >>> answer = fw.heat.cooling(on)
    """
    read = Arguments(result._model, result._arguments)
    if result._model != "heat.slip_on" or read.are_arrays:
        raise InputError([("", "a curve belongs to one result of heat.slip_on, without arrays")])
    return Cooling(**_core.slip_on_curve([float(v) for v in read.values], *read.materials))


@checked
def again(result: Result, **changed: Any) -> Any:
    """The same call with other arguments; an array makes a curve of every output.

    `result` is that of any model, `changed` what differs in its call.

    >>> import fitwright as fw
    >>> shaft = fw.Shaft(bore="30 mm", seat="80 mm", material="4340")
    >>> ring = fw.Ring(bore="80 mm", outside="105 mm", length="30 mm", material="52100")
    >>> oven = fw.heat.oven(shaft=shaft, ring=ring, interference="38 um")
    >>> answer = fw.heat.again(oven, interference=["30 um", "38 um"]).oven_needed
    """
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

    `slices` are `fw.heat.GripSlice`, one for each ring, `press_force` [N] the press that holds
    all of them.

    >>> import fitwright as fw
    >>> slices = [fw.heat.GripSlice(ring, "15 mm", 40e3, 4e-4) for ring in (0, 1)]
    >>> answer = fw.heat.seating_together(slices, "5 kN")
    """
    if not isinstance(slices, Sequence) or not all(isinstance(s, GripSlice) for s in slices):
        raise InputError([("slices", "must be a list of fw.heat.GripSlice")])
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
