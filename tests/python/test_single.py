"""Every verb on a single model: questions as of a job, answers as of the model."""

import ast
import json
import math
import pickle
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context

import fitwright as fw
import numpy as np
import pytest
from fitwright.models.results import MODELS

SEAT = {"value": "80.040 mm", "spread": "normal", "deviation": "2 um"}
BORE = {"value": "80.000 mm", "spread": "normal", "deviation": "1.5 um"}
LIMITS = {"holding_force": (">=", "17 kN")}


def parts(**changes):
    return {
        "shaft": {"bore": "30 mm", "seat": SEAT, "material": "4340"},
        "ring": {"bore": BORE, "outside": "105 mm", "length": "30 mm", "material": "52100"},
        **changes,
    }


def single(**changes):
    return fw.single(fw.rings.fit, limits=LIMITS, **parts(**changes))


def plain(seat=0.08004, bore=0.08):
    return fw.rings.fit(
        shaft=fw.Shaft(bore="30 mm", seat=seat, material="4340"),
        ring=fw.Ring(bore=bore, outside="105 mm", length="30 mm", material="52100"),
    )


def test_it_answers_as_the_model_does():
    one = single()
    found = one.evaluate()
    for name in ("pressure", "holding_force", "ring_hoop"):
        assert float(found["as_given", name]) == getattr(plain(), name)
    assert float(one["shaft.seat"]) == 0.08004
    assert set(one.spreads) == {"shaft.seat", "ring.bore"}
    # objects of the library and tables say the same
    told = fw.single(
        "rings.fit",
        shaft=fw.Shaft(bore="30 mm", seat=SEAT, material="4340"),
        ring=fw.Ring(bore=BORE, outside="105 mm", length="30 mm", material="52100"),
    )
    assert float(told.evaluate()["as_given", "pressure"]) == plain().pressure
    assert set(told.spreads) == set(one.spreads)


def test_study_of_one_fit():
    study = fw.study(fw.rings.fit, 200_000, limits=LIMITS, progress=False, **parts())
    finding = study["holding_force"]
    deviation = 2.5e-6
    seats = np.random.default_rng(1).normal(40e-6, deviation, 200_000)
    # the same draws by the model itself, counted by NumPy
    forces = plain(seat=0.08 + seats).holding_force
    rate = np.mean(forces >= 17e3)
    spread = math.sqrt(rate * (1 - rate) / 200_000)
    assert abs(finding.pass_rate - rate) < 6 * spread
    assert finding.statistics.mean == pytest.approx(np.mean(forces), rel=1e-3)
    assert finding.statistics.deviation == pytest.approx(np.std(forces), rel=2e-2)
    assert "holding_force" in str(study.table())
    assert study.contributions("as_given", "holding_force")
    assert study.quantile("as_given", "holding_force", 0.5) == pytest.approx(
        float(np.median(forces)), rel=2e-3
    )
    json.dumps(study.to_dict())
    study.plot()


def test_options_of_a_study():
    here = fw.study(fw.rings.fit, 70_000, limits=LIMITS, keep="pressure", progress=False, **parts())
    assert here.columns["as_given", "pressure"].shape == (70_000,)
    with ProcessPoolExecutor(1, mp_context=get_context("spawn")) as pool:
        there = fw.study(
            fw.rings.fit, 70_000, limits=LIMITS, executor=pool, progress=False, **parts()
        )
    assert there.pass_rate == here.pass_rate


def test_outputs_without_limits_are_tracked_when_asked():
    study = fw.study(fw.rings.fit, 5000, outputs=["interference_left"], progress=False, **parts())
    assert study["interference_left"].statistics.deviation == pytest.approx(2.5e-6, rel=0.05)


def test_solve_and_sweep():
    found = fw.solve(
        fw.rings.fit, vary="interference", output="holding_force", target="40 kN",
        shaft={"bore": "30 mm", "seat": "80 mm", "material": "4340"},
        ring={"bore": "80 mm", "outside": "105 mm", "length": "30 mm", "material": "52100"},
    )  # fmt: skip
    assert float(found.job.evaluate()["as_given", "holding_force"]) == pytest.approx(40e3, rel=1e-9)
    again = fw.rings.fit(
        shaft=fw.Shaft(bore="30 mm", seat="80 mm", material="4340"),
        ring=fw.Ring(bore="80 mm", outside="105 mm", length="30 mm", material="52100"),
        interference=float(found.value),
    )
    assert again.holding_force == pytest.approx(40e3, rel=1e-9)
    sweep = fw.sweep(
        fw.rings.fit, {"shaft.seat": ("80.02 mm", "80.06 mm", 5)}, "holding_force", **parts()
    )
    seats = np.linspace(0.08002, 0.08006, 5)
    assert sweep.outputs["as_given", "holding_force"] == pytest.approx(
        plain(seat=seats).holding_force, rel=1e-12
    )
    assert "holding_force" in str(sweep.table())


def test_worst_case_stands_at_the_corner():
    case = fw.worst_case(fw.rings.fit, "holding_force", limits=LIMITS, **parts())
    found = case["as_given", "holding_force"]
    assert float(found.least.value) == pytest.approx(
        plain(seat=0.08004 - 6e-6, bore=0.08 + 4.5e-6).holding_force, rel=1e-9
    )
    assert not found.least.proven
    assert "no bounds" in found.least.proof()


def test_indices_of_a_sum():
    found = fw.sobol_indices(
        fw.rings.fit, 16_384, outputs="interference_left", progress=False, **parts()
    )
    shares = {share.input: share.first for share in found["as_given", "interference_left"]}
    assert shares["shaft.seat"] == pytest.approx(0.64, abs=0.03)
    assert shares["ring.bore"] == pytest.approx(0.36, abs=0.03)


def test_derivatives_are_those_of_the_model():
    found = fw.derivatives(fw.rings.fit, **parts())
    wanted = plain().derivatives()
    for (output, source), value in wanted.items():
        assert found["as_given", output, source] == value


def test_other_verbs_of_a_job():
    one = single()
    assert one.reuse_limits("shaft.seat")
    best = one.solve_for({"shaft.seat": ("80.02 mm", "80.09 mm")})
    assert best.passed
    curve = one.yield_against("shaft.seat", ["80.03 mm", "80.04 mm"], samples=4096)
    assert curve.pass_rates[0] < curve.pass_rates[1]
    assert one.study_time(10_000).levels == {"quick": 10_000}


def test_correlated_inputs():
    tied = fw.single(
        fw.rings.fit, correlations={("shaft.seat", "ring.bore"): 0.9}, limits=LIMITS, **parts()
    )
    study = tied.study(100_000, outputs=["interference_left"], progress=False)
    wanted = math.sqrt(4 + 2.25 - 2 * 0.9 * 2 * 1.5) * 1e-6  # of a difference
    found = study["interference_left"].statistics.deviation
    assert found == pytest.approx(wanted, rel=0.02)


def test_it_is_a_value_that_pickles_and_carries_on(tmp_path):
    one = single()
    other = one.replace({"shaft.seat": "80.050 mm"})
    assert float(one["shaft.seat"]) == 0.08004
    assert other.spreads["shaft.seat"].middle == 0.08005
    again = pickle.loads(pickle.dumps(other))
    assert (
        again.study(4096, progress=False).pass_rate == other.study(4096, progress=False).pass_rate
    )
    first = one.study(100_000, progress=False, checkpoint=tmp_path / "kept")
    second = one.study(100_000, progress=False, checkpoint=tmp_path / "kept")
    assert first.to_dict() == second.to_dict()


def test_a_model_with_a_list_of_parts():
    outside = {"value": "80.04 mm", "spread": "uniform", "low": "80.035 mm", "high": "80.045 mm"}
    told = {
        "layers": [
            {"bore": "30 mm", "outside": outside, "material": "4340"},
            fw.Layer(bore="80 mm", outside="105 mm", material="52100"),
        ],
    }
    one = fw.single(fw.rings.nest, **told)
    assert list(one.spreads) == ["layer1.outside"]
    assert float(one["layer1.outside"]) == pytest.approx(0.08004)
    study = one.study(4096, outputs=["contact1.pressure"], progress=False)
    nominal = fw.rings.nest(
        layers=[
            fw.Layer(bore="30 mm", outside="80.04 mm", material="4340"),
            fw.Layer(bore="80 mm", outside="105 mm", material="52100"),
        ],
    )
    found = study["contact1.pressure"].statistics
    assert found.mean == pytest.approx(nominal.contacts[0].pressure, rel=0.01)


def test_a_model_that_goes_through_time():
    told = {
        "shaft": {"seat": "80.04 mm", "material": "4340"},
        "ring": {"bore": "80 mm", "outside": "105 mm", "length": "30 mm", "material": "52100"},
    }
    room = {"value": "20 degC", "spread": "normal", "deviation": "2 K"}
    study = fw.study(fw.heat.slip_on, 64, outputs=["time_left"], progress=False, room=room, **told)
    assert study.levels == {"quick": 64}
    assert study["time_left"].statistics.deviation > 0.0


WRONG = [
    ({"shaft": {"seat": SEAT, "material": "4340", "boer": "30 mm"}}, "shaft.boer: is not an input"),
    ({"shaft": {"seat": "80 kg", "material": "4340"}}, "shaft.seat"),
    ({"speed": {"value": "100 rpm", "spread": "bell"}}, "speed: spread 'bell' must be one of"),
    ({"interference": {"spread": "uniform", "low": "30 um", "high": "50 um"}}, "needs a value"),
    ({"speed": {"value": "100 rpm", "deviation": "3 rpm"}}, "speed: says how far but not how"),
    ({"sped": "100 rpm"}, "sped: is not an input"),
    ({"speed": ["100 rpm", "200 rpm"]}, "speed: must be one number"),
    ({"ring": None}, "ring: must be a fw.Ring"),
]


@pytest.mark.parametrize(("changes", "message"), WRONG)
def test_wrong_inputs_are_named(changes, message):
    with pytest.raises(fw.InputError) as error:
        single(**changes)
    assert message in str(error.value)


def test_wrong_questions_are_named():
    cases = [
        (lambda: fw.single(fw.Shaft), "must be a model such as fw.rings.fit"),
        (lambda: fw.single("rings.fti"), "must be a model such as fw.rings.fit"),
        (lambda: fw.single(fw.rings.fit), "shaft: must be given"),
        (
            lambda: fw.single(fw.rings.fit, limits={"grip": (">=", "1 kN")}, **parts()),
            "grip: is not an output of rings.fit; nearest",
        ),
        (
            lambda: fw.single(fw.rings.fit, limits={"pressure": "30 MPa"}, **parts()),
            "limits.pressure: '30 MPa' must tell at_least, at_most or both",
        ),
        (
            lambda: fw.single(fw.rings.fit, limits={"pressure": (">=", "30 kN")}, **parts()),
            "limits.pressure.at_least",
        ),
        (
            lambda: fw.single(fw.rings.fit, correlations={("a", "b"): 0.5}, **parts()),
            "correlations: ('a', 'b') must be two inputs that scatter",
        ),
        (
            lambda: single().solve(vary="ring.boer", output="pressure", target="1 MPa"),
            "ring.boer: is not an input of rings.fit; nearest",
        ),
        (
            lambda: fw.single(
                fw.rings.fit,
                shaft=fw.Shaft(seat="80.04 mm", material="4340"),
                ring=fw.Ring(bore="80 mm", outside="105 mm", length="30 mm", material="52100"),
            ).study(100, progress=False),
            "model: has no input that scatters; give one a spread",
        ),
    ]
    for call, message in cases:
        with pytest.raises(fw.InputError) as error:
            call()
        assert message in str(error.value)


def test_a_spread_in_a_plain_call_is_refused():
    with pytest.raises(fw.InputError, match="seat"):
        fw.rings.fit(
            shaft=fw.Shaft(seat=SEAT, material="4340"),
            ring=fw.Ring(bore="80 mm", outside="105 mm", length="30 mm", material="52100"),
        )


@pytest.mark.parametrize("name", sorted(MODELS))
def test_every_model_is_asked_as_a_job(name):
    """By its own example: the same answer, and its first input that is told made to scatter."""
    calls = [node for node in ast.walk(ast.parse(MODELS[name]["example"], mode="eval"))
             if isinstance(node, ast.Call) and ast.unparse(node.func) == f"fw.{name}"]  # fmt: skip
    told = {k.arg: eval(ast.unparse(k.value), {"fw": fw}) for k in calls[0].keywords}
    wanted = getattr(getattr(fw, name.split(".")[0]), name.split(".")[1])(**told)
    one = fw.single(name, **told)
    found = one.evaluate()
    for output, value in wanted._outputs.items():
        assert float(found["as_given", output]) == value
    values = dict(zip((row[0] for row in one.input_rows), one.core.values(), strict=True))
    path = next(p for p, v in values.items() if math.isfinite(v) and v != 0.0)
    if math.isfinite(values.get("interference", math.inf)):
        path = "interference"  # told beside nominal sizes, which must stay equal
    output = next(iter(wanted._outputs))
    f = one.function([path], [output])
    assert f(f.nominal) == pytest.approx([wanted._outputs[output]], rel=1e-12)
    value = values[path]
    table = {"value": value, "spread": "normal", "deviation": abs(value) * 1e-9}
    study = one.replace({path: table}).study(16, outputs=[output], progress=False)
    assert study.samples == 16
