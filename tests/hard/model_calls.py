"""Calls of every model: about its own example, anywhere within the ranges that the fields tell, and
with arguments of odd kinds."""

from __future__ import annotations

import ast
import functools
import importlib
import math
from random import Random
from typing import Any

import fitwright as fw
import numpy as np
from fitwright.models.results import MODELS, Arguments
from questions import Broken, check_error

METALS = ("4340", "4140", "1045", "52100", "1020")
NAMES = tuple(sorted(MODELS))


def _number(random: Random, field: dict[str, Any]) -> float | None:
    """Within the range told: near the standard value, anywhere by size, or at an end."""
    low, high, standard = field["low"], field["high"], field["standard"]
    way = random.random()
    if way < 0.25 and standard == standard:
        return None
    if way < 0.35:
        return float(random.choice([low, high]))
    least = max(low, 1e-9 * max(abs(high), 1e-9)) if low >= 0.0 else low
    if least > 0.0 and high / least > 100.0:
        value = float(least * (high / least) ** random.random())
    else:
        value = random.uniform(least, high)
    return min(max(value, low), high)


def anywhere(random: Random, declaration: dict[str, Any]) -> dict[str, Any]:
    """Every number somewhere in the range its field tells."""
    given: dict[str, Any] = {}
    if declaration["has_material"]:
        given["material"] = random.choice(METALS)
    for field in declaration["fields"]:
        name = field["name"]
        if field["kind"] == "part":
            kind = getattr(fw, field["part"]["name"])
            given[name] = kind(**anywhere(random, field["part"]))
        elif field["kind"] == "parts":
            kind = getattr(fw, field["part"]["name"])
            count = random.randint(1, min(field["count"], 4))
            given[name] = [kind(**anywhere(random, field["part"])) for _ in range(count)]
        elif field["kind"] == "choice":
            given[name] = random.choice(field["words"].split("|"))
        elif field["kind"] in ("low_end", "high_end"):
            continue  # standard: the value itself
        else:
            value = _number(random, field)
            if value is not None:
                given[name] = value
    return given


@functools.cache
def example(name: str) -> tuple[dict[str, Any], tuple[float, ...]]:
    """The arguments of a model's own example, and its numbers in the order of the core (SI)."""
    expression = ast.parse(MODELS[name]["example"], mode="eval").body
    while isinstance(expression, ast.Attribute | ast.Subscript):
        expression = expression.value
    result = eval(compile(ast.Expression(expression), name, "eval"), {"fw": fw})
    arguments = result._arguments
    return arguments, tuple(float(v) for v in Arguments(name, arguments).values)


def near(name: str, random: Random, spread: float, share: float = 1.0) -> dict[str, Any]:
    """The example's arguments, a share of its numbers moved by a factor about e^spread."""
    arguments, numbers = example(name)
    values = iter(numbers)

    def moved(declaration: dict[str, Any], given: Any) -> dict[str, Any]:
        made: dict[str, Any] = {}
        if declaration["has_material"]:
            made["material"] = (
                random.choice(METALS) if random.random() < spread else given["material"]
            )
        factor = 1.0
        for field in declaration["fields"]:
            kind, place = field["kind"], field["name"]
            if kind == "part":
                part = given[place]
                made[place] = type(part)(**moved(field["part"], part._given))
            elif kind == "parts":
                parts = given[place]
                made[place] = [type(p)(**moved(field["part"], p._given)) for p in parts]
                empty = (field["count"] - len(parts)) * len(_flat(field["part"]))
                for _ in range(empty):
                    next(values)
            elif kind == "choice":
                words = field["words"].split("|")
                made[place] = (
                    random.choice(words) if random.random() < 0.1 * share else given[place]
                )
            else:
                value = next(values)
                if kind == "number":
                    factor = (
                        math.exp(spread * random.gauss(0.0, 1.0))
                        if random.random() < share
                        else 1.0
                    )
                    if value == 0.0 and random.random() < 0.3 * share:
                        value = random.choice([1.0, -1.0]) * abs(field["high"]) * 1e-4
                if not math.isfinite(value):
                    continue  # worked out
                made[place] = min(max(value * factor, field["low"]), field["high"])
        return made

    return moved(MODELS[name]["inputs"], arguments)


def _flat(declaration: dict[str, Any]) -> list[str]:
    names: list[str] = []
    for field in declaration["fields"]:
        if field["kind"] == "part":
            names += _flat(field["part"])
        elif field["kind"] != "choice":
            names.append(field["name"])
    return names


def odd(random: Random) -> Any:
    """An argument of an odd kind."""
    a = np.array([0.08, 0.081, 0.082])
    return random.choice(
        [
            a, a[::-1], a[::2], np.asfortranarray(np.ones((2, 3)) * 0.08),
            np.broadcast_to(0.08, (3,)),
            a.astype(">f8"), a.astype(np.float32), a.astype(np.float16), a.astype(np.longdouble),
            np.array([1, 2]), np.array([True]), np.array(["80 mm"]), np.array([None]),
            np.array(0.08), np.array([]), np.zeros((0, 3)), np.zeros((1,) * 20), a.astype(complex),
            a.astype(object),
            np.ma.masked_array(a, [False, True, False]), np.ma.masked_array(a), np.array([np.nan]),
            np.array([np.inf]), np.array([1e308, -1e308]), np.array([5e-324]), a.view(np.recarray),
            np.datetime64("2026-11-30"), np.timedelta64(1, "s"), memoryview(a),
            [], [[]], [0.08, [0.08]], [0.08] * 3, ("80 mm", "81 mm"), {0.08}, {"value": 1},
            range(3),
            "80 mm", "x", "", b"80 mm", None, True, 0, -1, 10**400, 1j, float("nan"), object(), int,
            lambda: 0.08, iter([0.08]), type("N", (), {"magnitude": 1.0, "units": "mm"})(), "\x00",
        ]
    )  # fmt: skip


def call_model(name: str, random: Random) -> str:
    """One call: "refused" or "answered". Raises what must not be raised."""
    room, function = name.split(".")
    model = getattr(importlib.import_module(f"fitwright.{room}"), function)
    way = random.random()
    try:
        if way < 0.25:
            given = anywhere(random, MODELS[name]["inputs"])
        else:
            spread = random.choice([0.001, 0.01, 0.1, 0.1, 0.5, 3.0])
            given = near(name, random, spread, random.choice([0.1, 0.3, 1.0]))
        for key in list(given):
            if random.random() < 0.04:
                given[key] = odd(random)
        if way > 0.9:
            _into_arrays(given, random)
        answer = model(**given)
    except fw.InputError as error:
        check_error(error)
        return "refused"
    for output, value in answer._outputs.items():
        if not np.all(np.isfinite(value)):
            raise Broken(f"{name}: {output} is not finite, and nobody has named it")
    repr(answer)
    if random.random() < 0.1:
        try:
            slopes = answer.derivatives()
        except fw.InputError as error:
            check_error(error)
        else:
            if not all(np.isfinite(slope) for slope in slopes.values()):
                raise Broken(f"{name}: a derivative is not finite")
    return "answered"


def _into_arrays(given: dict[str, Any], random: Random) -> None:
    """Some plain numbers as arrays that broadcast together."""
    shape = random.choice([(1,), (3,), (17,), (2, 5)])
    for key, value in given.items():
        if isinstance(value, float) and random.random() < 0.4:
            given[key] = value * np.linspace(1.0, 1.0 + 1e-4, math.prod(shape)).reshape(shape)
