"""Expressions of a user's own over paths, with their units held together. Read, never run as code.

    sum     = product { ("+" | "-") product }
    product = signed { ("*" | "/") signed }
    signed  = ["-" | "+"] atom
    atom    = "(" sum ")" | word "(" sum { "," sum } ")" | number ["unit"] | path
    word    = "min" | "max" | "abs" | "sqrt"
    path    = names joined by dots, with "@state" for an output of one state

A number may carry a unit, as in "2.5 kN" or "8 um"; where it has none it is a plain number.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cache

from fitwright.fields import units
from fitwright.fields.units import QUANTITIES, UnitProblem
from fitwright.fields.user_text import shortened

__all__ = ["Compiled", "Named", "compile_expression"]

#: Letters of an expression, and brackets and signs within each other.
LONGEST = 2000
DEEPEST = 24

_TOKEN = re.compile(
    r"\s*(?:(?P<number>(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)"
    r"(?:\s*(?P<unit>[^\W\d_][\w%^/·*]*?(?=\s*(?:[-+),]|$|\s[*/]))))?"
    r"|(?P<path>[^\W\d]\w*(?:\.\w+)*(?:@\w+)?)"
    r"|(?P<sign>[-+*/(),]))"
)
_WORDS = {"min": "least", "max": "greatest", "abs": "absolute", "sqrt": "root"}

#: Powers of metre, kilogram, second and kelvin; halves count (N/m^1.5).
Dimension = tuple[float, float, float, float]
PLAIN: Dimension = (0.0, 0.0, 0.0, 0.0)
_BASE: dict[str, Dimension] = {
    "1": PLAIN,
    "rad": PLAIN,
    "revolution": PLAIN,
    "m": (1, 0, 0, 0),
    "kg": (0, 1, 0, 0),
    "s": (0, 0, 1, 0),
    "K": (0, 0, 0, 1),
    "degC": (0, 0, 0, 1),
    "Hz": (0, 0, -1, 0),
    "N": (1, 1, -2, 0),
    "Pa": (-1, 1, -2, 0),
    "J": (2, 1, -2, 0),
    "W": (2, 1, -3, 0),
}


def _times(a: Dimension, b: Dimension, power: float = 1.0) -> Dimension:
    return (
        a[0] + power * b[0],
        a[1] + power * b[1],
        a[2] + power * b[2],
        a[3] + power * b[3],
    )


@cache
def dimension_of(quantity: str) -> Dimension:
    """Of the SI unit of a quantity, such as "W/m^2/K"."""
    made, sign = PLAIN, 1.0
    for part in re.split(r"([*/])", QUANTITIES[quantity]["si"]):
        if part in "*/":
            sign = 1.0 if part == "*" else -1.0
            continue
        name, _, power = part.partition("^")
        made = _times(made, _BASE[name], sign * float(power or 1))
    return made


#: A quantity of a kind is shown as: the most usual one of several with the same unit.
_USUAL = ("ratio", "size", "force", "stress", "torque", "difference", "speed", "time", "mass")


def quantity_with(dimension: Dimension) -> str:
    """The quantity an answer is shown as; empty where there is none of that kind."""
    for name in (*_USUAL, *QUANTITIES):
        if name != "temperature" and dimension_of(name) == dimension:
            return name
    return ""


@dataclass(frozen=True)
class Named:
    """What a path stands for: ("output" or "input", its number), and its quantity."""

    kind: str
    place: int
    quantity: str


@dataclass(frozen=True)
class _Value:
    dimension: Dimension
    #: on the Celsius scale, where only differences and sums with differences make sense
    scale: bool = False
    #: of what it is made of alone: sizes and fine sizes are told apart where all are fine
    quantity: str = ""


@dataclass
class Compiled:
    """An expression as the core runs it: its steps, its quantity, the outputs it names."""

    steps: list[tuple[str, int, float]] = field(default_factory=list)
    quantity: str = ""
    names: list[str] = field(default_factory=list)


class _Reader:
    def __init__(self, text: str, find: Callable[[str], Named]) -> None:
        self.text, self.find, self.made = text, find, Compiled()
        self.tokens: list[tuple[str, str, str]] = []
        self.next = self.depth = 0
        place = 0
        while text[place:].strip():
            match = _TOKEN.match(text, place)
            if match is None:
                raise UnitProblem(
                    f'"{shortened(text)}" cannot be read at "{text[place:].strip()[:12]}"'
                )
            kind = str(match.lastgroup if match.lastgroup != "unit" else "number")
            self.tokens.append((kind, match[kind], match["unit"] or ""))
            place = match.end()
        self.tokens.append(("end", "", ""))

    def look(self) -> str:
        kind, text, _ = self.tokens[self.next]
        return text if kind == "sign" else ""

    def take(self) -> tuple[str, str, str]:
        token = self.tokens[self.next]
        self.next += 1
        return token

    def expect(self, sign: str) -> None:
        if self.look() != sign:
            found = self.tokens[self.next][1] or "its end"
            raise UnitProblem(f'"{shortened(self.text)}" needs a "{sign}" before {found}')
        self.next += 1

    def step(self, what: str, place: int = 0, value: float = 0.0) -> None:
        self.made.steps.append((what, place, value))

    def whole(self) -> Compiled:
        value = self.sum()
        if self.tokens[self.next][0] != "end":
            raise UnitProblem(
                f'"{shortened(self.text)}" cannot be read at "{self.tokens[self.next][1]}"'
            )
        if value.scale:
            self.made.quantity = "temperature"
        else:
            same = value.quantity and dimension_of(value.quantity) == value.dimension
            self.made.quantity = value.quantity if same else quantity_with(value.dimension)
        return self.made

    def same(self, a: _Value, b: _Value, sign: str) -> None:
        if a.dimension != b.dimension:
            raise UnitProblem(f"{_unit(a)} {sign} {_unit(b)} cannot be: the units differ")

    def sum(self) -> _Value:
        value = self.product()
        while self.look() in ("+", "-"):
            sign = self.take()[1]
            other = self.product()
            self.same(value, other, sign)
            if value.scale and other.scale and sign == "+":
                raise UnitProblem("two temperatures cannot be added; a difference can")
            if other.scale and not value.scale:
                if sign == "-":
                    raise UnitProblem("a temperature cannot be taken from a difference")
                value = other
            elif value.scale and other.scale:
                value = _Value(value.dimension, False, "difference")
            else:
                value = _Value(value.dimension, value.scale, _both(value, other))
            self.step("add" if sign == "+" else "subtract")
        return value

    def product(self) -> _Value:
        value = self.signed()
        while self.look() in ("*", "/"):
            sign = self.take()[1]
            other = self.signed()
            for each in (value, other):
                if each.scale:
                    raise UnitProblem(
                        f'a temperature on its scale has no "{sign}"; take a difference first'
                    )
            plain = other.dimension == PLAIN
            kept = value.quantity if plain else ""
            if sign == "*" and value.dimension == PLAIN and not plain:
                kept = other.quantity
            power = 1.0 if sign == "*" else -1.0
            value = _Value(_times(value.dimension, other.dimension, power), False, kept)
            self.step("multiply" if sign == "*" else "divide")
        return value

    def signed(self) -> _Value:
        if self.look() in ("-", "+"):
            self.deeper()
            sign = self.take()[1]
            value = self.signed()
            self.depth -= 1
            if sign == "-":
                if value.scale:
                    raise UnitProblem("a temperature on its scale has no sign of its own")
                self.step("negate")
            return value
        return self.atom()

    def deeper(self) -> None:
        self.depth += 1
        if self.depth > DEEPEST:
            raise UnitProblem(f"has more than {DEEPEST} brackets and signs within each other")

    def atom(self) -> _Value:
        kind, text, unit = self.take()
        if kind == "number":
            return self.number(text, unit)
        if kind == "path" and self.look() == "(":
            return self.call(text)
        if kind == "path":
            named = self.find(text)
            self.step(named.kind, named.place)
            self.made.names.append(text)
            return _Value(
                dimension_of(named.quantity), named.quantity == "temperature", named.quantity
            )
        if text == "(":
            self.deeper()
            value = self.sum()
            self.expect(")")
            self.depth -= 1
            return value
        raise UnitProblem(f'"{shortened(self.text)}" cannot be read at "{text or "its end"}"')

    def number(self, text: str, unit: str) -> _Value:
        if not unit:
            self.step("number", 0, float(text))
            return _Value(PLAIN)
        for quantity in (*_USUAL, *QUANTITIES):
            try:
                value = units.to_si(f"{text} {unit}", quantity)
            except UnitProblem:
                continue
            self.step("number", 0, float(value))
            return _Value(dimension_of(quantity), quantity == "temperature")
        raise UnitProblem(f'"{shortened(unit)}" is not a unit of any quantity here')

    def call(self, word: str) -> _Value:
        if word not in _WORDS:
            raise UnitProblem(f'"{shortened(word)}" is not one of min, max, abs, sqrt')
        self.expect("(")
        self.deeper()
        value = self.sum()
        if word in ("abs", "sqrt"):
            self.expect(")")
            self.depth -= 1
            if value.scale:
                raise UnitProblem(f"{word} of a temperature on its scale says nothing")
            self.step(_WORDS[word])
            return value if word == "abs" else _Value(_times(PLAIN, value.dimension, 0.5))
        if self.look() != ",":
            raise UnitProblem(f"{word} needs two values or more")
        while self.look() == ",":
            self.take()
            other = self.sum()
            self.same(value, other, word)
            if value.scale != other.scale:
                raise UnitProblem(f"{word} of a temperature and a difference says nothing")
            value = _Value(value.dimension, value.scale, _both(value, other))
            self.step(_WORDS[word])
        self.expect(")")
        self.depth -= 1
        return value


def _both(a: _Value, b: _Value) -> str:
    """What two of one kind are shown as: as the first that has a quantity."""
    return a.quantity or b.quantity


def _unit(value: _Value) -> str:
    if value.quantity:
        return f"[{QUANTITIES[value.quantity]['si']}]"
    powers = zip(("m", "kg", "s", "K"), value.dimension, strict=True)
    text = " ".join(name if power == 1 else f"{name}^{power:g}" for name, power in powers if power)
    return f"[{text or '1'}]"


def compile_expression(text: str, find: Callable[[str], Named]) -> Compiled:
    """Steps of an expression. `find` tells what a path is and raises UnitProblem or InputError.

    Raises UnitProblem naming what cannot be read, units that do not fit, and answers that have no
    quantity here.
    """
    if not isinstance(text, str) or not text.strip():
        raise UnitProblem("must be an expression as text")
    if len(text) > LONGEST:
        raise UnitProblem(f"has {len(text)} letters: at most {LONGEST}")
    made = _Reader(text, find).whole()
    if not made.names:
        raise UnitProblem("names no input and no output")
    if not made.quantity:
        raise UnitProblem("comes out in a unit that no quantity here has")
    return made
