"""The grammar before the library of units: what a shop writes is read, no more gets through."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from fitwright.fields import unit_grammar as unitgrammar
from fitwright.fields import units
from fitwright.fields.units import UnitProblem, parse
from hypothesis import given, settings
from hypothesis import strategies as st

INCH = Fraction(254, 10_000)
POUND_FOOT = Fraction("4.4482216152605") * 12 * INCH


# An inch is 25.4 mm, a pound 0.45359237 kg, standard gravity 9.80665 m/s2, by definition.
@pytest.mark.parametrize(
    ("text", "quantity", "si"),
    [
        ("1 1/4 in", "size", INCH * 5 / 4),
        ("1-1/4 in", "size", INCH * 5 / 4),
        ("5/16 in", "size", INCH * 5 / 16),
        ("-1 1/2 in", "size", INCH * -3 / 2),
        ("3 1/2 in", "size", INCH * 7 / 2),
        ("12 tpi", "size", INCH / 12),
        ("12 threads per inch", "size", INCH / 12),
        ("11 1/2 tpi", "size", INCH * 2 / 23),
        ("2 tenths", "fine", INCH / 5000),
        ("1.5 thou", "fine", INCH * 3 / 2000),
        ("350 ft-lb", "torque", POUND_FOOT * 350),
        ("350 lb ft", "torque", POUND_FOOT * 350),
        ("350 lb-ft", "torque", POUND_FOOT * 350),
        ("350 ft lbs", "torque", POUND_FOOT * 350),
        ("350 ft-lbf", "torque", POUND_FOOT * 350),
        ("24 in-lb", "drag_torque", POUND_FOOT * 2),
        ("3000 RPM", "speed", 3000 * units.parse("1 rpm", "speed")),
        ("3000 rev/min", "speed", 3000 * units.parse("1 rpm", "speed")),
        ("3000 r/min", "speed", 3000 * units.parse("1 rpm", "speed")),
        ("300 N/mm²", "stress", 300_000_000),
        ("45 W/(m K)", "conductivity", 45),
        ("45 W m^-1 K^-1", "conductivity", 45),
        ("45 W/m/K", "conductivity", 45),
        ("7850 kg/m**3", "density", 7850),
        ("38 um", "fine", Fraction(38, 10**6)),
        ("0.3 mm", "size", Fraction(3, 10_000)),
    ],
)
def test_what_a_shop_writes_is_read_to_the_last_digit(text, quantity, si):
    assert parse(text, quantity) == pytest.approx(float(si), rel=3e-16)


@given(
    st.decimals(min_value="-1e9", max_value="1e9", allow_nan=False, places=6),
    st.sampled_from([("um", -6, "fine"), ("mm", -3, "size"), ("kN", 3, "force")]),
)
def test_a_prefix_moves_the_point_and_nothing_else(value, unit):
    name, power, quantity = unit
    assert parse(f"{value:f} {name}", quantity) == float(f"{value:f}e{power}")


@pytest.mark.parametrize(
    ("text", "quantity", "message"),
    [
        ("0,05 mm", "size", 'a decimal is written with a point: "0.05 mm"'),
        ("1,500 mm", "size", '"1.500 mm", or "1500 mm" where it parts thousands'),
        ("1 mm*9**9**9", "size", "is not a unit of length"),
        ("1 mm**9999999999", "size", "is not a unit of length"),
        ("1 mm^0.5", "size", "is not a unit of length"),
        ("1 mm^1.25", "size", "is not a unit of length"),
        ("1 mm*1e9", "size", "is not a unit of length"),
        ("1 2*mm", "size", "is not a unit of length"),
        ("1 ((mm))", "size", None),
        ("1 (((mm)))", "size", "is not a unit of length"),
        ("1 (mm", "size", "is not a unit of length"),
        ("1 mm)", "size", "is not a unit of length"),
        ("1 m/m/m/m/m/m/m/m/m", "size", "is not a unit of length"),
        ("1 mm if mm else mm", "size", "is not a unit of length"),
        ("1 mm.__class__", "size", "is not a unit of length"),
        ("1/0 in", "size", "is not a number with a unit"),
        ("1 5/4 in", "size", "is not a number with a unit"),
        ("1e999999999 mm", "size", "must be a finite number"),
        ("0 tpi", "size", "a thread without turns"),
        ("8 tpi", "force", "is not a unit of force"),
        ("5000 lb", "force", "pounds of force are lbf"),
        ("3 lb", "torque", "is not a unit of torque"),
        ("3 lb/ft", "torque", "is not a unit of torque"),
        ("\x1b[31m80 mm", "size", r'"\\x1b\[31m80 mm" is not a number'),
        ("80 \u202emm", "size", r"\\u202e"),
    ],
)
def test_what_is_no_number_with_a_unit_is_refused_with_the_reason(text, quantity, message):
    if message is None:
        assert parse(text, quantity) == 1e-3
        return
    with pytest.raises(UnitProblem, match=message) as raised:
        units.to_si(text, quantity)
    assert str(raised.value).isprintable()


#: All that the library of units is ever asked: names with small powers, joined by stars.
POWER = r"([^\W\d]+|%)\*\*-?([1-4]|[0-3]\.5)"
ASKED = re.compile(rf"dimensionless|{POWER}(\*{POWER})*")
PIECES = st.sampled_from(
    ["mm", "m", "N", "in", "lbf", "s", "K", "9", "**", "*", "/", "^", "-", "(", ")", " ", "e", "1",
     "2", "°", "²", "%", "µ", ".", ",", "_", "lambda", "degC", "inf", "nan", "0x10", "@", "#"]
)  # fmt: skip


def _told(text, quantity):
    """What is said about a text; nothing where it is a number."""
    try:
        assert isinstance(units.to_si(text, quantity), float)
    except UnitProblem as problem:
        return str(problem)
    return ""


@settings(max_examples=2000)
@given(st.lists(PIECES, max_size=14), st.sampled_from(sorted(units.QUANTITIES)))
def test_nothing_but_names_and_small_powers_reaches_the_library(pieces, quantity):
    asked = []

    class Registry:
        def Quantity(self, _, unit):
            asked.append(unit)
            raise ValueError(unit)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(units, "registry", Registry)
        units._factor.cache_clear()
        assert _told("1 " + "".join(pieces), quantity).isprintable()
    units._factor.cache_clear()
    assert all(ASKED.fullmatch(unit) for unit in asked), asked


@given(st.text(max_size=120), st.sampled_from(sorted(units.QUANTITIES)))
def test_any_text_is_a_number_or_a_problem(text, quantity):
    assert _told(text, quantity).isprintable()


def test_a_unit_of_the_applications_own_is_known():
    import pint

    pint.get_application_registry().define("stick_of_ours = 25 mm")
    assert parse("2 stick_of_ours", "size") == pytest.approx(0.05, rel=1e-15)


def test_the_table_of_spellings_names_what_the_library_knows():
    for spelling, (_, names) in unitgrammar.SPELLED.items():
        for name in names:
            assert name in units.registry(), spelling
