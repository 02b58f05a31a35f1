"""One input of a job as it is written: a value, or a table of value, ends and scatter."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

import numpy as np

from fitwright import _core
from fitwright.fields import units
from fitwright.fields.errors import InputError
from fitwright.fields.units import UnitProblem
from fitwright.fields.user_text import shortened, told
from fitwright.job.size_limits import too_many

NAN = float("nan")
#: What a reading taken off 20 degC needs to be corrected.
WARM = {
    "part_temperature",
    "gauge_temperature",
    "part_material",
    "gauge_material",
    "temperature_uncertainty",
    "difference_uncertainty",
}
#: What a list of readings is of.
READINGS = {
    "one_part": "repeated readings of the part that goes in",
    "these_parts": "one reading of each of the parts at hand, of which one goes in",
    "process": "one reading each of parts of a process, for one it has yet to make",
}
#: Distributions, each with the keys it takes beside its value.
SHAPES = {
    "normal": {"deviation"},
    "truncated_normal": {"deviation", "low", "high", "class"},
    "uniform": {"low", "high", "class"},
    "triangular": {"low", "high"},
    "lognormal": {"deviation"},
    "beta": {"deviation", "low", "high"},
    "measured": {"measured", "gauge", "of", "repeatability"} | WARM,
    "process": {"low", "high", "cp", "cpk", "towards"},
}
#: Those that end at a low and a high value.
BOUNDED = ("truncated_normal", "uniform", "triangular", "beta")
KEYS = (
    {"value", "low", "high", "spread", "deviation", "class"}
    | {"measured", "gauge", "of", "repeatability", "cp", "cpk", "towards"}
    | WARM
)


class Inputs:
    """The inputs of a job by path: their leaf and quantity."""

    def __init__(self, rows: Iterable[tuple[str, str, str, float]]) -> None:
        self._at = {row[0]: (leaf, row[1]) for leaf, row in enumerate(rows)}

    def __contains__(self, path: str) -> bool:
        return path in self._at

    def __iter__(self) -> Iterator[str]:
        return iter(self._at)

    def leaf(self, path: str) -> int:
        return self._at[path][0]

    def quantity(self, path: str) -> str:
        return self._at[path][1]

    def ends(self, path: str) -> tuple[int, int]:
        """Leaves of its low and high end; -1 where it has none."""
        low, high = (self._at.get(f"{path}_{end}", (-1, "")) for end in ("low", "high"))
        return low[0], high[0]


def one_number(value: Any, quantity: str, units_needed: bool) -> float:
    if units_needed and isinstance(value, int | float) and quantity not in ("ratio", "count"):
        raise UnitProblem(f"{told(value)} has no unit; write it as text with its unit")
    read = units.to_si(value, quantity)
    if not isinstance(read, float):
        raise UnitProblem(f"{told(value)} must be one number")
    return read


class Scatter:
    """The table of one input: its numbers read, and the spread they make."""

    def __init__(self, given: Mapping[str, Any], quantity: str, units_needed: bool) -> None:
        unknown = set(given) - KEYS
        if unknown:
            names = ", ".join(shortened(str(key)) for key in sorted(unknown, key=str)[:8])
            raise UnitProblem(f"has the unknown key {names}")
        self.given, self.quantity, self.units_needed = given, quantity, units_needed
        self.shape = given.get("spread", "measured" if "measured" in given else None)
        if self.shape is not None and (not isinstance(self.shape, str) or self.shape not in SHAPES):
            known = ", ".join(SHAPES)
            raise UnitProblem(f"spread {told(self.shape)} must be one of {known}")

    def number(self, key: str, kind: str | None = None) -> float:
        """One of its numbers; NaN where it is not given."""
        if key not in self.given:
            return NAN
        return one_number(self.given[key], kind or self.quantity, self.units_needed)

    def refuse_strangers(self, has_ends: bool) -> None:
        """A key that the shape does not use would be a silent misunderstanding."""
        known = SHAPES.get(self.shape or "", set()) | {"value", "spread"}
        strange = sorted(set(self.given) - known - ({"low", "high"} if has_ends else set()))
        if strange and self.shape is None:
            shapes = ", ".join(SHAPES)
            raise UnitProblem(f"says how far but not how it scatters: spread = {shapes}")
        if strange:
            raise UnitProblem(f"spread {self.shape} does not use {', '.join(strange)}")

    def class_limits(self, value: float) -> tuple[float, float]:
        """Limits of an ISO 286 class about the nominal size given as the value."""
        from fitwright.sizes import standards as sizes

        if self.quantity != "size" or value != value:
            raise UnitProblem("class is for a size, with its nominal size as value")
        nominal = units.without_zeros(units.shown(value, "size").split(" ")[0])
        try:
            zone = sizes.limits(f"{nominal} {self.given['class']}")
        except InputError as error:
            raise UnitProblem(error.problems[0][1]) from error
        return zone.lower, zone.upper

    def at_20(self, readings: list[float], gauge: float) -> tuple[list[float], float]:
        """Readings corrected to 20 degC, and the uncertainty they share."""
        from fitwright.sizes.measured import reading

        if self.quantity != "size":
            raise UnitProblem("temperatures of part and gauge are for a size")
        known = {"part_material": "part", "gauge_material": "gauge"}
        about = {known.get(key, key): self.given[key] for key in WARM & set(self.given)}
        for key in ("part_temperature", "gauge_temperature"):
            if key in about:
                about[key] = self.number(key, "temperature")
        for key in ("temperature_uncertainty", "difference_uncertainty"):
            if key in about:
                about[key] = self.number(key, "difference")
        if gauge == gauge:
            about["gauge_uncertainty"] = gauge
        try:
            raw = reading(readings, **about)
            made = _core.measured_size(raw)
        except InputError as error:
            raise UnitProblem("; ".join(f"{p}: {text}" for p, text in error.problems)) from error
        return made.corrected(raw), made.gauge_part

    def readings_of(self, count: int) -> str:
        """What the readings are of; that one alone is of one part goes without saying."""
        of = self.given.get("of", "one_part" if count == 1 else None)
        if not isinstance(of, str) or of not in READINGS:
            wrong = "" if of is None else f"{told(of)} will not do: "
            words = "; ".join(f"{word} ({text})" for word, text in READINGS.items())
            raise UnitProblem(f"{wrong}of must say what the readings are of: {words}")
        if "repeatability" in self.given and of != "one_part":
            raise UnitProblem("repeatability is for readings of = one_part")
        return of

    def spread(self, path: str, leaf: int, ends: tuple[int, int], value: float) -> _core.Spread:
        low, high = self.number("low"), self.number("high")
        step = "difference" if self.quantity == "temperature" else self.quantity
        if self.shape == "process":
            cp, cpk = self.number("cp", "ratio"), self.number("cpk", "ratio")
            if not (cp >= cpk > 0.0):
                raise UnitProblem("spread process needs cp, and cpk above zero and at most cp")
            towards = self.given.get("towards", "high")
            if towards not in ("low", "high"):
                raise UnitProblem(f"towards {told(towards)} must be low or high")
            if not low < high:
                raise UnitProblem("spread process needs low below high")
            return _core.process_spread(path, leaf, low, high, cp, cpk, towards == "high")
        readings: list[float] = []
        of, repeatability = "these_parts", NAN
        if "class" in self.given:
            low, high = self.class_limits(value)
            value = NAN
        if self.shape == "measured":
            read = units.to_si(self.given.get("measured"), self.quantity)
            if np.ndim(read) > 1:
                raise UnitProblem("readings must be a plain list")
            readings = np.atleast_1d(read).tolist()
            if too_many("readings", len(readings)):
                raise UnitProblem(too_many("readings", len(readings)))
            of, repeatability = self.readings_of(len(readings)), self.number("repeatability", step)
            deviation = self.number("gauge", step)
            if WARM & set(self.given):
                readings, deviation = self.at_20(readings, deviation)
        else:
            deviation = self.number("deviation", step)
        return _core.Spread(
            path,
            leaf,
            *ends,
            str(self.shape),
            value,
            deviation,
            low,
            high,
            readings,
            of,
            repeatability,
        )


def _move_ends(
    core: _core.System, spreads: dict[str, _core.Spread], inputs: Inputs, path: str
) -> None:
    """What scatters between two inputs goes as far as they do, where `path` is one of them."""
    of = path.removesuffix("_low").removesuffix("_high")
    spread = spreads.get(of)
    if of == path or spread is None or spread.shape not in BOUNDED:
        return
    ends = inputs.ends(of)
    if inputs.leaf(path) in ends:
        spreads[of] = spread.between(core.value(ends[0]), core.value(ends[1]))


def read_number(
    core: _core.System,
    spreads: dict[str, _core.Spread],
    inputs: Inputs,
    path: str,
    given: Any,
    units_needed: bool = False,
) -> None:
    """Sets one input: a value, or a table of value, ends and scatter. Raises UnitProblem."""
    leaf, quantity = inputs.leaf(path), inputs.quantity(path)
    before = core.value(leaf)
    ends = inputs.ends(path)
    if not isinstance(given, Mapping):
        value = one_number(given, quantity, units_needed)
        core.set(leaf, value)
        old = spreads.get(path)
        if old is not None and old.leaf == leaf:
            spreads[path] = old.moved(value - before)
        _move_ends(core, spreads, inputs, path)
        return

    table = Scatter(given, quantity, units_needed)
    value = table.number("value")
    works_itself_out = table.shape in ("measured", "process")
    if value != value and before != before and not works_itself_out:
        raise UnitProblem("needs a value")
    if value != value and not works_itself_out:
        value = before
    if value == value:
        core.set(leaf, value)
    has_ends = ends[0] >= 0
    if has_ends:
        for end, key in zip(ends, ("low", "high"), strict=True):
            bound = table.number(key)
            if bound == bound:
                core.set(end, bound)
    table.refuse_strangers(has_ends)
    if table.shape is None:
        spreads.pop(path, None)
        return
    spread = table.spread(path, leaf, ends, value)
    if has_ends and table.shape in BOUNDED:
        spread = spread.between(core.value(ends[0]), core.value(ends[1]))
    problem = spread.problem()
    if problem:
        raise UnitProblem(f"spread {table.shape} {problem}")
    spreads[path] = spread
    if value != value or "class" in given:
        core.set(leaf, spread.middle)  # what the readings, the process or the class say
