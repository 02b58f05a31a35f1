"""Parts in section and the states they are in, as they are told."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from fitwright.fields.errors import InputError
from fitwright.fields.units import Number, UnitProblem, to_si
from fitwright.materials import Material

__all__ = ["RingSection", "ShaftSection", "State"]

SliceLike = Sequence[Number]


class Reader:
    """Reads numbers with their units; every problem is told at once."""

    def __init__(self) -> None:
        self.problems: list[tuple[str, str]] = []

    def number(self, path: str, value: Number, quantity: str) -> float:
        try:
            read = to_si(value, quantity)
        except UnitProblem as problem:
            self.problems.append((path, str(problem)))
            return 0.0
        if not isinstance(read, float):
            self.problems.append((path, "must be one number, not an array"))
            return 0.0
        return read

    def pair(self, path: str, value: Any, names: tuple[str, str]) -> list[float]:
        if value is None:
            return [0.0, 0.0]
        if isinstance(value, str) or not isinstance(value, Sequence) or len(value) != 2:
            self.problems.append((path, f"must be a pair: {names[0]}, {names[1]}"))
            return [0.0, 0.0]
        return [
            self.number(f"{path}.{name}", one, "size")
            for name, one in zip(names, value, strict=True)
        ]

    def slices(self, path: str, rows: Any) -> list[list[float]]:
        read = []
        for i, row in enumerate(rows if isinstance(rows, Sequence) else []):
            if isinstance(row, str) or not isinstance(row, Sequence) or len(row) != 3:
                told = "must be length, bore, outside"
                self.problems.append((f"{path}.slices[{i}]", told))
                continue
            names = ("length", "bore", "outside")
            read.append(
                [
                    self.number(f"{path}.slices[{i}].{name}", one, "size")
                    for name, one in zip(names, row, strict=True)
                ]
            )
        return read

    def done(self) -> None:
        if self.problems:
            raise InputError(self.problems)


class ShaftSection:
    """A shaft with its collar, in section. Nominal sizes at 20 degC: interference is told apart.

    Parameters
    ----------
    slices : (length, bore, outside) [m] of each, from the end behind the shoulder to the nut end
    material : name of a material, or a fw.Material
    behind : [m] length behind the face of the shoulder, the end of a slice; 0: the shoulder is a
        rigid plane at the end of the shaft
    land : (inside, outside) [m] of the face that the first ring stands against; all of it when left
        out
    fillet : [m] radius between shoulder and seat; 0: sharp
    thread : (start, length) [m] along z from the shoulder, where the nut pulls; the end face when
        left out
    free_end : the far end of the shaft is free; else it stays plane, as cut through a longer shaft
    """

    def __init__(
        self,
        *,
        slices: Sequence[SliceLike],
        material: str | Material,
        behind: Number = 0.0,
        land: Sequence[Number] | None = None,
        fillet: Number = 0.0,
        thread: Sequence[Number] | None = None,
        free_end: bool = False,
    ) -> None:
        self.slices, self.material, self.behind = slices, material, behind
        self.land, self.fillet, self.thread, self.free_end = land, fillet, thread, bool(free_end)


class RingSection:
    """A ring, sleeve, wheel or washer in section. Nominal sizes at 20 degC.

    Parameters
    ----------
    slices : (length, bore, outside) [m] of each, from the shoulder: flanges, grooves, reliefs
    material : name of a material, or a fw.Material
    chamfers : [m] legs of its 45 degree chamfers by name: shoulder_bore, shoulder_outside,
        nut_bore, nut_outside; or one leg for all
    thrust : (start, length) [m] of the outside where an axial load enters; all of it when left out
    """

    def __init__(
        self,
        *,
        slices: Sequence[SliceLike],
        material: str | Material,
        chamfers: Mapping[str, Number] | Number = 0.0,
        thrust: Sequence[Number] | None = None,
    ) -> None:
        self.slices, self.material = slices, material
        self.chamfers, self.thrust = chamfers, thrust


CHAMFERS = ("shoulder_bore", "shoulder_outside", "nut_bore", "nut_outside")


class State:
    """A state to be in: temperatures, speed and thrust.

    Parameters
    ----------
    temperatures : [degC] by part ("shaft" or the name of a ring); a pair is at the bore and at the
        outside, even in between. 20 degC where left out.
    speed : [rad/s]
    thrust : [N] towards the shoulder
    nut_compliance : [m/N] of engaged thread and nut
    nut_free : [m] free growth of the nut over the shaft's, less its opening on the flanks
    settled : share of the settling that has happened, 0 to 1
    """

    def __init__(
        self,
        *,
        temperatures: Mapping[str, Any] | None = None,
        speed: Number = 0.0,
        thrust: Number = 0.0,
        nut_compliance: float = 0.0,
        nut_free: Number = 0.0,
        settled: float = 0.0,
    ) -> None:
        self.temperatures = dict(temperatures or {})
        self.speed, self.thrust, self.nut_compliance = speed, thrust, nut_compliance
        self.nut_free, self.settled = nut_free, settled
