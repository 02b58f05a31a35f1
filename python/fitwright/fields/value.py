"""A number in SI that knows its quantity and shows itself in shop units."""

from __future__ import annotations

from fitwright.fields import units
from fitwright.fields.errors import InputError
from fitwright.fields.units import in_system

__all__ = ["Value"]


class Value(float):
    """A number in SI (temperatures degC) that shows itself in shop units."""

    quantity: str
    #: "metric" or "inch" as its job has it; "": as the setting has it
    system: str

    def __new__(cls, value: float, quantity: str, system: str = "") -> Value:
        made = super().__new__(cls, value)
        made.quantity, made.system = quantity, system
        return made

    def __getnewargs__(self) -> tuple[float, str, str]:  # type: ignore[override]
        return float(self), self.quantity, self.system

    def to(self, unit: str) -> float:
        """In any unit of its kind."""
        try:
            return float(units.from_si(float(self), self.quantity, unit))
        except units.UnitProblem as problem:
            raise InputError([(self.quantity, str(problem))]) from problem

    def shown(self, system: str | None = None) -> str:
        if float(self) == float("inf"):
            return "worked out"  # an input that was left out
        return units.shown(float(self), self.quantity, in_system(system, self.system))

    def __repr__(self) -> str:
        return self.shown()

    __str__ = __repr__
