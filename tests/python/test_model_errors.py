"""What a model refuses and how it says so; own materials; parts."""

from __future__ import annotations

import re

import fitwright as fw
import numpy as np
import pytest
from test_models import NUT, fit, ring, shaft


def test_a_bare_speed_in_rpm_is_caught():
    with pytest.raises(fw.InputError, match=r'speed: .*300 m/s.*did you mean "11000 rpm"\?'):
        fit(speed=11000)
    with pytest.raises(fw.InputError, match=r'did you mean "11000 rpm"\?'):
        fw.rings.thick_ring(bore="20 mm", outside="100 mm", speed=11000, material="4340")


def test_interference_told_twice():
    measured = ring(bore="79.96 mm")
    assert fit(ring=measured, interference=None).interference_left == pytest.approx(40e-6)
    assert fit(ring=measured, interference="40 um").interference_left == pytest.approx(40e-6)
    with pytest.raises(fw.InputError, match="interference: 38 um disagrees with seat minus bore"):
        fit(ring=measured)


@pytest.mark.parametrize(
    ("changed", "message"),
    [
        ({"shaft": {"bore": "90 mm"}}, "shaft.bore: 90 mm must be smaller than the seat"),
        ({"shaft": {"bore": "-1 mm"}}, "shaft.bore: -1 mm is outside its range: from 0 mm"),
        ({"shaft": {"seat": "0 mm"}}, "shaft.seat: 0 mm is outside its range: from 0.01 mm"),
        ({"shaft": {"seat": None}}, "shaft.seat: must be given (diameter of the seat"),
        ({"ring": {"outside": "70 mm"}}, "ring.outside: 70 mm must be larger than the seat"),
        ({"ring": {"contact_length": "31 mm"}}, "31 mm must not exceed the length of the ring"),
        ({"ring": {"friction": 0.05}}, "ring.friction: must lie between its ends (0.12 to 0.2)"),
        ({"ring": {"friction": 1.2}}, "ring.friction: must lie between its ends"),
        ({"ring_temperature": 600.0}, "ring_temperature: 600 degC is outside the temperature"),
        ({"ring_temperature": 343.0}, "(degC, not kelvin)"),
        ({"shaft_temperature": "343 K"}, 'shaft_temperature: "343 K" reads as a temperature'),
        ({"interference": "900 um"}, "interference: 900 um must be below 1 % of the seat"),
        ({"interference": "600 Nm"}, 'interference: "Nm" is not a unit of length'),
        ({"axial_force": "600 Nm"}, 'axial_force: "Nm" is not a unit of force'),
        ({"axial_force": float("nan")}, "axial_force: nan must be a finite number"),
        ({"speed": "183 Hz"}, 'speed: "Hz" does not say what turns'),
        ({"speed": True}, "speed: True is not a number"),
    ],
    ids=str,
)
def test_errors_name_path_value_rule_and_unit(changed, message):
    made = {"shaft": shaft, "ring": ring}
    with pytest.raises(fw.InputError, match=re.escape(message)):
        fit(**{k: made[k](**v) if k in made else v for k, v in changed.items()})


def test_all_problems_at_once():
    with pytest.raises(fw.InputError) as caught:
        fit(shaft=shaft(bore="-1 mm"), ring=ring(outside="-5 mm"), speed=-1.0)
    assert [p for p, _ in caught.value.problems] == ["shaft.bore", "ring.outside", "speed"]
    assert str(caught.value).startswith("3 problems:")
    with pytest.raises(fw.InputError) as caught:
        fw.Shaft(seat="80 kN", bore="x", roughness="3", material="4340")
    assert {p for p, _ in caught.value.problems} == {"seat", "bore", "roughness"}
    with pytest.raises(fw.InputError) as caught:
        fit(shaft=shaft(material="nothing"), ring=ring(material=7), speed="1 Hz")
    assert {p for p, _ in caught.value.problems} == {"shaft.material", "ring.material", "speed"}


def test_wrong_kinds_of_arguments():
    with pytest.raises(fw.InputError, match=r"ring: must be a fw\.Ring, not Shaft"):
        fit(ring=shaft())
    with pytest.raises(fw.InputError, match=r"shaft: must be a fw\.Shaft, not str"):
        fit(shaft="80 mm")
    with pytest.raises(fw.InputError, match=r"nut\.hand: 'lefty' must be one of right, left"):
        fw.threads.tighten(nut=fw.Nut(**NUT, hand="lefty"), torque="600 N m", material="4340")
    with pytest.raises(TypeError, match="unexpected keyword argument 'rpm'"):
        fit(rpm=3)


def test_an_unknown_material_lists_the_three_nearest():
    with pytest.raises(fw.InputError, match=r'"4430" is not a known material; nearest: (.*)') as e:
        fit(shaft=shaft(material="4430"))
    nearest = e.value.problems[0][1].split("nearest: ")[1].split(", ")
    assert len(nearest) == 3
    assert nearest[0] == "4340"


def test_an_own_material_serves_like_one_of_the_library():
    # The properties of the library's 4340 at 20 degC, told by hand, must give the same fit.
    held = fw.materials.material("4340")
    same = fw.materials.own(
        "mine",
        modulus=held.at("modulus", 20.0),
        expansion=held.at("expansion", 20.0),
        yield_strength=held.at("yield", 20.0),
        poisson=held.poisson,
        density=held.density,
        lowest=20.0,
        highest=20.0,
        heating_limit="20 degC",
    )
    assert fit(shaft=shaft(material=same)).pressure == fit().pressure
    with pytest.raises(fw.InputError) as caught:
        fw.materials.own(
            "bad",
            modulus="-1 GPa",
            expansion="11 kN",
            yield_strength=[("20 degC", "300 MPa"), ("10 degC", "290 MPa")],
            poisson=0.5,
            density="0 kg/m^3",
            heating_limit="500 degC",
        )
    paths = [path for path, _ in caught.value.problems]
    assert paths == ["bad.expansion", "bad.poisson", "bad.density", "bad.heating_limit",
                     "bad.modulus"]  # fmt: skip
    with pytest.raises(fw.InputError, match=r"conductivity: is not told for material"):
        same.at("conductivity", 20.0)
    with pytest.raises(fw.InputError, match=r"21 degC is outside the data of material"):
        same.at("modulus", 21.0)


def test_conductivity_and_heat_capacity_of_an_own_material():
    told = {
        "modulus": "105 GPa",
        "expansion": "17.8e-6 / K",
        "yield_strength": "140 MPa",
        "poisson": 0.34,
        "density": "8800 kg/m^3",
        "heating_limit": "100 degC",
        "highest": "180 degC",
    }
    bronze = fw.materials.own(
        "bronze",
        **told,
        conductivity="30 Btu/hour/ft/delta_degF",
        heat_capacity=[("20 degC", "375 J/kg/K"), ("120 degC", "395 J/kg/K")],
    )
    # 1 Btu/(h ft degF) is 1.7307 W/(m K).
    assert bronze.at("conductivity", 70.0) == pytest.approx(30 * 1.7307, rel=1e-4)
    assert bronze.at("heat_capacity", 70.0) == pytest.approx(385.0)
    with pytest.raises(fw.InputError, match=r"conductivity.*must be positive"):
        fw.materials.own("bronze", **told, conductivity="0 W/m/K")
    with pytest.raises(fw.InputError, match="not a unit of specific heat"):
        fw.materials.own("bronze", **told, heat_capacity="45 W/m/K")


def test_parts_know_what_they_were_given():
    assert shaft().bore == 0.03
    assert shaft().material == "4340"
    assert fw.Nut(**NUT, hand="left").hand == "left"
    assert repr(shaft()) == "Shaft(material='4340', seat='80 mm', bore='30 mm')"
    assert ring().friction == 0.15
    with pytest.raises(AttributeError, match="no attribute 'nothing'"):
        _ = fw.nothing
    assert "rings" in dir(fw)


def test_a_hole_too_small_to_square_still_gives_numbers():
    """1e-200 m is within the range of a bore: its square is 0, the stress there that of a hole."""
    pinhole = fit(shaft=shaft(bore=1e-200))
    solid = fit(shaft=shaft(bore=0.0))
    assert pinhole.pressure == pytest.approx(solid.pressure)
    assert pinhole.shaft_hoop == pytest.approx(2.0 * solid.shaft_hoop)  # Lame's limit, at rest
    both = fit(shaft=shaft(bore=1e-200), interference=[1e-5, 2e-5])
    assert np.all(np.isfinite(both.shaft_hoop))
