"""Laws of a whole job that hold whatever the numbers."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from test_laws import numbers

RINGS = ["sleeve", "inner_thrust", "inner_back"]
STATES = ["start", "full_load", "overspeed", "trip", "hot_restart"]


@st.composite
def changes(draw):
    """Small changes of the demo job, all within reason."""
    made = {"nut.torque": draw(numbers(400.0, 1000.0))}
    for name in RINGS:
        made[f"rings.{name}.bore"] = 0.079995 + draw(numbers(-15e-6, 15e-6))
        made[f"rings.{name}.friction"] = draw(numbers(0.125, 0.175))
    for name in STATES:
        made[f"states.{name}.shaft_temperature"] = draw(numbers(20.0, 90.0))
        made[f"states.{name}.lags.{draw(st.sampled_from(RINGS))}"] = draw(numbers(-10.0, 10.0))
        made[f"states.{name}.thrust"] = draw(numbers(0.0, 12e3))
    return made


@given(changes())
def test_the_bounds_of_the_clamp_are_in_order(demo, made):
    job = demo.replace(made)
    found = job.evaluate()
    for state in job.states:
        low, high, free = (found[state, f"shoulder.clamp_{end}"] for end in ("low", "high", "free"))
        force = found[state, "nut.force"]
        assert 0.0 <= low <= high
        assert force > 0.0
        most = found[state, "nut.force_high"]
        if state == job.states[0]:
            # Friction only ever takes from the first tightening.
            assert high <= most
            assert free == force
        else:
            assert low <= free <= high
            thrust = made[f"states.{state}.thrust"]
            assert free == pytest.approx(force + thrust, rel=1e-12)
        # Ends cost: with every input at its value no less is left.
        assert low <= found[state, "shoulder.clamp_nominal"] <= high
        assert 0.0 <= found[state, "nut.force_low"] <= force <= most
    for name in RINGS:
        assert found["cold_build", f"rings.{name}.grip_left"] == pytest.approx(1.0)
        alone = found["cold_build", f"rings.{name}.holding_force"]
        assert alone < found["cold_build", "stack.grip_capacity_high"]
    assert all(math.isfinite(v) for v in found._numbers)


@given(changes(), st.sampled_from(STATES), st.sampled_from([*RINGS, "wheel", "slinger", "lock"]))
def test_hotter_rings_pull_harder_on_the_nut(demo, made, state, part):
    job = demo.replace(made)
    path = f"states.{state}.lags.{part}"
    hotter = job.replace({path: job[path] + 3.0})
    before, after = job.evaluate(), hotter.evaluate()
    assert after[state, "nut.force"] > before[state, "nut.force"]
    others = [s for s in job.states if s != state]
    assert all(after[s, "nut.force"] == before[s, "nut.force"] for s in others)


@given(changes())
def test_more_torque_more_clamp(demo, made):
    job = demo.replace(made)
    tighter = job.replace({"nut.torque": made["nut.torque"] * 1.05})
    before, after = job.evaluate(), tighter.evaluate()
    assert after["cold_build", "nut.preload"] == pytest.approx(
        1.05 * before["cold_build", "nut.preload"], rel=1e-12
    )
    for state in job.states:
        assert after[state, "nut.force"] > before[state, "nut.force"]
        assert after[state, "shoulder.clamp_low"] >= before[state, "shoulder.clamp_low"]


@given(changes(), st.data())
def test_gradients_of_the_job(demo, made, data):
    job = demo.replace(made)
    path = data.draw(st.sampled_from(sorted(made)))
    step = abs(job[path]) * 1e-5 if not path.endswith("bore") else 1e-8
    assume(step > 1e-9)

    def outputs(k):
        moved = job.replace({path: job[path] + k * step})
        return np.array(moved.evaluate(level="quick")._numbers)

    _, slopes, _ = job.core.jacobian()
    exact = slopes[:, job.core.leaf(path)]
    middle, near, far = outputs(0), outputs(1) - outputs(-1), outputs(2) - outputs(-2)
    uneven = [np.abs(outputs(k) - 2.0 * middle + outputs(-k)) for k in (1, 2)]
    # Rounding; also of outputs that are a difference of two larger ones.
    kinds = [quantity for _, _, quantity, _ in job.output_rows]
    small = np.array([{"difference": 1e-12, "fine": 1e-16}.get(kind, 0.0) for kind in kinds])
    noise = 1e-10 * np.abs(middle) + small
    smooth = np.maximum(*uneven) <= 1e-3 * np.abs(near) + noise
    rough = (8.0 * near - far) / (12.0 * step)
    wrong = smooth & (np.abs(exact - rough) > 1e-3 * np.abs(rough) + noise / step)
    assert [job.output_rows[i][:2] for i in np.flatnonzero(wrong)] == []
    assert smooth.mean() > 0.9
