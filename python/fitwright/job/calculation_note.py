"""The calculation note of a whole job: findings, assumptions, limits of validity, every line."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fitwright import _core
from fitwright.fields.tables import Table
from fitwright.job.explain import calculated, sources_of
from fitwright.job.findings import evaluate
from fitwright.job.save import job_hash
from fitwright.models.explanation import Explanation, Line

if TYPE_CHECKING:
    from fitwright.job.finding import Finding
    from fitwright.job.value import Job

__all__ = ["calculation_note"]

#: Sides that differ by less than this share of the greater one are near each other.
NEAR = 0.1
CAUTION = (
    "An aid to judgement: the maker's manual and approved data govern, with licensed practice and "
    "local codes."
)


def calculation_note(job: Job) -> Explanation:
    """See `Job.calculation_note`."""
    findings = evaluate(job, "quick")
    core = job.core.at("quick")
    calculation = _core.JobCalculation(core)
    asked = [core.output(f.state, f.path) for f in findings.all]
    lines = calculated(job, calculation.lines(asked))
    about = [
        ("caution", CAUTION),
        ("version", f"fitwright {_core.version()}"),
        ("hash of the job", job_hash(job)),
        (
            "what it covers",
            "every finding of the quick level: closed forms and bounds of the clamp",
        ),
        *(row for row in sources_of(lines) if row[0].startswith("source")),
    ]
    tables = [_findings(findings.all, job.units), _assumptions(lines), _limits(calculation)]
    return Explanation(f"Calculation note: {job.title}", lines, about, tables)


def _findings(findings: list[Finding], units: str) -> Table:
    head = ["output", "state", "value", "limit", "reserve", ""]
    rows = [
        [
            f.path,
            f.state,
            f.value.shown(units),
            f.limit_text(units),
            f.reserve_text(units),
            {"good": "ok", "near": "near", "bad": "NOT MET"}[f.mark],
        ]
        for f in sorted(findings, key=lambda finding: finding.reserve)
    ]
    return Table(head, rows, title="Findings, the least reserve first")


def _assumptions(lines: list[Line]) -> Table:
    told = [(head, text) for head, text in sources_of(lines) if "holds for" in head]
    rows = [[head.removesuffix(" holds for"), text] for head, text in told]
    return Table(["formula", "what it is taken to hold for"], rows, title="Assumptions")


def _limits(calculation: _core.JobCalculation) -> Table:
    """Those that apply to this job, the nearest first."""
    rows = [
        [path, sentence, compared, f"near: {room:.1%}" if room < NEAR else f"{room:.0%}"]
        for path, sentence, compared, room in calculation.limits()
    ]
    head = ["of", "what is said where it is broken", "as it stands", "apart by"]
    return Table(head, rows, title="Limits of validity that apply, the nearest first")
