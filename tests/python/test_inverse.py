"""Questions turned round, against the solver, sweeps, corners and the normal integral."""

from __future__ import annotations

import subprocess
import sys

import fitwright as fw
import numpy as np
import pytest
from scipy import stats

SEAT = "seats.main.diameter"


@pytest.fixture(scope="module")
def still(demo):
    """The demo without scatter."""
    return fw.Job(demo.core, demo.file, {})


def scattered(job, **given):
    return job.replace({path.replace("__", "."): table for path, table in given.items()})


# -- reuse limits ---------------------------------------------------------------------------------


def test_reuse_limits_end_where_a_finding_meets_its_limit(demo):
    found = demo.reuse_limits([SEAT, "bearing.shim"])
    assert len(found) == 2
    for limit in found:
        for end in (limit.low, limit.high):
            assert end.stop == "limit"
            there = demo.replace({limit.path: float(end.value)}).evaluate()
            assert there.passed
            key = (end.fails.state, end.fails.path)
            assert there[key] == pytest.approx(float(end.fails.limit), rel=1e-3, abs=1e-9)
        below = demo.replace({limit.path: float(limit.low.value) - 2e-9}).evaluate()
        above = demo.replace({limit.path: float(limit.high.value) + 2e-9}).evaluate()
        assert limit.low.fails.path in {f.path for f in below.not_met}
        assert limit.high.fails.path in {f.path for f in above.not_met}


def test_every_dimension_is_looked_at(demo):
    found = demo.reuse_limits()
    assert {SEAT, "rings.sleeve.bore", "bearing.clearance", "nut.settling"} <= {
        r.path for r in found
    }
    assert not any(r.path.endswith(("_low", "_high")) for r in found)
    stops = {end.stop for r in found for end in (r.low, r.high)}
    assert stops == {"limit", "domain", "range"}
    for r in found:
        assert r.low.value <= r.value <= r.high.value
    shown = str(found)
    assert "end of its range" in shown
    assert "domain ends: nut.outside: 75 mm must be larger than the thread diameter" in shown
    assert "<table>" in found._repr_html_()
    room = float(found[SEAT].high.value) - float(found[SEAT].value)
    assert f"(+{room * 1e6:.1f} um)" in shown


def test_the_worst_case_is_narrower(demo, still):
    """End play grows with the clearance, so its worst end is known."""
    job = scattered(still, bearing__clearance={"spread": "uniform", "low": 145e-6, "high": 155e-6})
    nominal = job.reuse_limits("bearing.shim")["bearing.shim"]
    worst = job.reuse_limits("bearing.shim", at="worst_case")["bearing.shim"]
    assert nominal.low.value < worst.low.value < worst.high.value < nominal.high.value
    low = still.replace({"bearing.clearance": 145e-6}).reuse_limits("bearing.shim")["bearing.shim"]
    high = still.replace({"bearing.clearance": 155e-6}).reuse_limits("bearing.shim")["bearing.shim"]
    assert worst.low.value == pytest.approx(float(max(low.low.value, high.low.value)), abs=1e-9)
    assert worst.high.value == pytest.approx(float(min(low.high.value, high.high.value)), abs=1e-9)
    assert worst.low.proof.startswith("proven: ")


def test_a_known_input_with_ends_is_one_number(demo):
    """Its own low and high end say how it scatters, and a measured one does not."""
    path = "nut.thread_friction"
    job = fw.Job(demo.core, demo.file, {p: demo.spreads[p] for p in (path, "nut.torque")})
    ends = {"value": 0.06, "low": 0.05, "high": 0.3, "spread": "triangular"}
    face = {"value": 0.1, "low": 0.1, "high": 0.1}
    window = {"nut.torque_window_low": "500 N m"}
    job = job.replace({path: ends, "nut.torque": "700 N m", "nut.face_friction": face, **window})
    high = job.reuse_limits(path, at="worst_case")[path].high
    assert high.stop == "limit"
    assert high.fails.path == "shoulder.clamp_low"  # so the least torque is the worst
    friction = {"value": float(high.value), "low": float(high.value), "high": float(high.value)}
    still = fw.Job(demo.core, demo.file, {}).replace({"nut.face_friction": face, **window})
    found = still.replace({path: friction, "nut.torque": 640.0}).evaluate()
    value = found[high.fails.state, high.fails.path]
    assert value == pytest.approx(float(high.fails.limit), rel=1e-3)


def test_at_a_rate_the_end_is_a_quantile(demo, still):
    """One normal input and a monotonic finding: the end is that of the input at its quantile."""
    deviation, rate = 3e-6, 0.95
    job = scattered(still, bearing__clearance={"spread": "normal", "deviation": deviation})
    found = job.reuse_limits("bearing.shim", at=rate, samples=20_000)["bearing.shim"]
    for end, side in ((found.low, "low"), (found.high, "high")):
        ends = [
            still.replace({"bearing.clearance": 150e-6 + z * deviation}).reuse_limits(
                "bearing.shim"
            )["bearing.shim"]
            for z in (stats.norm.ppf(1 - rate), stats.norm.ppf(rate))
        ]
        exact = (max if side == "low" else min)(float(getattr(e, side).value) for e in ends)
        width = abs(float(getattr(ends[0], side).value) - float(getattr(ends[1], side).value))
        assert float(end.value) == pytest.approx(exact, abs=0.02 * width)
    again = job.reuse_limits("bearing.shim", at=rate, samples=20_000)["bearing.shim"]
    assert again == found


def test_ctrl_c_stops_a_long_search(demo):
    script = (
        "import fitwright as fw, os, signal, threading, time\n"
        # A test run that was started in the background inherits that Ctrl-C is ignored.
        "signal.signal(signal.SIGINT, signal.default_int_handler)\n"
        "job = fw.demo()\n"
        "threading.Timer(1.0, os.kill, (os.getpid(), signal.SIGINT)).start()\n"
        "try:\n"
        "    job.reuse_limits(at=0.9, samples=100_000)\n"
        "except KeyboardInterrupt:\n"
        "    print('stopped')\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True
    )
    assert done.stdout == "stopped\n"


def test_a_job_that_fails_already(demo):
    bad = demo.replace({"bearing.shim": "300 um"})
    [found] = bad.reuse_limits(SEAT)
    assert found.low.stop == found.high.stop == "limit"  # of the others
    # Without the shim's clearance there is no end play, and the balls run on both halves.
    halves = {"bearing.arch_gap", "bearing.arch_margin"}
    assert {"bearing.end_play"} | halves == {f.path for f in bad.evaluate().not_met}
    # Of the quick level, which does not know the margin of the halves.
    assert {side.path for side in found.aside} == {"bearing.end_play", "bearing.arch_gap"}
    assert "set aside, as they fail already: bearing." in str(bad.reuse_limits(SEAT))


# -- worst case -----------------------------------------------------------------------------------


def test_worst_case_holds_every_sample(demo):
    """No sample goes beyond; normal inputs are left out, whose tails may."""
    job = fw.Job(
        demo.core, demo.file, {p: s for p, s in demo.spreads.items() if s.shape != "normal"}
    )
    # All boxes: von Mises stress in the trip has a flat hollow inside the box, found by halving.
    states = ("cold_build", "trip")
    answers = [job.worst_case(state) for state in states]
    found = {(case.state, case.path): case for answer in answers for case in answer}
    study = job.study(50_000, level="quick", progress=False)
    for f in study:
        if f.state not in states:
            continue
        case = found[f.state, f.path]
        slack = 1e-9 * max(abs(f.statistics.least), abs(f.statistics.greatest))
        assert case.least.value <= f.statistics.least + slack
        assert case.greatest.value >= f.statistics.greatest - slack
        for worst, sign in ((case.least, 1.0), (case.greatest, -1.0)):
            # The bound is beyond the value, and close by where it is told to be proven.
            assert sign * float(worst.bound) <= sign * float(worst.value)
            assert worst.gap == 0.0 or not worst.proven
    assert "proven: a corner" in str(answers[0])
    # What rests on running balls and on the nut's drive is searched and not bounded.
    searched = (
        "static_safety",
        "load_ratio",
        "viscosity_ratio",
        "inner_margin",
        "outer_margin",
        "drag_margin",
        "start_margin",
        "trip_margin",
    )
    ends = [
        w
        for case in found.values()
        for w in (case.least, case.greatest)
        if w.gap < float("inf") and not case.path.endswith(searched)
    ]
    assert sum(w.proven for w in ends) > 0.9 * len(ends)
    assert len(ends) > 100


def test_worst_case_of_one_output(demo):
    [case] = demo.worst_case("cold_build", "shoulder.clamp_low")
    assert case.least.value < case.nominal < case.greatest.value
    there = {p: {"value": float(v)} for p, v in case.least.at.items()}
    assert set(there) == set(demo.spreads)
    assert not case.passed
    assert case.least.proven
    assert case.greatest.proven
    assert len(demo.worst_case(path="shoulder.clamp_low")) == len(demo.states)


def test_too_little_work_is_told(demo):
    """With one box a finding that is no corner keeps its gap, and more work closes it."""
    [rough] = demo.worst_case("full_load", "bearing.clearance", boxes=1)
    [fine] = demo.worst_case("full_load", "bearing.clearance")
    assert float(rough.greatest.bound) >= float(fine.greatest.bound) >= float(fine.greatest.value)
    assert fine.greatest.proven
    if not rough.greatest.proven:
        assert rough.greatest.gap > 0.0
        assert "not proven: found; bound " in str(rough.greatest.proof())


# -- best values ----------------------------------------------------------------------------------


def test_one_input_against_a_sweep(demo):
    found = demo.solve_for({"bearing.shim": ("100 um", "260 um")})
    reserves = [
        demo.replace({"bearing.shim": x}).evaluate().worst.reserve
        for x in np.linspace(100e-6, 260e-6, 161)
    ]
    assert found.reserve >= max(reserves) - 1e-9
    assert found.job.evaluate().worst.reserve == pytest.approx(found.reserve, abs=1e-12)
    assert found.binding.path == found.job.evaluate().worst.path
    assert found.passed
    assert "what binds" in str(found)


def test_a_rate_is_reached(demo, still):
    job = scattered(still, bearing__clearance={"spread": "normal", "deviation": 10e-6})
    job = job.replace({"bearing.shim": "90 um"})
    before = job.study(20_000, level="quick", progress=False)
    found = job.solve_for({"bearing.shim": ("80 um", "270 um")}, at=0.999)
    assert before.pass_rate < 0.9
    assert found.passed
    assert found.pass_rate >= 0.999
    assert found.job.study(20_000, level="quick", progress=False).pass_rate == found.pass_rate


# -- what is refused ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("ask", "told"),
    [
        (lambda j: j.reuse_limits("seats.main.diametre"), "nearest: seats.main.diameter"),
        (lambda j: j.reuse_limits(SEAT, at="worst"), "at: 'worst' must be"),
        (lambda j: j.reuse_limits(SEAT, at=1.0), "at: 1.0 must be a pass rate above 0 and below 1"),
        (lambda j: j.reuse_limits(SEAT, at=0.9, samples=0), "samples: 0 must be"),
        (lambda j: j.reuse_limits(SEAT, at=0.9, seed=-1), "seed: -1 must be"),
        (lambda j: j.worst_case("nowhere"), 'state: "nowhere" is not a state'),
        (lambda j: j.worst_case("start", "clamp"), "clamp: is not an output"),
        (lambda j: j.worst_case(budget=0), "budget: 0 must be"),
        (lambda j: j.worst_case(boxes=True), "boxes: True must be"),
        (lambda j: j.solve_for({}), "bounds: name at least one input"),
        (lambda j: j.solve_for({SEAT: "80 mm"}), f"{SEAT}: "),
        (lambda j: j.solve_for({SEAT: ("81 mm", "80 mm")}), "the first must be below the second"),
        (lambda j: j.solve_for({SEAT: ("80 kg", "81 mm")}), f"{SEAT}: "),
    ],
)
def test_wrong_questions(demo, ask, told):
    with pytest.raises(fw.InputError) as error:
        ask(demo)
    assert told in str(error.value)


def test_nothing_scatters(still):
    for ask in (
        lambda: still.worst_case(),
        lambda: still.reuse_limits(SEAT, at="worst_case"),
        lambda: still.solve_for({SEAT: ("80 mm", "81 mm")}, at=0.9),
    ):
        with pytest.raises(fw.InputError, match="has no input that scatters"):
            ask()


def test_a_pass_rate_minds_that_inputs_scatter_together():
    """Friction of thread and nut face: together at 0.95 they fail the shoulder more often."""
    from importlib import resources

    text = (resources.files("fitwright") / "demos" / "blower.toml").read_text(encoding="utf-8")
    pair = '["nut.thread_friction", "nut.face_friction"]'
    text = text.replace('at_least = "8 kN"', 'at_least = "25 kN"')
    text = text.replace('value = "79.999 mm"', 'value = "79.990 mm"')  # nothing else is at risk
    jobs = [
        fw.Job.loads(f"{text}\n[[correlation]]\nbetween = {pair}\nvalue = {value}\n")
        for value in (0.95, 0)
    ]
    rates = [j.study(50_000, level="quick", progress=False).pass_rate for j in jobs]
    assert rates[0] < rates[1]
    least = [j.reuse_limits("nut.torque", at=0.5, samples=8192).table().rows for j in jobs]
    assert least[0] != least[1]
