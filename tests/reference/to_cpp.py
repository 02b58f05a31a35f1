"""Published values from *.toml beside this file, for C++, for pytest and for the docs page.

usage: to_cpp.py HEADER        writes the cases as plain C++ structs

One `[[entry]]` is one published check: id, title, source, status, `remark` about the source,
`relation` when the comparison needs one step of its own. It has cases; `model`, `inputs`,
`material` and `materials` of an entry serve all its cases; a case may add to them or replace them.

    model      a model by room and name, or "materials": the data of the library themselves
    inputs     by path, as a user writes them; "1 / 60 mm" is the curvature of a radius of 60 mm
    material   numbers (what a case leaves out does not matter to it) or a name, for every part;
               materials.ring = ... for one part
    expected   output, value with its printed digits ("LOW to HIGH"; "-" when not
               printed), unit; and where needed
        quantity     what the source calls it
        subtract     taken off the output first ("20 degC": a rise and not a temperature)
        over         the output is divided by it ("2": a radius and not a diameter; "1/1200")
        recomputed   the same by plain theory without rounding on the way
        use          "published" (usual) or "recomputed": which of the two must be met
        tolerance    "0.1 %" or "5 psi"; usually half a unit of the last printed digit
        why          the reason for `use` or `tolerance`

A recomputed value is always held against too, to half a unit of its own last digit.
Standard library only: the C++ build has no pint. tests/python/test_reference.py holds the small
unit table below against pint.
"""

from __future__ import annotations

import math
import re
import sys
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import Any

HERE = Path(__file__).resolve().parent
ROOMS = (
    "rings",
    "heat",
    "materials",
    "threads",
    "stack",
    "bearings",
    "ratings",
    "joints",
    "tooling",
)
FINITE_ELEMENTS = "two independent finite-element programs"
STATUSES = (
    "published",
    "published (last digits from a retyped companion)",
    "published (carried by public programs)",  # that repeat a standard, which was not at hand
    "from memory",
    "common practice",
    FINITE_ELEMENTS,
)
#: Stands for what a case leaves out of its material, because it does not matter there.
PLAIN_METAL = {
    "modulus": "200 GPa",
    "poisson": 0.3,
    "density": "7800 kg/m^3",
    "expansion": "12e-6 1/K",
    "conductivity": "40 W/m/K",
    "heat_capacity": "460 J/kg/K",
}
EPSILONS = 1e-12

_INCH = Fraction("0.0254")  # international yard and pound; standard gravity
_POUND_FORCE = Fraction("4.4482216152605")
#: SI per unit, exact.
UNITS: dict[str, Fraction] = {
    "1": Fraction(1),
    "m": Fraction(1),
    "mm": Fraction(1, 1000),
    "um": Fraction(1, 10**6),
    "in": _INCH,
    "uin": _INCH / 10**6,
    "N": Fraction(1),
    "kN": Fraction(1000),
    "lbf": _POUND_FORCE,
    "MPa": Fraction(10**6),
    "GPa": Fraction(10**9),
    "psi": _POUND_FORCE / _INCH**2,
    "Mpsi": _POUND_FORCE / _INCH**2 * 10**6,
    "K": Fraction(1),
    "delta_degF": Fraction(5, 9),
    "rad": Fraction(1),
    "deg": Fraction(math.pi) / 180,
    "rpm": Fraction(math.pi) / 30,
    "s": Fraction(1),
    "kg": Fraction(1),
    "J": Fraction(1),
    "W": Fraction(1),
    "g": Fraction(1, 1000),
    "lb": Fraction("0.45359237"),
    "oz": Fraction("0.028349523125"),
}
#: Scales with a zero of their own: SI = value * factor + offset (temperatures are degC inside).
SCALES = {"degC": (Fraction(1), Fraction(0)), "degF": (Fraction(5, 9), Fraction(-160, 9))}
_FACTOR = r"\s*([*/]?)\s*([A-Za-z_]+|1)(?:\^(\d+))?"


def scale_of(unit: str) -> tuple[Fraction, Fraction]:
    """(factor, offset) of a unit such as "N/mm^2", "lbf in" or "degF"."""
    if unit in SCALES:
        return SCALES[unit]
    if not unit:
        return Fraction(1), Fraction(0)
    if not re.fullmatch(f"(?:{_FACTOR})+", unit):
        raise ValueError(f'"{unit}" cannot be read as a unit')
    factor = Fraction(1)
    for operator, name, power in re.findall(_FACTOR, unit):
        one = UNITS[name] ** int(power or 1)
        factor = factor / one if operator == "/" else factor * one
    return factor, Fraction(0)


def as_written(value: Any) -> Any:
    """What a user writes: a radius told as "1 / 60 mm" becomes its curvature in 1/mm."""
    radius = re.fullmatch(r"(-?)1 / ([\d.]+) (\w+)", value) if isinstance(value, str) else None
    if radius is None:
        return value
    return f"{radius[1]}{float(1 / Fraction(radius[2]))!r} 1/{radius[3]}"


def split(text: str) -> tuple[str, str]:
    number, _, unit = text.partition(" ")
    return number, unit


def to_si(value: Any) -> float:
    if not isinstance(value, str):
        return float(value)
    number, unit = split(as_written(value))
    factor, offset = scale_of(unit)
    return float(Fraction(number) * factor + offset)


def half_digit(text: str) -> float:
    """Half a unit of the last printed digit."""
    return 0.5 * 10.0 ** int(Decimal(text).as_tuple().exponent)


@dataclass(frozen=True)
class Target:
    """A range, in the unit of the expectation, that the answer must fall into."""

    told: str  # "published" or "recomputed"
    low: float
    high: float


@dataclass(frozen=True)
class Expected:
    output: str
    quantity: str
    value: str
    unit: str = ""
    over: str = "1"
    subtract: str = ""
    recomputed: str = ""
    use: str = "published"
    tolerance: str = ""
    why: str = ""

    @property
    def scale(self) -> tuple[float, float]:
        """(factor, offset): what is compared is (SI - offset)/factor."""
        factor, offset = scale_of(self.unit)
        start = to_si(self.subtract) if self.subtract else float(offset)
        top, _, bottom = self.over.partition("/")
        return float(factor * Fraction(top) / Fraction(bottom or 1)), start

    def in_unit(self, si: float) -> float:
        factor, offset = self.scale
        return (si - offset) / factor

    def _target(self, told: str, text: str) -> Target:
        if " to " in text:
            low, high = text.split(" to ")
            return Target(told, float(low) - half_digit(low), float(high) + half_digit(high))
        middle = float(text)
        within = half_digit(text)
        if self.tolerance and told == self.use:
            number, unit = split(self.tolerance)
            within = float(number) * (abs(middle) / 100 if unit == "%" else 1.0)
        within = max(within, EPSILONS * abs(middle))
        return Target(told, middle - within, middle + within)

    @property
    def targets(self) -> list[Target]:
        targets = [self._target("published", self.value)] if self.use == "published" else []
        if self.recomputed:
            targets.append(self._target("recomputed", self.recomputed))
        return targets

    def check(self, where: str) -> None:
        if self.use not in ("published", "recomputed"):
            raise ValueError(f'{where}: use = "{self.use}"')
        if self.use == "recomputed" and not self.recomputed:
            raise ValueError(f"{where}: there is no recomputed value to use")
        if bool(self.why) != bool(self.tolerance or self.use == "recomputed"):
            raise ValueError(f"{where}: a reason belongs to a tolerance or a recomputed value")
        if self.tolerance and split(self.tolerance)[1] not in ("%", self.unit):
            raise ValueError(f"{where}: tolerance {self.tolerance} is neither in % nor {self.unit}")


@dataclass(frozen=True)
class Case:
    id: str
    name: str
    model: str
    inputs: Mapping[str, Any]  # by path
    #: by part ("" for every part not named): name of a material, or its numbers
    metals: Mapping[str, str | Mapping[str, Any]]
    expected: tuple[Expected, ...]

    @property
    def title(self) -> str:
        return f"{self.id} {self.name}".strip()


@dataclass(frozen=True)
class Entry:
    room: str
    id: str
    title: str
    source: str
    status: str
    remark: str
    relation: str
    cases: tuple[Case, ...]


def _flat(table: Mapping[str, Any], prefix: str = "") -> Iterator[tuple[str, Any]]:
    for key, value in table.items():
        if isinstance(value, Mapping):
            yield from _flat(value, f"{prefix}{key}.")
        else:
            yield prefix + key, value


def _metal(told: str | Mapping[str, Any]) -> str | dict[str, Any]:
    if isinstance(told, str):
        return told
    if unknown := set(told) - set(PLAIN_METAL):
        raise ValueError(f"a material has no {', '.join(unknown)}")
    return {**PLAIN_METAL, **told}


def _case(entry: Mapping[str, Any], case: Mapping[str, Any]) -> Case:
    name = case.get("name", "")
    where = f"{entry['id']} {name}"
    known = {"name", "model", "inputs", "material", "materials", "expected"}
    if unknown := set(case) - known:
        raise ValueError(f"{where}: unknown {', '.join(unknown)}")
    parts = {**entry.get("materials", {}), **case.get("materials", {})}
    everywhere = case.get("material", entry.get("material", {}))
    metals = {"": _metal(everywhere), **{part: _metal(told) for part, told in parts.items()}}
    inputs = dict(_flat(entry.get("inputs", {}))) | dict(_flat(case.get("inputs", {})))
    expected = tuple(Expected(**{"quantity": e["output"], **e}) for e in case["expected"])
    for e in expected:
        e.check(f"{where} {e.output}")
    model = case.get("model", entry.get("model"))
    return Case(entry["id"], name, model, inputs, metals, expected)


def entries() -> list[Entry]:
    """All entries, room by room in the order of the files."""
    found: list[Entry] = []
    for room in ROOMS:
        for e in tomllib.loads((HERE / f"{room}.toml").read_text(encoding="utf-8"))["entry"]:
            if e["status"] not in STATUSES:
                raise ValueError(f"{e['id']}: unknown status {e['status']}")
            cases = tuple(_case(e, case) for case in e["case"])
            told = (
                e["title"],
                e["source"],
                e["status"],
                e.get("remark", ""),
                e.get("relation", ""),
            )
            found.append(Entry(room, e["id"], *told, cases))
    ids = [e.id for e in found]
    if len(ids) != len(set(ids)):
        raise ValueError("an id is used twice")
    return found


STRUCTS = """\
// Made by tests/reference/to_cpp.py from the published values beside it; do not edit.
#pragma once

#include <span>

namespace reference {

struct Given {
  const char* path;
  double si;
  const char* word; // of a choice, else null
};
struct Metal {
  const char* part; // "" for every part not named
  const char* name; // in the library; null: the numbers here
  double modulus, poisson, density, expansion, conductivity, heat_capacity;
};
// (SI - offset)/factor must lie from low to high.
struct Wanted {
  const char* output;
  const char* quantity;
  const char* unit;
  const char* told;
  double factor, offset, low, high;
};
struct Case {
  const char* title;
  const char* model;
  std::span<const Given> inputs;
  std::span<const Metal> metals;
  std::span<const Wanted> wanted;
};

"""


def _text(text: str) -> str:
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


def _given(path: str, value: Any) -> str:
    if isinstance(value, str) and not re.match(r"[+-]?[\d.]", value):
        return f"{{{_text(path)}, 0.0, {_text(value)}}}"
    return f"{{{_text(path)}, {to_si(value)!r}, nullptr}}"


def _metal_row(part: str, metal: str | Mapping[str, Any]) -> str:
    if isinstance(metal, str):
        return f"{{{_text(part)}, {_text(metal)}, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0}}"
    numbers = ", ".join(repr(to_si(metal[name])) for name in PLAIN_METAL)
    return f"{{{_text(part)}, nullptr, {numbers}}}"


def header() -> str:
    text = STRUCTS
    rows = []
    for n, case in enumerate(case for entry in entries() for case in entry.cases):
        lists = {
            "Given": [_given(path, value) for path, value in case.inputs.items()],
            "Metal": [_metal_row(part, metal) for part, metal in case.metals.items()],
            "Wanted": [
                f"{{{_text(e.output)}, {_text(e.quantity)}, {_text(e.unit)}, {_text(t.told)}, "
                f"{e.scale[0]!r}, {e.scale[1]!r}, {t.low!r}, {t.high!r}}}"
                for e in case.expected
                for t in e.targets
            ],
        }
        for kind, items in lists.items():
            body = ",\n".join(f"    {item}" for item in items)
            text += f"inline constexpr {kind} {kind.lower()}_{n}[] = {{\n{body}}};\n"
        names = ", ".join(f"{kind.lower()}_{n}" for kind in lists)
        rows.append(f"    {{{_text(case.title)}, {_text(case.model)}, {names}}}")
    text += "\ninline constexpr Case cases[] = {\n" + ",\n".join(rows) + "};\n"
    return text + "\n} // namespace reference\n"


if __name__ == "__main__":
    Path(sys.argv[1]).write_text(header(), encoding="utf-8")
