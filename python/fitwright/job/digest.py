"""Findings that fit on a screen: what is not met, what is near, the tightest, the rest by part."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from html import escape
from typing import TYPE_CHECKING

from fitwright.fields.arguments import checked
from fitwright.fields.tables import Table
from fitwright.fields.units import in_system
from fitwright.job.titles import plain_words

if TYPE_CHECKING:
    from fitwright.job.finding import Finding
    from fitwright.job.titles import Titles

__all__ = ["Digest"]

#: Findings told one by one where nothing is wrong.
TIGHTEST = 5


@checked
class Digest:
    """What is not met, near and tightest, and one line per part for the rest."""

    def __init__(
        self,
        governing: Sequence[Finding],
        titles: Titles,
        level: str,
        system: str | None = None,
        tightest: int = TIGHTEST,
        paths: bool = True,
        not_told: int = 0,
    ) -> None:
        self.not_told = not_told
        system = in_system(system)
        self.system, self.level, self.paths, self._titles = system, level, paths, titles
        self.not_met = [f for f in governing if f.mark == "bad"]
        self.near = [f for f in governing if f.mark == "near"]
        good = [f for f in governing if f.mark == "good"]
        self.tightest, self.rest = good[:tightest], good[tightest:]

    @property
    def headline(self) -> str:
        """ "2 of 78 limits are not met, 1 is near." """
        bad, near = len(self.not_met), len(self.near)
        count = bad + near + len(self.tightest) + len(self.rest)
        told = f"{bad} of {count} limits not met" if bad else f"all {count} limits met"
        return told + (f", {near} near (less than a tenth to spare)" if near else "")

    def sections(self) -> list[tuple[str, list[Finding]]]:
        """Heads with their findings, those with none left out."""
        told = [("NOT MET", self.not_met), ("near", self.near), ("tightest", self.tightest)]
        return [(head, found) for head, found in told if found]

    def row(self, finding: Finding) -> list[str]:
        """One finding in words: part, what, state, value, limit, margin, reserve and path."""
        cells = [
            self._titles.part(finding.path),
            plain_words(finding.path),
            self._titles.state(finding.state),
            finding.value.shown(self.system),
            finding.limit_text(self.system),
            finding.margin.shown(self.system),
            finding.reserve_text(self.system),
        ]
        return [*cells, finding.path] if self.paths else cells

    def by_part(self) -> list[tuple[str, str]]:
        """The rest folded: the part, and how many are left of it and how they stand."""
        groups: dict[str, list[Finding]] = {}
        for finding in self.rest:
            groups.setdefault(self._titles.part(finding.path), []).append(finding)
        return [(part, _folded(found, self.system)) for part, found in groups.items()]

    def table(self) -> Table:
        """The sections as one table; the parts below it are `by_part`."""
        head = ["", "part", "what", "where least", "value", "limit", "margin", "reserve"]
        rows: list[list[str]] = []
        marks: list[str] = []
        for name, found in self.sections():
            for number, finding in enumerate(found):
                rows.append(["" if number else name, *self.row(finding)])
                marks.append(finding.mark)
        return Table([*head, "path"] if self.paths else head, rows, self.headline, marks)

    def note(self) -> str:
        """What a reserve is a share of, and what was not looked at."""
        unseen = f" Not looked at, for the job tells no size for it: {self.not_told}."
        return (
            "Reserve: margin over the limit; where the limit is 0, over the amount it names. "
            f'"far": more than twice that. Level: {self.level}.{unseen if self.not_told else ""}'
        )

    def __str__(self) -> str:
        rest = self.by_part()
        width = max((len(part) for part, _ in rest), default=0)
        lines = [f"  {part.ljust(width)}  {told}" for part, told in rest]
        return "\n".join([str(self.table()), *(["the rest", *lines] if lines else []), self.note()])

    __repr__ = __str__

    def _repr_html_(self) -> str:
        rest = "".join(f"<li>{escape(part)}: {escape(told)}</li>" for part, told in self.by_part())
        return f"{self.table()._repr_html_()}<ul>{rest}</ul><p>{escape(self.note())}</p>"


def _folded(found: Iterable[Finding], system: str) -> str:
    found = list(found)
    far = sum(finding.is_far for finding in found)
    if far == len(found):
        return f"{far} more, {'all ' if far > 1 else ''}far"
    least = min(found, key=lambda finding: finding.reserve)
    return f"{len(found)} more, least {least.reserve_text(system)}" + (
        f", {far} far" if far else ""
    )
