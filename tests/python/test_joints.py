"""Bolted joints, plates and the ring under a plate: balance, other methods, bad input."""

from __future__ import annotations

import math

import fitwright as fw
import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from joints_by_elements import AxisymmetricPlate, clamp_round, clamped_by_elements, contacts
from scipy.optimize import brentq

STEEL = fw.materials.material("1045")
MODULUS, POISSON = STEEL.at("modulus", 20.0), STEEL.poisson


def numbers(low, high):
    return st.floats(low, high, allow_nan=False, allow_infinity=False)


def bolt(**changed):
    return fw.Bolt(
        **{
            "diameter": "10 mm",
            "pitch": "1.5 mm",
            "yield_strength": "640 MPa",
            "material": "1045",
            **changed,
        }
    )


def ring_plate(**changed):
    """Steel throughout and cold, with no scatter: what the other method below has."""
    parts = {
        "plate": {"outside": 0.215, "hole": 0.130, "thickness": 0.016},
        "ring": {"outside": 0.160, "inside": 0.142, "width": 0.03004},
        "pocket": {"depth": 0.030},
        "thread": {"engagement": 0.018},
    }
    makers = {
        "plate": fw.ClampPlate,
        "ring": fw.PlatedRing,
        "pocket": fw.Pocket,
        "thread": fw.InternalThread,
    }
    for part, given_fields in parts.items():
        held = {"material": "1045", **given_fields, **changed.pop(part, {})}
        changed[part] = makers[part](**held)
    defaults = {"bolt": bolt(), "bolts": 12, "bolt_circle": 0.190, "preload": 15e3}
    defaults |= {"tool_scatter": 0.0, "embedding": 2e-6}
    return fw.joints.ring_plate(**{**defaults, **changed})


# -- bolts on a circle ----------------------------------------------------------------------------


@given(
    st.lists(st.tuples(numbers(0.0, 6.28), numbers(0.1, 0.4)), min_size=3, max_size=12),
    numbers(-5e4, 5e4),
    numbers(0.0, 2e3),
    numbers(0.0, 6.28),
    numbers(-2e3, 2e3),
    numbers(0.0, 3e4),
    numbers(0.0, 6.28),
)
def test_bolts_balance_force_and_moment(places, thrust, moment, towards, torque, side, across):
    at = np.array([d / 2 * np.exp(1j * a) for a, d in places])
    spread = np.linalg.svd(np.stack([(at - at.mean()).real, (at - at.mean()).imag]))[1]
    assume(spread[1] > 0.02)
    held = fw.joints.bolt_pattern(
        places=[fw.BoltPlace(angle=a, diameter=d) for a, d in places],
        circle=0.2,
        thrust=thrust,
        moment=moment,
        moment_direction=towards,
        torque=torque,
        side_force=side,
        side_direction=across,
    )
    out = held._outputs
    tension = np.array([out[f"load{k}.tension"] for k in range(1, len(places) + 1)])
    shear = np.array([out[f"load{k}.shear"] for k in range(1, len(places) + 1)])
    rounding = 1e-9 * (abs(tension).sum() + 1.0)
    assert tension.sum() == pytest.approx(thrust, abs=rounding)
    bent = (tension * at).sum()
    assert bent == pytest.approx(moment * np.exp(1j * towards), abs=rounding)
    assert held.greatest_tension == tension.max()
    # Force and torque in the plane: a rigid plate turns about the middle of the bolts.
    middle = at.mean()
    force = side * np.exp(1j * across)
    about = torque - (np.conj(middle) * force).imag
    polar = (abs(at - middle) ** 2).sum()
    pushed = force / len(at) + 1j * (at - middle) * about / polar
    assert pushed.sum() == pytest.approx(force, abs=1e-6)
    assert (np.conj(at) * pushed).imag.sum() == pytest.approx(torque, abs=1e-6)
    assert shear == pytest.approx(abs(pushed), rel=1e-9, abs=1e-6)


def test_two_bolts_under_a_tilting_moment_are_refused():
    with pytest.raises(fw.InputError, match="two bolts, or bolts all in one line, hold no tilting"):
        fw.joints.bolt_pattern(
            places=[fw.BoltPlace(angle="0 deg"), fw.BoltPlace(angle="180 deg")],
            circle="200 mm",
            moment="100 N m",
        )


def test_a_missing_bolt_loads_its_neighbours():
    def held(angles):
        return fw.joints.bolt_pattern(
            places=[fw.BoltPlace(angle=f"{a} deg") for a in angles],
            circle="190 mm",
            thrust="12 kN",
        )

    assert held(range(0, 360, 60)).uneven == pytest.approx(1.0)
    # The five that are left: those beside the gap carry most.
    short = held([60, 120, 180, 240, 300])
    loads = [short._outputs[f"load{k}.tension"] for k in range(1, 6)]
    assert loads[0] == pytest.approx(loads[4])
    assert loads[0] > loads[1] > loads[2]


# -- one bolt -------------------------------------------------------------------------------------


@given(numbers(0.02, 0.06), numbers(0.015, 0.09), numbers(2e3, 2e4), numbers(0.0, 1.0))
def test_a_joint_shares_its_load(thickness, outside, load, introduction):
    joint = fw.joints.bolted_joint(
        bolt=bolt(),
        thread=fw.InternalThread(engagement="10 mm", material="1045"),
        layers=[fw.ClampedLayer(thickness=thickness, outside=outside, material="1045")],
        preload="30 kN",
        tool_scatter=0.0,
        embedding=0.0,
        load=load,
        load_introduction=introduction,
    )
    assert joint.load_factor == pytest.approx(introduction * joint.stiffness_share)
    assert joint.bolt_force - joint.clamp_left == pytest.approx(load)
    assert joint.opening_load * (1 - joint.load_factor) == pytest.approx(30e3)


@pytest.mark.parametrize("grip", [0.5, 1.0, 2.0, 5.0])
@pytest.mark.parametrize("outside", [1.6, 2.0, 3.0, 8.0])
def test_clamped_parts_are_about_as_stiff_as_a_body_of_revolution(grip, outside):
    def told(cone):
        joint = fw.joints.bolted_joint(
            bolt=bolt(),
            thread=fw.InternalThread(engagement="10 mm", material="1045"),
            layers=[
                fw.ClampedLayer(thickness=0.010 * grip, outside=0.010 * outside, material="1045")
            ],
            preload="10 kN",
            cone=cone,
        )
        return 1 / joint.clamped_compliance

    body = clamped_by_elements(0.011, 0.015, 0.010 * outside, 0.010 * grip, MODULUS, POISSON)
    assert 0.88 < told("vdi") / body < 1.07
    assert 0.99 < told("fixed") / body < 1.21


def test_property_classes_go_into_a_bolt():
    classes = fw.joints.property_classes()
    eight = next(row for row in classes if row.name == "8.8" and "16" in row.sizes)
    assert eight.proof < eight.yield_strength < eight.tensile_strength
    assert eight.source
    assert eight.status
    made = fw.Bolt(diameter="10 mm", pitch="1.5 mm", material="4140", **eight.for_bolt())
    assert made._given["yield_strength"] == eight.yield_strength


# -- plates, by finite elements -------------------------------------------------------------------


@pytest.mark.parametrize(
    ("edge", "inner_edge"),
    [
        ("simply_supported", "free"),
        ("simply_supported", "guided"),
        ("clamped", "free"),
        ("clamped", "guided"),
        ("free", "clamped"),
        ("simply_supported", "clamped"),
        ("clamped", "simply_supported"),
    ],
)
@pytest.mark.parametrize("thickness", [0.006, 0.03])
def test_plates_bend_as_finite_elements_do(edge, inner_edge, thickness):
    hole, support, outside, on_ring, low, high = 0.06, 0.095, 0.108, 0.074, 0.066, 0.088
    through = np.array([on_ring, support, low, high])
    mesh = AxisymmetricPlate(hole, outside, thickness, MODULUS, POISSON, through, 1600)
    forces = mesh.pressed(low, high, 0.7e6)
    forces[2 * mesh.node(on_ring)] += 9e3
    held = set()
    if edge != "free":
        held.add(2 * mesh.node(support))
    if edge == "clamped":
        held.add(2 * mesh.node(support) + 1)
    if inner_edge in ("guided", "clamped"):
        held.add(1)
    if inner_edge in ("simply_supported", "clamped"):
        held.add(0)
    rise = mesh.solve(forces, held)
    for r in (hole, on_ring, 0.081, outside):
        if edge == "clamped" and r > support:
            continue  # told up to where it is clamped
        told = fw.joints.plate(
            outside=2 * outside,
            hole=2 * hole,
            thickness=thickness,
            support=2 * support,
            pressure="0.7 MPa",
            pressure_inside=2 * low,
            pressure_outside=2 * high,
            ring_load="9 kN",
            ring_diameter=2 * on_ring,
            radius=r,
            edge=edge,
            inner_edge=inner_edge,
            material="1045",
        )
        most = abs(rise).max()
        assert told.deflection == pytest.approx(float(np.interp(r, mesh.r, rise)), abs=5e-6 * most)


def test_a_hole_outside_the_bolt_circle_is_refused():
    with pytest.raises(fw.InputError, match="hole: 200 mm must be smaller than the bolt circle"):
        ring_plate(plate={"hole": "200 mm"})


# -- the ring under the plate ---------------------------------------------------------------------


@st.composite
def plated(draw):
    outside = draw(numbers(0.1, 0.3))
    inside = outside * draw(numbers(0.85, 0.92))
    diameter, pitch = draw(st.sampled_from([(0.006, 0.001), (0.01, 0.0015), (0.012, 0.00175)]))
    circle = outside + diameter * draw(numbers(1.6, 3.5))
    width = outside * draw(numbers(0.12, 0.3))
    bolts = draw(st.integers(4, 12))
    assume(bolts * 1.5 * diameter < 0.9 * math.pi * circle)
    return {
        "plate": {
            "outside": circle + diameter * draw(numbers(2.0, 3.5)),
            "hole": inside * draw(numbers(0.6, 0.98)),
            "thickness": draw(numbers(0.006, 0.03)),
        },
        "ring": {
            "outside": outside,
            "inside": inside,
            "width": width + draw(st.one_of(st.just(0.0), numbers(-5e-5, 2e-4))),
        },
        "pocket": {"depth": width},
        "thread": {"engagement": 1.5 * diameter},
        "bolt": bolt(diameter=diameter, pitch=pitch),
        "bolt_circle": circle,
        "bolts": bolts,
        "preload": draw(numbers(3e3, 2e4)),
        "thrust_to_plate": draw(numbers(0.0, 3e4)),
        "thrust_to_shoulder": draw(numbers(0.0, 3e4)),
    }


@given(plated())
def test_plate_ring_and_housing_are_in_balance(given_parts):
    told = ring_plate(**given_parts)
    pulled = given_parts["bolts"] * given_parts["preload"]
    assert told.ring_clamp_built + told.housing_clamp_built == pytest.approx(pulled, rel=1e-9)
    assert min(told.ring_clamp, told.shoulder_clamp, told.plate_clamp, told.heel_force) >= 0.0
    assert told.bolt_force_least <= told.bolt_force
    assert told.lift >= 0.0
    assert (told.lift == 0.0) or told.shoulder_clamp == 0.0
    # What thrust takes off the shoulder it does not add to.
    assert told.shoulder_clamp <= told.ring_clamp * (1 + 1e-9) + 1e-6
    still = ring_plate(**{**given_parts, "thrust_to_plate": 0.0, "thrust_to_shoulder": 0.0})
    assert still.shoulder_clamp == pytest.approx(told.ring_clamp, rel=1e-9, abs=1e-3)
    assert still.shoulder_opening_thrust == pytest.approx(
        told.shoulder_opening_thrust, rel=1e-9, abs=1e-3
    )


@given(plated())
@settings(max_examples=8)
def test_ring_plate_equals_elements_and_every_set_of_contacts(given_parts):
    """The whole model once more: plate by elements, contacts by trying all of them."""
    told = ring_plate(**given_parts)
    plate, ring, depth = given_parts["plate"], given_parts["ring"], given_parts["pocket"]["depth"]
    d = given_parts["bolt"]._read["diameter"]
    pitch = given_parts["bolt"]._read["pitch"]
    count, thickness = given_parts["bolts"], plate["thickness"]
    on_ring = (ring["outside"] + ring["inside"]) / 4
    bolts_at, heel = given_parts["bolt_circle"] / 2, plate["outside"] / 2
    mesh = AxisymmetricPlate(
        plate["hole"] / 2, heel, thickness, MODULUS, POISSON, [on_ring, bolts_at], 700
    )
    plate_gives = mesh.flexibility([on_ring, heel], bolts_at)

    def disc(outer, inner=0.0):
        return math.pi / 4 * (outer**2 - inner**2)

    # Bolt: grip and half of the engaged thread at its root, thread and head by VDI's lengths.
    root = d - 17 * math.sqrt(3) / 24 * pitch
    give = (thickness + d / 2) / disc(root) + d / 2 / disc(d) + 0.33 * d / disc(d)
    bolt_gives = give / MODULUS / count
    head, hole, slope = 1.5 * d, 1.1 * d, math.tan(math.pi / 6)
    end = head + 2 * thickness * slope
    cone = math.log((end - hole) * (head + hole) / ((end + hole) * (head - hole)))
    under = cone / (hole * slope * math.pi * MODULUS) / count / 2
    bolt_gives += under
    width = ring["width"]
    below = width / 2 / (disc(ring["outside"], ring["inside"]) * MODULUS)
    face = disc(ring["outside"], max(ring["inside"], plate["hole"]))
    above = below + thickness / 2 / (face * MODULUS)
    gives = np.zeros((3, 3))  # ring, housing under the bolts, rim
    gives[np.ix_([0, 2], [0, 2])] = plate_gives
    gives[0, 0] += below + above
    gives[1, 1] = under
    gives[2, 2] += 1 / (4 * math.pi * heel * MODULUS)

    nip = width - depth
    proud = np.array([nip, 0.0, 0.0])
    pulled = count * given_parts["preload"]

    def short(down):
        return contacts(gives, down - proud)[0].sum() - pulled

    down = brentq(short, -2e-3, 2e-3, xtol=1e-16)
    built = contacts(gives, down - proud)[0]
    drawn = bolt_gives * pulled - down - 2e-6
    locked = gives + bolt_gives
    still = contacts(locked, -drawn - proud)[0]
    thrust = given_parts["thrust_to_plate"]
    pushed = np.array(
        [plate_gives[0, 0] + above + bolt_gives, bolt_gives, plate_gives[1, 0] + bolt_gives]
    )
    outward, gap = contacts(locked, pushed * thrust - drawn - proud)
    inward = contacts(
        locked,
        np.array([below * given_parts["thrust_to_shoulder"], 0.0, 0.0]) - drawn - proud,
    )[0]
    near = {"rel": 2e-5, "abs": 2e-6 * pulled}
    assert told.plate_compliance == pytest.approx(plate_gives[0, 0], rel=1e-5)
    assert told.ring_clamp_built == pytest.approx(built[0], **near)
    assert told.ring_clamp == pytest.approx(still[0], **near)
    assert told.shoulder_clamp == pytest.approx(outward[0], **near)
    assert told.plate_clamp == pytest.approx(inward[0], **near)
    assert told.heel_force == pytest.approx(max(still[2], outward[2], inward[2]), **near)
    assert told.lift == pytest.approx(gap[0] if outward[0] == 0.0 else 0.0, rel=2e-5, abs=1e-11)


def test_thick_plates_are_rigid_and_thin_ones_want_a_membrane():
    def plate(thickness):
        return ring_plate(plate={"thickness": thickness}, thrust_to_plate="30 kN", tilting_moment=0)

    thick = plate("60 mm")
    assert thick.clamp_between_bolts == pytest.approx(1.0, abs=2e-3)
    assert thick.membrane_ratio < 1e-3
    thin = ring_plate(plate={"thickness": "0.4 mm"}, ring={"width": 0.0306}, bolts=6)
    assert thin.membrane_ratio > 0.5
    field = next(f for f in thin._fields() if f["name"] == "membrane_ratio")
    assert field["high"] == 0.5
    # A moment on a rigid plate: the bolts of the textbook, 2 M/(n R).
    tilted = ring_plate(plate={"thickness": "60 mm"}, tilting_moment="500 N m")
    flat = ring_plate(plate={"thickness": "60 mm"})
    assert tilted.bolt_force - flat.bolt_force == pytest.approx(2 * 500 / (12 * 0.095), rel=1e-9)


@pytest.mark.parametrize(
    ("bolts", "thickness", "hole", "bolts_at", "rim"),
    [
        (4, 0.016, 0.130, 0.190, 0.215),
        (6, 0.016, 0.130, 0.190, 0.215),
        (12, 0.010, 0.130, 0.190, 0.215),
        (8, 0.025, 0.100, 0.185, 0.240),
        (3, 0.030, 0.140, 0.200, 0.225),
    ],
)
def test_clamp_between_bolts_is_on_the_safe_side(bolts, thickness, hole, bolts_at, rim):
    told = ring_plate(
        plate={"outside": rim, "hole": hole, "thickness": thickness},
        bolts=bolts,
        bolt_circle=bolts_at,
    )
    on_ring = 0.0755
    soft = 1 / told.ring_compliance / (2 * math.pi * on_ring)
    at, between = clamp_round(
        hole / 2, rim / 2, on_ring, bolts_at / 2, thickness, MODULUS, POISSON, soft, bolts
    )
    # Below 0 both say that it opens: springs that pull are none.
    assert told.clamp_between_bolts <= max(between + 0.005, 0.0)
    assert told.clamp_at_bolts >= at - 0.005
    assert told.clamp_between_bolts > between - 0.5


# -- the outer ring in its pocket -----------------------------------------------------------------


def outer_ring(**changed):
    defaults = {
        "outside": "160 mm",
        "raceway": "144 mm",
        "width": "30 mm",
        "temperature": "60 degC",
        "housing": fw.Housing(
            bore="160.02 mm", outside="230 mm", temperature="50 degC", material="ductile_iron"
        ),
        "material": "52100",
    }
    return fw.joints.outer_ring(**{**defaults, **changed})


@given(numbers(0.159, 0.1602), numbers(20.0, 90.0), numbers(20.0, 90.0), numbers(0.0, 4e4))
def test_outer_ring_sits_as_the_bearing_says(bore, ring, house, clamp):
    housing = fw.Housing(bore=bore, outside="230 mm", temperature=house, material="ductile_iron")
    assume(bore > 0.15985)
    told = outer_ring(temperature=ring, housing=housing, clamp_force=clamp)
    fit = fw.bearings.housing_fit(
        outside="160 mm",
        raceway="144 mm",
        temperature=ring,
        housing=housing,
        material="52100",
    )
    assert told.pressure == fit.pressure
    assert told.outer_growth == pytest.approx(told.fit_growth + told.clamp_growth, abs=1e-18)
    held = 0.12 * told.pressure * math.pi * 0.16**2 / 2 * 0.03
    assert told.holding_torque >= held - 1e-9
    free = outer_ring(temperature=ring, housing=housing)
    more = told.holding_torque - free.holding_torque
    # Two faces, at the diameter they bear on, midway between shoulder and outside.
    assert more == pytest.approx(2 * 0.1 * clamp * 0.152 / 2, abs=1e-6)


def test_a_loose_ring_tilts_and_a_failing_bearing_spins_it():
    housing = fw.Housing(
        bore="160.06 mm", outside="230 mm", temperature="50 degC", material="ductile_iron"
    )
    loose = outer_ring(
        housing=housing, axial_gap="50 um", friction_torque="1 N m", failing_torque="80 N m"
    )
    assert loose.free_tilt > 0.0
    assert loose.creep_margin == -1.0
    assert loose.creep_share == 1e6
    clamped = outer_ring(clamp_force="20 kN", friction_torque="1 N m", failing_torque="800 N m")
    assert clamped.free_tilt == 0.0
    assert clamped.creep_margin > 0.0 > clamped.failing_margin
