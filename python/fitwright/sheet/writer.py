"""Values of a job as a sheet prints them, in one system of units."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fitwright.fields import units as shop
from fitwright.fields.value import Value
from fitwright.job.findings import Findings

if TYPE_CHECKING:
    from fitwright._core import Spread
    from fitwright.job.value import Job

__all__ = ["UNBROKEN", "Writer", "printed"]

#: A space at which no line breaks.
UNBROKEN = "\u00a0"
PRINTED = {
    "um": "µm",
    "degC": "°C",
    "degF": "°F",
    "delta_degF": "°F",
    "deg": "°",
    "mm^2": "mm²",
    "in^2": "in²",
    "kW/m^2": "kW/m²",
    "Btu/hour/ft^2": "Btu/h/ft²",
}


def printed(text: str) -> str:
    number, _, unit = text.partition(" ")
    unit = PRINTED.get(unit, unit)
    unit = unit.replace(" ", UNBROKEN)
    return number + unit if unit in ("", "°") else f"{number}{UNBROKEN}{unit}"


class Writer:
    """Writes values of one job in one system of units."""

    def __init__(self, job: Job, found: Findings, system: str) -> None:
        self.job, self.found, self.system = job, found, system
        self.built = job.states[0]

    def value(self, value: float, quantity: str) -> str:
        return printed(shop.shown(value, quantity, self.system))

    def shown(self, value: Value) -> str:
        return printed(value.shown(self.system))

    def input(self, path: str) -> str:
        return self.shown(self.job[path])

    def given(self, path: str) -> Value | None:
        """An input, or nothing when the core works it out."""
        value = self.job[path]
        return value if abs(value) < float("inf") else None

    def output(self, path: str, state: str | None = None) -> str:
        return self.shown(self.found[state or self.built, path])

    def scatter(self, path: str) -> str:
        spread = self.job.spreads.get(path)
        return "" if spread is None else self.spread(spread, self.job[path].quantity)

    def spread(self, spread: Spread, quantity: str) -> str:
        if spread.shape in ("uniform", "triangular"):
            low = self.value(spread.low, quantity)
            return f"{low} to {self.value(spread.high, quantity)}, {spread.shape}"
        step = {"temperature": "difference", "size": "fine"}.get(quantity, quantity)
        return f"deviation {self.value(spread.standard_deviation, step)}"
