"""What a question asks: inputs in, outputs out, and what of it scatters.

A job is one, a single model with its inputs told is another; the questions know no difference.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from typing import Any, Self, TypeVar

from fitwright import _core
from fitwright.fields import units
from fitwright.fields.arguments import checked
from fitwright.fields.errors import InputError
from fitwright.fields.tables import Table
from fitwright.fields.units import Number
from fitwright.fields.value import Value
from fitwright.job.numbers import Inputs, read_number
from fitwright.job.own_outputs import OwnRow, compiled_outputs

__all__ = ["AnySystem", "System", "made_spreads", "told_spreads"]

#: A system of the kind that was asked: what changes a value gives back the like of what it got.
AnySystem = TypeVar("AnySystem", bound="System")
ToldSpread = tuple[str, float, float, float, float, list[float], str, float]


@checked
class System:
    """A value: nothing changes in place."""

    def __init__(self, core: _core.System, spreads: Mapping[str, _core.Spread]) -> None:
        self._core, self._spreads = core, dict(spreads)
        self._chosen: str | None = None
        self._more: dict[str, Any] = {}

    @property
    def core(self) -> _core.System:
        """What the core knows of it: flat arrays of inputs and outputs. Not to be changed."""
        return self._core

    @cached_property
    def asked(self) -> _core.System:
        """The same with the outputs of a user's own, which come first."""
        rows = self.own_outputs
        return _core.with_own_outputs(self._core, rows) if rows else self._core

    @property
    def own_outputs(self) -> list[OwnRow]:
        """Outputs of a user's own, as the core takes them."""
        return compiled_outputs(self._core, self._more, []) if self._more else []

    def with_outputs(self, outputs: Mapping[str, Any]) -> Self:
        """The same with outputs of your own: expressions over paths, whose units are checked.

        They are studied, solved for, swept and derived like those it has by itself, under the path
        "outputs.NAME". A table tells `of`; it may tell `states`, `at_least`, `at_most`, `title`.
        Numbers with units, + - * / ( ), min, max, abs and sqrt; a path means an output in the state
        at hand, else an input; "path@state" the output of one state, "state.thrust" an input of the
        state at hand. Of the quick level only.

        >>> spare = {"of": "shoulder.clamp_low - state.thrust", "at_least": "2 kN"}
        >>> job.with_outputs({"spare": spare}).study()
        """
        problems: list[tuple[str, str]] = []
        told_so = {**self._more, **outputs}
        taken = {row[1] for row in self.own_outputs}
        problems += [
            (f"outputs.{name}", "is there already")
            for name in outputs
            if f"outputs.{name}" in taken
        ]
        compiled_outputs(self._core, told_so, problems)
        if problems:
            raise InputError(problems)
        there = self._carried(self._like(self._core, self._spreads))
        there._more = told_so
        return there

    def _carried(self, there: Self) -> Self:
        """With what is no part of the core."""
        there._chosen, there._more = self._chosen, self._more
        return there

    @property
    def chosen_level(self) -> str | None:
        """The level `at_level` named; None where none was."""
        return self._chosen

    # Rows of text, some thousand: made when something is asked by name.
    @cached_property
    def input_rows(self) -> list[tuple[str, str, str, float]]:
        """Path, quantity, meaning and standard value of every input, in the core's order."""
        return self._core.inputs()

    @cached_property
    def inputs_by_path(self) -> Inputs:
        return Inputs(self.input_rows)

    @cached_property
    def output_rows(self) -> list[tuple[str, str, str, str]]:
        """State, path, quantity and meaning of every output, in the core's order."""
        return self.asked.outputs()

    @property
    def title(self) -> str:
        """What it is, for the head of a table."""
        raise NotImplementedError

    @property
    def units(self) -> str:
        """How it is shown where nothing else is asked for: "metric" or "inch"."""
        return units.in_system(None)

    @property
    def identity(self) -> tuple[Any, ...]:
        """All it holds, as plain values whose text tells it from any other."""
        told: tuple[Any, ...] = self.__reduce__()[1]  # type: ignore[assignment]
        return told[1:]

    def notes(self, level: str) -> list[str]:
        """What whoever reads its findings at a level must know of it."""
        return []

    @property
    def states(self) -> list[str]:
        """Names of the states; the first is as built."""
        raise NotImplementedError

    @property
    def spreads(self) -> dict[str, _core.Spread]:
        """The inputs that scatter, by path; those that do so without being told come last."""
        return dict(self._spreads)

    @property
    def standard_spreads(self) -> list[str]:
        """Paths of the inputs that scatter without being told."""
        return []

    @property
    def correlations(self) -> dict[tuple[str, str], float]:
        """Inputs that scatter together: correlation of their normal scores, by pair of paths."""
        names = list(self._spreads)
        return {(names[a], names[b]): value for a, b, value in self.tied()}

    def tied(self) -> list[tuple[int, int, float]]:
        """The same by places in the list of spreads."""
        return []

    def check_scatter(self, problems: list[tuple[str, str]]) -> None:
        """Adds what a question about scatter needs to hear when nothing was told to scatter."""
        if set(self._spreads) <= set(self.standard_spreads):
            beside = (
                " but the expansion of its metals, which needs no telling" if self._spreads else ""
            )
            problems.append(
                (self.kind_of_system, f"has no input that scatters{beside}; give one a spread")
            )

    #: What a message calls it.
    kind_of_system = "job"

    def __getitem__(self, path: str) -> Value:
        """An input by path, in SI; shows itself in shop units."""
        leaf = self._core.leaf(path)
        return Value(self._core.value(leaf), self.input_rows[leaf][1], self.units)

    def inputs(self, units: str | None = None) -> Table:
        """All inputs that were given or have a standard value, and how they scatter.

        `units` of the table is "metric" or "inch".

        >>> import fitwright as fw
        >>> job = fw.demo("blower")
        >>> answer = job.inputs(units="inch")
        """
        return _inputs_table(self, units or self.units)

    @property
    def level(self) -> str:
        """Which outputs it answers with: "quick", "history" or "heating"."""
        return self._core.level()

    def at_level(self, level: str) -> Self:
        """The same asked at another level."""
        there = self._carried(self._like(self._core.at(level), self._spreads))
        there._chosen = level
        return there

    def replace(self, changes: Mapping[str, Number | Mapping[str, Any]]) -> Self:
        """A new one with other values; the scatter of an input moves along with it.

        `changes` has by path of the input its value, or a table of value and spread.

        >>> import fitwright as fw
        >>> job = fw.demo("blower")
        >>> answer = job.replace({"rings.sleeve.bore": "79.995 mm"})
        """
        core, spreads = self._core.copy(), dict(self._spreads)
        problems: list[tuple[str, str]] = []
        for path, given in changes.items():
            try:
                core.leaf(path)  # an unknown path is told with the nearest ones
                read_number(core, spreads, self.inputs_by_path, path, given)
            except units.UnitProblem as problem:
                problems.append((path, str(problem)))
            except InputError as error:
                problems += error.problems
        problems = problems or core.problems()
        if problems:
            raise InputError(problems)
        return self._carried(self._like(core, spreads))

    def _like(self, core: Any, spreads: Mapping[str, _core.Spread]) -> Self:
        raise NotImplementedError


def told_spreads(spreads: Mapping[str, _core.Spread]) -> dict[str, ToldSpread]:
    """As plain values that can be sent anywhere."""
    return {
        path: (
            s.shape,
            s.middle,
            s.deviation,
            s.low,
            s.high,
            list(s.measured),
            s.of,
            s.repeatability,
        )
        for path, s in spreads.items()
    }


def made_spreads(
    told: Mapping[str, ToldSpread], rows: list[tuple[str, str, str, float]]
) -> dict[str, _core.Spread]:
    """The same made again, for inputs in this order."""
    leaves = {row[0]: number for number, row in enumerate(rows)}
    return {
        path: _core.Spread(
            path,
            leaves[path],
            leaves.get(f"{path}_low", -1),
            leaves.get(f"{path}_high", -1),
            *each,
        )
        for path, each in told.items()
    }


def _inputs_table(system: System, shown_in: str) -> Table:
    rows = []
    values = system.core.values()
    standard = set(system.standard_spreads)
    for (path, quantity, meaning, _), value in zip(system.input_rows, values, strict=True):
        text = Value(value, quantity).shown(shown_in)
        spread = system.spreads.get(path)
        scatter = ""
        if spread is not None:
            deviation = spread.standard_deviation
            kind = "difference" if quantity == "temperature" else quantity
            scatter = f"{spread.shape}, deviation {units.shown(deviation, kind, shown_in)}"
            scatter += ", standard" if path in standard else ""
        rows.append([path, text, scatter, meaning])
    return Table(["input", "value", "scatter", "meaning"], rows, title=system.title)
