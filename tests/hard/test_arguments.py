"""Every public function refuses what it cannot use with an InputError that names the argument.

They are found by walking modules, classes and signatures: a new function is held to it unasked.
"""

from __future__ import annotations

import importlib
import inspect
from typing import Any

import fitwright as fw
import model_calls
import numpy as np
import pytest
from fitwright.fields.user_text import visible
from questions import check_error

#: Modules with functions for users, beside those named in fw.__all__.
MODULES = (
    "bearings",
    "heat",
    "joints",
    "materials",
    "rings",
    "sizes",
    "stack",
    "threads",
    "tooling",
)


class Strange:
    """An object of nobody's."""

    def __repr__(self) -> str:
        raise RuntimeError("even its name fails")


ODD = {
    "nothing": None,
    "truth": True,
    "whole": 7,
    "minus": -1,
    "huge": 10**400,
    "fraction": 0.3,
    "nan": float("nan"),
    "complex": 1j,
    "text": "no such thing",
    "empty": "",
    "control": "\x1b[2J",
    "bytes": b"bytes",
    "list": [1, 2],
    "texts": ["a", "b"],
    "deep": [[["a"]]],
    "table": {"a": 1},
    "numbers": {1: 2},
    "pair": ("a", "b"),
    "triple": (1, 2, 3),
    "array": np.array([1.0, 2.0]),
    "nowhere": np.array([]),
    "letters": np.array(["a"]),
    "strange": Strange(),
    "kind": int,
    "function": len,
}


@pytest.fixture(scope="module")
def held(demo):
    """One of everything that answers questions."""
    study = demo.study(400, progress=False, keep="shoulder.clamp_low")
    row = fw.BallRow(balls=9, ball_diameter="12.7 mm", pitch_diameter="65 mm")
    shaft = fw.Shaft(seat="80 mm", material="4340")
    ring = fw.Ring(bore="80 mm", outside="105 mm", length="30 mm", material="52100")
    fit = fw.rings.fit(shaft=shaft, ring=ring, interference="38 um")
    seats = ["80.03 mm", "80.04 mm"]
    bores = {"sleeve": ["79.99 mm", "79.995 mm"]}
    return {
        "Job": demo,
        "Findings": demo.evaluate("quick"),
        "Study": study,
        "Sweep": demo.sweep({"nut.torque": ("600 N m", "700 N m", 3)}),
        "YieldCurve": demo.yield_against("nut.torque", ["650 N m"], samples=100),
        "Derivatives": demo.derivatives(),
        "History": demo.history(),
        "JointDiagram": demo.joint_diagram("trip", ("0 kN", "10 kN", 3)),
        "ReuseLimits": demo.reuse_limits("rings.sleeve.bore"),
        "WorstCases": demo.worst_case("cold_build", "shoulder.clamp_low", budget=10, boxes=2),
        "Best": demo.solve_for({"nut.torque": ("640 N m", "641 N m")}),
        "SobolIndices": demo.sobol_indices(100, outputs="shoulder.clamp_low", progress=False),
        "Match": demo.match(seats, bores),
        "SquareStack": demo.squareness("full_load", rotor_mass="180 kg", grade="2.5 mm/s"),
        "Value": demo["nut.torque"],
        "Result": fit,
        "Table": demo.inputs(),
        "Material": fw.materials.material("4340"),
        "Limits": fw.sizes.limits("80 m5"),
        "Thread": fw.sizes.thread("M75x2"),
        "DutyLife": fw.bearings.duty_life(shares=[1.0], speeds=[100.0], lives=[1e6]),
        "BallRow": row,
        "Rows": fw.threads.friction_table(),
    }


def _functions() -> dict[str, Any]:
    found: dict[str, Any] = {"demo": fw.demo, "Job.load": fw.Job.load, "Job.loads": fw.Job.loads}
    for name in MODULES:
        module = importlib.import_module(f"fitwright.{name}")
        for member in getattr(module, "__all__", None) or dir(module):
            value = getattr(module, member)
            here = getattr(value, "__module__", "").startswith("fitwright")
            public = not member.startswith("_") and member != "call"
            if public and inspect.isfunction(value) and here:
                found[f"{name}.{member}"] = value
    for name in fw.__all__:
        value = getattr(fw, name)
        if inspect.isclass(value) and issubclass(value, importlib.import_module(
            "fitwright.models"
        ).Part):  # fmt: skip
            found[name] = value
    return found


FUNCTIONS = _functions()


def _parameters(signature: inspect.Signature) -> dict[str, inspect.Parameter]:
    return {
        name: p
        for name, p in signature.parameters.items()
        if name != "self" and p.kind not in (p.VAR_POSITIONAL, p.VAR_KEYWORD)
    }


#: Arguments with which a call gets as far as looking at the one that is odd.
USUAL: dict[str, Any] = {
    "name": "blower", "path": "rings.sleeve.bore", "paths": "rings.sleeve.bore", "ring": "sleeve",
    "state": "full_load", "states": ["full_load"], "output": "shoulder.clamp_low",
    "vary": "nut.torque", "target": "9 kN", "level": "quick", "changes": {"nut.torque": "650 N m"},
    "samples": 200,
    "ranges": {"nut.torque": ["650 N m", "660 N m"]},
    "bounds": {"nut.torque": ("640 N m", "650 N m")},
    "values": ["650 N m"], "seats": ["80.03 mm"], "rings": {"sleeve": ["79.99 mm"]}, "index": 0,
    "inputs": ["nut.torque"], "rotor_mass": "180 kg", "progress": False, "budget": 10, "boxes": 2,
    "thrust": ("0 kN", "10 kN", 3), "at": "nominal", "seed": 1, "unit": "mm", "rate": 0.9,
    "temperature": 20.0, "property": "modulus", "size": "80 m5", "class_": "m5", "nominal": "80 mm",
    "grade": 6, "bore": "80 mm", "fit": "80 H7/s6", "text": "M75x2", "turns": {}, "aim": "bend",
    "readings": ["80 mm"], "shares": [1.0], "speeds": [100.0], "lives": [1e6], "slices": [],
}  # fmt: skip
FIXED: dict[str, dict[str, Any]] = {
    "SquareStack.clock": {"of": None, "slots": 2, "ways": 50},
    "Job.solve": {"vary": "nut.torque", "output": "shoulder.clamp_low", "target": "9 kN"},
    "Job.slip_on": {"ring": "sleeve"},
    "Study.indices": {"samples": 20},
    "sizes.thread_fit": {"text": "M75x2-6H/6g"},
    "sizes.fit": {"text": "80 H7/s6"},
    "materials.material": {"name": "4340"},
    "materials.own": {
        "name": "ours",
        "modulus": "205 GPa",
        "expansion": "11.5 um/m/K",
        "yield_strength": "500 MPa",
        "poisson": 0.3,
        "density": "7850 kg/m^3",
        "heating_limit": "20 degC",
    },
}


def _call(name: str, function: Any, given: dict[str, Any], argument: str, complete: bool) -> None:
    """Answered, or refused: by the argument's name, where all the others are as they should be."""
    try:
        function(**given)
    except fw.InputError as error:
        check_error(error)
        value = given[argument]
        told = str(error)
        named = argument.rstrip("_") in told
        # What is a name itself (a path, a ring, a state) is told by that.
        named = named or (isinstance(value, str) and visible(value) in told)
        # A number of its own shows itself in a `system` of units.
        named = named or (argument == "system" and "units" in told)
        # So are the keys of a table.
        named = named or (isinstance(value, dict) and any(str(key) in told for key in value))
        # Numbers and texts may be wrong by what they mean; these are wrong whatever is meant.
        wrong = not isinstance(value, int | float | str | list | tuple | np.ndarray | None)
        assert named or not (complete and wrong), f"{name}({argument}={value!r}): {told}"


def _ask(name: str, function: Any, fixed: dict[str, Any]) -> None:
    try:
        parameters = _parameters(inspect.signature(function))
    except ValueError:
        return
    known = {**USUAL, **fixed}
    usual = {
        key: known[key]
        for key, p in parameters.items()
        if key in known and (p.default is p.empty or key in fixed)
    }
    missing = [key for key, p in parameters.items() if p.default is p.empty and key not in usual]
    for argument in parameters:
        for kind, value in ODD.items():
            given = {**usual, **dict.fromkeys(missing), argument: value}
            try:
                _call(name, function, given, argument, complete=not set(missing) - {argument})
            except AssertionError:
                raise
            except Exception as error:  # what must not come out
                raise AssertionError(
                    f"{name}({argument}={kind}): {type(error).__name__}: {error}"
                ) from error


def _usual_of(name: str) -> dict[str, Any]:
    """The arguments of a model's example."""
    return dict(model_calls.example(name)[0]) if name in model_calls.NAMES else FIXED.get(name, {})


@pytest.mark.parametrize("name", sorted(FUNCTIONS))
def test_a_function_refuses_what_it_cannot_use(name, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    _ask(name, FUNCTIONS[name], _usual_of(name))


#: Made for other objects, or costly whatever is asked: asked elsewhere.
LEFT_OUT = {"Job.panel", "Job.study", "Job.reuse_limits", "Job.allocate", "Derivatives.get",
            "Job.worst_case", "Study.worst_samples", "Job.measured"}  # fmt: skip


@pytest.mark.parametrize(
    "kind",
    ["Job", "Findings", "Study", "Sweep", "YieldCurve", "Derivatives", "History", "JointDiagram",
     "ReuseLimits", "WorstCases", "Best", "SobolIndices", "Match", "SquareStack", "Value", "Result",
     "Table", "Material", "Limits", "Thread", "DutyLife", "Rows"],
)  # fmt: skip
def test_a_method_refuses_what_it_cannot_use(held, kind, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    thing = held[kind]
    for member in dir(type(thing)):
        public = not member.startswith("_") or member == "__getitem__"
        if not public or f"{kind}.{member}" in LEFT_OUT:
            continue
        if isinstance(thing, float) and hasattr(float, member):
            continue
        if isinstance(thing, tuple) and hasattr(tuple, member):
            continue
        if kind == "Derivatives" and member == "__getitem__":
            continue  # a Mapping: KeyError
        method = getattr(thing, member)
        if callable(method):
            _ask(f"{kind}.{member}", method, FIXED.get(f"{kind}.{member}", {}))


@pytest.mark.parametrize(
    ("options", "argument"),
    [
        ({"threads": 2**40}, "threads"),
        ({"threads": 0}, "threads"),
        ({"threads": True}, "threads"),
        ({"samples": "many"}, "samples"),
        ({"samples": 0}, "samples"),
        ({"seed": -1}, "seed"),
        ({"seed": 2**64}, "seed"),
        ({"outputs": 3}, "outputs"),
        ({"outputs": [3]}, "outputs"),
        ({"keep": 3}, "keep"),
        ({"keep": "no.such"}, "no.such"),
        ({"design": 3}, "design"),
        ({"design": "x"}, "design"),
        ({"executor": 3}, "executor"),
        ({"checkpoint": 3}, "checkpoint"),
        ({"columns_to": 3}, "columns_to"),
        ({"until_width": "x"}, "until_width"),
        ({"until_width": 2}, "until_width"),
        ({"level": 3}, "level"),
        ({"level": "x"}, "level"),
    ],
    ids=repr,
)
def test_a_study_refuses_what_it_cannot_use(demo, options, argument):
    with pytest.raises(fw.InputError, match=argument):
        demo.study(**{"samples": 100, "progress": False, **options})


@pytest.mark.parametrize(
    ("options", "argument"),
    [
        ({"between": 3}, "between"),
        ({"between": (1, 2, 3)}, "between"),
        ({"between": ("1 N m", ["2 N m"])}, "between"),
        ({"target": [1.0]}, "target"),
        ({"state": "nowhere"}, "state"),
        ({"vary": "nut.torq"}, "nut.torq"),
        ({"level": "x"}, "level"),
    ],
    ids=repr,
)
def test_solving_refuses_what_it_cannot_use(demo, options, argument):
    given = {"vary": "nut.torque", "output": "shoulder.clamp_low", "target": "9 kN", **options}
    with pytest.raises(fw.InputError, match=argument):
        demo.solve(**given)
