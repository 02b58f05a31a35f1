"""A job's steps on parts in section, and what bars and closed forms say beside them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any, NamedTuple

from fitwright import _core
from fitwright.bodies.found import SectionHistory
from fitwright.fields.errors import InputError
from fitwright.fields.records import Records
from fitwright.fields.tables import Table
from fitwright.fields.value import Value
from fitwright.job.findings import evaluate
from fitwright.job.history import History

if TYPE_CHECKING:
    from fitwright.job.value import Job

__all__ = ["Compared", "FidelityComparison", "section_of"]


def section_of(job: Job) -> SectionHistory:
    """See `Job.section`."""
    core = job.at_fidelity("section").core
    sections = _core.Sections.of_job(core)
    lock = ["lock"] if job.file.table("lock") is not None else []
    names = [row[0] for row in core.steps()]
    return SectionHistory(sections, sections.run(core), names, [*job.rings, *lock])


class Compared(NamedTuple):
    """One number three ways; `closed` or `bars` is None where it has no such answer.

    `off` is the worse of what is told less the section's answer, over the nut's force for clamp and
    over the section's value for the rest.
    """

    state: str
    path: str
    closed: Value | None
    bars: Value | None
    section: Value
    off: float


class FidelityComparison(Records):
    """Closed, bars and section beside each other. `.table()`, `.worst`, `.far` (beyond share)."""

    def __init__(self, job: Job, share: float) -> None:
        if not 0.0 < share < 10.0:
            raise InputError([("share", f"{share} must be above 0 and below 10")])
        self.job, self.share = job, share
        quick = evaluate(job, "quick")
        bars = History(job.at_fidelity("bars"))
        found = section_of(job)
        self.all: list[Compared] = []
        built = job.states[0]
        rings = list(job.rings)
        for name, kind, _, state, _ in job.core.steps():
            if kind == "tighten":
                state = built
            elif kind != "state" or name.startswith("cool_"):
                continue
            section, bar = found[name], bars[name]
            force = max(float(section.nut), 1.0)
            for path, face in (("shoulder.clamp", 0), ("nut.clamp", -1)):
                told, true = bar.faces[face].force, section.faces[face].force
                off = (float(told) - float(true)) / force
                self.all.append(Compared(name, path, None, told, true, off))
            for ring in rings:
                told, true = quick[state, f"rings.{ring}.pressure"], section.mean_pressure[ring]
                path = f"rings.{ring}.pressure"
                self.all.append(Compared(name, path, told, None, true, _off(told, true, 1e6)))
                told = quick[state, f"rings.{ring}.outside_growth"]
                grown = 2.0 * _mean(section.growth[ring].movement)
                true = Value(grown, "fine", job.units)
                path = f"rings.{ring}.outside_growth"
                self.all.append(Compared(name, path, told, None, true, _off(told, true, 5e-6)))

    @property
    def worst(self) -> Compared:
        return max(self.all, key=lambda row: abs(row.off))

    @property
    def far(self) -> list[Compared]:
        """What differs by more than the share asked for."""
        return [row for row in self.all if abs(row.off) > self.share]

    @property
    def warning(self) -> str:
        """Which answers of the quick model or of bars not to rest on; empty when all are near."""
        if not self.far:
            return ""
        worst = self.worst
        return (
            f"{len(self.far)} of {len(self.all)} answers differ from parts in section by more than "
            f"{100.0 * self.share:.0f} %, the most {worst.path} in {worst.state} "
            f"({100.0 * worst.off:+.0f} %): go by the section there"
        )

    def factors(self, least: float = 1e6) -> Table:
        """Of each ring: pressure in section over the closed form's, its least and most over the
        states in which the closed form has more than `least` [Pa], and the whole end effect, which
        is the most that an overhang can carry. A ring whose chamfers leave it shorter in contact
        presses harder there than its end effect says.
        """
        whole = self._whole_end_effect(least)
        rows, marks = [], []
        for ring in self.job.rings:
            ratios = self._ratios(ring, least)
            if not ratios:
                continue
            most = whole.get(ring, 1.0)
            rows.append([ring, f"{min(ratios):.3f}", f"{max(ratios):.3f}", f"{most:.3f}"])
            marks.append("bad" if max(ratios) > most else "good")
        heads = ["ring", "least", "most", "whole end effect"]
        return Table(heads, rows, title="pressure in section over closed form", marks=marks)

    def _whole_end_effect(self, least: float) -> dict[str, float]:
        rings = [ring for ring in self.job.rings if self._ratios(ring, least)]
        whole = {"value": 1.0, "low": 1.0, "high": 1.0}
        there = self.job.replace({f"rings.{ring}.overhang": whole for ring in rings})
        found, built = evaluate(there, "quick"), self.job.states[0]
        return {ring: float(found[built, f"rings.{ring}.end_effect"]) for ring in rings}

    def _ratios(self, ring: str, least: float) -> list[float]:
        path = f"rings.{ring}.pressure"
        return [
            float(row.section) / float(row.closed)
            for row in self.all
            if row.path == path and row.closed is not None and float(row.closed) > least
        ]

    def overhangs(self, least: float = 1e6) -> dict[str, dict[str, float]]:
        """The end effect of each ring as parts in section have it: its overhang with both ends, for
        `job.replace`. Bounds, holding and studies of the quick level then count what was found here
        in place of an estimate; 0 where the section has less than the closed form, and 1 at most:
        `factors` marks what that leaves out.

        >>> quick = job.replace(job.compare_fidelity().overhangs())
        """
        changes = {}
        for ring, effect in self._whole_end_effect(least).items():
            excess, ratios = effect - 1.0, self._ratios(ring, least)
            if excess <= 0.0:
                continue
            low, high = (
                min(max((ratio - 1.0) / excess, 0.0), 1.0) for ratio in (min(ratios), max(ratios))
            )
            changes[f"rings.{ring}.overhang"] = {
                "value": 0.5 * (low + high),
                "low": low,
                "high": high,
            }
        return changes

    def table(self, units: str | None = None) -> Table:
        rows, marks = [], []
        for row in self.all:
            cells = [
                "" if told is None else told.shown(units or self.job.units)
                for told in (row.closed, row.bars, row.section)
            ]
            rows.append([row.state, row.path, *cells, f"{100.0 * row.off:+.1f} %"])
            marks.append("bad" if abs(row.off) > self.share else "good")
        heads = ["state", "output", "closed", "bars", "section", "off"]
        return Table(heads, rows, title=self.warning or "closed, bars and section", marks=marks)

    def to_dict(self) -> list[dict[str, Any]]:
        return [
            {
                "state": row.state,
                "path": row.path,
                "closed": None if row.closed is None else float(row.closed),
                "bars": None if row.bars is None else float(row.bars),
                "section": float(row.section),
                "off": row.off,
            }
            for row in self.all
        ]

    def __repr__(self) -> str:
        return str(self.table())

    def _repr_html_(self) -> str:
        return self.table()._repr_html_()


def _mean(movement: Iterable[float]) -> float:
    places = [float(x) for x in movement]
    return sum(places) / len(places)


def _off(told: Value, true: Value, least: float) -> float:
    """Over the section's value, or over the least that is worth a word."""
    return (float(told) - float(true)) / max(abs(float(true)), least)
