"""Units at the door: whatever a user writes becomes SI floats (temperatures degC), once."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache
from typing import Any, TypeAlias

import numpy as np
from numpy.typing import NDArray

from fitwright import _core

Values: TypeAlias = float | NDArray[np.float64]
#: What is accepted wherever a number is: SI number, string with unit, pint quantity, or arrays.
Number: TypeAlias = Any

QUANTITIES: dict[str, dict[str, Any]] = {row["name"]: row for row in _core.quantities()}

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


@lru_cache(maxsize=1024)
def _factor(unit: str, quantity: str) -> float:
    """SI per unit, after every check on dimension and meaning."""
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
        raise UnitProblem(
            f'"{text}" has a comma; a decimal is written with a point, like {example}'
        )
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


def shop_unit(quantity: str, units: str = "metric") -> dict[str, Any]:
    """The row of the field table that says how a shop reads this quantity."""
    if units not in ("metric", "inch"):
        raise ValueError(f'units="{units}": must be "metric" or "inch"')
    unit: dict[str, Any] = QUANTITIES[quantity][units]
    return unit


def shown(value: float, quantity: str, units: str = "metric") -> str:
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
