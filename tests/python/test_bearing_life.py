"""Ratings, lives, creep and frequencies, computed again with SciPy and mpmath from the written
equations, on random bearings; and what the lists of the Python face refuse."""

from __future__ import annotations

import math

import fitwright as fw
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from mpmath import mp, mpf
from scipy import integrate, optimize, special

mp.dps = 30


def numbers(low, high):
    return st.floats(low, high, allow_nan=False, allow_infinity=False)


@st.composite
def rows(draw, low=0.0, high=45.0):
    """Arguments of a BallRow in SI, balls that fit."""
    pitch = draw(numbers(0.03, 0.6))
    diameter = pitch * draw(numbers(0.05, 0.3))
    most = math.pi / math.asin(diameter / pitch)
    return {
        "balls": math.floor(most * draw(numbers(0.6, 0.95))),
        "ball_diameter": diameter,
        "pitch_diameter": pitch,
        "inner_curvature": draw(numbers(0.51, 0.56)),
        "outer_curvature": draw(numbers(0.51, 0.56)),
        "contact_angle": math.radians(draw(numbers(low, high))),
        "kind": "radial" if high <= 45.0 else "thrust",
        "grooves": "measured",
    }


def capacity(r):
    """fc-formula of ISO/TR 1281-1 in high precision (newtons, millimetres)."""
    d, dm, z = mpf(r["ball_diameter"]) * 1000, mpf(r["pitch_diameter"]) * 1000, r["balls"]
    a, fi, fo = mpf(r["contact_angle"]), mpf(r["inner_curvature"]), mpf(r["outer_curvature"])
    g = d * mp.cos(a) / dm
    radial = r["kind"] == "radial"
    ratio = ((1 - g) / (1 + g)) ** mpf("1.72") * (fi / fo * (2 * fo - 1) / (2 * fi - 1)) ** mpf(
        "0.41"
    )
    both = (1 + ((mpf("1.04") if radial else 1) * ratio) ** (mpf(10) / 3)) ** mpf("-0.3")
    fc = both * g ** mpf("0.3") * (1 - g) ** mpf("1.39") / (1 + g) ** (mpf(1) / 3)
    fc *= (2 * fi / (2 * fi - 1)) ** mpf("0.41") * mpf("98.0665")
    fc *= mpf("0.41") * mpf("0.95") if radial else mpf("0.9") * (1 - mp.sin(a) / 3)
    size = d ** mpf("1.8") if d <= mpf("25.4") else mpf("25.4") ** mpf("0.4") * d ** mpf("1.4")
    shape = mp.cos(a) ** mpf("0.7") * (1 if radial else mp.tan(a))
    return fc, mpf("1.3") * fc * shape * z ** (mpf(2) / 3) * size, ratio


@given(st.one_of(rows(), rows(46.0, 85.0)))
def test_dynamic_rating_in_high_precision(r):
    out = fw.bearings.dynamic_rating(row=fw.BallRow(**r), axial_load="1 kN")
    fc, rating, _ = capacity(r)
    assert out.geometry_factor == pytest.approx(float(fc), rel=1e-12)
    assert out.dynamic_rating == pytest.approx(float(rating), rel=1e-12)


def pressed(diameter, across, along, pressure):
    """Ball load that makes a contact pressure: Hertz with SciPy's integrals and root finder."""
    flexibility = 2 * (1 - 0.3**2) / 207e9
    lesser, greater = min(across, along), max(across, along)
    difference = (greater - lesser) / (greater + lesser)

    def equation(k):
        m = 1 - 1 / k**2
        e, f = special.ellipe(m), special.ellipk(m)
        return ((k**2 + 1) * e - 2 * f) / ((k**2 - 1) * e) - difference

    k = optimize.brentq(equation, 1 + 1e-6, 500.0, xtol=1e-13)
    e = special.ellipe(1 - 1 / k**2)
    factor = (3 * flexibility * e * k**2 / (math.pi * (lesser + greater))) ** (1 / 3)
    return (pressure * 2 * math.pi * factor**2 / (3 * k)) ** 3


@given(st.one_of(rows(), rows(46.0, 89.0)))
def test_static_rating_and_fatigue_limit_with_scipy(r):
    out = fw.bearings.static_rating(row=fw.BallRow(**r), axial_load="1 kN")
    d, a = r["ball_diameter"], r["contact_angle"]
    g = d * math.cos(a) / r["pitch_diameter"]
    inner = ((2 - 1 / r["inner_curvature"]) / d, 2 / (d * (1 - g)))
    outer = ((2 - 1 / r["outer_curvature"]) / d, 2 / (d * (1 + g)))
    radial = r["kind"] == "radial"
    share = r["balls"] * (math.cos(a) if radial else math.sin(a))
    for pressure, told, part in (
        (4200e6, out.static_rating, 0.2 if radial else 1.0),
        (1500e6, out.fatigue_limit, 0.2288 if radial else 1.0),
    ):
        load = min(pressed(d, *c, pressure) for c in (inner, outer))
        small = 1.0 if pressure > 2e9 else min(1.0, 0.1 / r["pitch_diameter"]) ** 0.5
        assert told == pytest.approx(load * share * part * small, rel=1e-8)


@given(rows(5.0, 45.0), numbers(100.0, 5e3), numbers(1.0, 3.0))
def test_reference_life_in_high_precision(r, load, heavier):
    balls = r["balls"]
    j = np.arange(balls)
    inner = load * (1.2 + np.cos(2 * math.pi * j / balls))
    outer = inner * heavier
    life = fw.bearings.ring_life(fw.BallRow(**r), inner_loads=inner, outer_loads=outer)
    _, rating, ratio = capacity(r)
    u = (mpf("1.044") * ratio) ** (mpf(10) / 3)
    ball = rating / (balls * mp.cos(mpf(r["contact_angle"])))
    qci = ball / mpf("0.407") * (1 + u) ** mpf("0.3")
    qce = ball / mpf("0.389") * (1 + 1 / u) ** mpf("0.3")
    qei = (sum(mpf(q) ** 3 for q in inner) / balls) ** (mpf(1) / 3)
    qee = (sum(mpf(q) ** (mpf(10) / 3) for q in outer) / balls) ** mpf("0.3")
    wear = (qei / qci) ** (mpf(10) / 3) + (qee / qce) ** (mpf(10) / 3)
    assert life.inner_rating == pytest.approx(float(qci), rel=1e-12)
    assert life.outer_rating == pytest.approx(float(qce), rel=1e-12)
    assert life.life == pytest.approx(float(wear ** mpf("-0.9")) * 1e6, rel=1e-11)


@given(
    st.sampled_from(["radial_ball", "thrust_ball", "radial_roller", "thrust_roller"]),
    numbers(0.11, 5.0),
    numbers(0.0, 2.0),
    numbers(0.05, 1.0),
)
def test_modification_factor_in_high_precision(bearing, kappa, load, clean):
    out = fw.bearings.modified_life(
        bearing=bearing,
        pitch_diameter="100 mm",
        speed="1 rpm",
        dynamic_rating="100 kN",
        fatigue_limit=1e3 * load + 1e-3,
        equivalent_load="1 kN",
        contamination_factor=clean,
        oil=fw.Lubricant(viscosity=4500e-6 * kappa),
    )
    assert out.viscosity_ratio == pytest.approx(kappa, rel=1e-12)
    k = mpf(min(out.viscosity_ratio, 4.0))
    ball = bearing.endswith("ball")
    branches = ("0.054381", "0.19087", "0.071739")
    factors = ("2.2649", "1.9987", "1.9987") if ball else ("1.3993", "1.2348", "1.2348")
    which = 0 if k < mpf("0.4") else 1 if k < 1 else 2
    film = mpf("2.5671" if ball else "1.5859") - mpf(factors[which]) * k ** -mpf(branches[which])
    share = {"radial_ball": 1, "thrust_ball": 3, "radial_roller": 1, "thrust_roller": mpf("2.5")}
    x = mpf(clean) * (mpf(load) + mpf("1e-6")) / share[bearing]
    base = 1 - film ** mpf("0.83" if ball else "1") * x ** (mpf(1) / 3 if ball else mpf("0.4"))
    limit = mpf(500) ** (-1 / mpf("9.3" if ball else "9.185"))
    factor = 50 if base <= limit else base ** -mpf("9.3" if ball else "9.185") / 10
    assert out.modification_factor == pytest.approx(float(factor), rel=1e-10)


@given(numbers(10.0, 500.0), numbers(4.0, 12.0), numbers(-10.0, 140.0))
def test_oil_between_two_points_is_straight_on_the_walther_chart(warm, times, temperature):
    hot = max(warm / times, 2.0)
    out = fw.bearings.modified_life(
        pitch_diameter="100 mm",
        speed="100 rpm",
        dynamic_rating="100 kN",
        static_rating="90 kN",
        equivalent_load="1 kN",
        oil=fw.Lubricant(viscosity_40=warm * 1e-6, viscosity_100=hot * 1e-6),
        temperature=temperature,
    )

    def chart(nu):
        return mp.log10(mp.log10(nu + mpf("0.7")))

    t, t1, t2 = (mp.log10(mpf(x) + mpf("273.15")) for x in (temperature, 40, 100))
    w = chart(mpf(warm)) + (chart(mpf(hot)) - chart(mpf(warm))) * (t - t1) / (t2 - t1)
    nu = 10 ** (10**w) - mpf("0.7")
    assert out.viscosity * 1e6 == pytest.approx(float(nu), rel=1e-11)


@given(numbers(3, 30), numbers(0.05, 0.35), numbers(0.0, 60.0), numbers(0.0, 60.0))
def test_frequencies_from_no_slip_at_both_raceways(balls, ratio, inner, outer):
    balls = min(math.floor(balls), math.floor(math.pi / math.asin(ratio) * 0.98))
    if balls < 3:
        return
    for turning in ("inner", "outer"):
        for control in ("outer", "inner"):
            out = fw.bearings.frequencies(
                balls=balls,
                ball_diameter=ratio * 0.1,
                pitch_diameter=0.1,
                inner_angle=math.radians(inner),
                outer_angle=math.radians(outer),
                turning=turning,
                control=control,
                speed=2 * math.pi,
            )
            ai, ao = math.radians(inner), math.radians(outer)
            b = (
                math.atan2(math.sin(ao), math.cos(ao) + ratio)
                if control == "outer"
                else math.atan2(math.sin(ai), math.cos(ai) - ratio)
            )
            # Unknown: cage, ball spin. Equations: no slip at either raceway.
            wi, wo = (1.0, 0.0) if turning == "inner" else (0.0, 1.0)
            ri, ro = 1 - ratio * math.cos(ai), 1 + ratio * math.cos(ao)
            si, so = ratio * math.cos(ai - b), ratio * math.cos(ao - b)
            # (wi - wm) ri = -wb si, (wo - wm) ro = wb so
            cage, spin = np.linalg.solve([[ri, -si], [ro, so]], [wi * ri, wo * ro])
            assert out.cage_order == pytest.approx(cage, rel=1e-11)
            assert out.ball_spin_order == pytest.approx(abs(spin), rel=1e-11)
            assert out.inner_pass == pytest.approx(balls * abs(wi - cage), rel=1e-11)
            assert out.outer_pass == pytest.approx(balls * abs(wo - cage), rel=1e-11)


def test_constants_of_the_ratings_are_those_of_the_load_distribution():
    # Radial load without clearance, Q = Qmax cos^1.5 over half the ring: Z Qmax/Fr = 4.37, and the
    # mean of the cubes and of the powers 10/3 make 0.407 and 0.389 of ISO/TS 16281 (Qe cos/Fr).
    def mean(power):
        return integrate.quad(lambda x: math.cos(x) ** power, 0, math.pi / 2)[0] / math.pi

    most = 1 / mean(2.5)
    assert most == pytest.approx(4.37, abs=0.005)
    assert 1 / most == pytest.approx(0.2288, abs=5e-5)
    assert most * mean(4.5) ** (1 / 3) / 1 == pytest.approx(1 / 0.407, rel=0.01)
    assert most * mean(5.0) ** 0.3 / 1 == pytest.approx(1 / 0.389, rel=0.01)


def test_damage_adds_up_over_a_duty_cycle():
    duty = fw.bearings.duty_life(
        shares=[0.7, 0.2, 0.1],
        speeds=["3000 rpm", "6000 rpm", "0 rpm"],
        lives=["2000 Mrevolution", "500 Mrevolution", "1 Mrevolution"],
    )
    hours = [2000e6 / 3000 / 60, 500e6 / 6000 / 60]
    assert duty.running_time / 3600 == pytest.approx(1 / (0.7 / hours[0] + 0.2 / hours[1]))
    assert sum(duty.damage) == pytest.approx(1.0)
    assert duty.damage[2] == 0.0
    assert "hour" in str(duty.table())


@pytest.mark.parametrize(
    ("given_lists", "message"),
    [
        ({"shares": []}, "shares: is empty: a duty cycle has at least one state"),
        ({"shares": [1.0, 2.0]}, "speeds: has 1 entries, wanted are 2"),
        ({"shares": [-1.0]}, "shares[0]: -1 must not be below 0"),
        ({"lives": [0.0]}, "lives[0]: 0 Mrevolution must be above 0 Mrevolution"),
        ({"speeds": ["3 kN"]}, "speeds: "),
        ({"shares": [[0.5, 0.5]]}, "shares: must be a plain list"),
    ],
)
def test_a_bad_duty_cycle_is_refused_by_name(given_lists, message):
    good = {"shares": [1.0], "speeds": ["3000 rpm"], "lives": [1e9]}
    with pytest.raises(fw.InputError) as error:
        fw.bearings.duty_life(**{**good, **given_lists})
    assert message in str(error.value)


def test_bad_ball_loads_are_refused_by_name():
    row = fw.BallRow(balls=9, ball_diameter="12.7 mm", pitch_diameter="65 mm")
    with pytest.raises(fw.InputError, match=r"inner_loads: has 2 entries, wanted are 9"):
        fw.bearings.ring_life(row, inner_loads=[1e3, 2e3], outer_loads=[1e3] * 9)
    with pytest.raises(fw.InputError, match=r"row.balls: 40 do not fit"):
        fw.bearings.dynamic_rating(
            row=fw.BallRow(balls=40, ball_diameter="12.7 mm", pitch_diameter="65 mm")
        )
    with pytest.raises(fw.InputError, match=r"oil.viscosity: must be given, or else viscosity_40"):
        fw.bearings.modified_life(
            pitch_diameter="65 mm",
            speed="3000 rpm",
            dynamic_rating="33 kN",
            static_rating="20 kN",
            equivalent_load="4 kN",
            oil=fw.Lubricant(),
        )


def test_arrays_broadcast_over_states():
    lives = fw.bearings.modified_life(
        pitch_diameter="65 mm",
        speed=["1000 rpm", "3000 rpm", "9000 rpm"],
        dynamic_rating="33 kN",
        static_rating="20 kN",
        equivalent_load=np.array([4e3, 3e3, 2e3]),
        oil=fw.Lubricant(viscosity_40="68 mm^2/s", viscosity_100="8.7 mm^2/s"),
        temperature="80 degC",
    )
    assert lives.life.shape == (3,)
    assert np.all(np.diff(lives.viscosity_ratio) > 0)
