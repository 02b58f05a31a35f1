"""What a job says of its shoulder: how far the collar gives way, or that it is taken as rigid."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from fitwright.fields.tables import Table
from fitwright.job.tables import RIGID_SHOULDER

if TYPE_CHECKING:
    from fitwright.job.value import Job

__all__ = ["shoulder_table", "shoulder_told"]


def shoulder_told(job: Any) -> bool:
    """Whether the job tells of its collar."""
    return job.file.table("shoulder") is not None


def shoulder_table(job: Job, found: Any, units: str | None = None) -> Table:
    """How far the shoulder gives way, and whether its sizes lie where that is known.

    `found` are its findings. Rows: compliance, give under the nut's preload, reach (1 within the
    family it was fitted on). A job without a table [shoulder] says what that may cost.
    """
    if not shoulder_told(job):
        return Table(["shoulder", ""], [["rigid", RIGID_SHOULDER]], title=job.title)
    built = job.states[0]
    rows = [
        [name, found[built, f"shoulder.{name}"].shown(units)]
        for name in ("compliance", "give", "reach")
    ]
    share = float(found[built, "shoulder.compliance"]) / float(found[built, "stack.compliance"])
    rows.append(["share of the joint's compliance", f"{100.0 * share:.0f} %"])
    return Table(["shoulder", ""], rows, title=job.title)
