"""A system as a function of arrays, with other libraries on it."""

import pickle
import threading

import fitwright as fw
import numpy as np
import pytest
from scipy import optimize
from test_single import LIMITS, parts, plain

INPUTS = ["shaft.seat", "ring.outside"]


def function(**more):
    return fw.function(fw.rings.fit, INPUTS, ["holding_force", "ring_hoop"], **parts(), **more)


def test_it_is_the_model_on_arrays():
    f = function()
    x = np.array([[0.08003, 0.100], [0.08004, 0.105], [0.08005, 0.110]])
    y = f(x)
    assert y.shape == (3, 2)
    for row, answer in zip(x, y, strict=True):
        one = fw.rings.fit(
            shaft=fw.Shaft(bore="30 mm", seat=row[0], material="4340"),
            ring=fw.Ring(bore="80 mm", outside=row[1], length="30 mm", material="52100"),
        )
        assert answer == pytest.approx([one.holding_force, one.ring_hoop], rel=1e-14)
        assert f(row) == pytest.approx(answer)
    j = f.jacobian(x)
    assert j.shape == (3, 2, 2)
    step = 1e-7
    for k in range(2):
        up, down = x[1].copy(), x[1].copy()
        up[k] += step
        down[k] -= step
        assert j[1, :, k] == pytest.approx((f(up) - f(down)) / (2 * step), rel=1e-5)
    assert f.jacobian(x[1]).shape == (2, 2)
    assert f.nominal == pytest.approx([0.08004, 0.105])


def test_it_pickles():
    f = pickle.loads(pickle.dumps(function()))
    assert f.inputs == INPUTS
    assert f(f.nominal) == pytest.approx([plain().holding_force, plain().ring_hoop])


def test_of_a_job_in_any_state():
    job = fw.demo("blower")
    f = job.function(["nut.torque"], [("full_load", "shoulder.clamp_low")])
    x = f.nominal
    assert f(x) == pytest.approx([float(job.evaluate("quick")["full_load", "shoulder.clamp_low"])])
    slope = job.derivatives("quick")["full_load", "shoulder.clamp_low", "nut.torque"]
    assert f.jacobian(x)[0, 0] == pytest.approx(slope)


def test_optimisers_of_scipy_find_what_the_library_finds():
    f = fw.function(fw.rings.fit, ["shaft.seat"], ["holding_force"], **parts())
    target = 40e3
    found = fw.single(fw.rings.fit, **parts()).solve(
        vary="shaft.seat", output="holding_force", target="40 kN"
    )
    root = optimize.brentq(lambda x: f([x])[0] - target, 0.08001, 0.0801, xtol=1e-15)
    assert root == pytest.approx(float(found.value), rel=1e-12)
    # with its derivatives: newton, in micrometres
    step = optimize.newton(
        lambda u: f([0.08 + 1e-6 * u])[0] / 1e3 - 40.0,
        30.0,
        fprime=lambda u: f.jacobian([0.08 + 1e-6 * u])[0, 0] * 1e-9,
    )
    assert 0.08 + 1e-6 * step == pytest.approx(float(found.value), rel=1e-12)
    # most holding force within a hoop stress: seat and outside of the ring, by SLSQP
    g = function()
    scale = np.array([1e-6, 1e-3])

    def at(u):
        return np.array([0.08, 0.0]) + scale * u

    answer = optimize.minimize(
        lambda u: -g(at(u))[0] / 1e3,
        [40.0, 105.0],
        jac=lambda u: -g.jacobian(at(u))[0] * scale / 1e3,
        bounds=[(20.0, 90.0), (95.0, 112.0)],
        constraints={
            "type": "ineq",
            "fun": lambda u: 1.5 - g(at(u))[1] / 1e8,
            "jac": lambda u: -g.jacobian(at(u))[1] * scale / 1e8,
        },
        method="SLSQP",
    )
    assert answer.success
    assert g(at(answer.x))[1] == pytest.approx(1.5e8, rel=1e-6)
    assert answer.x[1] == pytest.approx(112.0)  # the thicker ring holds more at the same stress


def test_indices_by_salib_agree():
    saltelli = pytest.importorskip("SALib.sample.sobol")
    analyze = pytest.importorskip("SALib.analyze.sobol")
    names = ["shaft.seat", "ring.bore", "ring.outside"]
    spread = {
        "spread": "normal",
        "deviation": "2 mm",
        "value": "105 mm",
    }
    told = parts(
        ring={"bore": parts()["ring"]["bore"], "outside": spread, "length": "30 mm",
              "material": "52100"}
    )  # fmt: skip
    problem = {
        "num_vars": 3,
        "names": names,
        "bounds": [[0.08004, 2e-6], [0.08, 1.5e-6], [0.105, 0.002]],
        "dists": ["norm"] * 3,
    }
    x = saltelli.sample(problem, 4096, calc_second_order=False, seed=1)
    f = fw.function(fw.rings.fit, names, ["holding_force"], **told)
    theirs = analyze.analyze(problem, f(x)[:, 0], calc_second_order=False, seed=1)
    ours = fw.sobol_indices(fw.rings.fit, 32_768, outputs="holding_force", progress=False, **told)
    rows = {share.input: share for share in ours["as_given", "holding_force"]}
    for number, name in enumerate(names):
        assert rows[name].first == pytest.approx(theirs["S1"][number], abs=0.03)
        assert rows[name].total == pytest.approx(theirs["ST"][number], abs=0.03)


def test_points_without_an_answer():
    f = function()
    x = np.array([[0.08004, 0.105], [0.08004, 0.070]])
    with pytest.raises(fw.InputError, match="point 1 of the sweep"):
        f(x)
    lenient = function(outside="nan")
    y = lenient(x)
    assert np.isfinite(y[0]).all()
    assert np.isnan(y[1]).all()
    assert np.isnan(lenient.jacobian(x)[1]).all()
    with pytest.raises(fw.InputError, match=r"point 1"):
        f.jacobian(x)


def test_other_threads_run_meanwhile():
    """The interpreter's lock is let go: a counter goes on while a long call runs."""
    f = function()
    x = np.tile(f.nominal, (200_000, 1))
    ticks, done = [0], threading.Event()

    def count():
        while not done.is_set():
            ticks[0] += 1

    counter = threading.Thread(target=count)
    counter.start()
    before = ticks[0]
    f(x)
    after = ticks[0]
    done.set()
    counter.join()
    assert after > before


def test_wrong_functions_are_named():
    f = function()
    cases = [
        (lambda: f(np.zeros((3, 3))), "X: an array of shape (3, 3) must have 2 columns"),
        (lambda: f("many"), "X: must be an array of numbers"),
        (lambda: fw.function(fw.rings.fit, [], ["gap"], **parts()), "inputs: must name"),
        (lambda: fw.function(fw.rings.fit, ["speed"], [], **parts()), "outputs: must name"),
        (
            lambda: fw.function(fw.rings.fit, ["sped"], ["gap"], **parts()),
            "sped: is not an input of rings.fit; nearest",
        ),
        (
            lambda: fw.function(fw.rings.fit, ["speed", "speed"], ["gap"], **parts()),
            "must not name an input twice",
        ),
        (lambda: function(outside="perhaps"), "outside: 'perhaps' must be one of raise, nan"),
    ]
    for call, message in cases:
        with pytest.raises(fw.InputError) as error:
            call()
        assert message in str(error.value)


def test_limits_do_not_matter():
    assert fw.function(fw.rings.fit, INPUTS, ["holding_force"], limits=LIMITS, **parts())(
        function().nominal
    ) == pytest.approx([plain().holding_force])
