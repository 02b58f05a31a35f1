"""Findings: outputs held against their limits, each with its margin and its reserve."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property
from html import escape
from typing import TYPE_CHECKING, Any, overload

from fitwright import _core
from fitwright.fields import units
from fitwright.fields.arguments import checked
from fitwright.fields.records import Records
from fitwright.fields.tables import Table
from fitwright.fields.units import in_system
from fitwright.fields.value import Value
from fitwright.job.digest import Digest
from fitwright.job.finding import ByState, Eased, Finding
from fitwright.job.titles import Titles, plain_words

if TYPE_CHECKING:
    from fitwright.job.system import System


def evaluate(job: System, level: str | None = None) -> Findings:
    """See `Job.evaluate`."""
    return Findings(job, job.at_level(level or job.chosen_level or "heating").asked)


@checked
class Findings(Records):
    """All outputs of a job, and its findings. `.worst` has the least reserve.

    Shows itself as a digest: what is not met, what is near, the tightest few, the rest by part.
    """

    def __init__(self, job: System, core: _core.System) -> None:
        self._job, self._core, self.level = job, core, core.level()
        self._numbers = core.evaluate()
        self._findings: list[Finding] | None = None

    def __reduce__(self) -> tuple[object, ...]:
        return _evaluated, (self._job, self.level)

    @cached_property
    def _rows(self) -> list[tuple[str, str, str, str]]:
        return self._core.outputs()

    @property
    def all(self) -> list[Finding]:
        """Every finding: each output with a limit, in each state."""
        if self._findings is None:
            made, system = [], self._job.units
            for output, value, limit, is_least, margin, reserve, scale in self._core.findings(
                self._numbers
            ):
                state, path, quantity, meaning = self._rows[output]
                step = "difference" if quantity == "temperature" else quantity
                made.append(
                    Finding(
                        state,
                        path,
                        Value(value, quantity, system),
                        Value(limit, quantity, system),
                        is_least,
                        Value(margin, step, system),
                        reserve,
                        self._core.level_of(output),
                        meaning,
                        Value(scale, step, system),
                    )
                )
            self._findings = made
        return self._findings

    def __iter__(self) -> Iterator[Finding]:
        return iter(self.all)

    def __len__(self) -> int:
        return len(self.all)

    @overload
    def __getitem__(self, key: tuple[str, str]) -> Value: ...
    @overload
    def __getitem__(self, key: str) -> ByState: ...
    def __getitem__(self, key: tuple[str, str] | str) -> Value | ByState:
        """An output by state and path, with a limit or without; by path alone, in every state."""
        if isinstance(key, str):
            return self._in_every_state(key)
        state, path = key
        number = self._core.output(state, path)
        return Value(self._numbers[number], self._rows[number][2], self._job.units)

    def _in_every_state(self, path: str) -> ByState:
        found = {
            state: Value(value, quantity, self._job.units)
            for (state, name, quantity, _), value in zip(self._rows, self._numbers, strict=True)
            if name == path
        }
        if not found:
            self._core.output(self._job.states[0], path)  # tells which there are
        return ByState(path, found)

    @property
    def worst(self) -> Finding:
        return min(self.all, key=lambda finding: finding.reserve)

    @property
    def passed(self) -> bool:
        return all(finding.passed for finding in self.all)

    @property
    def not_met(self) -> list[Finding]:
        return [finding for finding in self.all if not finding.passed]

    @property
    def eased(self) -> list[Eased]:
        """Limits that the job has set wider than the usual ones: what it passes by its own word."""
        told = {output: (low, high) for output, low, high in self._core.limits()}
        found = []
        for output, low, high in self._core.usual_limits():
            if output not in told:
                continue  # of a level that was not asked
            here_low, here_high = told[output]
            # A side without a limit is not a number, and equal to nothing.
            low_kept = low != low or here_low >= low
            high_kept = high != high or here_high <= high
            if low_kept and high_kept:
                continue
            state, path, quantity, meaning = self._rows[output]
            found.append(
                Eased(
                    state,
                    path,
                    _sides(here_low, here_high, quantity, self._job.units),
                    _sides(low, high, quantity, self._job.units),
                    meaning,
                )
            )
        return found

    def governing(self) -> list[Finding]:
        """For each output asked, the state that leaves the least reserve; the least first."""
        least: dict[str, Finding] = {}
        for finding in self.all:
            if not finding.asked:
                continue
            held = least.get(finding.path)
            if held is None or finding.reserve < held.reserve:
                least[finding.path] = finding
        return sorted(least.values(), key=lambda finding: finding.reserve)

    def table(self, units: str | None = None, all_states: bool = False) -> Table:
        """Each output in its governing state, or in every state."""
        rows = self.all if all_states else self.governing()
        units = in_system(units, self._job.units)
        return Table(
            ["finding", "state", "value", "limit", "margin", "reserve", "", "level"],
            [finding.row(units) for finding in rows],
            title="findings",
            marks=[finding.mark for finding in rows],
        )

    def digest(self, units: str | None = None, tightest: int = 5, paths: bool = True) -> Digest:
        """What is not met, then what is near, then the tightest few; the rest a line per part.

        `paths`: the path of each finding in a column of its own.
        """
        quiet = len({finding.path for finding in self.all if not finding.asked})
        titles, units = Titles(self._job), in_system(units, self._job.units)
        return Digest(self.governing(), titles, self.level, units, tightest, paths, quiet)

    def to_dict(self) -> list[dict[str, Any]]:
        """Every finding, in every state; numbers in SI, temperatures in degC."""
        titles = Titles(self._job)
        return [
            {
                "path": f.path,
                "state": f.state,
                "part": titles.part(f.path),
                "words": plain_words(f.path),
                "value": float(f.value),
                "limit": float(f.limit),
                "side": "at_least" if f.is_least else "at_most",
                "margin": float(f.margin),
                "reserve": f.reserve,
                "scale": float(f.scale),
                "mark": f.mark,
                "level": f.level,
                "unit": units.QUANTITIES[f.value.quantity]["si"],
            }
            for f in self.all
            if f.asked
        ]

    def _notes(self) -> list[str]:
        eased = [str(e) for e in self.eased]
        notes = [f"limits eased by this job: {len(eased)}", *eased] if eased else []
        return [*notes, *self._job.notes(self.level)]

    def __repr__(self) -> str:
        return "\n".join([str(self.digest()), *self._notes()])

    def _repr_html_(self) -> str:
        notes = "".join(f"<p>{escape(note)}</p>" for note in self._notes())
        return self.digest()._repr_html_() + notes


def _evaluated(job: System, level: str) -> Findings:
    return evaluate(job, level)


def _sides(low: float, high: float, quantity: str, system: str) -> str:
    sides = [(">=", low), ("<=", high)]
    return " and ".join(f"{sign} {Value(x, quantity, system)}" for sign, x in sides if x == x)
