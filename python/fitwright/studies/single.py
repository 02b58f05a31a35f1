"""One model with its inputs told, as a system: what a job can be asked, it can be asked as well."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any, Self, TypeVar

from fitwright import _core
from fitwright.fields import units
from fitwright.fields.arguments import checked
from fitwright.fields.errors import InputError
from fitwright.fields.user_text import told
from fitwright.job.numbers import Inputs, read_number
from fitwright.job.system import System, made_spreads, told_spreads
from fitwright.models.results import MODELS, Arguments, Part

__all__ = ["SingleModel", "model_of"]

#: What stands where a job has the name of a state.
AS_GIVEN = "as_given"
AnySingle = TypeVar("AnySingle", bound="SingleModel")
SIGNS = {">=": "at_least", "<=": "at_most"}


def model_of(model: Callable[..., Any] | str) -> str:
    """Room and name of a model: of "rings.fit" and of fw.rings.fit."""
    if isinstance(model, str):
        name = model
    else:
        room = str(getattr(model, "__module__", "")).split(".")
        name = f"{room[1] if len(room) > 1 else ''}.{getattr(model, '__name__', '')}"
    if name not in MODELS:
        raise InputError(
            [("model", f"{told(model)} must be a model such as fw.rings.fit, or its name")]
        )
    return name


def _is_scatter(value: Any) -> bool:
    return isinstance(value, Mapping)


class _Reader:
    """Arguments of a model with the tables of what scatters taken out."""

    def __init__(self) -> None:
        #: by path
        self.tables: dict[str, Mapping[str, Any]] = {}

    def plain(self, declaration: dict[str, Any], given: Mapping[str, Any], prefix: str) -> Any:
        made: dict[str, Any] = {}
        fields = {field["name"]: field for field in declaration["fields"]}
        known = set(fields) | ({"material"} if declaration["has_material"] else set())
        problems = [
            (prefix + str(name), f"is not an input; there is {', '.join(sorted(known))}")
            for name in given
            if name not in known
        ]
        if problems:
            raise InputError(problems)
        for name, value in given.items():
            field = fields.get(name)
            path = prefix + name
            if field is None or field["kind"] == "choice":
                made[name] = value
            elif field["kind"] == "part":
                made[name] = self.part(field, value, path + ".")
            elif field["kind"] == "parts":
                good = isinstance(value, Sequence) and not isinstance(value, str)
                made[name] = (
                    [
                        self.part(field, each, f"{prefix}{field['member']}{k + 1}.")
                        for k, each in enumerate(value)
                    ]
                    if good
                    else value
                )
            elif _is_scatter(value):
                self.tables[path] = value
                made[name] = value.get("value")
            else:
                made[name] = value
        return made

    def part(self, field: dict[str, Any], value: Any, prefix: str) -> Any:
        """A part as told: an object, or a table of its fields."""
        given = value.given if isinstance(value, Part) else value
        if not isinstance(given, Mapping):
            return value  # told by the model itself
        from fitwright.models import parts

        kind = getattr(parts, field["part"]["name"])
        if isinstance(value, Part) and not isinstance(value, kind):
            return value
        made = self.plain(field["part"], given, prefix)
        try:
            return kind(**made)
        except TypeError as error:
            raise InputError([(prefix.rstrip("."), str(error).split(") ")[-1])]) from None
        except InputError as error:
            raise InputError([(prefix + path, text) for path, text in error.problems]) from None


def limit_ends(path: str, limit: Any, quantity: str) -> tuple[float, float]:
    """Ends of a limit: {"at_least": "30 kN"}, or (">=", "30 kN")."""
    if isinstance(limit, tuple | list) and len(limit) == 2 and limit[0] in SIGNS:
        limit = {SIGNS[limit[0]]: limit[1]}
    if not isinstance(limit, Mapping) or not limit or set(limit) - set(SIGNS.values()):
        rule = 'must tell at_least, at_most or both: {"at_least": "30 kN"}, or (">=", "30 kN")'
        raise InputError([(f"limits.{path}", f"{told(limit)} {rule}")])
    ends = []
    for key in ("at_least", "at_most"):
        if key not in limit:
            ends.append(float("nan"))
            continue
        try:
            value = units.to_si(limit[key], quantity)
        except units.UnitProblem as problem:
            raise InputError([(f"limits.{path}.{key}", str(problem))]) from problem
        if not isinstance(value, float):
            raise InputError([(f"limits.{path}.{key}", "must be one number")])
        ends.append(value)
    if ends[0] > ends[1]:
        raise InputError([(f"limits.{path}", "at_least must not be above at_most")])
    return ends[0], ends[1]


@checked
class SingleModel(System):
    """One model with its inputs told; made by `fw.single`. Inputs are named by path, such as
    "shaft.seat"; where a job has a state, "as_given" stands."""

    def __init__(
        self,
        name: str,
        core: _core.System,
        spreads: Mapping[str, _core.Spread],
        pairs: Mapping[tuple[str, str], float],
        structure: tuple[list[Any], list[int]],
    ) -> None:
        super().__init__(core, spreads)
        #: room and name of the model, "rings.fit"
        self.model = name
        self._pairs, self._structure = dict(pairs), structure

    def __reduce__(self) -> tuple[Any, ...]:
        limits = self._core.limits()
        told_now = (
            self.model,
            ([metal.state() for metal in self._structure[0]], self._structure[1]),
            list(self._core.values()),
            told_spreads(self._spreads),
            limits,
            self._pairs,
            self._more,
        )
        return _remade, (type(self), *told_now)

    kind_of_system = "model"

    @property
    def title(self) -> str:
        return self.model

    @property
    def states(self) -> list[str]:
        """One, "as_given": a single model stands where it was told."""
        return [AS_GIVEN]

    def tied(self) -> list[tuple[int, int, float]]:
        places = {path: number for number, path in enumerate(self._spreads)}
        return [
            (places[a], places[b], value)
            for (a, b), value in self._pairs.items()
            if a in places and b in places
        ]

    def __repr__(self) -> str:
        return f"<{self.model}: {len(self._spreads)} inputs that scatter>"

    def _like(self, core: Any, spreads: Mapping[str, _core.Spread]) -> Self:
        return type(self)(self.model, core, spreads, self._pairs, self._structure)


def _remade(
    kind: type[SingleModel],
    model: str,
    structure: tuple[list[Any], list[int]],
    values: Sequence[float],
    spreads: Mapping[str, Any],
    limits: Sequence[tuple[int, float, float]],
    pairs: Mapping[tuple[str, str], float],
    more: Mapping[str, Any],
) -> SingleModel:
    metals, choices = [_core.Material.from_state(state) for state in structure[0]], structure[1]
    core = _core.System.single(model, metals, choices)
    for leaf, value in enumerate(values):
        core.set(leaf, value)
    rows = core.outputs()
    for output, at_least, at_most in limits:
        core.set_limit(rows[output][1], AS_GIVEN, at_least, at_most)
    made = kind(model, core, made_spreads(spreads, core.inputs()), pairs, (metals, choices))
    return made.with_outputs(more) if more else made


def single_model(
    kind: type[AnySingle],
    model: Callable[..., Any] | str,
    inputs: Mapping[str, Any],
    limits: Mapping[str, Any] | None,
    correlations: Mapping[tuple[str, str], float] | None,
) -> AnySingle:
    """See `fw.single`."""
    name = model_of(model)
    reader = _Reader()
    declared = MODELS[name]["inputs"]
    told_now = reader.plain(declared, inputs, "")
    missing = [
        (field["name"], f"must be given: {field['meaning'] or 'a fw.' + field['part']['name']}")
        for field in declared["fields"]
        if field["kind"] in ("part", "parts") and field["name"] not in told_now
    ]
    if declared["has_material"] and "material" not in told_now:
        missing.append(("material", "must be given"))
    if missing:
        raise InputError(missing)
    for field in declared["fields"]:
        told_now.setdefault(field["name"], None)
    read = Arguments(name, told_now)
    problems = [
        (path, "must be one number")
        for path, value in zip(read.paths, read.values, strict=True)
        if not isinstance(value, float | int)
    ]
    if problems:
        raise InputError(problems)
    core = _core.System.single(name, read.materials, read.choices)
    for path, value in zip(read.paths, read.values, strict=True):
        core.set(core.leaf(path), float(value))
    spreads: dict[str, _core.Spread] = {}
    by_path = Inputs(core.inputs())
    for path, table in reader.tables.items():
        leaf = core.leaf(path)
        if abs(core.value(leaf)) == float("inf"):
            core.set(
                leaf, float("nan")
            )  # what would be worked out is told, and so must have a value
        try:
            read_number(core, spreads, by_path, path, table)
        except units.UnitProblem as problem:
            problems.append((path, str(problem)))
        except InputError as error:
            problems += error.problems
    rows = core.outputs()
    for path, limit in (limits or {}).items():
        try:
            output = core.output(AS_GIVEN, path)
            ends = limit_ends(path, limit, rows[output][2])
            core.set_limit(path, AS_GIVEN, *ends)
        except InputError as error:
            problems += error.problems
    pairs = _pairs_of(correlations or {}, spreads, problems)
    problems = problems or core.problems()
    if problems:
        raise InputError(problems)
    return kind(name, core, spreads, pairs, (read.materials, read.choices))


def _pairs_of(
    correlations: Mapping[tuple[str, str], float],
    spreads: Mapping[str, _core.Spread],
    problems: list[tuple[str, str]],
) -> dict[tuple[str, str], float]:
    places = {path: number for number, path in enumerate(spreads)}
    pairs: dict[tuple[str, str], float] = {}
    for pair, value in correlations.items():
        strange = [path for path in pair if path not in places]
        if len(pair) != 2 or strange:
            problems.append(("correlations", f"{told(pair)} must be two inputs that scatter"))
        elif isinstance(value, bool) or not isinstance(value, int | float):
            problems.append(("correlations", f"{told(value)} must be a number"))
        else:
            pairs[pair[0], pair[1]] = float(value)
    rows = [(places[a], places[b], value) for (a, b), value in pairs.items()]
    wrong = _core.correlation_problem(rows, len(places))
    if wrong:
        problems.append(("correlations", wrong))
    return pairs
