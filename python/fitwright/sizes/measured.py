"""Measured sizes, corrected to 20 degC, with their uncertainty budget; part of fw.sizes."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from fitwright import _core, materials
from fitwright.fields.errors import InputError
from fitwright.fields.tables import Shown, Table
from fitwright.fields.units import Number, UnitProblem, shown, to_si

__all__ = ["Measured", "measured"]


class Measured(Shown):
    """A size at 20 degC with its combined standard uncertainty [m], and the budget as a table."""

    def __init__(self, made: _core.MeasuredSize) -> None:
        self.size: float = made.size
        self.uncertainty: float = made.uncertainty
        #: without the scatter of the readings
        self.gauge_part: float = made.gauge_part
        self.degrees_of_freedom: float = made.degrees_of_freedom
        self.budget: list[tuple[str, float]] = [(row[0], row[1]) for row in made.budget()]

    def table(self) -> Table:
        rows = [
            [source, shown(value, "fine"), shown(value, "fine", "inch")]
            for source, value in self.budget
        ]
        together = self.uncertainty
        rows.append(["together", shown(together, "fine"), shown(together, "fine", "inch")])
        freedom = self.degrees_of_freedom
        told = f", {freedom:.0f} degrees of freedom" if freedom < float("inf") else ""
        title = f"{shown(self.size, 'size')} at 20 degC ({shown(self.size, 'size', 'inch')}){told}"
        return Table(["standard uncertainty by", "metric", "inch"], rows, title)


@contextmanager
def _speaking_of(path: str) -> Iterator[None]:
    try:
        yield
    except (UnitProblem, TypeError, ValueError) as problem:
        if isinstance(problem, InputError):
            raise InputError([(path, text) for _, text in problem.problems]) from problem
        raise InputError([(path, str(problem))]) from problem


def _one(path: str, value: Number, quantity: str) -> float:
    with _speaking_of(path):
        return float(to_si(value, quantity))


def _expansion(path: str, given: Number, temperature: float) -> float:
    """Mean expansion from 20 degC: of a material by name, or a value like "17.8 um/m/K"."""
    named = isinstance(given, str) and "/" not in given
    if not named and not isinstance(given, materials.Material):
        return _one(path, given, "expansion")
    with _speaking_of(path):
        return materials.material(given).at("expansion", temperature)


def reading(
    readings: Number,
    *,
    part: Number = None,
    gauge: Number = None,
    part_temperature: Number = 20.0,
    gauge_temperature: Number = 20.0,
    correction: Number = 0.0,
    gauge_uncertainty: Number = 0.0,
    repeatability: Number = 0.0,
    temperature_uncertainty: Number = 0.0,
    difference_uncertainty: Number = 0.0,
    expansion_uncertainty: Number = None,
    expansion_difference_uncertainty: Number = None,
) -> _core.SizeReading:
    """What the core corrects: see `measured`."""
    with _speaking_of("readings"):
        read = to_si(readings, "size")
    told: dict[str, float] = {
        "part_temperature": _one("part_temperature", part_temperature, "temperature"),
        "gauge_temperature": _one("gauge_temperature", gauge_temperature, "temperature"),
    }
    if part is not None:
        told["part_expansion"] = _expansion("part", part, told["part_temperature"])
    if gauge is not None:
        told["gauge_expansion"] = _expansion("gauge", gauge, told["gauge_temperature"])
    for name, value, quantity in (
        ("correction", correction, "fine"),
        ("gauge_uncertainty", gauge_uncertainty, "fine"),
        ("repeatability", repeatability, "fine"),
        ("temperature_uncertainty", temperature_uncertainty, "difference"),
        ("difference_uncertainty", difference_uncertainty, "difference"),
        ("expansion_uncertainty", expansion_uncertainty, "expansion"),
        ("expansion_difference_uncertainty", expansion_difference_uncertainty, "expansion"),
    ):
        if value is not None:
            told[name] = _one(name, value, quantity)
    sizes = [read] if isinstance(read, float) else [float(x) for x in read]
    return _core.SizeReading(sizes, told)


def measured(readings: Number, **known: Number) -> Measured:
    """The size at 20 degC of a part measured warm, with its standard uncertainty.

    `readings` is one size or several; `part` and `gauge` are materials by name or mean expansions
    (steel, 11.5 um/m/K, when left out), with `part_temperature` and `gauge_temperature`, where the
    gauge is right at 20 degC. `correction` is added to the reading. Standard uncertainties:
    `gauge_uncertainty`, `repeatability` of one reading (several tell their own), of the part's
    temperature `temperature_uncertainty`, of the difference between part and gauge
    `difference_uncertainty`, of the gauge's expansion `expansion_uncertainty` and of the part's
    less the gauge's `expansion_difference_uncertainty` (steels when left out: 1.2 and 0.58 um/m/K).

    `known` stands for all of these but the readings.

    >>> import fitwright as fw
    >>> seat = fw.sizes.measured(
    ...     "80.045 mm", part="4140", part_temperature="30 degC", gauge_uncertainty="1 um"
    ... )
    >>> answer = seat.size
    """
    return Measured(_core.measured_size(reading(readings, **known)))
