"""One output of a study: how often it keeps its limit; and what a study counted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from fitwright import _core
from fitwright.fields import units

if TYPE_CHECKING:
    from fitwright.studies.plan import Part


class StudyLevel(NamedTuple):
    """One level of a study: what it was told to count, and the run that counted."""

    part: Part
    run: _core.StudyRun


@dataclass(frozen=True)
class BrokenRule:
    """Samples of a level that cannot be evaluated, by the rule they break."""

    level: str
    rule: str
    #: its first sample
    first: int
    count: int


def joined(
    parts: Sequence[Part], runs: Sequence[_core.StudyRun]
) -> tuple[float, tuple[float, float]]:
    """Share of samples that keep all limits of all parts, and its 95 % interval."""
    counts = []
    before = -1  # the level of the part before, which the next is joined to
    for _, run in zip(parts, runs, strict=True):
        own = run.stages - 1
        first = run.done if before < 0 else run.passed_to(before)
        counts.append((run.done, first, run.passed_to(own)))
        before = own
    rate, low, high = _core.joined_rate(counts)
    return rate, (low, high)


@dataclass(frozen=True)
class StudyFinding:
    """How often one output keeps its limit, and how it scatters."""

    state: str
    path: str
    quantity: str
    level: str
    at_least: float
    at_most: float
    #: how many samples it rests on
    samples: int
    pass_rate: float
    interval: tuple[float, float]
    statistics: _core.Statistics

    def row(self, system: str) -> list[str]:
        step = "difference" if self.quantity == "temperature" else self.quantity
        s = self.statistics
        limits = [
            f"{sign} {units.shown(bound, self.quantity, system)}"
            for sign, bound in ((">=", self.at_least), ("<=", self.at_most))
            if bound == bound
        ]
        return [
            self.path,
            self.state,
            units.shown(s.mean, self.quantity, system),
            units.shown(s.deviation, step, system),
            units.shown(s.least, self.quantity, system),
            units.shown(s.greatest, self.quantity, system),
            " and ".join(limits),
            f"{self.pass_rate:.4%}" if limits else "",
            self.level,
            str(self.samples),
        ]


def has_limit(finding: StudyFinding) -> bool:
    return finding.at_least == finding.at_least or finding.at_most == finding.at_most


def mark_of(finding: StudyFinding) -> str:
    if not has_limit(finding):
        return ""
    return "good" if finding.pass_rate >= 0.999 else "near" if finding.pass_rate >= 0.99 else "bad"
