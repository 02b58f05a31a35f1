"""Laws of the models that hold whatever the numbers: balance, limits, directions, gradients."""

from __future__ import annotations

import math

import fitwright as fw
import pytest
from fitwright.fields.units import QUANTITIES, from_si, to_si
from hypothesis import assume, given
from hypothesis import strategies as st

STEELS = ["1020", "1045", "4140", "4340", "52100", "410", "17-4ph"]
METALS = [*STEELS, "304", "6061-t6", "c93200", "ductile_iron", "ti-6al-4v", "718"]


def numbers(low, high):
    return st.floats(low, high, allow_nan=False, allow_infinity=False)


@st.composite
def fits(draw, metals=METALS, cold=False, force=True, rough=True, least=-0.2e-3, most=1.5e-3):
    """Arguments of a fit; interference from `least` to `most` of the diameter."""
    d = draw(numbers(0.02, 0.4))
    given = {
        "shaft": {
            "seat": d,
            "bore": d * draw(st.one_of(st.just(0.0), numbers(0.05, 0.7))),
            "material": draw(st.sampled_from(metals)),
            "roughness": draw(numbers(0.0, 3e-6)) if rough else 0.0,
        },
        "ring": {
            "bore": d,
            "outside": d * draw(numbers(1.1, 3.0)),
            "length": d * draw(numbers(0.1, 1.0)),
            "material": draw(st.sampled_from(metals)),
            "roughness": draw(numbers(0.0, 3e-6)) if rough else 0.0,
        },
        "interference": d * draw(numbers(least, most)),
    }
    if not cold:
        surface = draw(numbers(0.0, 120.0))
        given |= {
            "speed": 2.0 * surface / given["ring"]["outside"],
            "shaft_temperature": draw(numbers(-50.0, 140.0)),
            "ring_temperature": draw(numbers(-50.0, 140.0)),
            "axial_force": draw(numbers(-1.0, 1.0)) * 2e7 * d * d if force else 0.0,
        }
    return given


def fit(arguments, **changed):
    made = {**arguments, **changed}
    shaft, ring = fw.Shaft(**made.pop("shaft")), fw.Ring(**made.pop("ring"))
    return fw.rings.fit(shaft=shaft, ring=ring, **made)


# -- balance --------------------------------------------------------------------------------------


@given(fits(), st.sampled_from(["thin", "long"]))
def test_the_two_faces_meet(arguments, shape):
    """Each part alone under the pressure found: its face at the joint moves so that they meet."""
    answer = fit(arguments)
    shaft, ring = arguments["shaft"], arguments["ring"]
    d, force = shaft["seat"], arguments["axial_force"]
    quarter = math.pi / 4.0
    inner = fw.rings.thick_ring(
        bore=shaft["bore"],
        outside=d,
        outer_pressure=answer.pressure,
        axial_stress=force / (quarter * (d**2 - shaft["bore"] ** 2)),
        speed=arguments["speed"],
        temperature=arguments["shaft_temperature"],
        radius=d / 2.0,
        material=shaft["material"],
        shape=shape,
    )
    outer = fw.rings.thick_ring(
        bore=d,
        outside=ring["outside"],
        inner_pressure=answer.pressure,
        axial_stress=-force / (quarter * (ring["outside"] ** 2 - d**2)),
        speed=arguments["speed"],
        temperature=arguments["ring_temperature"],
        material=ring["material"],
        shape=shape,
    )
    lost = min(0.8 * (shaft["roughness"] + ring["roughness"]), max(arguments["interference"], 0.0))
    overlap = arguments["interference"] - lost - outer.growth + inner.growth
    assert overlap == pytest.approx(-answer.gap, abs=1e-12 * d)
    assert answer.pressure == 0.0 or answer.gap == 0.0


@given(numbers(100.0, 5000.0), numbers(0.0, 0.04), numbers(0.08, 0.2), numbers(0.08, 0.2))
def test_torque_and_back(torque, bore, thread_friction, face_friction):
    nut = fw.Nut(
        diameter="75 mm",
        pitch="2 mm",
        height="20 mm",
        outside="105 mm",
        face_inside="76 mm",
        face_outside="98 mm",
        thread_friction=thread_friction,
        thread_friction_low=0.05,
        thread_friction_high=0.25,
        face_friction=face_friction,
        face_friction_low=0.05,
        face_friction_high=0.25,
        material="1045",
    )
    tight = fw.threads.tighten(nut=nut, torque=torque, shaft_bore=bore, material="4340")
    back = fw.threads.torque(nut=nut, preload=tight.preload, shaft_bore=bore, material="4340")
    assert back.torque == pytest.approx(torque, rel=1e-12)
    assert tight.thread_torque + tight.face_torque == pytest.approx(torque, rel=1e-12)
    assert tight.preload_low <= tight.preload <= tight.preload_high
    twice = fw.threads.tighten(nut=nut, torque=2 * torque, shaft_bore=bore, material="4340")
    assert twice.preload == pytest.approx(2.0 * tight.preload, rel=1e-12)


@given(fits(cold=True, least=0.1e-3, most=1.2e-3), numbers(-20.0, 60.0), numbers(0.0, 2e-4))
def test_the_oven_opens_interference_and_slip(arguments, shaft_temperature, slip):
    shaft, ring = fw.Shaft(**arguments["shaft"]), fw.Ring(**arguments["ring"])
    answer = fw.heat.oven(
        shaft=shaft,
        ring=ring,
        interference=arguments["interference"],
        shaft_temperature=shaft_temperature,
        slip_clearance=slip,
    )
    metal = fw.materials.material(arguments["ring"]["material"])
    axle = fw.materials.material(arguments["shaft"]["material"])
    seat, needed = arguments["shaft"]["seat"], answer.oven_needed
    bore = seat - arguments["interference"]
    opened = bore * metal.at("expansion", needed) * (needed - 20.0)
    grown = seat * axle.at("expansion", shaft_temperature) * (shaft_temperature - 20.0)
    if needed == metal.highest:
        assert opened <= arguments["interference"] + grown + slip + 1e-12
        assert answer.opening_margin <= 1e-12
    else:
        assert opened == pytest.approx(arguments["interference"] + grown + slip, abs=1e-12 * seat)
        assert answer.opening == pytest.approx(slip, abs=1e-12)
    assert answer.oven_margin == pytest.approx(metal.heating_limit - needed)


def bearing(**changed):
    made = {
        "balls": 15,
        "ball_diameter": "17.462 mm",
        "pitch_diameter": "115.5 mm",
        "inner_curvature": 0.515,
        "outer_curvature": 0.52,
        "clearance": "150 um",
        "material": "52100",
    }
    return fw.Bearing(**{**made, **changed})


@given(numbers(20e-6, 300e-6), numbers(0.0, 40e-6), numbers(10.0, 60e3))
def test_the_balls_carry_the_thrust(clearance, growth, thrust):
    def mounted(play, load):
        return fw.bearings.mounted(
            bearing=bearing(clearance=play + 50e-6), inner_growth=growth, thrust=load,
            material="52100",
        )  # fmt: skip

    answer = mounted(clearance, thrust)
    assert 15 * answer.ball_load * math.sin(answer.loaded_angle) == pytest.approx(thrust, rel=1e-9)
    assert answer.loaded_angle >= answer.contact_angle
    wider = mounted(clearance + 5e-6, thrust)
    assert wider.contact_angle > answer.contact_angle
    assert wider.end_play > answer.end_play
    assert mounted(clearance, 1.1 * thrust).loaded_angle > answer.loaded_angle


@given(numbers(1.0, 50e3), numbers(20.0, 200.0), numbers(-0.97, 0.9), numbers(0.0, 100.0))
def test_a_hertz_contact_scales_with_its_load(load, ball, groove, track):
    def contact(q):
        return fw.bearings.hertz(
            first=fw.Body(curvature_x=ball, curvature_y=ball, material="52100"),
            second=fw.Body(curvature_x=track, curvature_y=groove * ball, material="52100"),
            load=q,
        )

    one, eight = contact(load), contact(8.0 * load)
    # Hertz: size and pressure with the cube root of the load, approach with its square.
    assert eight.semi_major == pytest.approx(2.0 * one.semi_major, rel=1e-11)
    assert eight.semi_minor == pytest.approx(2.0 * one.semi_minor, rel=1e-11)
    assert eight.contact_stress == pytest.approx(2.0 * one.contact_stress, rel=1e-11)
    assert eight.approach == pytest.approx(4.0 * one.approach, rel=1e-11)
    # The ellipsoid of pressure carries the load: Q = 2/3 pi a b p0.
    carried = 2.0 / 3.0 * math.pi * one.semi_major * one.semi_minor * one.contact_stress
    assert carried == pytest.approx(load, rel=1e-11)


# -- limits ---------------------------------------------------------------------------------------


@given(fits(cold=True, rough=False))
def test_no_interference_no_pressure(arguments):
    answer = fit(arguments, interference=0.0)
    assert answer.pressure == answer.holding_force == answer.torque_capacity == answer.gap == 0.0
    assert answer.ring_von_mises == answer.shaft_von_mises == 0.0
    assert all(math.isfinite(slope) for slope in answer.derivatives().values())


@given(fits(cold=True, least=0.05e-3, rough=False))
def test_a_solid_shaft_is_the_limit_of_a_small_bore(arguments):
    solid = fit({**arguments, "shaft": {**arguments["shaft"], "bore": 0.0}})
    d = arguments["shaft"]["seat"]
    drilled = fit({**arguments, "shaft": {**arguments["shaft"], "bore": d * 1e-5}})
    assert drilled.pressure == pytest.approx(solid.pressure, rel=1e-9)
    # In the middle of a solid shaft the stress is -p; a hole doubles it (Lame).
    assert solid.shaft_hoop == pytest.approx(-solid.pressure, rel=1e-12)
    assert drilled.shaft_hoop == pytest.approx(-2.0 * solid.pressure, rel=1e-8)


@given(fits(cold=True, least=0.05e-3, rough=False))
def test_a_huge_outer_ring(arguments):
    """Lame's C of the ring becomes 1 + nu, that of a solid shaft is 1 - nu."""
    d = 0.02
    ring = {**arguments["ring"], "bore": d, "outside": 6.3, "length": 0.02}
    shaft = {**arguments["shaft"], "seat": d, "bore": 0.0}
    answer = fit({"shaft": shaft, "ring": ring, "interference": 20e-6})
    mr, ms = fw.materials.material(ring["material"]), fw.materials.material(shaft["material"])
    softness = (1.0 + mr.poisson) / mr.at("modulus", 20.0) + (1.0 - ms.poisson) / ms.at(
        "modulus", 20.0
    )
    assert answer.pressure == pytest.approx(20e-6 / (d * softness), rel=4.0 * (d / 6.3) ** 2)
    assert answer.ring_hoop == pytest.approx(answer.pressure, rel=4.0 * (d / 6.3) ** 2)


# -- directions -----------------------------------------------------------------------------------


@given(fits(metals=STEELS, least=0.3e-3, most=1.2e-3, force=False))
def test_what_adds_and_what_takes_grip(arguments):
    before = fit(arguments)
    assume(before.pressure > 0.0)
    d = arguments["shaft"]["seat"]

    def pressure(name, step):
        return fit(arguments, **{name: arguments[name] + step}).pressure

    assert pressure("interference", 1e-5 * d) > before.pressure
    assert pressure("speed", 20.0) < before.pressure
    assert pressure("ring_temperature", 2.0) < before.pressure
    assert pressure("shaft_temperature", 2.0) > before.pressure
    assert pressure("axial_force", 1e6 * d * d) < before.pressure
    # Where the grip is said to end, it ends.
    if before.loss_speed < 400.0 / arguments["ring"]["outside"]:
        at_loss = fit(arguments, speed=before.loss_speed)
        assert at_loss.interference_left == pytest.approx(0.0, abs=1e-11 * d)


@given(fits(least=0.1e-3, most=0.4e-3, force=False))
def test_the_grip_ends_at_the_loss_temperature(arguments):
    still = arguments | {"speed": 0.0}  # in motion the ring's modulus at the end counts as well
    before = fit(still)
    assume(before.pressure > 0.0)
    metal = fw.materials.material(arguments["ring"]["material"])
    at_loss = fit(still, ring_temperature=before.loss_temperature)
    if before.loss_temperature < metal.highest:
        assert at_loss.interference_left == pytest.approx(0.0, abs=1e-12)
    else:
        assert at_loss.interference_left >= -1e-12


# -- gradients ------------------------------------------------------------------------------------


def check_gradient(call, arguments, steps):
    """Exact derivatives against differences of fourth order, where the model is smooth."""
    exact = call(arguments).derivatives()
    here = call(arguments)
    outputs = [f["name"] for f in here._fields()]
    for path, step in steps.items():
        at = {k: call({**arguments, path: arguments[path] + k * step}) for k in (-2, -1, 1, 2)}
        for output in outputs:
            value = {k: getattr(r, output) for k, r in at.items()}
            middle = getattr(here, output)
            near, far = value[1] - value[-1], value[2] - value[-2]
            uneven = (value[k] - 2.0 * middle + value[-k] for k in (1, 2))
            noise = 1e-11 * abs(middle)
            if max(map(abs, uneven)) > 1e-3 * abs(near) + noise:
                continue  # a knot of a material table, or where contact opens
            rough = (8.0 * near - far) / (12.0 * step)
            assert exact[output, path] == pytest.approx(rough, rel=1e-3, abs=noise / step), (
                output,
                path,
            )


@given(fits(rough=False))
def test_gradients_of_a_fit(arguments):
    d = arguments["shaft"]["seat"]
    check_gradient(
        lambda a: fit(a),
        arguments | {"speed": arguments["speed"] + 5.0},
        {
            "interference": 1e-7 * d,
            "speed": 0.5,
            "shaft_temperature": 0.01,
            "ring_temperature": 0.01,
            "axial_force": 1e4 * d * d,
        },
    )


@given(numbers(20e-6, 200e-6), numbers(-5e-6, 15e-6), numbers(100.0, 40e3), numbers(0.0, 90.0))
def test_gradients_of_a_bearing(clearance, growth, thrust, temperature):
    check_gradient(
        lambda a: fw.bearings.mounted(
            bearing=bearing(clearance=clearance + 50e-6), material="52100", **a
        ),
        {
            "inner_growth": growth,
            "outer_growth": 1e-6,
            "thrust": thrust,
            "ball_temperature": temperature,
        },
        {"inner_growth": 1e-8, "outer_growth": 1e-8, "thrust": thrust * 1e-4,
         "ball_temperature": 0.01},
    )  # fmt: skip


# -- units ----------------------------------------------------------------------------------------


@given(
    st.sampled_from(sorted(QUANTITIES)),
    st.sampled_from(["metric", "inch"]),
    numbers(-1e6, 1e6),
)
def test_units_round_trip(quantity, system, value):
    label = QUANTITIES[quantity][system]["label"]
    si = to_si(f"{value!r} {label}", quantity)
    row = QUANTITIES[quantity][system]
    assert si * row["factor"] + row["offset"] == pytest.approx(value, rel=1e-12, abs=1e-9)
    if label:
        assert from_si(si, quantity, label) == pytest.approx(value, rel=1e-12, abs=1e-9)


# -- threads and lock tabs ------------------------------------------------------------------------


@given(
    tabs=st.integers(1, 60),
    slots=st.integers(1, 60),
    low=st.floats(100.0, 900.0),
    window=st.floats(1.0, 300.0),
    compliance=st.floats(1e-10, 1e-8),
)
def test_lock_tabs_hold_together(tabs, slots, low, window, compliance):
    nut = fw.Nut(
        diameter="75 mm",
        pitch="2 mm",
        height="20 mm",
        outside="105 mm",
        face_inside="76 mm",
        face_outside="98 mm",
        material="1045",
    )

    def ask(n, m):
        return fw.threads.lock_tabs(
            nut=nut,
            tabs=n,
            slots=m,
            torque_low=low,
            torque_high=low + window,
            compliance=compliance,
        )

    answer, swapped = ask(tabs, slots), ask(slots, tabs)
    assert answer.chance == swapped.chance  # tabs and slots may change places
    assert answer.meetings_per_turn % tabs == answer.meetings_per_turn % slots == 0
    assert 0.0 < answer.chance_low <= answer.chance <= answer.chance_high <= 1.0
    assert answer.window_low < answer.preload_mean < answer.preload_greatest
    assert answer.preload_greatest <= answer.window_high * (1.0 + 1e-12)
    assert answer.next_preload >= answer.preload_greatest * (1.0 - 1e-12)


@given(
    form=st.sampled_from(["iso_metric", "unified", "trapezoidal", "acme", "square"]),
    face_law=st.sampled_from(["even_pressure", "mean"]),
    starts=st.integers(1, 4),
    thread=st.floats(0.0, 1.0),
    face=st.floats(0.0, 1.0),
    torque=st.floats(0.0, 5e3),
)
def test_every_thread_shares_its_torque(form, face_law, starts, thread, face, torque):
    """Friction from none to one; loosening never takes more than tightening."""
    nut = fw.Nut(
        diameter="75 mm",
        pitch="3 mm",
        lead=0.003 * starts,
        height="20 mm",
        outside="105 mm",
        face_inside="76 mm",
        face_outside="98 mm",
        form=form,
        face_law=face_law,
        thread_friction=thread,
        thread_friction_low=thread,
        thread_friction_high=thread,
        face_friction=face,
        face_friction_low=face,
        face_friction_high=face,
        material="1045",
    )
    out = fw.threads.tighten(nut=nut, torque=torque, material="4340")
    parts = out.pitch_torque + out.flank_torque + out.face_torque
    assert parts == pytest.approx(torque, abs=1e-9)
    assert min(out.pitch_torque, out.flank_torque, out.face_torque) >= -1e-9
    assert 0.0 < out.efficiency <= 1.0 + 1e-12
    assert out.loosening_torque == out.loosening_torque_high
    assert out.loosening_torque <= torque + 1e-9
    lets_go = out.loosening_torque < -1e-9
    if lets_go:
        assert max(thread, face) < max(out.letting_go_friction, out.self_locking_friction)
    hand = fw.threads.hand(nut=nut, preload=1e4, drag_torque=torque)
    assert hand.drag_torque == -min(torque, hand.face_torque)
