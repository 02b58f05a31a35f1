"""Choosing the size of a tool from what is stocked, and holding one tool against all it serves.

Sizes are tried one after the other; what passes is told by the limits of the model itself.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any

import numpy as np

from fitwright import _core
from fitwright.fields import units
from fitwright.fields.arguments import checked
from fitwright.fields.errors import InputError
from fitwright.fields.tables import Shown, Table
from fitwright.fields.units import Number, to_si
from fitwright.fields.user_text import told
from fitwright.fields.value import Value
from fitwright.joints.bolt_classes import bolt_data
from fitwright.models.results import Part, Result, flat_fields

__all__ = ["check_each", "choose", "rod_sizes", "weakest"]

Tool = Callable[..., Result]


def _elements(model: str) -> list[str]:
    """Names of what a tool is made of, in the order of its factors."""
    names = [f["name"] for f in flat_fields(model, "outputs")]
    factors = [n for n in names if n.endswith("_factor") and n != "design_factor"]
    return [n.removesuffix("_factor") for n in factors]


@checked
def weakest(result: Result) -> str | list[str]:
    """Which element of a tool has the least factor: "lip", "column" ...; a list for arrays.

    `result` is that of a tool.

    >>> import fitwright as fw
    >>> sleeve = fw.tooling.press_sleeve(
    ...     force="60 kN", inside="82 mm", outside="100 mm", length="200 mm",
    ...     piston_diameter="60 mm",
    ...     face=fw.PushedFace(inside="80 mm", outside="105 mm", material="52100"), material="1045",
    ... )
    >>> answer = fw.tooling.weakest(sleeve)
    """
    if "weakest" not in result._outputs:
        raise InputError([("result", f"of {result._model} has no weakest element")])
    names, place = _elements(result._model), result._outputs["weakest"]
    if isinstance(place, np.ndarray):
        return [names[int(k) - 1] for k in place.flat]
    return names[int(place) - 1]


def _not_met(result: Result) -> list[str]:
    """Outputs that are outside the limits the model sets them."""
    broken = []
    for field in flat_fields(result._model, "outputs"):
        value, low, high = result._outputs[field["name"]], field["low"], field["high"]
        # A limit that is not set is NaN, and unequal to itself.
        below = low == low and not np.all(value >= low)
        above = high == high and not np.all(value <= high)
        if below or above:
            broken.append(field["name"])
    return broken


def _check_tool(tool: Any) -> None:
    if not callable(tool):
        raise InputError([("tool", f"{told(tool)} must be a model, as fw.tooling.puller")])


def _changed(arguments: Mapping[str, Any], changes: Mapping[str, Any]) -> dict[str, Any]:
    """The arguments with other values at some paths: "rod.diameter", "force"."""
    if not isinstance(changes, Mapping) or not all(isinstance(path, str) for path in changes):
        raise InputError([("series", f"{told(changes)} must be a table (dict): value by path")])
    made = dict(arguments)
    for path, value in changes.items():
        part, _, name = path.rpartition(".")
        if not part:
            made[path] = value
            continue
        held = made.get(part)
        if not isinstance(held, Part) or name not in held._given:
            raise InputError([(path, "is not a field of a part of this call")])
        made[part] = type(held)(**{**held._given, name: value})
    return made


class Trial:
    """One try: what was changed, the result or why it was refused, and what is not met."""

    #: with the change in it, where the try was in a job
    job: Any = None

    def __init__(self, name: str, changes: Mapping[str, Any], result: Result | None, why: str):
        self.name, self.changes, self.result, self.refused = name, dict(changes), result, why
        self.not_met = [] if result is None else _not_met(result)

    @property
    def passed(self) -> bool:
        """Whether it was not refused and meets every limit of the model."""
        return self.result is not None and not self.not_met

    def row(self) -> list[str]:
        if self.result is None:
            return [self.name, "", "", self.refused]
        outputs = self.result._outputs
        factor = outputs.get("design_factor")
        told = "" if factor is None else units.shown(float(np.min(np.asarray(factor))), "ratio")
        least = weakest(self.result) if "weakest" in outputs else ""
        if isinstance(least, list):
            least = ", ".join(sorted(set(least)))
        return [self.name, told, least, ", ".join(self.not_met) or "meets all limits"]


class Trials(Shown):
    """Tries in the order they were made; `.best`: the first that meets every limit, or None."""

    def __init__(self, title: str, trials: list[Trial]) -> None:
        self.title, self.all = title, trials

    @property
    def best(self) -> Trial | None:
        return next((trial for trial in self.all if trial.passed), None)

    @property
    def passed(self) -> bool:
        """Whether every one of them meets every limit."""
        return all(trial.passed for trial in self.all)

    def __len__(self) -> int:
        return len(self.all)

    def table(self, units: str | None = None) -> Table:
        marks = ["good" if trial.passed else "bad" for trial in self.all]
        head = ["", "design factor", "weakest", "limits not met"]
        return Table(head, [trial.row() for trial in self.all], self.title, marks)


def _try(
    tool: Tool, arguments: Mapping[str, Any], changes: Mapping[str, Any], name: str = ""
) -> Trial:
    made = _changed(arguments, changes)
    name = name or told_changes(changes)
    try:
        return Trial(name, changes, tool(**made), "")
    except InputError as error:
        return Trial(name, changes, None, str(error))


def told_changes(changes: Mapping[str, Any]) -> str:
    def text(value: Any) -> str:
        if isinstance(value, Value):
            return units.without_zeros(str(value))
        return f"{value:.6g}" if isinstance(value, float) else str(value)

    return ", ".join(f"{path} {text(value)}" for path, value in changes.items())


@checked
def choose(tool: Tool, series: Iterable[Mapping[str, Any]], **arguments: Any) -> Trials:
    """The first of a series of sizes with which a tool, or any model, meets all its limits.

    `series` holds what each try changes, by path, from small to large:
    `[{"plate.thickness": "16 mm"}, {"plate.thickness": "20 mm"}]`, `[{"bolts": 8}, {"bolts": 12}]`,
    `fw.tooling.rod_sizes("rod", "20 mm", "60 mm")`. The answer shows every try; `.best` is the
    first that passes, or None where none does.

    `tool` is the model, `arguments` what is the same for all.

    >>> import fitwright as fw
    >>> answer = fw.tooling.choose(
    ...     fw.tooling.column,
    ...     [{"diameter": "25 mm"}, {"diameter": "30 mm"}, {"diameter": "40 mm"}],
    ...     length="400 mm", load="40 kN", eccentricity="2 mm", material="1045",
    ... ).best
    """
    _check_tool(tool)
    if isinstance(series, str | bytes) or not isinstance(series, Iterable):
        raise InputError([("series", f"{told(series)} must be a list of what each try changes")])
    trials: list[Trial] = []
    for changes in series:
        trials.append(_try(tool, arguments, changes))
        if trials[-1].passed:
            break
    if not trials:
        raise InputError([("series", "holds nothing to try")])
    return Trials(f"{getattr(tool, '__name__', 'tool')}: sizes tried", trials)


@checked
def check_each(tool: Tool, serves: Mapping[str, Mapping[str, Any]], **arguments: Any) -> Trials:
    """One tool against every ring it serves.

    `serves` tells by name what is different for each, by path: a puller's
    `{"sleeve": {"pull": "60 kN", "groove.lip": "8 mm"}, "wheel": {...}}`.

    `tool` is the model, `arguments` what is the same for all.

    >>> import fitwright as fw
    >>> answer = fw.tooling.check_each(
    ...     fw.tooling.column,
    ...     {"sleeve": {"load": "40 kN"}, "wheel": {"load": "25 kN", "length": "300 mm"}},
    ...     diameter="30 mm", length="400 mm", eccentricity="2 mm", material="1045",
    ... )
    """
    _check_tool(tool)
    if not serves:
        raise InputError([("serves", "names nothing the tool is for")])
    trials = [_try(tool, arguments, changes, name) for name, changes in serves.items()]
    return Trials(f"{getattr(tool, '__name__', 'tool')}: what it serves", trials)


@checked
def rod_sizes(
    part: str, low: Number, high: Number, form: str = "trapezoidal"
) -> list[dict[str, Any]]:
    """Standard rods from a least to a greatest diameter, as a series for `choose`.

    `form` is "trapezoidal" (preferred pairs of ISO 2902, from memory) or "iso_metric" (first choice
    of ISO 261, coarse pitch); `part` is the name of the screw in the call: "rod", "screw".

    `low` and `high` [m] are the ends of the series.

    >>> import fitwright as fw
    >>> answer = fw.tooling.rod_sizes("rod", "20 mm", "60 mm")
    """
    ends = []
    for name, value in (("low", low), ("high", high)):
        try:
            read = to_si(value, "size")
        except units.UnitProblem as problem:
            raise InputError([(name, str(problem))]) from problem
        if not isinstance(read, float):
            raise InputError([(name, "must be one number")])
        ends.append(read)
    least, most = ends
    if form == "trapezoidal":
        pairs = [
            (float(to_si(f"{d} mm", "size")), float(to_si(f"{p} mm", "size")))
            for d, p in bolt_data()["rod"][0]["sizes"]
        ]
    elif form == "iso_metric":
        pairs = [
            (nominal, coarse)
            for nominal, choice, coarse, _ in _core.metric_series()
            if choice == 1 and coarse > 0.0
        ]
    else:
        raise InputError([("form", f'"{form}" must be "trapezoidal" or "iso_metric"')])
    found = [pair for pair in pairs if least <= pair[0] <= most]
    if not found:
        raise InputError([("low", "no standard rod lies between low and high")])
    return [
        {
            f"{part}.diameter": Value(d, "size"),
            f"{part}.pitch": Value(p, "size"),
            f"{part}.form": form,
        }
        for d, p in found
    ]
