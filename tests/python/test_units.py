"""Units at the door: what is read, what is refused, and what is said about it."""

from __future__ import annotations

import numpy as np
import pint
import pytest
from fitwright import InputError, units
from fitwright.fields.units import QUANTITIES, UnitProblem, from_si, parse, shown, to_si

Q = pint.get_application_registry().Quantity

SHOP = [
    (name, system, row[system]["label"])
    for name, row in QUANTITIES.items()
    for system in ("metric", "inch")
]


@pytest.mark.parametrize(("quantity", "system", "label"), SHOP)
def test_every_shop_unit_round_trips(quantity, system, label):
    row = units.shop_unit(quantity, system)
    for value in (0.0, 1.0, 37.5, 12345.678):
        text = f"{value!r} {label}"
        si = to_si(text, quantity)
        assert isinstance(si, float)
        # The table of the core (factor and offset) and pint are two roads to the same number.
        assert si * row["factor"] + row["offset"] == pytest.approx(value, rel=1e-13, abs=1e-11)
        if label:
            assert from_si(si, quantity, label) == pytest.approx(value, rel=1e-13, abs=1e-11)


@pytest.mark.parametrize(("quantity", "system", "label"), SHOP)
def test_what_is_shown_can_be_read(quantity, system, label):
    row = units.shop_unit(quantity, system)
    si = (20.0 - row["offset"]) / row["factor"]
    text = shown(si, quantity, system)
    assert text.endswith(label)
    assert to_si(text, quantity) == pytest.approx(si, rel=1e-9, abs=1e-9)


@pytest.mark.parametrize("quantity", sorted(units._EXAMPLE))
def test_examples_in_messages_are_accepted(quantity):
    parse(units._EXAMPLE[quantity].strip('"'), quantity)


# Conversion factors from the definitions of the units (exact): inch 25.4 mm, pound 0.45359237 kg,
# standard gravity 9.80665 m/s2.
@pytest.mark.parametrize(
    ("text", "quantity", "si"),
    [
        ("80mm", "size", 0.08),
        (" 80 mm ", "size", 0.08),
        ("-.5 mm", "size", -0.0005),
        ("8e1 mm", "size", 0.08),
        ("38 um", "fine", 38e-6),
        ("38 µm", "fine", 38e-6),  # micro sign
        ("38 μm", "fine", 38e-6),  # Greek mu
        ("1.5 thou", "fine", 1.5 * 25.4e-6),
        ("1.5 mil", "fine", 1.5 * 25.4e-6),
        ("2 mils", "fine", 2 * 25.4e-6),
        ("16 uin", "fine", 16 * 25.4e-9),
        ("3.15 in", "size", 3.15 * 0.0254),
        ("600 Nm", "torque", 600.0),
        ("600 N m", "torque", 600.0),
        ("600 N*m", "torque", 600.0),
        ("600 N·m", "torque", 600.0),
        ("600 N-m", "torque", 600.0),
        ("0.6 kNm", "torque", 600.0),
        ("350 lbf ft", "torque", 350 * 0.45359237 * 9.80665 * 0.3048),
        ("350 ft-lbf", "torque", 350 * 0.45359237 * 9.80665 * 0.3048),
        ("350 ft-lb", "torque", 350 * 0.45359237 * 9.80665 * 0.3048),
        ("350 lb ft", "torque", 350 * 0.45359237 * 9.80665 * 0.3048),
        ("350 ft lbs", "torque", 350 * 0.45359237 * 9.80665 * 0.3048),
        ("90 in-lb", "drag_torque", 90 * 0.45359237 * 9.80665 * 0.0254),
        ("3 1/2 in", "size", 3.5 * 0.0254),
        ("1 1/4 in", "size", 1.25 * 0.0254),
        ("2-1/4 in", "size", 2.25 * 0.0254),
        ("3/4 in", "size", 0.75 * 0.0254),
        ("8 tenths", "fine", 8e-4 * 0.0254),
        ("12 tpi", "size", 0.0254 / 12),
        ("3600 RPM", "speed", 3600 * 2 * 3.141592653589793 / 60),
        ("5000 lbf", "force", 5000 * 0.45359237 * 9.80665),
        ("20 kN", "force", 20e3),
        ("300 N/mm2", "stress", 300e6),
        ("300 N/mm^2", "stress", 300e6),
        ("206 GPa", "modulus", 206e9),
        ("250 degF", "temperature", (250 - 32) / 1.8),
        ("-40 °F", "temperature", -40.0),
        ("70 °C", "temperature", 70.0),
        ("70 C", "temperature", 70.0),
        ("12 K", "difference", 12.0),
        ("12 delta_degC", "difference", 12.0),
        ("18 delta_degF", "difference", 10.0),
        ("60 rpm", "speed", 2 * np.pi),
        ("360 deg/s", "speed", 2 * np.pi),
        ("180 °", "angle", np.pi),
        ("7850 kg/m3", "density", 7850.0),
        ("11.5e-6 / K", "expansion", 11.5e-6),
        ("11.5e-6/degC", "expansion", 11.5e-6),
        ("9e-6 1/degF", "expansion", 9e-6 * 1.8),
        ("11.5 um/m/K", "expansion", 11.5e-6),
        ("0.1 1/mm", "curvature", 100.0),
        ("0.15", "ratio", 0.15),
        ("15", "count", 15.0),
    ],
)
def test_strings_a_shop_writes(text, quantity, si):
    assert to_si(text, quantity) == pytest.approx(si, rel=1e-14)


@pytest.mark.parametrize(
    ("given", "quantity", "message"),
    [
        (float("nan"), "size", "must be a finite number"),
        (float("-inf"), "force", "must be a finite number"),
        ("nan mm", "size", "is not a number with a unit"),
        ("inf mm", "size", "is not a number with a unit"),
        ("1e400 mm", "size", "must be a finite number"),
        ("NaN", "ratio", "is not a number"),
        ("600 Nm", "force", '"Nm" is not a unit of force; wanted is something like "20 kN"'),
        ("600 J", "torque", '"J" is a unit of energy; a torque is written "600 N m"'),
        ("0.6 kJ", "torque", "is a unit of energy"),
        ("183 Hz", "speed", 'Hz counts cycles.*a speed is written "11000 rpm"'),
        ("183 1/s", "speed", "does not say what turns"),
        ("5000 lb", "force", "pounds of force are lbf"),
        ("15 %", "ratio", r"plain number without a unit \(15 % is 0.15\)"),
        ("15%", "ratio", "plain number without a unit"),
        ("343 K", "temperature", "reads as a temperature difference"),
        ("343 kelvin", "temperature", "reads as a temperature difference"),
        ("20 delta_degF", "temperature", "reads as a temperature difference"),
        ("500 mK", "temperature", "is not a temperature scale"),
        ("600 degR", "temperature", "is not a temperature scale"),
        ("12 degC", "difference", "reads as a temperature; a difference is written"),
        ("20 degF", "difference", "reads as a temperature; a difference is written"),
        ("80", "size", '"80" has no unit; wanted is something like "80 mm"'),
        ("", "size", "is not a number with a unit"),
        ("mm", "size", "is not a number with a unit"),
        ("1,5 mm", "size", "has a comma; a decimal is written with a point"),
        ("1,500 mm", "size", "has a comma"),
        ("20 kN", "stress", "is not a unit of stress"),
        ("80 furlongs_per_fish", "size", "is not a unit of length"),
        ("1 mm**99999999", "size", "is not a unit of length"),
        ("1 ((((mm", "size", "is not a unit"),
        ("1 \x00mm", "size", "is not a number with a unit"),
        ("__import__('os') mm", "size", "is not a number with a unit"),
        (True, "size", "True is not a number"),
        (np.True_, "size", "is not an array of numbers"),
        (None, "size", "None is not a number"),
        (1 + 2j, "size", "is not a number"),
        ({"value": 1}, "size", "is not a number"),
        (10**400, "size", "a number of that size must be a mistake"),
        ([1.0, "nan mm"], "size", "is not a number with a unit"),
        ([1.0, True], "size", "True is not a number"),
        ([[1.0, 2.0], [3.0]], "size", "lists that differ in length"),
        ([1.0, "5 kN"], "size", "is not a unit of length"),
        (np.array([1.0, np.nan]), "size", "must be a finite number"),
        (np.array(["80 mm"]), "size", "is not an array of numbers"),
        (np.array([True]), "size", "is not an array of numbers"),
        (np.array([1j]), "size", "is not an array of numbers"),
    ],
    ids=repr,
)
def test_bad_input_is_refused_with_the_reason(given, quantity, message):
    with pytest.raises(UnitProblem, match=message):
        to_si(given, quantity)


@pytest.mark.parametrize(
    ("given", "quantity", "si"),
    [
        (Q(38, "um"), "fine", 38e-6),
        (Q([79.9, 80.0], "mm"), "size", [0.0799, 0.08]),
        (Q(70, "degC"), "temperature", 70.0),
        (Q(158, "degF"), "temperature", 70.0),
        (Q([32.0, 212.0], "degF"), "temperature", [0.0, 100.0]),
        (Q(12, "kelvin"), "difference", 12.0),
        (Q(12, "delta_degC"), "difference", 12.0),
        (Q([9.0, 18.0], "delta_degF"), "difference", [5.0, 10.0]),
        (Q(500, "millikelvin"), "difference", 0.5),
        (Q(600, "N*m"), "torque", 600.0),
        (Q(60, "rpm"), "speed", 2 * np.pi),
        (Q(0.15, ""), "ratio", 0.15),
        (Q(15, "percent"), "ratio", 0.15),
    ],
    ids=str,
)
def test_pint_quantities(given, quantity, si):
    read = to_si(given, quantity)
    assert np.shape(read) == np.shape(si)
    assert read == pytest.approx(si, rel=1e-14)


@pytest.mark.parametrize(
    ("given", "quantity", "message"),
    [
        (Q(600, "N*m"), "force", "is not a unit of force"),
        (Q(600, "J"), "torque", "is a unit of energy"),
        (Q(183, "Hz"), "speed", "does not say what turns"),
        (Q(343, "kelvin"), "temperature", "reads as a temperature difference"),
        (Q(12, "degC"), "difference", "reads as a temperature"),
        (Q(15, "mm"), "ratio", "is not a unit of ratio"),
        (Q(np.nan, "mm"), "size", "must be a finite number"),
    ],
    ids=str,
)
def test_wrong_pint_quantities(given, quantity, message):
    with pytest.raises(UnitProblem, match=message):
        to_si(given, quantity)


def test_arrays_lists_and_numpy_numbers():
    assert to_si(np.float32(0.5), "size") == 0.5
    assert to_si(np.int64(3), "count") == 3.0
    read = to_si(["80 mm", 0.081, "3.2 in"], "size")
    assert read.tolist() == pytest.approx([0.08, 0.081, 3.2 * 0.0254])
    assert to_si(np.arange(6).reshape(2, 3), "size").shape == (2, 3)
    assert to_si([[0.1, "1 mm"], [0.2, "2 mm"]], "size").tolist() == [[0.1, 0.001], [0.2, 0.002]]


def test_wrong_unit_to_show_in():
    with pytest.raises(UnitProblem, match="is not a unit of stress"):
        from_si(1e6, "stress", "kN")
    with pytest.raises(UnitProblem, match="is not a temperature scale"):
        from_si(20.0, "temperature", "kelvin")
    with pytest.raises(InputError, match='units: \'imperial\' must be "metric" or "inch"'):
        units.shop_unit("size", "imperial")
