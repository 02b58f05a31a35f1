"""Units at the door: whatever a user writes becomes SI floats (temperatures degC), once."""

from __future__ import annotations

import re
from collections.abc import Mapping
from contextvars import ContextVar
from fractions import Fraction
from functools import lru_cache
from typing import Any, TypeAlias

import numpy as np
from numpy.typing import NDArray

from fitwright import _core
from fitwright.fields import unit_grammar as unitgrammar
from fitwright.fields.errors import InputError
from fitwright.fields.user_text import quoted, told

Values: TypeAlias = float | NDArray[np.float64]
#: Lists within lists.
DEEPEST = 8
#: What is accepted wherever a number is: SI number, string with unit, pint quantity, or arrays.
Number: TypeAlias = Any

QUANTITIES: dict[str, dict[str, Any]] = {row["name"]: row for row in _core.quantities()}

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


@lru_cache(maxsize=1)
def registry() -> Any:
    """A registry of pint's with exact factors (loaded when the first unit is read)."""
    import pint

    return pint.UnitRegistry(non_int_type=Fraction)


def _in_si(unit: str, wanted: str) -> float | Fraction:
    """One of a unit in SI, exact where its definition is; the application's own as float."""
    import pint

    try:
        return registry().Quantity(Fraction(1), unit).to(wanted).magnitude  # type: ignore[no-any-return]
    except pint.UndefinedUnitError:
        own = pint.get_application_registry()  # type: ignore[no-untyped-call]
        return float(own.Quantity(1.0, unit).to(wanted).magnitude)


def example(quantity: str) -> str:
    """How a value of a quantity is written."""
    return _EXAMPLE.get(quantity, "" if quantity in ("ratio", "count") else "a number in SI")


@lru_cache(maxsize=1024)
def _factor(unit: str, quantity: str) -> float | Fraction:
    """SI per unit, after every check on dimension and meaning."""
    if quantity == "speed" and unit == "r/min":
        unit = "rpm"  # alone, "r" is no unit
    wanted = QUANTITIES[quantity]["si"]
    example = _EXAMPLE.get(quantity, f"a number in {wanted}")
    is_torque = quantity in ("torque", "drag_torque")
    if is_torque and _ENERGY.search(unit):
        raise UnitProblem(f"{quoted(unit)} is a unit of energy; a torque is written {example}")
    if quantity == "speed" and not _TURNING.search(unit):
        raise UnitProblem(
            f"{quoted(unit)} does not say what turns (Hz counts cycles); a speed is written "
            f"{example}"
        )
    try:
        times, powers = unitgrammar.read(unit, is_torque)
        one = times * _in_si(unitgrammar.text_of(powers), wanted)
        float(one)
    except Exception as error:
        hint = ""
        if quantity == "force" and re.search(r"\blbs?\b", unit):
            hint = "; pounds of force are lbf"
        raise UnitProblem(
            f"{quoted(unit)} is not a unit of {_WORD.get(quantity, quantity)}; "
            f"wanted is something like {example}{hint}"
        ) from error
    return one


def parse(text: str, quantity: str) -> float:
    """One string with its unit to SI. Raises UnitProblem with the reason."""
    example = _EXAMPLE.get(quantity, "a plain number")
    if len(text) > unitgrammar.LONGEST:
        raise UnitProblem(f"{told(text)} is not a number with a unit")
    pointed = unitgrammar.with_point(text) if text.isprintable() else None
    if pointed is not None:
        raise UnitProblem(
            f"{quoted(text)} has a comma; a decimal is written with a point: {pointed}"
        )
    found = unitgrammar.split(text)
    if found is None:
        raise UnitProblem(
            f"{quoted(text)} is not a number with a unit; wanted is something like {example}"
        )
    value, unit = found
    if quantity in ("ratio", "count"):
        if unit:
            raise UnitProblem(
                f"{quoted(text)} must be a plain number without a unit (15 % is 0.15)"
            )
        return float(value)
    if not unit:
        raise UnitProblem(f"{quoted(text)} has no unit; wanted is something like {example}")
    if quantity == "temperature":
        if unit in _CELSIUS:
            return float(value)
        if unit in _FAHRENHEIT:
            inch = QUANTITIES["temperature"]["inch"]
            return float((float(value) - inch["offset"]) / inch["factor"])
        if unit in _KELVIN or unit in _DELTA_FAHRENHEIT:
            raise UnitProblem(
                f"{quoted(text)} reads as a temperature difference; a temperature is written "
                f'{example} or "158 degF"'
            )
        raise UnitProblem(
            f"{quoted(unit)} is not a temperature scale; wanted is something like {example}"
        )
    if quantity == "difference":
        if unit in _KELVIN:
            return float(value)
        if unit in _DELTA_FAHRENHEIT:
            return float(float(value) / QUANTITIES["difference"]["inch"]["factor"])
        if unit in _CELSIUS or unit in _FAHRENHEIT:
            raise UnitProblem(
                f"{quoted(text)} reads as a temperature; a difference is written {example} "
                f'or "20 delta_degF"'
            )
    if quantity == "size" and unit in unitgrammar.PER_INCH:
        if value == 0:
            raise UnitProblem(f"{quoted(text)} is a thread without turns")
        return float(_factor("in", quantity) / value)
    try:
        return float(value * _factor(unit, quantity))
    except OverflowError as error:
        raise UnitProblem(f"{quoted(text)} must be a finite number") from error


def to_si(value: Number, quantity: str) -> Values:
    """A number, string, pint quantity, or list of them, to SI. Raises UnitProblem."""
    read = _to_si(value, quantity)
    if not np.all(np.isfinite(read)):
        raise UnitProblem(f"{told(value)} must be a finite number")
    return read


def _to_si(value: Number, quantity: str, depth: int = 0) -> Values:
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
        return _array(value.magnitude) * float(_factor(str(value.units), quantity))
    if isinstance(value, np.ndarray):
        return _array(value)
    if isinstance(value, list | tuple):
        if depth == DEEPEST:
            raise UnitProblem("is a list of lists of lists that has no end")
        rows = [_to_si(item, quantity, depth + 1) for item in value]
        if len({np.shape(row) for row in rows}) > 1:
            raise UnitProblem("is a list of lists that differ in length")
        return np.array(rows, dtype=np.float64)
    if isinstance(value, np.generic):
        return _array(value)
    raise UnitProblem(f"{told(value)} is not a number, a string with a unit, or a list of them")


def _array(magnitude: Any) -> Values:
    mask = getattr(magnitude, "mask", None)
    if mask is not None and np.any(mask):
        raise UnitProblem("is an array with masked values")
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
    left_out = units is None or (isinstance(units, str) and not units)
    chosen = (own or _setting.get()) if left_out else units
    if not isinstance(chosen, str) or chosen not in SYSTEMS:
        raise InputError([("units", f'{told(chosen)} must be "metric" or "inch"')])
    return chosen


def shop_unit(quantity: str, units: str | None = None) -> dict[str, Any]:
    """The row of the field table that says how a shop reads this quantity."""
    unit: dict[str, Any] = QUANTITIES[quantity][in_system(units)]
    return unit


#: Below this a ratio (a strain, say) would be shown as nothing.
SMALL_RATIO = 0.002


def _small(value: float) -> str:
    """In millionths, as strains are read: "120.5e-6"."""
    millionths = value * 1e6
    if abs(millionths) < 0.05:
        return f"{value:.1e}"
    return f"{millionths:.1f}e-6"


def one_number(path: str, value: Number, quantity: str) -> float:
    """One number or text with its unit in SI; else an InputError that names the path."""
    try:
        read = to_si(value, quantity)
    except UnitProblem as problem:
        raise InputError([(path, str(problem))]) from problem
    if not isinstance(read, float):
        raise InputError([(path, f"{told(value)} must be one number")])
    return read


def shown(value: float, quantity: str, units: str | None = None) -> str:
    """A value as a shop reads it: "79.950 mm". Without an end it is "unlimited"."""
    if value - value != 0.0:
        return "unlimited" if value == value else "not a number"
    if quantity == "ratio" and 0.0 < abs(value) < SMALL_RATIO:
        return _small(value)
    unit = shop_unit(quantity, units)
    number = f"{value * unit['factor'] + unit['offset']:.{unit['decimals']}f}"
    return f"{number} {unit['label']}" if unit["label"] else number


def without_zeros(text: str) -> str:
    """ "190 mm" for "190.000 mm": what stands behind the point and says nothing."""
    number, blank, unit = text.partition(" ")
    return (number.rstrip("0").rstrip(".") if "." in number else number) + blank + unit


def from_si(value: Values, quantity: str, unit: str) -> Values:
    """SI to any unit of the right kind."""
    if not isinstance(unit, str):
        raise UnitProblem(f"{told(unit)} is not the name of a unit")
    if quantity == "temperature":
        row = QUANTITIES["temperature"]["inch" if unit in _FAHRENHEIT else "metric"]
        if unit not in _FAHRENHEIT and unit not in _CELSIUS:
            raise UnitProblem(f"{quoted(unit)} is not a temperature scale: degC or degF")
        return value * float(row["factor"]) + float(row["offset"])
    if quantity == "difference" and unit in _DELTA_FAHRENHEIT:
        return value * float(QUANTITIES["difference"]["inch"]["factor"])
    if quantity == "difference" and unit in _KELVIN:
        return value
    return value / float(_factor(unit, quantity))


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
