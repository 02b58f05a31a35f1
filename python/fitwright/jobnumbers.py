"""One input of a job as it is written: a value, or a table of value, ends and scatter."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from fitwright import _core, units
from fitwright.units import UnitProblem

NAN = float("nan")
SHAPES = ("normal", "truncated_normal", "uniform", "triangular")


def one_number(value: Any, quantity: str, units_needed: bool) -> float:
    if units_needed and isinstance(value, int | float) and quantity not in ("ratio", "count"):
        raise UnitProblem(f"{units.told(value)} has no unit; write it as text with its unit")
    read = units.to_si(value, quantity)
    if not isinstance(read, float):
        raise UnitProblem(f"{units.told(value)} must be one number")
    return read


def read_number(
    core: _core.Job,
    spreads: dict[str, _core.Spread],
    path: str,
    quantity: str,
    given: Any,
    units_needed: bool = False,
) -> None:
    """Sets one input: a value, or a table of value, ends and scatter. Raises UnitProblem."""

    def number(value: Any, kind: str = quantity) -> float:
        return one_number(value, kind, units_needed)

    leaf = core.leaf(path)
    before = core.values()[leaf]
    paths = {row[0]: index for index, row in enumerate(core.inputs())}
    ends = (paths.get(f"{path}_low", -1), paths.get(f"{path}_high", -1))
    if not isinstance(given, Mapping):
        value = number(given)
        core.set(leaf, value)
        old = spreads.get(path)
        if old is not None and old.leaf == leaf:
            spreads[path] = old.moved(value - before)
        return

    unknown = set(given) - {"value", "low", "high", "spread", "deviation"}
    if unknown:
        raise UnitProblem(f"has the unknown key {', '.join(sorted(unknown))}")
    if "value" not in given and before != before:
        raise UnitProblem("needs a value")
    value = number(given["value"]) if "value" in given else before
    core.set(leaf, value)
    low = number(given["low"]) if "low" in given else NAN
    high = number(given["high"]) if "high" in given else NAN
    if ends[0] >= 0:
        for end, bound in zip(ends, (low, high), strict=True):
            if bound == bound:
                core.set(end, bound)
        low, high = core.values()[ends[0]], core.values()[ends[1]]
    shape = given.get("spread")
    if shape is None:
        if "deviation" in given or (ends[0] < 0 and ("low" in given or "high" in given)):
            raise UnitProblem(f"says how far but not how it scatters: spread = {', '.join(SHAPES)}")
        spreads.pop(path, None)
        return
    if shape not in SHAPES:
        raise UnitProblem(f"spread {units.told(shape)} must be one of {', '.join(SHAPES)}")
    step = "difference" if quantity == "temperature" else quantity
    deviation = NAN
    if "deviation" in given:
        deviation = number(given["deviation"], step)
    spread = _core.Spread(path, leaf, ends[0], ends[1], shape, value, deviation, low, high)
    problem = spread.problem()
    if problem:
        raise UnitProblem(f"spread {shape} {problem}")
    spreads[path] = spread
