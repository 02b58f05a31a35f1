"""Parts, results, and the call of a model: what the generated modules stand on."""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping, Sequence
from html import escape
from typing import TYPE_CHECKING, Any, ClassVar, TypeAlias

import numpy as np
from numpy.typing import NDArray

from fitwright import _core
from fitwright.fields import units
from fitwright.fields.arguments import checked
from fitwright.fields.errors import InputError
from fitwright.fields.tables import Table
from fitwright.fields.units import Number, Values
from fitwright.fields.user_text import told
from fitwright.materials import Material, material

if TYPE_CHECKING:
    from fitwright.models.explanation import Explanation

__all__ = [
    "MODELS",
    "Arguments",
    "Declaration",
    "Group",
    "MaterialLike",
    "Part",
    "Result",
    "call",
    "flat_fields",
]

Declaration: TypeAlias = dict[str, Any]
MaterialLike: TypeAlias = str | Material
MODELS: dict[str, dict[str, Any]] = {f"{m['room']}.{m['name']}": m for m in _core.models()}


class Part:
    """A part as the user gave it; fields are SI (temperatures degC) once made."""

    _declaration: ClassVar[Declaration]

    def __init__(self, given: Mapping[str, Any]) -> None:
        self._given = dict(given)
        #: what was given, as SI; a field left out is None here and its standard as attribute
        self._read: dict[str, Values | None] = {}
        problems: list[tuple[str, str]] = []
        if self._declaration["has_material"]:
            self.material: MaterialLike = given["material"]
        for field in self._declaration["fields"]:
            if field["kind"] == "choice":
                setattr(self, field["name"], given[field["name"]])
                continue
            value = given[field["name"]]
            if isinstance(value, Mapping):  # with its scatter: for what asks a model as a job
                setattr(self, field["name"], field["standard"])
                continue
            self._read[field["name"]] = None
            if value is None:
                setattr(self, field["name"], field["standard"])
                continue
            try:
                self._read[field["name"]] = units.to_si(value, field["quantity"])
            except units.UnitProblem as problem:
                problems.append((field["name"], str(problem)))
            else:
                setattr(self, field["name"], self._read[field["name"]])
        if problems:
            raise InputError(problems)

    @property
    def given(self) -> dict[str, Any]:
        """What was told of it, as it was told."""
        return {name: value for name, value in self._given.items() if value is not None}

    def __repr__(self) -> str:
        told = ", ".join(f"{k}={v!r}" for k, v in self.given.items())
        return f"{type(self).__name__}({told})"


class Group:
    """One member of a list of outputs, each output an attribute in SI."""

    def __init__(self, outputs: Mapping[str, Values]) -> None:
        for name, value in outputs.items():
            setattr(self, name, value)

    def __repr__(self) -> str:
        return f"{type(self).__name__}({', '.join(f'{k}={v!r}' for k, v in vars(self).items())})"


@checked
class Result:
    """What a model answers: each output an attribute in SI; shows itself in shop units."""

    _model: ClassVar[str]

    def __init__(self, arguments: Mapping[str, Any], outputs: Mapping[str, Values]) -> None:
        self._arguments = dict(arguments)
        #: every output by path, such as "pressure" or "layer2.bore_hoop"
        self._outputs = dict(outputs)
        groups: dict[str, dict[str, Values]] = {}
        for path, value in outputs.items():
            member, _, name = path.rpartition(".")
            if member:
                groups.setdefault(member, {})[name] = value
            else:
                setattr(self, path, value)
        module = sys.modules[type(self).__module__]
        for field in MODELS[self._model]["outputs"]["fields"]:
            if field["kind"] != "parts":
                continue
            kind = getattr(module, field["part"]["name"], Group)
            members = (f"{field['member']}{k + 1}" for k in range(field["count"]))
            setattr(self, field["name"], [kind(groups[m]) for m in members if m in groups])

    def _fields(self) -> list[dict[str, Any]]:
        """The outputs that are there, by path."""
        return [f for f in flat_fields(self._model, "outputs") if f["name"] in self._outputs]

    def _field(self, name: str) -> dict[str, Any]:
        for field in self._fields():
            if field["name"] == name:
                return field
        known = ", ".join(f["name"] for f in self._fields())
        raise InputError([(name, f"is not an output of {self._model}; it has {known}")])

    def to(self, name: str, unit: str) -> Values:
        """An output in any unit of its kind, for example `to("pressure", "MPa")`."""
        quantity = self._field(name)["quantity"]
        try:
            return units.from_si(self._outputs[name], quantity, unit)
        except units.UnitProblem as problem:
            raise InputError([(name, str(problem))]) from problem

    @property
    def cold(self) -> Result:
        """The same at rest, with every part at 20 degC and no axial force."""
        moving = {"speed", "temperature", "force"}

        def loads(declaration: Declaration) -> list[str]:
            return [
                f["name"]
                for f in declaration["fields"]
                if f["kind"] == "number"
                and (f["quantity"] in moving or f["name"] == "axial_stress")
            ]

        still: dict[str, Any] = {}
        for field in MODELS[self._model]["inputs"]["fields"]:
            if field["kind"] == "parts":  # layers have temperatures of their own
                still[field["name"]] = [
                    type(part)(**{**part._given, **dict.fromkeys(loads(field["part"]))})
                    for part in self._arguments[field["name"]]
                ]
        still |= dict.fromkeys(loads(MODELS[self._model]["inputs"]))
        at_rest: Result = call(type(self), {**self._arguments, **still})
        return at_rest

    def derivatives(self) -> dict[tuple[str, str], float]:
        """Exact derivative of every output to every input (SI), by (output, input path)."""
        return _jacobian(self._model, self._arguments)

    def explain(self, output: str) -> Explanation:
        """How an output came about, line by line from what was told: formula in symbols, with
        numbers and units, result, source. For one point, not for arrays.

        >>> fit.explain("pressure")
        >>> fit.explain("pressure").save("pressure.html")
        """
        from fitwright.models.explanation import Explanation, lines_of, nearest

        fields = [field["name"] for field in self._fields()]
        if output not in fields:
            raise InputError(
                [(output, f"is not an output of {self._model}; {nearest(output, fields)}")]
            )
        read = Arguments(self._model, self._arguments)
        if read.are_arrays:
            raise InputError([(output, "is explained at one point, not for arrays")])
        numbers = [float(v) for v in read.values]
        every = [field["name"] for field in flat_fields(self._model, "outputs")]
        rows = _core.explain(
            self._model, numbers, read.materials, read.choices, every.index(output)
        )
        origins = {
            leaf: "told" if given else "standard value" for leaf, given in enumerate(read.told)
        }
        metals = {metal.name: metal for metal in read.materials}
        model = MODELS[self._model]
        about = [
            ("question", model["answers"]),
            ("equation", model["equation"]),
            ("holds for", model["validity"]),
            ("source", model["source"]),
        ]
        return Explanation(f"{output} of {self._model}", lines_of(rows, origins, metals), about)

    def table(self, units: str | None = None) -> Table:
        """All outputs in shop units, metric or inch."""
        return _result_table(self, units)

    @property
    def cautions(self) -> list[str]:
        """What to mind at the work this is for; empty where nothing is told."""
        from fitwright.models.cautions import cautions

        model = MODELS[self._model]
        return cautions(model["name"]) if model["cautions"] else []

    def __repr__(self) -> str:
        return "\n".join([str(self.table()), *self.cautions])

    def _repr_html_(self) -> str:
        told = "".join(f"<p>{escape(text)}</p>" for text in self.cautions)
        return self.table()._repr_html_() + told


def _result_table(result: Result, system: str | None) -> Table:
    rows = []
    for field in result._fields():
        value = result._outputs[field["name"]]
        if isinstance(value, np.ndarray) and value.size == 0:
            text = "no values"
        elif isinstance(value, np.ndarray):
            low = units.shown(float(np.min(value)), field["quantity"], system)
            high = units.shown(float(np.max(value)), field["quantity"], system)
            text = f"{low} to {high}"
        else:
            text = units.shown(value, field["quantity"], system)
        rows.append([field["name"], text, field["meaning"]])
    return Table(["output", "value", "meaning"], rows, title=result._model)


class Arguments:
    """The arguments of one call, laid flat in the order of the core."""

    def __init__(self, model: str, arguments: Mapping[str, Any]) -> None:
        self.paths: list[str] = []
        self.values: list[Values] = []
        self.materials: list[Material] = []
        self.choices: list[int] = []
        #: whether each number was given, or is a standard value
        self.told: list[bool] = []
        self.problems: list[tuple[str, str]] = []
        self._read(MODELS[model]["inputs"], arguments, "")
        if self.problems:
            raise InputError(self.problems)

    def _read(self, declaration: Declaration, given: Mapping[str, Any], prefix: str) -> None:
        if declaration["has_material"]:
            try:
                self.materials.append(material(given["material"]))
            except InputError as error:
                self.problems += [(prefix + "material", text) for _, text in error.problems]
        for field in declaration["fields"]:
            name, path = field["name"], prefix + field["name"]
            if field["kind"] == "part":
                part = given[name]
                if not isinstance(part, Part) or part._declaration["name"] != field["part"]["name"]:
                    wanted = field["part"]["name"]
                    self.problems.append(
                        (path, f"must be a fw.{wanted}, not {type(part).__name__}")
                    )
                    continue
                self._read(field["part"], {**part._given, **part._read}, path + ".")
            elif field["kind"] == "parts":
                self._list(path, field, given[name])
            elif field["kind"] == "choice":
                self._choose(path, field["words"].split("|"), given.get(name))
            else:
                self._number(path, field, given.get(name))
                if field["kind"] == "high_end":
                    self._ends_in_order()

    def _list(self, path: str, field: dict[str, Any], parts: Any) -> None:
        """A list of parts and how many they are; places that stay empty hold standard values."""
        wanted = field["part"]["name"]
        good = isinstance(parts, Sequence) and not isinstance(parts, str)
        if not good or not all(
            isinstance(p, Part) and p._declaration["name"] == wanted for p in parts
        ):
            self.problems.append((path, f"must be a list of fw.{wanted}"))
            return
        if not 1 <= len(parts) <= field["count"]:
            told = f"must hold 1 to {field['count']} of fw.{wanted}, not {len(parts)}"
            self.problems.append((path, told))
            return
        for k in range(field["count"]):
            part = parts[min(k, len(parts) - 1)]
            given = {**part._given, **part._read}
            if k >= len(parts):
                given = {"material": given.get("material")}
            self._read(field["part"], given, f"{field['member']}{k + 1}.")
        self.choices.append(len(parts) - 1)

    def _ends_in_order(self) -> None:
        """The last three values read are a value, its low end and its high end."""
        value, low, high = self.values[-3:]
        try:
            good = bool(np.all((low <= value) & (value <= high)))
        except ValueError:
            return  # arrays of different shapes are told as such
        if not good:
            told = f"({np.min(low)} to {np.max(high)})"
            self.problems.append((self.paths[-3], f"must lie between its ends {told}"))

    def _choose(self, path: str, words: list[str], word: Any) -> None:
        if word is None:
            self.choices.append(0)
        elif isinstance(word, str) and word in words:
            self.choices.append(words.index(word))
        else:
            self.problems.append((path, f"{told(word)} must be one of {', '.join(words)}"))

    def _number(self, path: str, field: dict[str, Any], value: Number) -> None:
        self.paths.append(path)
        self.told.append(value is not None)
        if value is None:
            self.values.append(field["standard"])
            return
        try:
            self.values.append(units.to_si(value, field["quantity"]))
        except units.UnitProblem as problem:
            self.problems.append((path, str(problem)))
            self.values.append(field["standard"])

    @property
    def shape(self) -> tuple[int, ...]:
        shapes = [v.shape for v in self.values if isinstance(v, np.ndarray)]
        try:
            return np.broadcast_shapes(*shapes)
        except ValueError as error:
            told = ", ".join(
                f"{p} {v.shape}"
                for p, v in zip(self.paths, self.values, strict=True)
                if isinstance(v, np.ndarray)
            )
            raise InputError([("", f"arrays do not broadcast together: {told}")]) from error

    @property
    def are_arrays(self) -> bool:
        return any(isinstance(v, np.ndarray) for v in self.values)


def flat_fields(model: str, side: str) -> list[dict[str, Any]]:
    """Inputs or outputs of a model that are numbers, each named by its path."""

    def walk(declaration: Declaration, prefix: str) -> list[dict[str, Any]]:
        rows: list[dict[str, Any]] = []
        for field in declaration["fields"]:
            if field["kind"] == "part":
                rows += walk(field["part"], f"{prefix}{field['name']}.")
            elif field["kind"] == "parts":
                for k in range(field["count"]):
                    rows += walk(field["part"], f"{prefix}{field['member']}{k + 1}.")
            elif field["kind"] != "choice":
                rows.append({**field, "name": prefix + field["name"]})
        return rows

    return walk(MODELS[model][side], "")


def _empty_places(declaration: Declaration, arguments: Mapping[str, Any]) -> set[str]:
    """Members of lists of parts that a call does not fill."""
    return {
        f"{field['member']}{k + 1}"
        for field in declaration["fields"]
        if field["kind"] == "parts"
        for k in range(len(arguments[field["name"]]), field["count"])
    }


def _wanted(model: str, arguments: Mapping[str, Any]) -> list[int]:
    """Numbers of the outputs that are there: a list of outputs is as much shorter than it could be
    as the list of parts it speaks of."""
    inputs = [f for f in MODELS[model]["inputs"]["fields"] if f["kind"] == "parts"]
    fields = flat_fields(model, "outputs")
    if not inputs:
        return list(range(len(fields)))
    missing = inputs[0]["count"] - len(arguments[inputs[0]["name"]])
    empty = {
        f"{field['member']}{k + 1}"
        for field in MODELS[model]["outputs"]["fields"]
        if field["kind"] == "parts"
        for k in range(max(field["count"] - missing, 0), field["count"])
    }
    return [j for j, f in enumerate(fields) if f["name"].rpartition(".")[0] not in empty]


def call(result: type[Result], arguments: Mapping[str, Any]) -> Any:
    """Evaluate a model on floats, or on arrays that broadcast together."""
    name = result._model
    read = Arguments(name, arguments)
    every = [field["name"] for field in flat_fields(name, "outputs")]
    wanted = _wanted(name, arguments)
    outputs = [every[j] for j in wanted]
    if not read.are_arrays:
        numbers = [float(v) for v in read.values]
        try:
            all_values = _core.evaluate(name, numbers, read.materials, read.choices)
        except InputError as error:
            raise _with_ranges(error, read) from None
        values = [all_values[j] for j in wanted]
        _check_finite(name, outputs, values)
        return result(arguments, dict(zip(outputs, values, strict=True)))
    shape = read.shape
    columns: list[NDArray[np.float64]] = []
    for value in read.values:
        if isinstance(value, np.ndarray) and value.shape != shape:
            value = np.broadcast_to(value, shape)
        columns.append(np.ascontiguousarray(np.atleast_1d(value)).reshape(-1))
    count = int(np.prod(shape))
    try:
        arrays = _core.evaluate_batch(
            name, columns, read.materials, read.choices, count, os.cpu_count() or 1, wanted
        )
    except InputError as error:
        raise _with_ranges(error, read) from None
    _check_finite(name, outputs, arrays)
    shaped = {key: a.reshape(shape) for key, a in zip(outputs, arrays, strict=True)}
    return result(arguments, shaped)


def _with_ranges(error: InputError, read: Arguments) -> InputError:
    """How far the data go, where a temperature has left them."""
    known = "; ".join(
        f"{metal.name} is known from {units.shown(metal.lowest, 'temperature')} to "
        f"{units.shown(metal.highest, 'temperature')}"
        for metal in {metal.name: metal for metal in read.materials}.values()
    )
    return InputError(
        [
            (path, f"{text}; {known}" if known and "range of the material data" in text else text)
            for path, text in error.problems
        ]
    )


def _check_finite(name: str, outputs: list[str], values: Sequence[Any]) -> None:
    """Sizes within their range, but so small that their squares vanish, end here."""
    if isinstance(values[0], float) and np.all(np.isfinite(values)):
        return
    for output, value in zip(outputs, values, strict=True):
        if not np.all(np.isfinite(value)):
            text = f"is not finite; {name} is beyond what floating point can hold"
            raise InputError([(output, text)])


def _jacobian(name: str, arguments: Mapping[str, Any]) -> dict[tuple[str, str], float]:
    read = Arguments(name, arguments)
    if read.are_arrays:
        raise InputError([("", "derivatives are given at one point, not for arrays")])
    numbers = [float(v) for v in read.values]
    _, matrix = _core.jacobian(name, numbers, read.materials, read.choices)
    outputs = [field["name"] for field in flat_fields(name, "outputs")]
    _check_finite(name, [f"a derivative of {output}" for output in outputs], list(matrix))
    there = range(len(read.paths))
    empty = _empty_places(MODELS[name]["inputs"], arguments)
    return {
        (outputs[i], read.paths[j]): float(matrix[i, j])
        for i in _wanted(name, arguments)
        for j in there
        if read.paths[j].rpartition(".")[0] not in empty
    }
