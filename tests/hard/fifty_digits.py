"""Formulas again with 50 digits: the C++ tests write down every operation of a formula in double (a
tape, see tests/cpp/tape.hpp), and mpmath does the same operations."""

from __future__ import annotations

import math
import os
import subprocess
import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from random import Random
from typing import Any

import fitwright as fw
import model_calls
from fitwright.models.results import MODELS, Arguments, flat_fields
from mpmath import mp, mpf

mp.dps = 50

ROOT = Path(__file__).resolve().parents[2]
TESTS = ROOT / "build" / "release" / "cpp" / "fitwright_tests"
#: What one rounding may cost.
UNIT = 2.0**-53

#: Models that step through time or seek a balance: they are no closed forms, and their own tests
#: hold them to finer steps.
STEPPED = (
    "bearings.equilibrium",
    "heat.body",
    "heat.induction",
    "heat.loosen",
    "heat.slip_on",
    "heat.soak",
)
NAMES = tuple(name for name in model_calls.NAMES if name not in STEPPED)


@dataclass(frozen=True)
class Call:
    """One call of a model: its numbers in the order of the core, metals and choices."""

    model: str
    numbers: tuple[float, ...]
    metals: tuple[str, ...]
    choices: tuple[int, ...]

    def line(self) -> str:
        numbers = " ".join(x.hex() for x in self.numbers)
        choices = " ".join(map(str, self.choices))
        return f"{self.model};{' '.join(self.metals)};{choices};{numbers}"


@dataclass(frozen=True)
class Output:
    """One number of an answer: in double, in 50 digits, and how many times a relative error of the
    inputs comes back in it."""

    name: str
    value: float
    exact: Any
    condition: float

    @property
    def error(self) -> float:
        """Relative, of double."""
        if self.exact == self.value:
            return 0.0
        return float(abs((mpf(self.value) - self.exact) / self.exact)) if self.exact else math.inf


def calls(model: str, count: int, seed: int) -> list[Call]:
    """About the model's example and anywhere within its ranges; what it refuses goes out later."""
    random = Random(f"{model} {seed}")
    made: list[Call] = []
    tries = 0
    while len(made) < count and tries < 50 * count:
        tries += 1
        if random.random() < 0.4:
            given = model_calls.anywhere(random, MODELS[model]["inputs"])
        else:
            given = model_calls.near(model, random, random.choice([0.03, 0.3, 1.0]), 0.7)
        try:
            call = Arguments(model, given)
        except fw.InputError:
            continue
        metals = tuple(m.name for m in call.materials)
        made.append(Call(model, tuple(map(float, call.values)), metals, tuple(call.choices)))
    return made


def tapes(asked: Sequence[Call], tests: Path = TESTS) -> Iterator[tuple[Call, list[str]]]:
    """Each call with its tape."""
    with tempfile.TemporaryDirectory() as folder:
        asks, tells = Path(folder, "asked"), Path(folder, "tapes")
        asks.write_text("".join(call.line() + "\n" for call in asked), encoding="ascii")
        environment = {
            **os.environ, "FITWRIGHT_TAPES_ASKED": str(asks), "FITWRIGHT_TAPES": str(tells)
        }  # fmt: skip
        subprocess.run(
            [tests, "[.accuracy]"], env=environment, check=True, stdout=subprocess.DEVNULL
        )
        with tells.open(encoding="ascii") as lines:
            for call, line in zip(asked, lines, strict=True):
                yield call, line.rstrip("\n").split(";")


def _sum(a: Any, b: Any) -> Any:
    """Where nothing but the last places of 50 digits is left of two numbers, they are opposite."""
    total = a + b
    return total if abs(total) > max(abs(a), abs(b)) * mpf(10) ** -45 else mpf(0)


def _expm1_over(x: Any) -> Any:
    return mp.expm1(x) / x if x else mpf(1)


#: The value with 50 digits, and the slopes in double by value and arguments.
OPERATIONS: dict[str, tuple[Any, Any]] = {
    "+": (_sum, lambda v, a, b: (1.0, 1.0)),
    "-": (lambda a, b: _sum(a, -b), lambda v, a, b: (1.0, -1.0)),
    "*": (lambda a, b: a * b, lambda v, a, b: (b, a)),
    "/": (lambda a, b: a / b, lambda v, a, b: (1.0 / b, -v / b)),
    "negative": (lambda a: -a, lambda v, a: (-1.0,)),
    "and": (lambda a, b: a and b, None),
    "or": (lambda a, b: a or b, None),
    "not": (lambda a: not a, None),
    "<": (lambda a, b: a < b, None),
    "<=": (lambda a, b: a <= b, None),
    ">": (lambda a, b: a > b, None),
    ">=": (lambda a, b: a >= b, None),
    "==": (lambda a, b: a == b, None),
    "sqrt": (mp.sqrt, lambda v, a: (0.5 / v,)),
    "abs": (abs, lambda v, a: (math.copysign(1.0, a),)),
    "exp": (mp.exp, lambda v, a: (v,)),
    "log": (mp.log, lambda v, a: (1.0 / a,)),
    "expm1_over": (
        _expm1_over,
        lambda v, a: ((math.exp(a) - v) / a if abs(a) > 1e-5 else 0.5 + a / 3.0,),
    ),
    "cbrt": (
        lambda a: mp.cbrt(a) if a >= 0 else -mp.cbrt(-a),
        lambda v, a: (v / (3.0 * a),),
    ),
    "sin": (mp.sin, lambda v, a: (math.cos(a),)),
    "cos": (mp.cos, lambda v, a: (-math.sin(a),)),
    "atan": (mp.atan, lambda v, a: (1.0 / (1.0 + a * a),)),
}
_UNDEFINED = (ZeroDivisionError, OverflowError, ValueError, TypeError)


class Tape:
    """The entries of a tape, and what they come to."""

    def __init__(self, told: Sequence[str]) -> None:
        self.rule = int(float(told[0]))
        count = int(told[1])
        self.outputs = [int(place) for place in told[2].split()]
        self.entries: list[tuple[str, tuple[int, ...], float]] = []
        for entry in told[3 : 3 + count]:
            operation, *arguments, value = entry.split(" ")
            places = tuple(int(a) for a in arguments if a != "-1")
            self.entries.append((operation, places, float.fromhex(value)))

    def exact(self) -> list[Any]:
        """Every entry with 50 digits; None where it is undefined (a branch that is not taken).
        What a formula did on double alone ("opaque": a row of a table) stays as it was."""
        values: list[Any] = []
        for operation, places, value in self.entries:
            if operation in ("input", "constant", "opaque"):
                values.append(mpf(value))
                continue
            given = [values[place] for place in places]
            try:
                if operation == "select":
                    chosen = given[1] if given[0] else given[2]
                    values.append(chosen)
                else:
                    made = OPERATIONS[operation][0](*given)
                    values.append(None if isinstance(made, mp.mpc) else made)
            except _UNDEFINED:
                values.append(None)
        return values

    def conditions(self, places: Sequence[int]) -> dict[int, float]:
        """Of the entries at `places`: the sum over the inputs of |slope x input / value|."""
        wanted = {place: self._condition(place) for place in set(places)}
        return wanted

    def _condition(self, place: int) -> float:
        slopes = {place: 1.0}
        total = 0.0
        for k in range(place, -1, -1):
            slope = slopes.pop(k, 0.0)
            if slope == 0.0 or not math.isfinite(slope):
                continue
            operation, places, value = self.entries[k]
            if operation == "input":
                if math.isfinite(value):
                    total += abs(slope * value)
            elif operation == "select":
                taken = places[1] if self.entries[places[0]][2] else places[2]
                slopes[taken] = slopes.get(taken, 0.0) + slope
            elif operation in OPERATIONS and OPERATIONS[operation][1] is not None:
                given = [self.entries[p][2] for p in places]
                try:
                    factors = OPERATIONS[operation][1](value, *given)
                except _UNDEFINED:
                    continue
                for p, factor in zip(places, factors, strict=True):
                    slopes[p] = slopes.get(p, 0.0) + slope * factor
        size = abs(self.entries[place][2])
        return total / size if size > 0.0 else math.inf


NOTHING = 1e-280


def names_of(model: str) -> list[str]:
    """The outputs of a model, in the order of the core."""
    return [field["name"] for field in flat_fields(model, "outputs")]


def quantity_of(model: str, output: str) -> str:
    """What kind of number an output is."""
    kinds = {field["name"]: field["quantity"] for field in flat_fields(model, "outputs")}
    return str(kinds[output])


def outputs(call: Call, told: Sequence[str]) -> list[Output]:
    """The answer of a call; empty where the model refuses it. Left out are infinities, and what is
    nothing: beside the smallest doubles, where a rating of 0 leaves its mark, no digit counts."""
    tape = Tape(told)
    if tape.rule:
        return []
    exact = tape.exact()
    conditions = tape.conditions(tape.outputs)
    found = []
    for name, place in zip(names_of(call.model), tape.outputs, strict=True):
        value = tape.entries[place][2]
        if exact[place] is None or not math.isfinite(value) or 0.0 < abs(value) < NOTHING:
            continue
        found.append(Output(name, value, exact[place], conditions[place]))
    return found


def is_zero(call: Call, output: Output, found: Sequence[Output]) -> bool:
    """A zero of its kind (the moment at an edge that turns freely) has no relative error."""
    kind = quantity_of(call.model, output.name)
    greatest = max(abs(o.value) for o in found if quantity_of(call.model, o.name) == kind)
    return abs(output.value) < 1e-10 * greatest
