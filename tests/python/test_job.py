"""The job as a value: findings, replace, solve, sweep, derivatives, and the demo's promises."""

from __future__ import annotations

import math
import pickle
import re

import fitwright as fw
import numpy as np
import pytest
from fitwright.job.findings import Value
from hypothesis import given
from hypothesis import strategies as st


@pytest.fixture(scope="module")
def findings(demo):
    return demo.evaluate()


# -- paths ----------------------------------------------------------------------------------------


def test_paths(demo, findings):
    assert demo.title == "Aeration blower, thrust end"
    assert demo.states == [
        "cold_build", "start", "full_load", "overspeed", "trip", "hot_restart",
    ]  # fmt: skip
    assert demo.rings == ["sleeve", "inner_thrust", "inner_back", "wheel", "slinger"]
    assert demo["nut.torque"] == pytest.approx(840.0)
    assert repr(demo["nut.torque"]) == "840 N m"
    assert demo["rings.sleeve.oven"].to("degF") == pytest.approx(230.0)
    assert repr(demo["rings.wheel.contact_length"]) == "worked out"
    assert demo["states.trip.speed"] == 0.0
    assert "5 rings, 6 states" in repr(demo)
    assert findings["full_load", "shoulder.clamp_low"].quantity == "force"
    names = re.compile(r"[a-z][a-z0-9_]*(\.[a-z][a-z0-9_]*)+")
    assert all(names.fullmatch(path) for path, *_ in demo.input_rows)
    assert all(names.fullmatch(path) for _, path, *_ in demo.output_rows)
    assert len({path for path, *_ in demo.input_rows}) == len(demo.input_rows)
    assert len({row[:2] for row in demo.output_rows}) == len(demo.output_rows)


def nearest(message):
    return message.split("nearest: ")[1].split(", ")


def test_a_wrong_path_lists_the_three_nearest(demo, findings):
    with pytest.raises(fw.InputError) as caught:
        _ = demo["rings.sleve.bore"]
    assert nearest(str(caught.value))[0] == "rings.sleeve.bore"
    assert len(nearest(str(caught.value))) == 3
    with pytest.raises(fw.InputError, match="is not an output of state trip") as caught:
        _ = findings["trip", "shoulder.clamp_lo"]
    assert nearest(str(caught.value))[0] == "shoulder.clamp_low"
    with pytest.raises(fw.InputError, match="is not a state of this job") as caught:
        _ = findings["tripp", "shoulder.clamp_low"]
    assert nearest(str(caught.value))[0] == "trip"


def test_demo_by_name():
    with pytest.raises(fw.InputError, match='"blowers" is not a demo; there is blower'):
        fw.demo("blowers")


# -- findings -------------------------------------------------------------------------------------


def test_margins_and_reserves(findings):
    by = {(f.state, f.path): f for f in findings}
    clamp = by["cold_build", "shoulder.clamp_low"]
    assert clamp.is_least
    assert clamp.limit == pytest.approx(8000.0)
    assert clamp.margin == pytest.approx(clamp.value - 8000.0)
    assert clamp.reserve == pytest.approx((clamp.value - 8000.0) / 8000.0)
    # Two limits: the one that leaves less. 362 um of 250 to 450 um: 88 um above, 112 um below.
    play = by["cold_build", "bearing.end_play"]
    below, above = play.value - 250e-6, 450e-6 - play.value
    assert play.margin == pytest.approx(above if above / 450e-6 < below / 250e-6 else below)
    assert not play.is_least
    # A limit of zero: over the scale the field declares (10 K).
    setting = by["cold_build", "rings.inner_thrust.setting_margin"]
    assert setting.limit == 0.0
    assert setting.margin == pytest.approx(10.0)
    assert setting.reserve == pytest.approx(setting.margin / 10.0)
    # A ring that slides need not grip and is not heated.
    assert ("full_load", "rings.wheel.grip_left") not in by
    assert ("cold_build", "rings.wheel.oven_margin") not in by
    # The trip state has no limit on the clamp, all others have.
    assert [s for s, p in by if p == "shoulder.clamp_low"] == [
        "cold_build", "start", "full_load", "overspeed", "hot_restart",
    ]  # fmt: skip


def test_worst_and_governing(findings):
    assert findings.worst.reserve == min(f.reserve for f in findings)
    governing = findings.governing()
    assert governing[0] == findings.worst
    assert [f.reserve for f in governing] == sorted(f.reserve for f in governing)
    assert {f.path for f in governing} == {f.path for f in findings if f.asked}
    for held in governing:
        assert held.reserve == min(f.reserve for f in findings if f.path == held.path)


def test_grip_is_judged_at_its_least_and_yield_at_its_greatest(findings):
    held = {f.path: f for f in findings.governing()}
    states = {f.state for f in findings if f.level == "quick"}
    for ring in ("sleeve", "inner_thrust", "inner_back"):
        grips = {s: findings[s, f"rings.{ring}.grip_left"] for s in states}
        uses = {s: findings[s, f"rings.{ring}.ring_yield_use"] for s in states}
        assert held[f"rings.{ring}.grip_left"].state == min(grips, key=grips.__getitem__)
        assert held[f"rings.{ring}.ring_yield_use"].state == max(uses, key=uses.__getitem__)


def test_levels(demo, findings):
    assert {f.level for f in findings} == {"quick", "history", "heating"}
    assert {f.level for f in demo.evaluate(level="history")} == {"quick", "history"}
    assert {f.level for f in demo.at_level("quick").evaluate()} == {"quick"}
    assert "history" in str(findings.table())
    assert "Level: heating" in repr(findings)
    with pytest.raises(fw.InputError, match="not a level; there are quick, history, heating"):
        demo.evaluate(level="guess")
    with pytest.raises(fw.InputError, match='an output of level "history"; ask at that level'):
        demo.evaluate(level="quick")["full_load", "shoulder.clamp"]


def test_metric_and_inch(demo, findings):
    metric, inch = str(findings.table()), str(findings.table(units="inch"))
    clamp = findings["cold_build", "shoulder.clamp_low"]
    assert f"{clamp / 1e3:.2f} kN" in metric
    assert f"{clamp / 4.4482216152605:.0f} lbf" in inch
    assert "thou" in inch
    assert " um" not in inch
    assert " MPa" not in inch
    assert "degF" in str(demo.inputs(units="inch"))
    assert len(findings.table(all_states=True).rows) == len(findings)


def test_a_value_is_a_number_that_knows_its_unit():
    value = Value(0.038, "size")
    assert value + 0.0 == 0.038
    assert repr(value) == "38.000 mm"
    assert value.shown("inch") == "1.49606 in"
    same = pickle.loads(pickle.dumps(value))
    assert (same, same.quantity) == (value, "size")
    with pytest.raises(fw.InputError, match="is not a unit of length"):
        value.to("kN")


# -- replace --------------------------------------------------------------------------------------


def test_replace_makes_a_new_job(demo):
    before = list(demo.core.values())
    spreads = demo.spreads
    tight = demo.replace({"rings.sleeve.bore": "79.95 mm", "nut.torque": 700.0})
    assert demo.core.values() == pytest.approx(before, nan_ok=True)
    assert demo.spreads.keys() == spreads.keys()
    assert demo.spreads["nut.torque"].middle == pytest.approx(840.0)
    assert tight["rings.sleeve.bore"] == pytest.approx(0.07995)
    # The scatter moves along.
    assert tight.spreads["nut.torque"].middle == pytest.approx(700.0)
    assert tight.spreads["rings.sleeve.bore"].middle == pytest.approx(0.07995)
    grip = "rings.sleeve.pressure"
    assert tight.evaluate()["cold_build", grip] > demo.evaluate()["cold_build", grip]
    # The ends of a range stay, those of a uniform scatter move.
    wider = demo.replace({"bearing.clearance": "170 um"}).spreads["bearing.clearance"]
    assert (wider.low, wider.high) == pytest.approx((160e-6, 180e-6))


def test_replace_with_a_spread(demo):
    made = demo.replace(
        {
            "nut.torque": {"value": "700 N m", "spread": "normal", "deviation": "10 N m"},
            "nut.pitch": {
                "value": "2 mm",
                "spread": "uniform",
                "low": "1.99 mm",
                "high": "2.01 mm",
            },
            "nut.thread_friction": {"low": 0.11, "high": 0.14},
            "states.trip.shaft_temperature": {"spread": "normal", "deviation": "9 delta_degF"},
        }
    )
    assert made["nut.torque"] == pytest.approx(700.0)
    assert made.spreads["nut.torque"].standard_deviation == pytest.approx(10.0)
    assert made.spreads["nut.pitch"].standard_deviation == pytest.approx(20e-6 / math.sqrt(12.0))
    assert "nut.thread_friction" not in made.spreads
    assert made["nut.thread_friction_low"] == pytest.approx(0.11)
    assert made.spreads["states.trip.shaft_temperature"].standard_deviation == pytest.approx(5.0)


@pytest.mark.parametrize(
    ("changes", "path", "said"),
    [
        ({"nut.torqe": 1.0}, "nut.torqe", "is not an input of this job; nearest: nut.torque"),
        ({"nut.torque": "20 kN"}, "nut.torque", "is not a unit of torque"),
        ({"nut.torque": float("nan")}, "nut.torque", "must be a finite number"),
        ({"nut.torque": [600.0, 700.0]}, "nut.torque", "must be one number"),
        ({"nut.torque": "-5 N m"}, "nut.torque", "outside its range"),
        ({"nut.torque": {"value": 1.0, "sigma": 2}}, "nut.torque", "unknown key sigma"),
        ({"nut.torque": {"spread": "normal"}}, "nut.torque", "needs a deviation above zero"),
        ({"rings.sleeve.friction": 0.2}, "rings.sleeve.friction", "between its low and its high"),
        ({"rings.sleeve.outside": "70 mm"}, "rings.sleeve.outside", "larger than the seat"),
        ({"rings.sleeve.oven": "310 degC"}, "rings.sleeve.oven", "outside the temperature range"),
        ({"rings.inner_back.oven": "121 degC"}, "rings.inner_back.oven", "above the heating limit"),
        ({"states.trip.speed": 11000}, "states.trip.speed", 'did you mean "11000 rpm"?'),
    ],
)
def test_what_replace_refuses(demo, changes, path, said):
    with pytest.raises(fw.InputError) as caught:
        demo.replace(changes)
    assert any(p == path and said in text for p, text in caught.value.problems), caught.value


def test_replace_tells_all_problems_at_once(demo):
    with pytest.raises(fw.InputError) as caught:
        demo.replace({"nut.torqe": 1.0, "nut.torque": "20 kN", "bearing.balls": "15 %"})
    assert {p for p, _ in caught.value.problems} == {"nut.torqe", "nut.torque", "bearing.balls"}


@given(st.data())
def test_any_numbers_give_numbers_or_an_error(demo, data):
    """Whatever is accepted answers with finite numbers."""
    changes = {}
    for _ in range(data.draw(st.integers(1, 3))):
        path, *_ = data.draw(st.sampled_from(demo.input_rows))
        held = demo[path]
        factor = data.draw(st.sampled_from([0.0, 1e-200, 1e-6, 0.5, 0.99, 1.01, 2.0, 1e6, -1.0]))
        changes[path] = factor * (float(held) if math.isfinite(held) else 0.01)
    try:
        job = demo.replace(changes)
    except fw.InputError:
        return
    found = job.evaluate()
    assert np.isfinite(found._numbers).all()
    assert all(math.isfinite(f.reserve) for f in found)


# -- solve ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("vary", "output", "state", "target"),
    [
        ("nut.torque", "shoulder.clamp_low", "full_load", "10 kN"),
        ("nut.torque", "shoulder.clamp_low", None, "12 kN"),
        ("nut.torque", "nut.force", "trip", 20e3),
        ("seats.main.diameter", "rings.sleeve.grip_left", "overspeed", 0.4),
        ("rings.sleeve.bore", "rings.sleeve.pressure", "cold_build", "25 MPa"),
        ("rings.sleeve.oven", "rings.sleeve.opening", "cold_build", "60 um"),
        ("bearing.clearance", "bearing.end_play", "cold_build", "0.4 mm"),
        ("states.full_load.lags.sleeve", "nut.force", "full_load", "40 kN"),
        ("states.overspeed.speed", "rings.inner_thrust.grip_left", "overspeed", 0.45),
        ("states.full_load.thrust", "bearing.inner_stress", "full_load", "1600 MPa"),
    ],
)
def test_solve_reaches_its_target(demo, vary, output, state, target):
    found = demo.solve(vary=vary, output=output, state=state, target=target)
    reached = found.job.evaluate()[state or "cold_build", output]
    assert reached == pytest.approx(fw.units.to_si(target, reached.quantity), rel=1e-9)
    assert found.job[vary] == found.value
    assert found.value.quantity == demo[vary].quantity
    assert repr(found).startswith(f"{vary} = ")


def test_solve_within_bounds(demo):
    wanted = {"vary": "nut.torque", "output": "shoulder.clamp_low", "target": "10 kN"}
    free = demo.solve(**wanted).value
    assert demo.solve(**wanted, between=("600 N m", "1200 N m")).value == pytest.approx(free)
    assert demo.solve(**wanted, between=(None, "1200 N m")).value == pytest.approx(free)
    with pytest.raises(fw.InputError, match=r"no value brings shoulder\.clamp_low to 10 kN"):
        demo.solve(**wanted, between=("600 N m", "660 N m"))


def test_what_solve_refuses(demo):
    with pytest.raises(fw.InputError, match=r"nut\.torque: no value brings.*nearest reached is"):
        demo.solve(vary="nut.torque", output="rings.sleeve.pressure", target="-5 MPa")
    with pytest.raises(fw.InputError) as caught:
        demo.solve(vary="nut.torque", output="nut.force", target="5 mm", between=("x", "5 mm"))
    assert {p for p, _ in caught.value.problems} == {"target", "between[0]", "between[1]"}
    with pytest.raises(fw.InputError, match="target: must be one number"):
        demo.solve(vary="nut.torque", output="nut.force", target=[1.0, 2.0])
    with pytest.raises(fw.InputError, match="is not an input"):
        demo.solve(vary="nut.torqe", output="nut.force", target=1.0)
    with pytest.raises(fw.InputError, match="is not an output"):
        demo.solve(vary="nut.torque", output="nut.farce", target=1.0)


# -- sweep ----------------------------------------------------------------------------------------


def test_sweep_equals_evaluations_to_the_bit(demo):
    sweep = demo.sweep({"rings.sleeve.bore": ("79.94 mm", "79.97 mm", 50)})
    bores = sweep.inputs["rings.sleeve.bore"]
    assert bores.tolist() == pytest.approx(np.linspace(0.07994, 0.07997, 50))
    assert set(sweep.outputs) == {(f.state, f.path) for f in demo.evaluate(level="quick")}
    for i in (0, 7, 49):
        alone = demo.replace({"rings.sleeve.bore": float(bores[i])}).evaluate()
        for (state, path), column in sweep.outputs.items():
            assert column[i] == alone[state, path], (state, path)


def test_forms_of_a_sweep(demo):
    torques = ["500 N m", 600.0, "700 N m", 800]
    sweep = demo.sweep(
        {"nut.torque": torques, "nut.face_friction": np.linspace(0.11, 0.14, 4)},
        outputs=["nut.force", "nut.preload"],
    )
    assert sweep.inputs["nut.torque"].tolist() == pytest.approx([500, 600, 700, 800])
    assert {path for _, path in sweep.outputs} == {"nut.force", "nut.preload"}
    assert sweep["cold_build", "nut.preload"].shape == (4,)
    assert len(sweep.table().rows) == 4
    one = demo.sweep({"nut.torque": (500, 600, 700)}, outputs="nut.preload")
    assert one.inputs["nut.torque"].tolist() == [500.0, 600.0, 700.0]
    assert list(one.outputs) == [("cold_build", "nut.preload")]
    with pytest.raises(fw.InputError, match="is not in this sweep"):
        _ = one["trip", "nut.force"]


@pytest.mark.parametrize(
    ("ranges", "said"),
    [
        ({}, "name at least one input to vary"),
        ({"nut.torqe": [1.0, 2.0]}, "nearest: nut.torque"),
        ({"nut.torque": ("600 N m", "5 mm", 3)}, "is not a unit of torque"),
        ({"nut.torque": ("600 N m", "700 N m", 1)}, "1 points: must be from 2 to 1000000"),
        ({"nut.torque": ("600 N m", "700 N m", 10**7)}, "must be from 2 to 1000000"),
        ({"nut.torque": []}, r"must be \(from, to, how many\) or a list of values"),
        ({"nut.torque": [[1.0, 2.0]]}, r"must be \(from, to, how many\) or a list of values"),
        ({"nut.torque": [600.0, float("nan")]}, "must be a finite number"),
        ({"nut.torque": [600.0, 700.0], "nut.pitch": [0.002]}, "differ in length: nut.torque 2"),
        ({"nut.torque": [600.0, -700.0]}, r"outside its range.*\(point 1 of the sweep\)"),
        ({"rings.sleeve.outside": ["100 mm", "70 mm"]}, r"seat diameter \(point 1 of the sweep\)"),
    ],
)
def test_what_sweep_refuses(demo, ranges, said):
    with pytest.raises(fw.InputError, match=said):
        demo.sweep(ranges)


# -- derivatives ----------------------------------------------------------------------------------


def test_a_derivative_on_one_side_only_is_flagged(demo):
    """20 degC is a knot of the material tables; off it nothing of the warm state is flagged."""
    path = "states.start.shaft_temperature"
    lags = {f"states.start.lags.{r['name']}": 0.0 for r in demo.file.rows("ring")}
    at_knot = demo.replace({path: 20.0, **lags}).derivatives()
    off = demo.replace({path: 31.0, **lags}).derivatives()
    flagged = ("start", "rings.sleeve.ring_strain", path)
    assert flagged in at_knot.one_sided
    assert flagged not in off.one_sided
    assert at_knot.keys() == off.keys()
    assert at_knot.one_sided < set(at_knot)
    shown = str(at_knot.table("start", "rings.sleeve.ring_strain"))
    assert f"{path}*" in shown
    assert "holds on one side only" in shown
    assert f"{path}*" not in str(off.table("start", "rings.sleeve.ring_strain"))


def test_derivatives_equal_finite_differences(demo):
    exact = demo.derivatives()
    here = demo.evaluate()
    steps = {
        "nut.torque": 0.05,
        "nut.thread_friction": 1e-5,
        "seats.main.diameter": 1e-8,
        "rings.sleeve.bore": 1e-8,
        "rings.inner_thrust.outside": 1e-6,
        "rings.wheel.length": 1e-6,
        "rings.sleeve.friction_high": 1e-5,
        "states.full_load.speed": 0.05,
        "states.full_load.shaft_temperature": 1e-3,
        "states.full_load.lags.sleeve": 1e-3,
        "states.overspeed.thrust": 1.0,
        "bearing.clearance": 1e-8,
        "shaft.bore": 1e-6,
        "lock.thickness": 1e-6,
    }
    checked = 0
    for path, step in steps.items():
        at = {k: demo.replace({path: demo[path] + k * step}).evaluate() for k in (-2, -1, 1, 2)}
        for state, output, quantity, _ in demo.output_rows:
            value = {k: float(found[state, output]) for k, found in at.items()}
            rough = (8.0 * (value[1] - value[-1]) - (value[2] - value[-2])) / (12.0 * step)
            # Rounding; also of outputs that are a difference of two larger ones.
            noise = 3e-11 * abs(here[state, output])
            noise += {"difference": 1e-12, "fine": 1e-16}.get(quantity, 0.0)
            slope = exact[state, output, path]
            assert abs(slope - rough) <= 1e-5 * abs(rough) + noise / step, (state, output, path)
            checked += slope != 0.0
    assert checked > 1000


# -- what the demo promises -----------------------------------------------------------------------


def test_the_demo_is_plausible(demo, findings):
    # Common practice (no source): a clamp nut of this size takes several hundred N m, which leaves
    # the threads far below yield while the grip of the rings can be as large as the clamp itself.
    assert 300.0 <= demo["nut.torque"] <= 1000.0
    assert findings["cold_build", "nut.tightening_yield_use"] < 0.2
    assert max(findings[state, "nut.yield_use"] for state in demo.states) < 0.2
    assert demo["rings.sleeve.friction"] == 0.15
    assert 0.4 <= findings["cold_build", "stack.grip_over_nut"] <= 0.8
    assert demo["seats.main.diameter"] == pytest.approx(0.08, rel=1e-3)
    assert demo["states.full_load.speed"].to("rpm") == pytest.approx(11_000.0)
    assert findings.passed
    assert findings.not_met == []
    # At the worst of all that is told with ends.
    assert 8e3 < findings["cold_build", "shoulder.clamp_low"] < 15e3


def test_one_finding_is_at_risk_and_a_tighter_sleeve_mends_it(demo, study):
    assert study.at_risk[0].path == "rings.sleeve.grip_left"
    assert {f.path for f in study if f.pass_rate < 0.99} == {"rings.sleeve.grip_left"}
    assert 0.85 < study.pass_rate < 0.95
    mended = demo.replace({"rings.sleeve.bore": "79.995 mm"})
    # It takes clamp from the shoulder, and leaves enough.
    found = mended.evaluate()
    assert found.passed
    assert (
        8e3
        < found["cold_build", "shoulder.clamp_low"]
        < demo.evaluate()["cold_build", "shoulder.clamp_low"]
    )
    again = mended.study(200_000, seed=1, level="quick", progress=False)
    assert [f for f in again if f.pass_rate < 0.99] == []
    assert again.pass_rate > 0.98


def test_an_input_error_survives_pickling():
    error = fw.InputError([("a.b", "is wrong"), ("", "so is this")])
    same = pickle.loads(pickle.dumps(error))
    assert same.problems == error.problems
    assert str(same) == str(error) == "2 problems:\n  a.b: is wrong\n  so is this"
    assert isinstance(error, ValueError)
    with pytest.raises(fw.InputError) as caught:
        fw.Job.loads("a = 1")
    assert str(pickle.loads(pickle.dumps(caught.value))) == str(caught.value)
