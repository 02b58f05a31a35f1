"""A job as a value: parts, states and limits, read from a file. Nothing changes in place.

It knows its file, the compiled core and what scatters. Whatever is asked of it stands in the rooms
above; `fitwright.face.job` puts the questions on it as methods.
"""

from __future__ import annotations

import os
from collections.abc import Mapping
from types import MappingProxyType
from typing import Any, Self, TypeVar

from fitwright import _core
from fitwright.fields import units
from fitwright.fields.arguments import checked
from fitwright.fields.errors import InputError
from fitwright.fields.files import path_of
from fitwright.fields.user_text import told
from fitwright.job.file import JobFile
from fitwright.job.own_outputs import OwnRow
from fitwright.job.reading import Reading
from fitwright.job.system import System, made_spreads, told_spreads
from fitwright.job.tables import FIDELITIES, RIGID_SHOULDER
from fitwright.job.text import read_text

__all__ = ["AnyJob", "Job"]

#: A job of the kind that was asked: what changes a value gives back the like of what it got.
AnyJob = TypeVar("AnyJob", bound="Job")


@checked
class Job(System):
    """Parts, states and limits."""

    #: Readings in place of what was expected, by path, and the job before; see `Job.measured`.
    readings: Mapping[str, Reading] = MappingProxyType({})
    expected: Job | None = None

    def __init__(self, core: _core.Job, file: JobFile, spreads: Mapping[str, _core.Spread]) -> None:
        super().__init__(core, spreads)
        self._job, self._file = core, file

    @property
    def core(self) -> _core.Job:
        """The compiled job: flat arrays of inputs and outputs. Not to be changed."""
        return self._job

    @property
    def file(self) -> JobFile:
        """The job file as it was read: its tables by name, what was told and what was not."""
        return self._file

    @classmethod
    def load(cls, path: str | os.PathLike[str]) -> Self:
        """From a TOML job file. Everything wrong with it is told in one report.

        `path` is that of the file.

        >>> import fitwright as fw
        >>> job = fw.demo("blower")
        >>> path = job.save("as_told.toml")
        >>> answer = fw.Job.load(path)
        """
        return cls.loads(read_text(path_of(path, "path")))

    @classmethod
    def loads(cls, text: str) -> Self:
        """From the text of a job file.

        >>> import fitwright as fw
        >>> job = fw.demo("blower")
        >>> answer = fw.Job.loads(job.save("as_told.toml").read_text())
        """
        file = JobFile(text)
        core, spreads = file.build()
        return cls(core, file, spreads)

    def __reduce__(self) -> tuple[Any, ...]:
        return _remade, (type(self), *self._told(), self._more, self._told_fidelity())

    def _told(self) -> tuple[Any, ...]:
        spreads = told_spreads(self._spreads)
        return self._file.text, list(self._core.values()), spreads, self._chosen

    def _told_fidelity(self) -> str | None:
        """Where it is not what the file says."""
        return (
            None if self.fidelity == self._file.document.get("fidelity", "bars") else self.fidelity
        )

    @property
    def identity(self) -> tuple[Any, ...]:
        # What a job has always been comes first, so that blocks of studies on disk stay theirs.
        more = (self._more, self._told_fidelity())
        return (*self._told(), *(m for m in more if m))

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
    def own_outputs(self) -> list[OwnRow]:
        """Outputs of a user's own, as the core takes them: of the file and of `with_outputs`."""
        return [*self._file.own_outputs, *super().own_outputs]

    @property
    def standard_spreads(self) -> list[str]:
        """Paths of the inputs that scatter by the standard of a job, not because they were told:
        expansion over the table's value, with the deviation of the material."""
        return [
            s.path
            for s in _core.standard_spreads(self._job)
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
        return super().correlations

    def tied(self) -> list[tuple[int, int, float]]:
        return self._file.correlations_of(self._job, self._spreads)

    def __repr__(self) -> str:
        return (
            f"<Job {self.title!r}: {len(self.rings)} rings, {len(self.states)} states, "
            f"{len(self._spreads)} inputs that scatter>"
        )

    def at_level(self, level: str) -> Self:
        """The same job asked at another level.

        "quick": closed forms and bounds, on every number type. "history": the steps of assembly and
        service one after the other as well, which takes milliseconds. "heating": each hot ring from
        the oven until it is cold as well, which takes tens of them.

        >>> import fitwright as fw
        >>> job = fw.demo("blower")
        >>> answer = job.at_level("quick").evaluate().worst
        """
        return super().at_level(level)

    @property
    def fidelity(self) -> str:
        """What the steps of the history run on: "bars" along the shaft, or parts in "section"."""
        return "section" if self._job.is_in_section() else "bars"

    def at_fidelity(self, fidelity: str) -> Self:
        """The same job with its history on "bars", or on parts in "section": axisymmetric finite
        elements meshed from its sizes (to 0.05 %; microns are interference), condensed once and
        kept for every job that is made from this one. `fidelity = "section"` in a file does it too.

        Findings, studies, derivatives and sweeps of the history level then come from there; a
        history takes some tenths of a second in place of milliseconds. Raises
        fitwright.InputError naming what cannot be meshed.

        >>> job.at_fidelity("section").evaluate("history")
        """
        if fidelity not in FIDELITIES:
            raise InputError([("fidelity", f"{told(fidelity)} must be {' or '.join(FIDELITIES)}")])
        core = self._job
        if fidelity != self.fidelity:
            core = core.in_section() if fidelity == "section" else core.in_bars()
        return self._carried(self._like(core, self._spreads))

    def notes(self, level: str) -> list[str]:
        notes = []
        if self.fidelity == "section" and level != "quick":
            notes.append("The steps of the history are on parts in section (finite elements).")
        return notes if self._file.table("shoulder") is not None else [*notes, RIGID_SHOULDER]

    def _like(self, core: _core.Job, spreads: Mapping[str, _core.Spread]) -> Self:
        return type(self)(core, self._file, spreads)


def _remade(
    kind: type[AnyJob],
    text: str,
    values: list[float],
    spreads: Mapping[str, tuple[str, float, float, float, float, list[float], str, float]],
    level: str | None,
    more: Mapping[str, Any],
    fidelity: str | None,
) -> AnyJob:
    """A job from the text of its file and what `replace` has changed since."""
    job = kind.loads(text)
    job = job if fidelity is None else job.at_fidelity(fidelity)
    for leaf, value in enumerate(values):
        job.core.set(leaf, value)
    made = made_spreads(spreads, job.input_rows)
    whole = kind(job.core, job.file, made)
    whole = whole.with_outputs(more) if more else whole
    return whole if level is None else whole.at_level(level)
