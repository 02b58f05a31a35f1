"""A job as a value: parts, states and limits, read from a file. Nothing changes in place.

It knows its file, the compiled core and what scatters. Whatever is asked of it stands in the rooms
above; `fitwright.face.job` puts the questions on it as methods.
"""

from __future__ import annotations

import os
from collections.abc import Mapping
from functools import cached_property
from types import MappingProxyType
from typing import Any, Self, TypeVar

from fitwright import _core
from fitwright.fields import units
from fitwright.fields.arguments import checked
from fitwright.fields.errors import InputError
from fitwright.fields.files import path_of
from fitwright.fields.tables import Table
from fitwright.fields.units import Number
from fitwright.fields.value import Value
from fitwright.job.file import JobFile
from fitwright.job.numbers import Inputs, read_number
from fitwright.job.reading import Reading
from fitwright.job.text import read_text

__all__ = ["AnyJob", "Job"]

#: A job of the kind that was asked: what changes a value gives back the like of what it got.
AnyJob = TypeVar("AnyJob", bound="Job")


@checked
class Job:
    """Parts, states and limits."""

    #: Readings in place of what was expected, by path, and the job before; see `Job.measured`.
    readings: Mapping[str, Reading] = MappingProxyType({})
    expected: Job | None = None

    def __init__(self, core: _core.Job, file: JobFile, spreads: Mapping[str, _core.Spread]) -> None:
        self._core, self._file, self._spreads = core, file, dict(spreads)
        self._chosen: str | None = None

    @property
    def core(self) -> _core.Job:
        """The compiled job: flat arrays of inputs and outputs. Not to be changed."""
        return self._core

    @property
    def file(self) -> JobFile:
        """The job file as it was read: its tables by name, what was told and what was not."""
        return self._file

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
        return self._core.outputs()

    @classmethod
    def load(cls, path: str | os.PathLike[str]) -> Self:
        """From a TOML job file. Everything wrong with it is told in one report."""
        return cls.loads(read_text(path_of(path, "path")))

    @classmethod
    def loads(cls, text: str) -> Self:
        """From the text of a job file."""
        file = JobFile(text)
        core, spreads = file.build()
        return cls(core, file, spreads)

    def __reduce__(self) -> tuple[Any, ...]:
        spreads = {
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
            for path, s in self._spreads.items()
        }
        return _remade, (
            type(self),
            self._file.text,
            list(self._core.values()),
            spreads,
            self._chosen,
        )

    @property
    def title(self) -> str:
        return self._file.title

    @property
    def units(self) -> str:
        """How the job is shown where nothing else is asked for: `units` of its file, "metric" or
        "inch", else the setting (`fw.units.use`)."""
        return units.in_system(None, str(self._file.document.get("units", "")))

    @property
    def states(self) -> list[str]:
        """Names of the states; the first is as built."""
        return self._file.names("state")

    @property
    def rings(self) -> list[str]:
        """Names of the rings, from the shoulder."""
        return self._file.names("ring")

    @property
    def tools(self) -> list[str]:
        """Names of the shop-made tools."""
        return self._file.names("tool")

    @property
    def spreads(self) -> dict[str, _core.Spread]:
        """The inputs that scatter, by path; those that do so without being told come last."""
        return dict(self._spreads)

    @property
    def standard_spreads(self) -> list[str]:
        """Paths of the inputs that scatter by the standard of a job, not because they were told:
        expansion over the table's value, with the deviation of the material."""
        return [
            s.path
            for s in _core.standard_spreads(self._core)
            if s.path not in self._file.told and self._is_standard(s)
        ]

    def _is_standard(self, standard: _core.Spread) -> bool:
        mine = self._spreads.get(standard.path)
        return (
            mine is not None
            and (mine.shape, mine.middle) == (standard.shape, standard.middle)
            and mine.standard_deviation == standard.standard_deviation
        )

    @property
    def correlations(self) -> dict[tuple[str, str], float]:
        """Inputs that scatter together: correlation of their normal scores, by pair of paths.

        As `[[correlation]]` tells, and by standard: thread and face friction of the nut (one tin),
        friction of seats (one assembly), expansion of parts of one metal.
        """
        names = list(self._spreads)
        return {(names[a], names[b]): value for a, b, value in self.tied()}

    def tied(self) -> list[tuple[int, int, float]]:
        return self._file.correlations_of(self._core, self._spreads)

    def check_scatter(self, problems: list[tuple[str, str]]) -> None:
        """Adds what a question about scatter needs to hear when nothing was told to scatter."""
        if set(self._spreads) <= set(self.standard_spreads):
            beside = (
                " but the expansion of its metals, which needs no telling" if self._spreads else ""
            )
            problems.append(("job", f"has no input that scatters{beside}; give one a spread"))

    def __getitem__(self, path: str) -> Value:
        """An input by path, in SI; shows itself in shop units."""
        leaf = self._core.leaf(path)
        return Value(self._core.value(leaf), self.input_rows[leaf][1], self.units)

    def inputs(self, units: str | None = None) -> Table:
        """All inputs that were given or have a standard value, and how they scatter."""
        return _inputs_table(self, units or self.units)

    def __repr__(self) -> str:
        return (
            f"<Job {self.title!r}: {len(self.rings)} rings, {len(self.states)} states, "
            f"{len(self._spreads)} inputs that scatter>"
        )

    @property
    def level(self) -> str:
        """Which outputs the job answers with: "quick", "history" or "heating"."""
        return self._core.level()

    def at_level(self, level: str) -> Self:
        """The same job asked at another level.

        "quick": closed forms and bounds, on every number type. "history": the steps of assembly and
        service one after the other as well, which takes milliseconds. "heating": each hot ring from
        the oven until it is cold as well, which takes tens of them.
        """
        there = self._like(self._core.at(level), self._spreads)
        there._chosen = level
        return there

    def replace(self, changes: Mapping[str, Number | Mapping[str, Any]]) -> Self:
        """A new job with other values; the scatter of an input moves along with it."""
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
        there = self._like(core, spreads)
        there._chosen = self._chosen
        return there

    def _like(self, core: _core.Job, spreads: Mapping[str, _core.Spread]) -> Self:
        return type(self)(core, self._file, spreads)


def _remade(
    kind: type[AnyJob],
    text: str,
    values: list[float],
    spreads: Mapping[str, tuple[str, float, float, float, float, list[float], str, float]],
    level: str | None,
) -> AnyJob:
    """A job from the text of its file and what `replace` has changed since."""
    job = kind.loads(text)
    for leaf, value in enumerate(values):
        job.core.set(leaf, value)
    leaves = {row[0]: number for number, row in enumerate(job.input_rows)}
    made = {
        path: _core.Spread(
            path,
            leaves[path],
            leaves.get(f"{path}_low", -1),
            leaves.get(f"{path}_high", -1),
            *told,
        )
        for path, told in spreads.items()
    }
    whole = kind(job.core, job.file, made)
    return whole if level is None else whole.at_level(level)


def _inputs_table(job: Job, system: str) -> Table:
    rows = []
    values = job.core.values()
    standard = set(job.standard_spreads)
    for (path, quantity, meaning, _), value in zip(job.input_rows, values, strict=True):
        text = Value(value, quantity).shown(system)
        spread = job.spreads.get(path)
        scatter = ""
        if spread is not None:
            deviation = spread.standard_deviation
            kind = "difference" if quantity == "temperature" else quantity
            scatter = f"{spread.shape}, deviation {units.shown(deviation, kind, system)}"
            scatter += ", standard" if path in standard else ""
        rows.append([path, text, scatter, meaning])
    return Table(["input", "value", "scatter", "meaning"], rows, title=job.title)
