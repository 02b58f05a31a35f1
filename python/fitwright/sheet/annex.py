"""What the engineer's annex has beside the findings: the study, the metals and their sources."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from fitwright.fields import units
from fitwright.job.titles import Titles, plain_words

if TYPE_CHECKING:
    from fitwright.job.value import Job
    from fitwright.studies.result import Study

__all__ = ["metal_values", "study_values"]

#: Findings of a study on the sheet, the most often missed first.
MOST_ROWS = 15


def metal_values(job: Job) -> list[dict[str, str]]:
    """Each metal of the job, the parts made of it, and where its data are from."""
    titles = Titles(job)
    file = job.file
    parts: dict[str, list[str]] = {}
    for kind in ("shaft", "nut", "lock", "bearing", "pocket"):
        table = file.table(kind) or {}
        if "material" in table:
            parts.setdefault(str(table["material"]), []).append(titles.part(kind))
        if "outer_ring_material" in table:
            parts.setdefault(str(table["outer_ring_material"]), []).append("outer ring")
    for kind in ("ring", "seal"):
        for row in file.rows(kind):
            if "material" in row:
                name = titles.part(f"{kind}s.{row['name']}")
                parts.setdefault(str(row["material"]), []).append(name)
    found = []
    for name, of in parts.items():
        material = file.material("material", name)
        found.append(
            {
                "name": material.name,
                "parts": ", ".join(of),
                "sources": "; ".join(material.sources) or "told by the job file",
            }
        )
    return found


def study_values(study: Study | None, system: str) -> dict[str, Any] | None:
    """How often all limits hold, and those that some samples miss."""
    if study is None:
        return None
    titles = Titles(study.job)
    rows = []
    for finding in study.at_risk[:MOST_ROWS]:
        limits = [
            f"{sign} {units.shown(bound, finding.quantity, system)}"
            for sign, bound in (("≥", finding.at_least), ("≤", finding.at_most))
            if bound == bound
        ]
        rows.append(
            {
                "part": titles.part(finding.path),
                "words": plain_words(finding.path),
                "path": finding.path,
                "state": titles.state(finding.state),
                "limit": " and ".join(limits),
                "rate": f"{finding.pass_rate:.3%}",
            }
        )
    return {"words": study.title.replace("\n", ". "), "rows": rows}
