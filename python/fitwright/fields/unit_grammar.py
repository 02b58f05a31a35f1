"""The small grammar of numbers and units as a shop writes them. Nothing else reaches the library of
units: powers are small whole numbers, names are words, and no arithmetic is left to do.

    number  = decimal | fraction | whole fraction          "80", ".5e-3", "5/16", "1 1/4", "1-1/4"
    unit    = ["1" "/"] power { ("*" | "·" | "." | "-" | " " | "/") power }
    power   = name ["^" exponent | "**" exponent | digit] | "(" unit ")"
"""

from __future__ import annotations

import re
from fractions import Fraction
from functools import lru_cache

#: A number and what stands behind it. A text that is longer is no number with a unit.
LONGEST = 80
#: Powers (halves count) and factors of a unit: kg m^2/s^3 has three.
GREATEST_POWER = 4
MOST_FACTORS = 8
DEEPEST = 2

_NUMBER = re.compile(
    r"\s*([+-]?)(?:(?:([0-9]{1,6})[ -])?([0-9]{1,6})/([0-9]{1,6})(?![0-9.])"
    r"|((?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?))\s*(.*?)\s*"
)
_COMMA = re.compile(r"(\s*[+-]?[0-9]+),([0-9].*)")
_THOUSANDS = re.compile(r"[0-9]{3}(?![0-9])")
_TOKEN = re.compile(r"\s*(\*\*|[*·⋅×./()^+-]|[0-9]+(?:\.[05])?|[^\W\d_][^\W\d]*|°[CF]?|%)")
_SUPERSCRIPTS = {"¹": "^1", "²": "^2", "³": "^3", "⁴": "^4", "⁻": "^-"}

#: How a shop spells what the library of units knows by another name: name -> factor, names.
SPELLED: dict[str, tuple[Fraction, tuple[str, ...]]] = {
    **{
        spelling: (Fraction(1), (name,))
        for name, spellings in {
            "thou": ("mil", "mils", "thous"),
            "rpm": ("RPM", "Rpm"),
            "turn": ("rev", "revs"),
            "deg": ("°",),
            "degC": ("°C",),
            "degF": ("°F",),
            "lbf": ("lbsf",),
        }.items()
        for spelling in spellings
    },
    **dict.fromkeys(("tenth", "tenths"), (Fraction(1, 10), ("thou",))),
    # Some releases of the library read "Nm" as a measure of yarn.
    **{
        f"{prefix}N{length}": (Fraction(1), (f"{prefix}N", length))
        for prefix in ("", "k", "M")
        for length in ("m", "mm", "cm")
    },
}
#: In a torque a pound beside a length is a pound of force: "ft-lb".
POUNDS = ("lb", "lbs", "pound", "pounds")
LENGTHS = ("ft", "in", "foot", "feet", "inch", "inches")
#: Turns of a thread in an inch: a pitch.
PER_INCH = ("tpi", "TPI", "thread per inch", "threads per inch")

#: A unit as (name, power) in order, and what it is times.
Powers = tuple[tuple[str, Fraction], ...]
Factors = tuple[Fraction, Powers]


class NotAUnit(ValueError):
    """A text that the grammar does not know."""


def split(text: str) -> tuple[float | Fraction, str] | None:
    """The number at the start of a text, exact where it can be, and the unit behind it."""
    match = _NUMBER.fullmatch(text) if text.isprintable() and len(text) <= LONGEST else None
    if match is None:
        return None
    sign, whole, top, bottom, decimal, unit = match.groups()
    if decimal is not None:
        value = float(sign + decimal)
        # Beyond these the exact number could be of any length.
        exact = 1e-290 < abs(value) < 1e290
        return (Fraction(sign + decimal) if exact else value), unit
    if int(bottom) == 0 or (whole is not None and int(top) >= int(bottom)):
        return None
    part = Fraction(int(top), int(bottom)) + int(whole or 0)
    return (-part if sign == "-" else part), unit


def with_point(text: str) -> str | None:
    """How a number with a comma is written; None where it has none."""
    match = _COMMA.fullmatch(text)
    if match is None:
        return None
    told = f'"{match[1].strip()}.{match[2].strip()}"'
    if _THOUSANDS.match(match[2]):
        told += f', or "{match[1].strip()}{match[2].strip()}" where it parts thousands'
    return told


@lru_cache(maxsize=1024)
def read(unit: str, is_torque: bool = False) -> Factors:
    """A unit as factor and powers of names. Raises NotAUnit."""
    if len(unit) > LONGEST or not unit.isprintable():
        raise NotAUnit("too long")
    factor, powers = _Reader(unit).whole()
    if is_torque and sorted(p for _, p in powers) == [1, 1]:
        names = {name for name, _ in powers}
        if names & set(POUNDS) and names & set(LENGTHS):
            powers = tuple(("lbf" if name in POUNDS else name, p) for name, p in powers)
    return factor, powers


def text_of(powers: Powers) -> str:
    """As the library of units reads it."""
    told = (
        f"{name}**{power if power.denominator == 1 else float(power)}" for name, power in powers
    )
    return "*".join(told) or "dimensionless"


class _Reader:
    """One pass over the words of a unit, from left to right."""

    def __init__(self, unit: str) -> None:
        for sign, power in _SUPERSCRIPTS.items():
            unit = unit.replace(sign, power)
        unit = unit.replace("^-^", "^-").replace("µ", "u").replace("μ", "u")
        self.words: list[str] = []
        at = 0
        unit = unit.strip()
        while at < len(unit):
            match = _TOKEN.match(unit, at)
            if match is None:
                raise NotAUnit(unit[at:])
            self.words.append(match[1])
            at = match.end()
        self.at = 0
        self.factor = Fraction(1)
        self.powers: list[tuple[str, Fraction]] = []

    def whole(self) -> Factors:
        if self._next() == "1" and self._next(1) == "/":
            self.at += 1
        elif self._next() == "/":
            pass
        elif self.words:
            self._power(1, 0)
        self._rest(1, 0)
        if self.at < len(self.words):
            raise NotAUnit(self.words[self.at])
        return self.factor, tuple(self.powers)

    def _next(self, ahead: int = 0) -> str:
        at = self.at + ahead
        return self.words[at] if at < len(self.words) else ""

    def _rest(self, sign: int, depth: int) -> None:
        """Further factors, to the end or to a closing bracket."""
        while self._next() not in ("", ")"):
            word = self._next()
            if word in ("*", "·", "⋅", "×", ".", "/", "-"):
                self.at += 1
            self._power(-sign if word == "/" else sign, depth)

    def _power(self, sign: int, depth: int) -> None:
        word = self._next()
        if word == "(":
            if depth == DEEPEST:
                raise NotAUnit("nested too deeply")
            self.at += 1
            if self._next() == "1" and self._next(1) == "/":
                self.at += 1
            else:
                self._power(sign, depth + 1)
            self._rest(sign, depth + 1)
            if self._next() != ")":
                raise NotAUnit("a bracket is not closed")
            self.at += 1
            return
        if not (word and (word[0].isalpha() or word[0] in "°%")):
            raise NotAUnit(word)
        self.at += 1
        self._add(word, sign * self._exponent())

    def _exponent(self) -> Fraction:
        word = self._next()
        marked = word in ("^", "**")
        if marked:
            self.at += 1
            word = self._next()
        sign = 1
        if marked and word in ("-", "+"):
            sign = -1 if word == "-" else 1
            self.at += 1
            word = self._next()
        if not word[:1].isdigit():
            if marked:
                raise NotAUnit("a power is not a number")
            return Fraction(1)
        self.at += 1
        power = Fraction(word) if len(word) < 4 else Fraction(GREATEST_POWER + 1)
        if not 0 < power <= GREATEST_POWER:
            raise NotAUnit(f"power {word[:8]}")
        return sign * power

    def _add(self, name: str, power: Fraction) -> None:
        times, names = SPELLED.get(name, (Fraction(1), (name,)))
        if times != 1 and power.denominator > 1:
            raise NotAUnit(f"power {power}")
        for _ in range(abs(power.numerator) if times != 1 else 0):
            self.factor = self.factor * times if power > 0 else self.factor / times
        self.powers += [(each, power) for each in names]
        if len(self.powers) > MOST_FACTORS:
            raise NotAUnit("more factors than a unit has")
