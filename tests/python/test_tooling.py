"""Shop tooling: laws of columns, welds and tools, the choice of sizes, cautions, bad input."""

from __future__ import annotations

import html
import math

import fitwright as fw
import numpy as np
import pytest
from fitwright.models.results import MODELS
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.optimize import brentq
from tools_made import driver, fixture, groove, puller, screw, sleeve

STEEL = fw.materials.material("1045")
MODULUS, YIELD = STEEL.at("modulus", 20.0), STEEL.at("yield", 20.0)


def numbers(low, high):
    return st.floats(low, high, allow_nan=False, allow_infinity=False)


def factors(result):
    names = [f["name"] for f in result._fields() if f["name"].endswith("_factor")]
    return {name: result._outputs[name] for name in names if name != "design_factor"}


# -- every tool -----------------------------------------------------------------------------------


@pytest.mark.parametrize("tool", [puller, fixture, driver, sleeve])
def test_a_tool_is_as_strong_as_its_weakest_element(tool):
    result = tool()
    least = min(factors(result).items(), key=lambda item: item[1])
    assert result.design_factor == least[1]
    assert fw.tooling.weakest(result) == least[0].removesuffix("_factor")
    assert result.capacity == pytest.approx(result.working_load * least[1])
    wanted = {"steady": 2.0, "jerked": 3.0, "suspended": 5.0}
    for loading, factor in wanted.items():
        judged = tool(loading=loading)
        assert judged.factor_margin == pytest.approx(least[1] - factor)
        with pytest.raises(fw.InputError, match=r"wanted_factor: 1\.5 "):
            tool(loading=loading, wanted_factor=1.5)
    assert result.cautions == fw.tooling.cautions(result._model.partition(".")[2])
    assert html.escape(result.cautions[0]) in result._repr_html_()
    assert result.cautions[1] in repr(result)


@given(numbers(5e3, 8e4), numbers(1.1, 4.0))
def test_a_tool_bears_half_of_twice_the_load(load, more):
    for tool, name in ((puller, "pull"), (sleeve, "force")):
        one, other = tool(**{name: load}), tool(**{name: load * more})
        for element, factor in factors(one).items():
            assert factors(other)[element] == pytest.approx(factor / more, rel=1e-9), element
        assert other.deflection == pytest.approx(one.deflection * more, rel=1e-9)
        assert other.capacity == pytest.approx(one.capacity, rel=1e-9)


def test_arrays_name_the_weakest_of_each():
    lips = puller(groove=groove(lip=["2 mm", "40 mm"]))
    named = fw.tooling.weakest(lips)
    assert named[0] == "lip"
    assert named[1] != "lip"
    with pytest.raises(fw.InputError, match="has no weakest element"):
        fw.tooling.weakest(
            fw.tooling.column(diameter="30 mm", length="1 m", load="1 kN", material="1045")
        )


# -- columns --------------------------------------------------------------------------------------


@given(numbers(0.01, 0.1), numbers(0.0, 0.9), numbers(2.0, 45.0), numbers(0.0, 0.3))
def test_columns_by_euler_johnson_and_secant(diameter, bore, long, off):
    eccentricity = off * diameter
    told = fw.tooling.column(
        diameter=diameter,
        bore=bore * diameter,
        length=long * diameter,
        load="1 kN",
        eccentricity=eccentricity,
        material="1045",
    )
    area = math.pi / 4 * diameter**2 * (1 - bore**2)
    inertia = math.pi / 64 * diameter**4 * (1 - bore**4)
    euler = math.pi**2 * MODULUS * inertia / (long * diameter) ** 2
    assert told.euler_load == pytest.approx(euler, rel=1e-9)
    half = area * YIELD / 2
    johnson = area * YIELD * (1 - area * YIELD / (4 * euler))
    assert told.critical_load == pytest.approx(euler if euler < half else johnson, rel=1e-9)
    # The bent strut itself: w'' + P/(E I) w = 0 from e at the ends.
    at_edge = eccentricity * diameter / 2 / (inertia / area)

    def too_much(load):
        bent = math.cos(math.pi / 2 * math.sqrt(load / euler))
        return load / area * (bent + at_edge) - YIELD * bent

    most = min(euler, area * YIELD)
    if eccentricity > 1e-6 * diameter:
        assert told.eccentric_load == pytest.approx(
            brentq(too_much, 0.0, most, xtol=1e-9 * most), rel=1e-7
        )
    assert told.capacity == min(told.critical_load, told.eccentric_load)


def test_a_bent_strut_by_integration():
    """Deflection and edge stress under a load off the axis, by steps along the strut."""
    told = fw.tooling.column(
        diameter="20 mm", length="900 mm", load="9 kN", eccentricity="3 mm", material="1045"
    )
    inertia = math.pi / 64 * 0.02**4
    count = 2000
    step = 0.9 / count
    # Second differences of w, measured from the line of the load, e at both ends.
    inner = count - 1
    matrix = (
        np.diag(np.full(inner, -2.0 + 9e3 / (MODULUS * inertia) * step**2))
        + np.diag(np.ones(inner - 1), 1)
        + np.diag(np.ones(inner - 1), -1)
    )
    right = np.zeros(inner)
    right[0] = right[-1] = -0.003
    w = np.linalg.solve(matrix, right)
    assert told.bow == pytest.approx(w.max() - 0.003, rel=1e-5)
    area = math.pi / 4 * 0.02**2
    assert told.edge_stress == pytest.approx(9e3 / area + 9e3 * w.max() * 0.01 / inertia, rel=1e-5)


def test_rods_too_slender_for_a_tool_are_refused():
    with pytest.raises(fw.InputError, match=r"screw\.length|slender"):
        puller(screw=screw(length="3 m", end_factor=2.0))


# -- welds ----------------------------------------------------------------------------------------


@given(numbers(0.02, 0.3), numbers(0.02, 0.3), numbers(0.0, 3e4), numbers(0.0, 3e4),
       numbers(0.0, 2e3), numbers(0.0, 2e3))  # fmt: skip
def test_welds_by_pieces(length, distance, axial, shear, torque, bending):
    assume(axial + shear + torque + bending > 1.0)
    for pattern in ("line", "two_lines", "rectangle", "circle"):
        told = fw.tooling.weld(
            pattern=pattern,
            leg="6 mm",
            length=length,
            distance=distance,
            axial_force=axial,
            shear_force=shear,
            torque=torque,
            bending_moment=bending,
            material="1020",
        )
        along = (np.arange(4000) + 0.5) / 4000 - 0.5
        up = along * length
        wide = along * distance
        if pattern == "line":
            x, y, piece = 0 * up, up, np.full(4000, length / 4000)
            corner = (0.0, length / 2)
        elif pattern == "circle":
            turn = 2 * math.pi * along
            x, y = length / 2 * np.cos(turn), length / 2 * np.sin(turn)
            piece = np.full(4000, math.pi * length / 4000)
            corner = None
        else:
            x = np.concatenate([up * 0 - distance / 2, up * 0 + distance / 2])
            y = np.concatenate([up, up])
            piece = np.full(8000, length / 4000)
            if pattern == "rectangle":
                x = np.concatenate([x, wide, wide])
                y = np.concatenate([y, wide * 0 - length / 2, wide * 0 + length / 2])
                piece = np.concatenate([piece, np.full(8000, distance / 4000)])
            corner = (distance / 2, length / 2)
        throat = 0.707 * 0.006
        area = throat * piece.sum()
        polar = throat * (piece * (x**2 + y**2)).sum()
        second = throat * (piece * y**2).sum()
        turns = np.linspace(0.0, 2 * math.pi, 721)
        round_places = [(length / 2 * math.cos(a), length / 2 * math.sin(a)) for a in turns]
        worst = 0.0
        for px, py in [corner] if corner else round_places:
            across = -torque * py / polar
            lengthwise = shear / area + torque * px / polar
            square_to = axial / area + bending * py / second
            worst = max(worst, math.hypot(across, lengthwise, square_to))
        if pattern == "circle":
            # Told with all worst places together: no less, and no more than the sum.
            assert told.stress >= worst * (1 - 1e-6)
        else:
            assert told.stress == pytest.approx(worst, rel=1e-6)
        assert told.throat_area == pytest.approx(area, rel=1e-9)


# -- torque ---------------------------------------------------------------------------------------


@given(numbers(0.2, 1.5), numbers(0.0, 0.3), numbers(-3.1, 3.1), numbers(50.0, 3e3))
def test_a_wrench_with_an_adapter_gives_the_torque_wanted(length, adapter, angle, torque):
    assume(length + adapter * math.cos(angle) > 0.06)
    told = fw.tooling.wrench_adapter(
        torque=torque, wrench_length=length, adapter_length=adapter, angle=angle
    )
    force = told.setting / length  # square to the wrench, at the grip
    assert force * (length + adapter * math.cos(angle)) == pytest.approx(torque)
    assert told.torque_low <= torque * (1 + 1e-9)
    assert told.torque_high >= torque * (1 - 1e-9)


@given(numbers(1.0, 30.0), numbers(0.1, 1.0), numbers(0.0, 1.2), st.booleans())
def test_a_multiplier_is_in_balance(ratio, arm, slant, same_way):
    told = fw.tooling.multiplier(
        torque="2 kN m",
        gear_ratio=ratio,
        arm=arm,
        bear_angle=slant,
        turns="same_way" if same_way else "opposite",
    )
    turned = 2e3 / (ratio * 0.9)
    assert told.input_torque == pytest.approx(turned)
    assert told.input_low <= turned <= told.input_high
    # All torques on the gear add up to none; the arm holds most where the gear passes most on.
    assert told.torque_high == pytest.approx(turned * ratio * 0.95)
    held = told.torque_high - turned if same_way else told.torque_high + turned
    assert told.reaction_torque == pytest.approx(abs(held))
    assert told.side_force == pytest.approx(told.reaction_torque / (arm * math.cos(slant)))


@given(numbers(0.04, 0.3), st.integers(1, 6))
def test_a_rod_that_runs_back_needs_no_torque_to_lower(friction, starts):
    rod = screw(
        diameter="36 mm",
        engagement="40 mm",
        length="160 mm",
        lead=0.006 * starts,
        thread_friction=friction,
        thread_friction_low=friction,
        thread_friction_high=friction,
        point_friction=0.0,
        point_friction_low=0.0,
        point_friction_high=0.0,
    )
    told = fixture(rod=rod)
    assert (told.self_locking_margin >= 0.0) == (told.lowering_torque >= 0.0)
    # Work of one turn: what is lifted, and what is rubbed away.
    lifted = told.working_load * 0.006 * starts
    assert 2 * math.pi * told.lifting_torque >= lifted * (1 - 1e-9)


# -- the holding fixture --------------------------------------------------------------------------


def test_a_vertical_rotor_hangs_with_all_its_weight():
    flat = fixture()
    upright = fixture(axis="vertical", loading="suspended")
    assert upright.working_load == pytest.approx(900 * 9.80665 * 1.5)
    assert flat.working_load == pytest.approx(900 * 9.80665 * 1.5 * 0.26)
    assert any("rated" in text for text in upright.cautions)
    with pytest.raises(fw.InputError, match=r"wanted_factor: 3 is below 5, .*; rated gear"):
        fixture(axis="vertical", loading="suspended", wanted_factor=3)


def test_bolts_and_plate_of_the_fixture_are_those_of_their_own_models():
    told = fixture(off_centre="4 mm")
    places = [fw.BoltPlace(angle=2 * math.pi * k / 8) for k in range(8)]
    load = told.working_load
    circle = fw.joints.bolt_pattern(
        places=places, circle="280 mm", thrust=load, moment=load * 0.004
    )
    assert told.bolt_load == pytest.approx(circle.greatest_tension)
    plate = fw.joints.plate(
        outside="320 mm",
        hole="39.6 mm",
        thickness="25 mm",
        support="280 mm",
        ring_load=load,
        ring_diameter="60 mm",
        material="1020",
    )
    assert told.plate_deflection == pytest.approx(plate.greatest_deflection)
    assert told.plate_factor == pytest.approx(plate.design_factor)
    left = 0.002 - told.deflection - 0.0003 - 0.0002
    assert told.clearance_left == pytest.approx(left)


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"plate": {"hole": "290 mm"}}, "plate.hole: 290 mm must be smaller than the bolt circle"),
        ({"plate": {"hole": "30 mm"}}, "plate.hole: 30 mm"),
        ({"plate": {"nut_diameter": "38 mm"}}, "plate.nut_diameter: 38 mm"),
        ({"plate": {"bolts": 7.5}}, "plate.bolts: 7.5 must be a whole number"),
        ({"mass": "0 kg"}, "mass"),
        ({"wanted_factor": 2}, "wanted_factor: 2 "),
    ],
)
def test_fixtures_that_cannot_be_are_refused(changed, said):
    with pytest.raises(fw.InputError, match=said):
        fixture(**changed)


def test_a_hook_thicker_than_its_groove_is_refused():
    with pytest.raises(fw.InputError, match=r"hook_thickness: 11 mm .*groove"):
        puller(groove=groove(width="10 mm"))
    with pytest.raises(fw.InputError, match="hook_reach: 5 mm"):
        puller(groove=groove(depth="4 mm"))


# -- the choice of sizes --------------------------------------------------------------------------


def test_the_smallest_rod_that_holds_is_chosen():
    rods = fw.tooling.rod_sizes("rod", "16 mm", "60 mm")
    assert [r["rod.diameter"] for r in rods] == sorted(r["rod.diameter"] for r in rods)
    given_fixture = fixture(mass="3000 kg")._arguments
    tried = fw.tooling.choose(fw.tooling.holding_fixture, rods, **given_fixture)
    best = tried.best
    assert best is not None
    assert all(not trial.passed for trial in tried.all[:-1])
    assert best.result.factor_margin >= 0.0
    assert "rod.diameter" in best.name
    assert "meets all limits" in repr(tried)
    metric = fw.tooling.rod_sizes("rod", "16 mm", "24 mm", form="iso_metric")
    assert {r["rod.form"] for r in metric} == {"iso_metric"}
    for low, high, form, said in (
        ("1 mm", "2 mm", "trapezoidal", "no standard rod"),
        ("16 mm", "20 mm", "whitworth", "must be"),
        ("16 kg", "20 mm", "trapezoidal", "low"),
    ):
        with pytest.raises(fw.InputError, match=said):
            fw.tooling.rod_sizes("rod", low, high, form=form)


def test_plates_and_bolt_circles_are_chosen_too():
    arguments = fixture(mass="4000 kg")._arguments
    tried = fw.tooling.choose(
        fw.tooling.holding_fixture,
        [{"plate.thickness": f"{t} mm"} for t in (8, 12, 16, 20, 25, 30, 40)],
        **arguments,
    )
    assert len(tried) > 1
    assert tried.all[0].refused or "factor_margin" in tried.all[0].not_met
    with pytest.raises(fw.InputError, match="holds nothing to try"):
        fw.tooling.choose(fw.tooling.holding_fixture, [], **arguments)
    with pytest.raises(fw.InputError, match="not a field of a part"):
        fw.tooling.choose(fw.tooling.holding_fixture, [{"lid.height": 1.0}], **arguments)


def test_one_puller_is_held_against_all_rings_it_serves():
    checked = fw.tooling.check_each(
        fw.tooling.puller,
        {
            "sleeve": {"pull": "30 kN"},
            "wheel": {"pull": "25 kN", "groove.lip": "3 mm"},
            "inner ring": {"pull": "20 kN", "groove.width": "9 mm"},
        },
        **puller()._arguments,
    )
    assert [trial.passed for trial in checked.all] == [True, False, False]
    assert not checked.passed
    assert "hook_thickness" in checked.all[2].refused
    assert "factor_margin" in repr(checked)
    with pytest.raises(fw.InputError, match="names nothing"):
        fw.tooling.check_each(fw.tooling.puller, {}, **puller()._arguments)


# -- cautions -------------------------------------------------------------------------------------


def test_cautions_by_work_and_by_tool():
    every = fw.tooling.cautions()
    assert len(every) == 7
    for work in ("heat", "cold", "press", "hold", "torque", "afterwards"):
        told = fw.tooling.cautions(work)
        assert told[0] == every[0]
        assert len(told) == 2
        assert told[1] in every
    assert fw.tooling.cautions("puller") == [
        every[0],
        *fw.tooling.cautions("press")[1:],
        *fw.tooling.cautions("heat")[1:],
    ]
    assert not any("<" in text for text in every)
    with pytest.raises(
        fw.InputError, match=r'"welding" has no cautions of its own; there are heat'
    ):
        fw.tooling.cautions("welding")


def test_every_tool_that_moves_something_tells_its_cautions():
    tools = [name for name in MODELS if name.startswith("tooling.")]
    told = {name for name in tools if MODELS[name]["cautions"]}
    assert set(tools) - told == {"tooling.column", "tooling.weld"}
    assert "Cautions" in fw.tooling.puller.__doc__
