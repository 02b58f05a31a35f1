"""Laws of the history, through the job file: equilibrium, faces that only push, friction that only
takes energy, similarity; on random small jobs and random orders of steps that are allowed. Orders
that cannot be are refused with the name of the step."""

from __future__ import annotations

import itertools
import re
from collections.abc import Mapping
from typing import Any

import fitwright as fw
import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st


def ring(number: int, given: Mapping[str, float], scale: float = 1.0) -> str:
    grips = given["interference"] > 0.0
    mu = given["friction"]
    return f"""
[[ring]]
name = "r{number}"
seat = "main"
material = "4140"
joint = "{"grip" if grips else "slide"}"
bore = "{scale * (80.0 - given["interference"] * 1e-3)!r} mm"
outside = "{scale * 104.0!r} mm"
length = "{scale * given["length"]!r} mm"
friction = {{ value = {mu!r}, low = {given.get("low", mu)!r}, high = {given.get("high", mu)!r} }}
overhang = {{ value = 0, low = 0, high = 0 }}
face_roughness = "{scale * 2.0!r} um"
settling = "{scale * 0.5!r} um"
"""


def job_text(
    rings: list[Mapping[str, float]],
    states: list[Mapping[str, float]],
    steps: list[Mapping[str, Any]],
    lock: bool = False,
    scale: float = 1.0,
) -> str:
    """A job by its sizes; `scale` makes it larger in every length, at equal stress."""
    text = f"""
[shaft]
material = "4340"
bore = "{scale * 30.0!r} mm"
shoulder_roughness = "{scale * 1.6!r} um"
[[seat]]
name = "main"
diameter = "{scale * 80.0!r} mm"
"""
    text += "".join(ring(i, r, scale) for i, r in enumerate(rings))
    if lock:
        text += f"""
[lock]
material = "1020"
bore = "{scale * 76.0!r} mm"
outside = "{scale * 98.0!r} mm"
thickness = "{scale * 1.5!r} mm"
face_roughness = "{scale * 4.0!r} um"
settling = "{scale * 1.0!r} um"
"""
    text += f"""
[nut]
material = "4140"
diameter = "{scale * 75.0!r} mm"
pitch = "{scale * 2.0!r} mm"
height = "{scale * 20.0!r} mm"
outside = "{scale * 104.0!r} mm"
face_inside = "{scale * 77.0!r} mm"
face_outside = "{scale * 96.0!r} mm"
torque = "{scale * scale * scale * 650.0!r} N m"
settling = "{scale * 0.6!r} um"
face_roughness = "{scale * 2.0!r} um"
[bearing]
material = "52100"
outer_ring_material = "52100"
inner_rings = ["r0"]
balls = 15
ball_diameter = "{scale * 17.462!r} mm"
pitch_diameter = "{scale * 115.5!r} mm"
inner_curvature = 0.515
outer_curvature = 0.52
clearance = "{scale * 150.0!r} um"
[[state]]
name = "built"
"""
    for number, state in enumerate(states):
        text += f"""
[[state]]
name = "s{number}"
speed = "{state["speed"] / scale!r} rpm"
thrust = "{scale * scale * state["thrust"]!r} kN"
shaft_temperature = "{state["shaft"]!r} degC"
[state.lags]
"""
        text += "".join(f'r{i} = "{state["lag"]!r} K"\n' for i in range(len(rings)))
    for number, step in enumerate(steps):
        text += f'\n[[step]]\nname = "{name_of(number, step)}"\n'
        for key, value in step.items():
            if key == "force":
                value = f"{scale * scale * value!r} kN"
            elif key == "torque":
                value = f"{scale * scale * scale * value!r} N m"
            told = str(value).replace("'", '"') if isinstance(value, list | int) else f'"{value}"'
            text += f"{key} = {told}\n"
    return text


def name_of(number: int, step: Mapping[str, Any]) -> str:
    return f"k{number}_{step['kind']}"


rings_of = st.lists(
    st.fixed_dictionaries(
        {
            "interference": st.one_of(st.just(0.0), st.floats(-30.0, 60.0)),
            "length": st.floats(10.0, 60.0),
            "friction": st.one_of(st.sampled_from([0.0, 1.0]), st.floats(0.05, 0.3)),
        }
    ),
    min_size=1,
    max_size=4,
)
states_of = st.lists(
    st.fixed_dictionaries(
        {
            "speed": st.floats(0.0, 10_000.0),
            "thrust": st.floats(-15.0, 15.0),
            "shaft": st.floats(20.0, 90.0),
            "lag": st.floats(-10.0, 15.0),
        }
    ),
    min_size=1,
    max_size=3,
)


@st.composite
def jobs(draw: Any) -> tuple[Any, ...]:
    """Rings, states, whether a washer, and an order of steps that is allowed."""
    rings, states, lock = draw(rings_of), draw(states_of), draw(st.booleans())
    parts = [f"r{i}" for i in range(len(rings))] + (["lock"] if lock else [])
    steps: list[dict[str, Any]] = []
    on, pressed = 0, False
    while on < len(parts):
        last = draw(st.integers(on + 1, len(parts)))
        steps.append({"kind": "slip_on", "parts": parts[on:last]})
        on = last
        if draw(st.booleans()):
            against = draw(st.sampled_from(["shaft", "outside"]))
            force = draw(st.floats(0.0, 60.0))
            steps.append({"kind": "press", "force": force, "against": against})
            pressed = True
        if draw(st.booleans()):
            steps.append({"kind": "state", "state": "built"})
        if pressed:
            steps.append({"kind": "release"})
            pressed = False
    steps.append({"kind": "nut_on"})
    for _ in range(draw(st.integers(1, 2))):
        steps.append({"kind": "tighten", "torque": draw(st.floats(100.0, 900.0))})
    service = st.sampled_from(["lock", *(f"s{i}" for i in range(len(states))), "built"])
    for to in draw(st.lists(service, max_size=6)):
        steps.append({"kind": "lock"} if to == "lock" else {"kind": "state", "state": to})
    if draw(st.booleans()):
        steps += [{"kind": "state", "state": "built"}, {"kind": "loosen"}]
        if draw(st.booleans()):
            steps.append({"kind": "pull"})
    return rings, states, steps, lock


#: A nut that stands loose is not locked; a thrust that lifts all of it off is refused. Both are
#: right, and no law is asked of such a job.
REFUSED = re.compile(r"steps\.k\d+_(lock|state|tighten|press)|states\.|rings\.")


def history_of(text: str) -> tuple[fw.Job, Any]:
    try:
        job = fw.Job.loads(text)
        return job, job.history()
    except fw.InputError as error:
        told = str(error)
        for wrong in ("equilibrium", "not finite"):
            assert wrong not in told, f"{told}\n{text}"
        assert REFUSED.search(told), f"{told}\n{text}"
        assume(False)
        raise


@settings(max_examples=60)
@given(jobs())
def test_laws_of_every_step(drawn):
    rings, states, steps, lock = drawn
    job, history = history_of(job_text(rings, states, steps, lock))
    thrust, pressed = 0.0, 0.0
    for told, after in zip(steps, history, strict=True):
        if told["kind"] == "state":
            thrust = float(job[f"states.{told['state']}.thrust"])
        elif told["kind"] == "press":
            pressed = 1.0
        elif told["kind"] == "release":
            pressed = 0.0
        forces = [float(face.force) for face in after.faces]
        gaps = [float(face.gap) for face in after.faces]
        seats = [float(seat.force) for seat in after.seats]
        small = 2e-5 * max([*forces, *map(abs, seats), 1.0]) + 1.0
        where = f"{after.name}: {after}"
        assert min(forces) >= 0.0, where
        assert min(gaps) >= 0.0, where
        assert all(f == 0.0 or g == 0.0 for f, g in zip(forces, gaps, strict=True)), where
        assert after.dissipated >= -1e-9, where
        assert float(after.nut) >= 0.0, where
        if not pressed:
            assert forces[0] == pytest.approx(forces[-1] + sum(seats) + thrust, abs=small), where
        for seat, row in zip(after.seats, rings, strict=False):
            most = abs(row["friction"]) * seat.pressure
            assert (seat.pressure >= 0.0).all(), where
            # friction along a seat is told per area, as pressure is
            assert (abs(seat.friction) <= most * (1.0 + 1e-6) + 1e3).all(), where


@settings(max_examples=15)
@given(jobs())
def test_twice_the_size_at_equal_stress_is_four_times_the_force(drawn):
    """Similarity: every length twice, torques eight times, forces four times, speeds half."""
    rings, states, steps, lock = drawn
    _, one = history_of(job_text(rings, states, steps, lock))
    _, two = history_of(job_text(rings, states, steps, lock, scale=2.0))
    for a, b in zip(one, two, strict=True):
        largest = max([float(f.force) for f in a.faces] + [1.0])
        for small, large in zip(a.faces, b.faces, strict=True):
            assert float(large.force) / 4.0 == pytest.approx(
                float(small.force), abs=1e-5 * largest + 0.1
            ), f"{a.name}: {a}\n{b}"


any_step = st.one_of(
    st.sampled_from(["nut_on", "lock", "release", "loosen", "pull"]).map(lambda k: {"kind": k}),
    st.integers(0, 1).map(lambda i: {"kind": "slip_on", "parts": [f"r{i}"]}),
    st.sampled_from(["built", "s0"]).map(lambda s: {"kind": "state", "state": s}),
    st.floats(0.0, 900.0).map(lambda x: {"kind": "press", "force": x}),
    st.floats(0.0, 5_000.0).map(lambda x: {"kind": "tighten", "torque": x}),
)


@settings(max_examples=150)
@given(rings_of, states_of, st.lists(any_step, min_size=1, max_size=12))
def test_any_order_is_answered_or_refused_by_the_name_of_its_step(rings, states, steps):
    rings = (rings * 2)[:2]
    text = job_text(rings, states, steps)
    try:
        history = fw.Job.loads(text).history()
    except fw.InputError as error:
        for path, told in error.problems:
            assert re.match(r"steps\.k\d+_", path), f"{path}: {told}\n{text}"
            assert "equilibrium" not in told, f"{path}: {told}\n{text}"
        return
    for after in history:
        assert min(float(face.force) for face in after.faces) >= 0.0, text
        assert min(float(face.gap) for face in after.faces) >= 0.0, text


RING = {"interference": 40.0, "length": 25.0, "friction": 0.15}
STATE = {"speed": 6000.0, "thrust": 5.0, "shaft": 60.0, "lag": 4.0}
ON = [{"kind": "slip_on", "parts": ["r0"]}, {"kind": "state", "state": "built"}]
NUT = [{"kind": "nut_on"}, {"kind": "tighten", "torque": 600.0}, {"kind": "lock"}]


@pytest.mark.parametrize(
    ("steps", "said"),
    [
        ([*ON, {"kind": "tighten", "torque": 600.0}], r"steps\.k2_tighten"),
        ([{"kind": "nut_on"}], r"steps\.k0_nut_on"),
        ([*ON, {"kind": "lock"}], r"steps\.k2_lock"),
        ([*ON, *NUT, {"kind": "slip_on", "parts": ["r0"]}], r"steps\.k5_slip_on"),
        ([*ON, *NUT, {"kind": "press", "force": 5.0}], r"steps\.k5_press"),
        ([*ON, {"kind": "release"}], r"steps\.k2_release"),
        ([ON[0], {"kind": "press", "force": 9e5}], r"steps\.k1_press.*yield"),
        ([*ON, *NUT, {"kind": "pull"}], r"steps\.k5_pull"),
        ([*ON, {"kind": "state", "state": "s0"}], r"steps\.k2_state"),
        ([*ON, *NUT, {"kind": "state", "state": "s1"}], r"steps\.k5_state"),
        ([*ON, *NUT, {"kind": "state", "state": "s0"}, {"kind": "loosen"}], r"steps\.k6_loosen"),
        ([*ON, NUT[0], {"kind": "tighten", "torque": 4e4}], r"nut\.torque|steps\.k3_tighten"),
        ([*ON, {"kind": "pull"}, {"kind": "nut_on"}], r"steps\.k3_nut_on"),
    ],
)
def test_an_order_that_cannot_be_is_refused(steps, said):
    far_too_much = {**STATE, "thrust": -4000.0}
    with pytest.raises(fw.InputError, match=said):
        fw.Job.loads(job_text([RING], [STATE, far_too_much], steps)).evaluate(level="history")


@pytest.mark.parametrize("count", [1, 40])
@pytest.mark.parametrize("friction", [0.0, 0.15, 1.0])
@pytest.mark.parametrize("interference", [0.0, 40.0])
def test_numbers_at_their_limits(count, friction, interference):
    row = {"interference": interference, "length": 12.0, "friction": friction}
    rings = [row for _ in range(count)]
    steps: list[dict[str, Any]] = []
    for first, last in ((0, (count + 1) // 2), ((count + 1) // 2, count)):
        if last > first:
            steps.append({"kind": "slip_on", "parts": [f"r{i}" for i in range(first, last)]})
            steps.append({"kind": "state", "state": "built"})
    steps += [*NUT, {"kind": "state", "state": "s0"}, {"kind": "state", "state": "built"}]
    job = fw.Job.loads(job_text(rings, [STATE], steps))
    history = job.history()
    for after in history:
        forces = [float(face.force) for face in after.faces]
        assert min(forces) >= 0.0
        if friction == 0.0 or interference == 0.0:
            thrust = 5e3 if after.name.endswith("state") and after is history.steps[-2] else 0.0
            assert sum(abs(float(seat.force)) for seat in after.seats) <= 1.0
            assert forces[0] == pytest.approx(forces[-1] + thrust, abs=2.0)
    tight = next(step for step in history if step.kind == "tighten")
    forces = [float(face.force) for face in tight.faces]
    assert all(a <= b + 1.0 for a, b in itertools.pairwise(forces)), "friction only takes"
    if interference > 0.0 and friction == 1.0 and count == 40:
        assert forces[0] < 0.01 * forces[-1], "a long gripped stack lets nothing through"


def test_the_joint_diagram_reaches_to_where_a_face_opens():
    """Past the opening there is no other way: the nut takes each newton more."""
    diagram = fw.demo("blower").joint_diagram("full_load")
    [(face, at)] = diagram.opens
    assert face == "shoulder"
    assert f"shoulder opens at {at.shown('metric')}" in str(diagram)
    open_ = diagram.thrust < float(at)
    assert open_.sum() > 2
    np.testing.assert_allclose(diagram.shoulder_least[open_], 0.0, atol=1.0)
    beyond = diagram.thrust < 1.2 * float(at)
    slope = np.diff(diagram.nut[beyond]) / np.diff(diagram.thrust[beyond])
    np.testing.assert_allclose(slope, -1.0, rtol=0.02)
    assert np.all(np.diff(diagram.shoulder) >= -1e-6)
    assert np.all(diagram.nut >= diagram.nut_least - 1e-6)


def test_a_thrust_that_is_told_is_kept():
    diagram = fw.demo("blower").joint_diagram("full_load", thrust=["-2 kN", "0 kN", "5 kN"])
    assert list(diagram.thrust) == [-2e3, 0.0, 5e3]
    assert diagram.opens == []
