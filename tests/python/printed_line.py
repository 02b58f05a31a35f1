"""A line of a shown calculation, worked out again from the numbers it prints, by mpmath.

Every printed number is an interval: half a unit of its last digit either way, and of the seventh
where fewer are printed (they are rounded to seven, trailing zeros left out).
"""

from __future__ import annotations

import re
from functools import cache

import mpmath
from mpmath import mp, mpf

mp.dps = 30

#: One of each in SI. Angles and revolutions count as plain numbers.
UNITS = {
    "m": 1, "mm": "1e-3", "um": "1e-6", "kg": 1, "g": "1e-3", "s": 1, "hour": 3600, "K": 1,
    "degC": 1, "N": 1, "kN": "1e3", "MPa": "1e6", "GPa": "1e9", "Pa": 1, "W": 1, "kW": "1e3",
    "J": 1, "Hz": 1, "Mrevolution": "1e6", "1": 1,
}  # fmt: skip
#: Slack beside the intervals: the double itself is rounded.
EPSILON = mpf("1e-13")

NUMBER = re.compile(r"\d+(?:\.\d+)?(?:e[+-]?\d+)?")
UNIT = re.compile(r" (1/[^\s(),]+|[A-Za-z][^\s(),]*)")
EXPONENT = re.compile(r"\(-[\d.e+-]+\)|[\d.]+(?:e[+-]?\d+)?")
NAME = re.compile(r"[A-Za-z_]+")

Interval = tuple[mpf, mpf]


@cache
def unit(text: str) -> mpf:
    """What one of a unit is in SI: "um/m/K", "N*m", "N/mm^1.5"."""
    if text == "rpm":
        return mp.pi / 30
    if text == "deg":
        return mp.pi / 180
    factor, sign = mpf(1), 1
    for part in re.split(r"([*/])", text):
        if part in "*/":
            sign = 1 if part == "*" else -1
            continue
        name, _, power = part.partition("^")
        factor *= mpf(UNITS[name]) ** (sign * mpf(power or 1))
    return factor


def number(text: str) -> Interval:
    value = mpf(text)
    digits = text.split("e")[0].replace(".", "").lstrip("0")
    if not digits or value == 0:
        return value, value
    top = int(mp.floor(mp.log10(value)))
    half = mpf(10) ** (top - max(len(digits), 7) + 1) / 2
    return value - half, value + half


def _rising(function):
    return lambda x: (function(x[0]), function(x[1]))


def _falling(function):
    return lambda x: (function(x[1]), function(x[0]))


def _hull(function):
    """Of what turns once or not at all over so small an interval, beside a stationary point."""

    def of(x: Interval) -> Interval:
        ends = [function(x[0]), function(x[1]), function((x[0] + x[1]) / 2)]
        slack = (x[1] - x[0]) ** 2
        return min(ends) - slack, max(ends) + slack

    return of


def _elliptic_b(m: mpf) -> mpf:
    return mp.pi / 4 if m == 0 else (mp.ellipe(m) - (1 - m) * mp.ellipk(m)) / m


def _elliptic_d(m: mpf) -> mpf:
    return mp.pi / 4 if m == 0 else (mp.ellipk(m) - mp.ellipe(m)) / m


def _cbrt(x: mpf) -> mpf:
    return mp.sign(x) * mp.cbrt(abs(x))


def _abs(x: Interval) -> Interval:
    low, high = sorted((abs(x[0]), abs(x[1])))
    return (mpf(0), high) if x[0] < 0 < x[1] else (low, high)


FUNCTIONS = {
    "sqrt": _rising(lambda x: mp.sqrt(max(x, mpf(0)))),
    "cbrt": _rising(_cbrt),
    "abs": _abs,
    "exp": _rising(mp.exp),
    "ln": _rising(lambda x: mp.log(max(x, mpf("1e-300")))),
    "sin": _hull(mp.sin),
    "cos": _hull(mp.cos),
    "atan": _rising(mp.atan),
    "K": _rising(lambda m: mp.ellipk(m)),
    "E": _falling(lambda m: mp.ellipe(m)),
    "B": _rising(_elliptic_b),
    "D": _rising(_elliptic_d),
    "normal_quantile": _rising(lambda u: mp.sqrt(2) * mp.erfinv(2 * u - 1)),
}


class Parser:
    """sum = product (+|- product)*, product = power (*|/ power)*, power = atom (^ exponent)."""

    def __init__(self, text: str) -> None:
        self.text, self.at = text, 0

    def whole(self) -> Interval:
        value = self.sum()
        assert self.at == len(self.text), f"{self.text!r} is not read from {self.at}"
        return value

    def take(self, what: str) -> bool:
        if self.text.startswith(what, self.at):
            self.at += len(what)
            return True
        return False

    def sum(self) -> Interval:
        value = self.product()
        while True:
            if self.take(" + "):
                other = self.product()
                value = value[0] + other[0], value[1] + other[1]
            elif self.take(" - "):
                other = self.product()
                value = value[0] - other[1], value[1] - other[0]
            else:
                return value

    def product(self) -> Interval:
        value = self.signed()
        while True:
            if self.take(" * "):
                value = _times(value, self.signed())
            elif self.take(" / "):
                low, high = self.signed()
                assert low > 0 or high < 0, f"{self.text!r} may divide by nothing"
                value = _times(value, (1 / high, 1 / low))
            else:
                return value

    def signed(self) -> Interval:
        if self.take("-"):
            low, high = self.signed()
            return -high, -low
        return self.power()

    def power(self) -> Interval:
        value = self.atom()
        if not self.take("^"):
            return value
        found = EXPONENT.match(self.text, self.at)
        assert found, self.text
        self.at = found.end()
        exponent = mpf(found[0].strip("()"))
        if exponent == 2:
            value = _abs(value)
        elif exponent != int(exponent):
            value = max(value[0], mpf(0)), max(value[1], mpf(0))
        ends = [value[0] ** exponent, value[1] ** exponent]
        return min(ends), max(ends)

    def atom(self) -> Interval:
        if self.take("("):
            value = self.sum()
            assert self.take(")"), self.text
            return value
        if found := NUMBER.match(self.text, self.at):
            self.at = found.end()
            value = number(found[0])
            if named := UNIT.match(self.text, self.at):
                self.at = named.end()
                factor = unit(named[1])
                value = value[0] * factor, value[1] * factor
            return value
        found = NAME.match(self.text, self.at)
        assert found, f"{self.text!r} is not read from {self.at}"
        self.at = found.end()
        if found[0] == "pi":
            return +mp.pi, +mp.pi
        assert self.take("("), self.text
        arguments = [self.sum()]
        while self.take(", "):
            arguments.append(self.sum())
        assert self.take(")"), self.text
        if found[0] in ("max", "min"):
            choose = max if found[0] == "max" else min
            return tuple(choose(ends) for ends in zip(*arguments, strict=True))
        return FUNCTIONS[found[0]](*arguments)


def _times(x: Interval, y: Interval) -> Interval:
    ends = [a * b for a in x for b in y]
    return min(ends), max(ends)


def result_of(result: str, label: str) -> Interval:
    low, high = number(result.lstrip("-"))
    if result.startswith("-"):
        low, high = -high, -low
    factor = unit(label) if label else mpf(1)
    return low * factor, high * factor


def holds(numbers: str, result: str, label: str) -> tuple[bool, mpf]:
    """Whether the printed numbers give the printed result, and how sharply that is known."""
    low, high = Parser(numbers).whole()
    low_told, high_told = result_of(result, label)
    size = max(abs(low), abs(high), abs(low_told))
    slack = EPSILON * size
    width = (high - low) / size if size else mpf(0)
    return bool(low <= high_told + slack and high >= low_told - slack), width


__all__ = ["holds", "mpmath"]
