"""Units at the door: whatever a user writes becomes SI floats (temperatures degC), once."""

from __future__ import annotations

import re
from collections.abc import Mapping
from contextvars import ContextVar
from functools import lru_cache
from typing import Any, TypeAlias

import numpy as np
from numpy.typing import NDArray

from fitwright import _core

Values: TypeAlias = float | NDArray[np.float64]
#: What is accepted wherever a number is: SI number, string with unit, pint quantity, or arrays.
Number: TypeAlias = Any

QUANTITIES: dict[str, dict[str, Any]] = {row["name"]: row for row in _core.quantities()}

#: "1 1/4 in", "3/4 in", "2-1/4 in": whole part, then the fraction.
_FRACTION = re.compile(r"\s*(?:([0-9]+)(?:\s+|-))?([0-9]+)\s*/\s*([0-9]+)\s*(.*?)\s*")
#: How a shop writes a unit, by quantity; elsewhere a pound is one of mass.
_SHOP = {
    "torque": re.compile(r"(?:ft|foot|feet)[ -]?lbs?f?|lbs?f?[ -]?(?:ft|foot|feet)"),
    "inch torque": re.compile(r"in(?:ch)?[ -]?lbs?f?|lbs?f?[ -]?in(?:ch)?"),
    "tenths": re.compile(r"tenths?"),
    "speed": re.compile(r"RPM|[Rr]pm|rev/min|r/min"),
    "tpi": re.compile(r"tpi|TPI|threads? per inch"),
}
_NUMBER = re.compile(r"\s*([+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?)\s*(.*?)\s*")
_DECIMAL_COMMA = re.compile(r"\s*[+-]?[0-9]+,[0-9]")
_ENERGY = re.compile(r"\b(k?J|joules?|k?cal|btu|BTU|eV|W\*?h)\b")
_TURNING = re.compile(r"rad|rev|rpm|deg|turn|RPM")
_EXAMPLE = {
    "size": '"80 mm"',
    "fine": '"38 um"',
    "force": '"20 kN"',
    "stress": '"300 MPa"',
    "modulus": '"206 GPa"',
    "torque": '"600 N m"',
    "drag_torque": '"1.5 N m"',
    "temperature": '"70 degC"',
    "difference": '"12 K"',
    "time": '"15 s"',
    "speed": '"11000 rpm"',
    "angle": '"30 deg"',
    "slope": '"0.1 mm/m"',
    "mass": '"60 kg"',
    "unbalance": '"200 g mm"',
    "velocity": '"2.5 mm/s"',
    "frequency": '"120 Hz"',
    "revolutions": '"540 Mrevolution"',
    "lifetime": '"30000 hour"',
    "viscosity": '"68 mm^2/s"',
    "density": '"7850 kg/m^3"',
    "expansion": '"11.5e-6 / K"',
    "conductivity": '"45 W/m/K"',
    "heat_capacity": '"460 J/kg/K"',
    "film": '"10 W/m^2/K"',
    "heat_flux": '"50 kW/m^2"',
}
#: How a quantity is called where its name is not a word of the shop.
_WORD = {
    "size": "length",
    "fine": "length",
    "difference": "temperature difference",
    "modulus": "elastic modulus",
    "expansion": "thermal expansion",
    "conductivity": "thermal conductivity",
    "heat_capacity": "specific heat",
    "film": "heat transfer coefficient",
    "heat_flux": "heat flux",
    "drag_torque": "torque",
    "revolutions": "a number of revolutions",
    "lifetime": "time",
    "viscosity": "kinematic viscosity",
    "contact_constant": "contact stiffness",
}
_CELSIUS = {"degC", "°C", "C", "celsius", "Celsius"}
_FAHRENHEIT = {"degF", "°F", "F", "fahrenheit", "Fahrenheit"}
_KELVIN = {"K", "kelvin", "Kelvin", "delta_degC", "delta_celsius"}
_DELTA_FAHRENHEIT = {"delta_degF", "delta_fahrenheit"}


class UnitProblem(ValueError):
    """What is wrong with one value, without its path."""


def told(value: Any) -> str:
    """A value as it stands in a message: never longer than a line."""
    text = repr(value)
    return text if len(text) <= 80 else f"{text[:60]}... ({len(text)} characters)"


@lru_cache(maxsize=1)
def registry() -> Any:
    """The application's pint registry (loaded when the first unit is read)."""
    import pint

    return pint.get_application_registry()  # type: ignore[no-untyped-call]


def example(quantity: str) -> str:
    """How a value of a quantity is written."""
    return _EXAMPLE.get(quantity, "" if quantity in ("ratio", "count") else "a number in SI")


def _of_the_shop(unit: str, quantity: str) -> str:
    """A unit as pint reads it, where a shop writes it otherwise."""
    if quantity in ("torque", "drag_torque"):
        if _SHOP["torque"].fullmatch(unit):
            return "lbf*ft"
        if _SHOP["inch torque"].fullmatch(unit):
            return "lbf*inch"
    if quantity == "speed" and _SHOP["speed"].fullmatch(unit):
        return "rpm"
    return unit


@lru_cache(maxsize=1024)
def _factor(unit: str, quantity: str) -> float:
    """SI per unit, after every check on dimension and meaning."""
    unit = _of_the_shop(unit, quantity)
    if quantity in ("size", "fine") and _SHOP["tenths"].fullmatch(unit):
        return _factor("thou", quantity) / 10.0
    wanted = QUANTITIES[quantity]["si"]
    example = _EXAMPLE.get(quantity, f"a number in {wanted}")
    if quantity in ("torque", "drag_torque") and _ENERGY.search(unit):
        raise UnitProblem(f'"{unit}" is a unit of energy; a torque is written {example}')
    if quantity == "speed" and not _TURNING.search(unit):
        raise UnitProblem(
            f'"{unit}" does not say what turns (Hz counts cycles); a speed is written {example}'
        )
    try:
        one = registry().Quantity(1.0, _spelling(unit))
        return float(one.to(wanted).magnitude)
    except Exception as error:
        hint = ""
        if quantity in ("torque", "force") and re.search(r"\blbs?\b", unit):
            hint = "; pounds of force are lbf"
        raise UnitProblem(
            f'"{unit}" is not a unit of {_WORD.get(quantity, quantity)}; '
            f"wanted is something like {example}{hint}"
        ) from error


def _spelling(unit: str) -> str:
    """A unit as a shop writes it, as pint reads it."""
    # Old releases of pint read "Nm" as a measure of yarn.
    text = re.sub(r"\b([kM]?N)(m{1,2})\b", r"\1*\2", unit)
    text = text.replace("°", "deg").replace("µ", "u").replace("μ", "u")
    text = re.sub(r"\bmils?\b", "thou", text)
    text = re.sub(r"(?<=[A-Za-z])-(?=[A-Za-z])", "*", text)  # N-m, lbf-ft
    text = re.sub(r"(?<=[A-Za-z])([23])\b", r"^\1", text)  # mm2, kg/m3
    return f"1{text}" if text.startswith("/") else text


def parse(text: str, quantity: str) -> float:
    """One string with its unit to SI. Raises UnitProblem with the reason."""
    example = _EXAMPLE.get(quantity, "a plain number")
    if len(text) > 80:
        raise UnitProblem(f"{told(text)} is not a number with a unit")
    if _DECIMAL_COMMA.match(text):
        pointed = text.strip().replace(",", ".", 1)
        meant = f'"{pointed}"' if _NUMBER.fullmatch(pointed) and "," not in pointed else example
        raise UnitProblem(f'"{text}" has a comma; a decimal is written with a point, like {meant}')
    broken = _FRACTION.fullmatch(text) if text.isprintable() else None
    if broken is not None and broken[4]:
        if int(broken[3]) == 0:
            raise UnitProblem(f'"{text}" divides by nothing')
        parts = int(broken[1] or 0) * int(broken[3]) + int(broken[2])
        return parts / int(broken[3]) * parse(f"1 {broken[4]}", quantity)
    match = _NUMBER.fullmatch(text) if text.isprintable() else None
    if match is None:
        raise UnitProblem(
            f'"{text}" is not a number with a unit; wanted is something like {example}'
        )
    value, unit = float(match[1]), match[2]
    if quantity in ("ratio", "count"):
        if unit:
            raise UnitProblem(f'"{text}" must be a plain number without a unit (15 % is 0.15)')
        return value
    if not unit:
        raise UnitProblem(f'"{text}" has no unit; wanted is something like {example}')
    if quantity == "temperature":
        if unit in _CELSIUS:
            return value
        if unit in _FAHRENHEIT:
            inch = QUANTITIES["temperature"]["inch"]
            return float((value - inch["offset"]) / inch["factor"])
        if unit in _KELVIN or unit in _DELTA_FAHRENHEIT:
            raise UnitProblem(
                f'"{text}" reads as a temperature difference; a temperature is written {example} '
                f'or "158 degF"'
            )
        raise UnitProblem(
            f'"{unit}" is not a temperature scale; wanted is something like {example}'
        )
    if quantity == "difference":
        if unit in _KELVIN:
            return value
        if unit in _DELTA_FAHRENHEIT:
            return float(value / QUANTITIES["difference"]["inch"]["factor"])
        if unit in _CELSIUS or unit in _FAHRENHEIT:
            raise UnitProblem(
                f'"{text}" reads as a temperature; a difference is written {example} '
                f'or "20 delta_degF"'
            )
    if quantity == "size" and _SHOP["tpi"].fullmatch(unit):
        if value <= 0.0:
            raise UnitProblem(f'"{text}" must be above zero')
        return _factor("inch", "size") / value
    return value * _factor(unit, quantity)


def to_si(value: Number, quantity: str) -> Values:
    """A number, string, pint quantity, or list of them, to SI. Raises UnitProblem."""
    read = _to_si(value, quantity)
    if not np.all(np.isfinite(read)):
        raise UnitProblem(f"{told(value)} must be a finite number")
    return read


def _to_si(value: Number, quantity: str) -> Values:
    if isinstance(value, float | int) and not isinstance(value, bool):
        try:
            return float(value)
        except OverflowError as error:
            raise UnitProblem("a number of that size must be a mistake") from error
    if isinstance(value, str):
        return parse(value, quantity)
    if hasattr(value, "magnitude") and hasattr(value, "units"):
        unit = str(value.units).replace("degree_Celsius", "degC").replace("degree_F", "degF")
        unit = unit.replace("degFahrenheit", "degF")
        if quantity == "difference":
            return _array(value.magnitude) * parse(f"1 {unit}", quantity)
        if quantity == "temperature":
            parse(f"1 {unit}", quantity)  # one of the two scales, or refused
            row = QUANTITIES[quantity]["inch" if unit in _FAHRENHEIT else "metric"]
            return (_array(value.magnitude) - float(row["offset"])) / float(row["factor"])
        return _array(value.magnitude) * _factor(str(value.units), quantity)
    if isinstance(value, np.ndarray):
        return _array(value)
    if isinstance(value, list | tuple):
        rows = [_to_si(item, quantity) for item in value]
        if len({np.shape(row) for row in rows}) > 1:
            raise UnitProblem("is a list of lists that differ in length")
        return np.array(rows, dtype=np.float64)
    if isinstance(value, np.generic):
        return _array(value)
    raise UnitProblem(f"{told(value)} is not a number, a string with a unit, or a list of them")


def _array(magnitude: Any) -> Values:
    array = np.asarray(magnitude)
    if array.dtype.kind not in "fiu":
        raise UnitProblem(f"an array of {array.dtype} is not an array of numbers")
    return float(array) if array.ndim == 0 else array.astype(np.float64)


SYSTEMS = ("metric", "inch")
_setting: ContextVar[str] = ContextVar("fitwright_units", default="metric")


def use(system: str) -> None:
    """How values are shown from here on where neither a call nor a job says: metric or inch."""
    _setting.set(in_system(system))


def in_system(units: str | None, own: str = "") -> str:
    """The system asked for, else that of the job, else the setting."""
    chosen = units or own or _setting.get()
    if chosen not in SYSTEMS:
        raise ValueError(f'units="{chosen}": must be "metric" or "inch"')
    return chosen


def shop_unit(quantity: str, units: str | None = None) -> dict[str, Any]:
    """The row of the field table that says how a shop reads this quantity."""
    unit: dict[str, Any] = QUANTITIES[quantity][in_system(units)]
    return unit


def shown(value: float, quantity: str, units: str | None = None) -> str:
    """A value as a shop reads it: "79.950 mm"."""
    unit = shop_unit(quantity, units)
    number = f"{value * unit['factor'] + unit['offset']:.{unit['decimals']}f}"
    return f"{number} {unit['label']}" if unit["label"] else number


def from_si(value: Values, quantity: str, unit: str) -> Values:
    """SI to any unit of the right kind."""
    if quantity == "temperature":
        row = QUANTITIES["temperature"]["inch" if unit in _FAHRENHEIT else "metric"]
        if unit not in _FAHRENHEIT and unit not in _CELSIUS:
            raise UnitProblem(f'"{unit}" is not a temperature scale: degC or degF')
        return value * float(row["factor"]) + float(row["offset"])
    if quantity == "difference" and unit in _DELTA_FAHRENHEIT:
        return value * float(QUANTITIES["difference"]["inch"]["factor"])
    if quantity == "difference" and unit in _KELVIN:
        return value
    return value / _factor(unit, quantity)


def collect(
    values: Mapping[str, tuple[Number, str]], problems: list[tuple[str, str]]
) -> dict[str, Values]:
    """Many values to SI by path; what cannot be read is added to problems."""
    read: dict[str, Values] = {}
    for path, (value, quantity) in values.items():
        try:
            read[path] = to_si(value, quantity)
        except UnitProblem as problem:
            problems.append((path, str(problem)))
    return read
