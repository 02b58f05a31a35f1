"""Several rings out of square on one shaft, and the best way to turn them against each other."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from fitwright import _core
from fitwright.fields.arguments import checked
from fitwright.fields.errors import InputError
from fitwright.fields.tables import Shown, Table
from fitwright.fields.units import Number, shown, to_si
from fitwright.models.results import MODELS, Arguments
from fitwright.stack.clocking import AIMS, search

__all__ = ["SquareStack"]

_INPUTS = MODELS["stack.wedge"]["inputs"]
_OUTPUTS = MODELS["stack.wedge"]["outputs"]["fields"]
_WHOLE = [f for f in _OUTPUTS if not f["name"].startswith(("ring_", "seat_"))]
_RING = _OUTPUTS[len(_WHOLE) :]


def _mark(field: Mapping[str, Any], value: float) -> str:
    """Held against the standard limit of an output: "good", "bad", or "" where it has none."""
    low, high = field["low"], field["high"]
    if low != low and high != high:
        return ""
    return "bad" if value < low or value > high else "good"


class RingAnswer:
    """One ring of a bent stack; every output an attribute [SI]."""

    def __init__(self, values: list[float]) -> None:
        for field, value in zip(_RING, values, strict=True):
            setattr(self, field["name"], value)

    def __getattr__(self, name: str) -> float:  # told by the field table
        raise AttributeError(name)


@checked
class SquareAnswer(Shown):
    """Bend and unbalance of a stack; every output an attribute [SI], `.rings[name]` the rings."""

    def __init__(self, values: list[float], names: list[str]) -> None:
        for field, value in zip(_WHOLE, values, strict=False):
            setattr(self, field["name"], value)
        self.rings: dict[str, RingAnswer] = {}
        at = len(_WHOLE)
        for name in names:
            self.rings[name] = RingAnswer(values[at : at + len(_RING)])
            at += len(_RING)

    def __getattr__(self, name: str) -> float:  # told by the field table
        raise AttributeError(name)

    def _all(self) -> list[tuple[str, Mapping[str, Any], float]]:
        told = [(f["name"], f, float(getattr(self, f["name"]))) for f in _WHOLE]
        for name, ring in self.rings.items():
            told += [
                (f"rings.{name}.{f['name']}", f, float(getattr(ring, f["name"]))) for f in _RING
            ]
        return told

    @property
    def not_met(self) -> list[str]:
        """Outputs beyond their limit: a face that opens, an unbalance above the grade."""
        return [path for path, field, value in self._all() if _mark(field, value) == "bad"]

    def table(self, units: str | None = None) -> Table:
        rows = [
            [path, shown(value, field["quantity"], units), field["meaning"]]
            for path, field, value in self._all()
        ]
        marks = [_mark(field, value) for _, field, value in self._all()]
        return Table(["output", "value", "meaning"], rows, "stack out of square", marks)


@checked
class SquareStack:
    """Rings between shoulder and nut, in order from the shoulder, with what is out of square.

    Parameters
    ----------
    shaft : SquareShaft
    rings : name to SquareRing, from the shoulder on (a washer is a ring too)
    clamp, rotor_mass, speed and the other fields of fw.stack.wedge

    >>> stack = fw.stack.SquareStack(shaft=..., rings={"sleeve": ..., "wheel": ...},
    ...                              clamp="40 kN", rotor_mass="60 kg", speed="11000 rpm")
    >>> stack.evaluate().runout
    >>> stack.clock("runout", slots={"wheel": 4}).table()
    """

    def __init__(self, *, shaft: Any, rings: Mapping[str, Any], **whole: Number) -> None:
        known = [f["name"] for f in _INPUTS["fields"] if f["kind"] != "part"]
        problems = [
            (name, f"is not a field; there is {', '.join(known)}")
            for name in whole
            if name not in known
        ]
        if not isinstance(rings, Mapping) or not rings:
            problems.append(("rings", "name at least one ring, in order from the shoulder"))
        if problems:
            raise InputError(problems)
        self._names = [str(name) for name in rings]
        head: list[float] = []
        read: list[tuple[str, Any, list[float]]] = []
        metal: Any = None
        seen: set[tuple[str, str]] = set()
        for name, ring in rings.items():
            try:
                one = Arguments("stack.wedge", {**whole, "shaft": shaft, "ring": ring})
            except InputError as error:
                for path, text in error.problems:
                    own = path == "ring" or path.startswith("ring.")
                    problem = (f"rings.{name}{path[4:]}" if own else path, text)
                    if problem not in seen:
                        seen.add(problem)
                        problems.append(problem)
                continue
            if one.are_arrays:
                raise InputError([(f"rings.{name}", "must be single numbers, not arrays")])
            first = next(i for i, path in enumerate(one.paths) if path.startswith("ring."))
            numbers = [float(value) for value in one.values]
            head, metal = numbers[:first], one.materials[0]
            read.append((str(name), one.materials[1], numbers[first:]))
        if problems:
            raise InputError(problems)
        self._core = _core.SquareStack(head, metal, read)

    @property
    def names(self) -> list[str]:
        """The rings, from the shoulder on."""
        return list(self._names)

    def evaluate(self) -> SquareAnswer:
        """Bend, tilt, runout and unbalance as the rings stand."""
        return SquareAnswer(self._core.evaluate(), self._names)

    def turned(self, turns: Mapping[str, float]) -> SquareStack:
        """The same with rings turned further, in full turns."""
        self._check("turns", turns)
        other = SquareStack.__new__(SquareStack)
        other._names = list(self._names)
        other._core = self._core.turned([float(turns.get(name, 0.0)) for name in self._names])
        return other

    def _check(self, path: str, given: Mapping[str, Any]) -> None:
        unknown = [
            (f"{path}.{name}", f"is not a ring; there is {', '.join(self._names)}")
            for name in given
            if name not in self._names
        ]
        if unknown:
            raise InputError(unknown)

    def _slots(self, given: int | Mapping[str, int] | None) -> dict[str, int]:
        if given is None:
            given = 0
        if not isinstance(given, Mapping):
            given = dict.fromkeys(self._names, given)
        self._check("slots", given)
        slots = {name: given.get(name, 1) for name in self._names}
        wrong = [
            (f"slots.{name}", f"{n!r} must be a whole number: 0 any angle, 1 stays, 2 to 1000")
            for name, n in slots.items()
            if not isinstance(n, int) or isinstance(n, bool) or not 0 <= n <= 1000
        ]
        if wrong:
            raise InputError(wrong)
        return slots

    def clock(
        self,
        aim: str = "bend",
        *,
        of: str | None = None,
        slots: int | Mapping[str, int] | None = None,
        ways: int = 20_000,
        seed: int = 1,
    ) -> Clocked:
        """Turns the rings so that the aim is least.

        Parameters
        ----------
        aim : "bend", "tilt" (of the ring faces), "runout", or "unbalance" (use of the permissible)
        of : the ring whose tilt or runout counts; the worst ring when left out
        slots : positions each ring can take, evenly spaced: a number for all, or by name (who is
            not named stays); 0 is any angle, and that of all rings when left out
        ways : ways looked at for the spread where they are too many to try every one
        seed : of the search and of those ways

        Few ways are tried one and all; more are searched by SciPy's differential evolution
        (pip install 'fitwright[study]').
        """
        if aim not in AIMS:
            raise InputError([("aim", f"{aim!r} must be one of {', '.join(AIMS)}")])
        if of is not None and (aim not in ("tilt", "runout") or of not in self._names):
            told = f"must be a ring ({', '.join(self._names)}), for tilt or runout alone"
            raise InputError([("of", f"{of!r} {told}")])
        if not isinstance(ways, int) or isinstance(ways, bool) or ways < 2:
            raise InputError([("ways", f"{ways!r} must be a whole number above 1")])
        read = self._slots(slots)
        counts = list(read.values())
        place = -1 if of is None else self._names.index(of)
        clocking = _core.Clocking(self._core, aim, place)
        all_ways = _core.Clocking.ways(counts)
        every = 0 not in counts and all_ways <= _core.Clocking.most_ways()
        if every:
            found, spread = clocking.every_way(counts)
            positions = [float(p) for p in found]
        else:
            positions = search(clocking, counts, seed)
            spread = clocking.at_random(counts, ways, seed)
        turns = [p / (n or 1) for p, n in zip(positions, counts, strict=True)]
        rows = np.asarray([turns, [0.0 for _ in turns]], dtype=np.float64)
        best, as_given = (float(v) for v in clocking.at(rows))
        values = {
            **spread, "best": best, "as_given": as_given, "bound": clocking.bound(), "every": every
        }  # fmt: skip
        turned = self.turned(dict(zip(self._names, turns, strict=True)))
        by_name = dict(zip(self._names, positions, strict=True))
        return Clocked(aim, read, by_name, turned, values)


@checked
class Clocked(Shown):
    """The best way found to turn the rings, `.stack` so turned, and how all ways spread [SI]."""

    def __init__(
        self,
        aim: str,
        slots: dict[str, int],
        positions: dict[str, float],
        turned: SquareStack,
        values: Mapping[str, float],
    ) -> None:
        self.aim, self.slots, self.positions, self.stack = aim, slots, positions, turned
        self.best, self.as_given = values["best"], values["as_given"]
        self.bound = values["bound"]
        self.least, self.mean, self.median = values["least"], values["mean"], values["median"]
        self.most, self.greatest = values["most"], values["greatest"]
        self.ways = int(values["ways"])
        self.method = "every way" if values["every"] else "search"

    def table(self, units: str | None = None) -> Table:
        quantity = AIMS[self.aim]
        rows = []
        for name, position in self.positions.items():
            n = self.slots[name]
            if n == 0:
                angle = to_si(f"{position!r} turn", "angle")
                told = f"turned {shown(float(angle), 'angle')}"
            else:
                told = "stays" if n == 1 else f"position {position:.0f} of 0 to {n - 1}"
            rows.append([f"rings.{name}", told])
        for label, value in (
            ("as given", self.as_given),
            ("best", self.best),
            ("no way is below", self.bound),
            ("mean of the ways", self.mean),
            ("95 % of the ways below", self.most),
            ("worst of the ways", self.greatest),
        ):
            rows.append([label, shown(value, quantity, units)])
        title = f"clocking for least {self.aim}: {self.method}, spread of {self.ways} ways"
        return Table(["", ""], rows, title)
