"""Nests, stepped rings and fits that yield: the Python face, and SciPy as the judge."""

from __future__ import annotations

import importlib.util
import itertools
import math
from pathlib import Path

import fitwright as fw
import numpy as np
import pytest
from fitwright.materials import own
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

E, NU = 210e9, 0.3


def metal(yield_strength="400 MPa"):
    return own(
        "plain",
        modulus="210 GPa",
        poisson=NU,
        density="7850 kg/m^3",
        expansion="12e-6 1/K",
        yield_strength=yield_strength,
        lowest="-200 degC",
        highest="1000 degC",
        heating_limit="900 degC",
    )


# -- nests ----------------------------------------------------------------------------------------


def three(**changed):
    given = {
        "layers": [
            fw.Layer(outside="60 mm", material="4340"),
            fw.Layer(outside="80 mm", interference="30 um", material="4340"),
            fw.Layer(outside="105 mm", interference="38 um", material="52100"),
        ],
        "speed": "9000 rpm",
    }
    return fw.rings.nest(**{**given, **changed})


def test_a_nest_reads_naturally():
    nest = three()
    assert [type(layer).__name__ for layer in nest.layers] == ["NestLayer"] * 3
    assert len(nest.contacts) == 2
    assert isinstance(nest.contacts[1].pressure, float)
    assert nest.to("contact2.pressure", "MPa") == pytest.approx(nest.contacts[1].pressure / 1e6)
    assert "layer3.bore_hoop" in str(nest)
    assert "layer4.bore_hoop" not in str(nest)
    assert nest.cold.contacts[1].pressure > nest.contacts[1].pressure
    hot = fw.Layer(outside="105 mm", interference="38 um", temperature="90 degC", material="52100")
    warm = three(layers=[*nest._arguments["layers"][:2], hot])
    assert warm.contacts[1].pressure < nest.contacts[1].pressure
    assert warm.cold.contacts[1].pressure == nest.cold.contacts[1].pressure
    slopes = nest.derivatives()
    assert slopes["contact2.pressure", "layer3.interference"] > 0.0
    assert slopes["contact1.pressure", "layer3.interference"] > 0.0
    assert not any("layer4" in path for _, path in slopes)
    assert not any("contact3" in output for output, _ in slopes)


def test_a_nest_of_arrays_is_its_members():
    speeds = np.linspace(0.0, 5000.0, 7)
    many = three(speed=speeds)
    for k, speed in enumerate(speeds):
        one = three(speed=speed)
        for found, wanted in zip(many.contacts, one.contacts, strict=True):
            assert found.pressure[k] == wanted.pressure
            assert found.gap[k] == wanted.gap
    assert many.contacts[1].gap[-1] > 0.0


@pytest.mark.parametrize(
    ("changed", "told"),
    [
        ({"layers": []}, r"layers: must hold 1 to 8 of fw\.Layer, not 0"),
        ({"layers": "4340"}, r"layers: must be a list of fw\.Layer"),
        ({"layers": [fw.Shaft(seat="80 mm", material="4340")]}, "must be a list of fw"),
        ({"layers": [fw.Layer(outside="8 mm", material="4341x")]}, "layer1.material"),
        ({"layers": [fw.Layer(material="4340")]}, "layer1.outside: .*must be given"),
        ({"speed": "warm"}, "speed"),
    ],
)
def test_a_nest_that_makes_no_sense(changed, told):
    with pytest.raises(fw.InputError, match=told):
        three(**changed)


def test_too_many_layers():
    layers = [fw.Layer(outside=0.05 + 0.01 * k, material="4340") for k in range(9)]
    with pytest.raises(fw.InputError, match=r"1 to 8 of fw\.Layer, not 9"):
        fw.rings.nest(layers=layers)


def test_random_nests_by_trying_every_set_of_joints():
    """Unit pressures through rings.thick_ring give the matrix; NumPy solves every set."""
    rng = np.random.default_rng(11)
    steel = metal()
    opened = 0
    for _ in range(60):
        m = int(rng.integers(2, 6))
        outsides = 0.05 * np.cumprod(rng.uniform(1.1, 1.4, m))
        interference = rng.uniform(-30e-6, 30e-6, m - 1)
        speed = rng.uniform(0.0, 200.0 / outsides[-1])
        layers = [
            fw.Layer(
                outside=o,
                material=steel,
                **({} if k == 0 else {"interference": interference[k - 1]}),
            )
            for k, o in enumerate(outsides)
        ]
        found = fw.rings.nest(layers=layers, speed=speed).contacts
        matrix = np.zeros((m - 1, m - 1))
        overlap = interference.copy()
        for k in range(m):
            bore = 0.0 if k == 0 else outsides[k - 1]

            def growth(radius, bore=bore, outside=outsides[k], **load):
                return fw.rings.thick_ring(
                    bore=bore, outside=outside, radius=radius, material=steel, **load
                ).growth

            unit = {"inner_pressure": 1e8}, {"outer_pressure": 1e8}
            if k > 0:
                overlap[k - 1] -= growth(bore / 2, speed=speed)
                matrix[k - 1, k - 1] += growth(bore / 2, **unit[0]) / 1e8
                if k < m - 1:
                    matrix[k - 1, k] += growth(bore / 2, **unit[1]) / 1e8
            if k < m - 1:
                overlap[k] += growth(outsides[k] / 2, speed=speed)
                matrix[k, k] -= growth(outsides[k] / 2, **unit[1]) / 1e8
                if k > 0:
                    matrix[k, k - 1] -= growth(outsides[k] / 2, **unit[0]) / 1e8
        answers = []
        for closed in itertools.product((False, True), repeat=m - 1):
            on = np.flatnonzero(closed)
            p = np.zeros(m - 1)
            if on.size:
                p[on] = np.linalg.solve(matrix[np.ix_(on, on)], overlap[on])
            if np.all(p >= 0.0) and np.all(overlap - matrix @ p <= 1e-14):
                answers.append(p)
        assert answers
        assert [c.pressure for c in found] == pytest.approx(answers[0], rel=1e-8, abs=2.0)
        opened += any(c.pressure == 0.0 for c in found)
    assert opened > 20


@given(
    st.lists(st.floats(-40e-6, 60e-6), min_size=1, max_size=6),
    st.integers(0, 5),
    st.floats(0.0, 20e-6),
    st.floats(0.0, 1500.0),
)
@settings(max_examples=60, deadline=None)
def test_more_interference_anywhere_lowers_no_pressure(interferences, where, more, speed):
    """The inverse of an M-matrix has no negative entry."""

    def pressures(values):
        layers = [fw.Layer(outside=0.05, material="4340")]
        for k, value in enumerate(values, 1):
            outside = 0.05 * 1.15**k
            layers.append(fw.Layer(outside=outside, interference=value, material="52100"))
        contacts = fw.rings.nest(layers=layers, speed=speed).contacts
        assert all(c.pressure >= 0.0 and c.gap >= 0.0 for c in contacts)
        assert all(c.pressure == 0.0 or c.gap == 0.0 for c in contacts)
        return np.array([c.pressure for c in contacts])

    tighter = list(interferences)
    tighter[where % len(tighter)] += more
    assert np.all(pressures(tighter) >= pressures(interferences) - 1.0)


# -- fits that yield ------------------------------------------------------------------------------


def hoop_and_radial_strain(radial, hoop_strain, strength, hardening):
    """Deformation theory, von Mises, plane stress, without any angle: the stress by its root."""
    hoop = E * hoop_strain + NU * radial
    stress = math.sqrt(hoop**2 - hoop * radial + radial**2)
    if stress <= strength:
        return hoop, (radial - NU * hoop) / E

    if hardening == 0.0:
        hoop = radial / 2 + math.sqrt(strength**2 - 0.75 * radial**2)
        stress = strength
        plastic = (hoop_strain - (hoop - NU * radial) / E) * 2 * stress / (2 * hoop - radial)
    else:

        def off(h):
            s = math.sqrt(h**2 - h * radial + radial**2)
            x = max(s - strength, 0.0) / hardening
            return (h - NU * radial) / E + x * (2 * h - radial) / (2 * s) - hoop_strain

        hoop = brentq(off, radial / 2 + 1.0, max(hoop, 1.0), xtol=1e-3, rtol=1e-14)
        stress = math.sqrt(hoop**2 - hoop * radial + radial**2)
        plastic = (stress - strength) / hardening
    return hoop, (radial - NU * hoop) / E + plastic * (2 * radial - hoop) / (2 * stress)


def ring_by_scipy(a, b, outside_strain, strength, hardening):
    def slopes(r, y):
        hoop, radial_strain = hoop_and_radial_strain(y[0], y[1], strength, hardening)
        return [(hoop - y[0]) / r, (radial_strain - y[1]) / r]

    done = solve_ivp(
        slopes, (b, a), [0.0, outside_strain], method="DOP853", rtol=1e-11, atol=1e-13,
        max_step=(b - a) / 50,
    )  # fmt: skip
    radial, strain = done.y[:, -1]
    return -radial, strain


@pytest.mark.parametrize("tangent", [0.0, 3e9, 30e9])
@pytest.mark.parametrize(("bore", "outside"), [(0.0, 0.13), (0.03, 0.13), (0.0, 0.20)])
def test_von_mises_against_an_ode_library(tangent, bore, outside):
    strength, a, b = 300e6, 0.04, outside / 2
    hardening = tangent / (1.0 - tangent / E)
    steel = metal()
    answer = fw.rings.elastic_plastic_fit(
        shaft=fw.Shaft(seat="80 mm", bore=bore, material=steel),
        ring=fw.Ring(bore="80 mm", outside=outside, length="60 mm", material=steel),
        interference="250 um",
        ring_yield=strength,
        shaft_yield="3 GPa",
        ring_tangent_modulus=tangent,
    )
    assert answer.plastic_share > 0.1
    c2 = (bore / 2) ** 2
    compliance = ((a * a + c2) / (a * a - c2) - NU) / E

    def off(outside_strain):
        pressure, strain = ring_by_scipy(a, b, outside_strain, strength, hardening)
        return strain + pressure * compliance - 250e-6 / 0.08

    outside_strain = brentq(off, 1e-5, 0.9999 * strength / E, xtol=1e-14, rtol=1e-12)
    pressure, strain = ring_by_scipy(a, b, outside_strain, strength, hardening)
    # The library splits the wall at the edge of the zone; SciPy steps over that kink.
    assert answer.pressure == pytest.approx(pressure, rel=1e-7)
    assert answer.outside_growth == pytest.approx(2 * b * outside_strain, rel=1e-7)
    back = pressure * ((b * b + a * a) / (b * b - a * a) + NU) / E
    assert answer.permanent_bore_growth == pytest.approx(0.08 * (strain - back), rel=1e-5)


@pytest.mark.parametrize("tangent", [0.0, 5e9])
def test_a_shaft_that_yields_against_an_ode_library(tangent):
    strength, c, a, b = 300e6, 0.025, 0.04, 0.08
    hardening = tangent / (1.0 - tangent / E)
    steel = metal()
    answer = fw.rings.elastic_plastic_fit(
        shaft=fw.Shaft(seat="80 mm", bore="50 mm", material=steel),
        ring=fw.Ring(bore="80 mm", outside="160 mm", length="60 mm", material=steel),
        interference="170 um",
        ring_yield="3 GPa",
        shaft_yield=strength,
        shaft_tangent_modulus=tangent,
    )
    assert answer.shaft_plastic_strain > 1e-4
    compliance = ((b * b + a * a) / (b * b - a * a) + NU) / E

    # Mirrored: pressure counts as tension, so that the same law serves. From the bore outwards.
    def seat(bore_strain):
        def slopes(r, y):
            hoop, radial_strain = hoop_and_radial_strain(y[0], y[1], strength, hardening)
            return [(hoop - y[0]) / r, (radial_strain - y[1]) / r]

        done = solve_ivp(
            slopes, (c, a), [0.0, bore_strain], method="DOP853", rtol=1e-11, atol=1e-13,
            max_step=(a - c) / 50,
        )  # fmt: skip
        return done.y[0, -1], done.y[1, -1]

    def off(bore_strain):
        pressure, shrink = seat(bore_strain)
        return shrink + pressure * compliance - 170e-6 / 0.08

    bore_strain = brentq(off, 1e-4, 1e-2, xtol=1e-14, rtol=1e-12)
    assert answer.pressure == pytest.approx(seat(bore_strain)[0], rel=1e-7)


def test_past_full_yielding_the_way_out_is_told():
    with pytest.raises(fw.InputError, match="whole wall of the ring yield; take less interference"):
        fw.rings.elastic_plastic_fit(
            shaft=fw.Shaft(seat="80 mm", material=metal()),
            ring=fw.Ring(bore="80 mm", outside="100 mm", length="60 mm", material=metal()),
            interference="700 um",
            ring_yield="250 MPa",
        )


# -- stepped rings --------------------------------------------------------------------------------


def test_a_stepped_ring_reads_naturally():
    given = {
        "shaft": fw.Shaft(seat="80 mm", bore="40 mm", material="4340"),
        "ring": fw.SteppedRing(bore="80 mm", material="52100"),
        "interference": "60 um",
    }
    thick = fw.Slice(outside="120 mm", length="15 mm")
    answer = fw.rings.stepped(slices=[thick, fw.Slice(outside="100 mm", length="25 mm")], **given)
    assert len(answer.slices) == 2
    total = sum(s.holding_force for s in answer.slices)
    assert answer.holding_force == pytest.approx(total)
    assert answer.slices[0].pressure > answer.pressure > answer.slices[1].pressure
    with pytest.raises(fw.InputError, match=r"slice2\.start: 10 mm lies before the end"):
        fw.rings.stepped(
            slices=[thick, fw.Slice(outside="100 mm", length="25 mm", start="10 mm")], **given
        )


# -- the page -------------------------------------------------------------------------------------


def test_the_table_against_finite_elements_is_up_to_date():
    path = Path(__file__).resolve().parents[2] / "docs" / "generate_rings.py"
    spec = importlib.util.spec_from_file_location("generate_rings", path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    written = module.PAGE.read_text(encoding="utf-8")
    assert written == module.page(), "run docs/generate_rings.py"
    assert written.count("| FE-B") > 24
