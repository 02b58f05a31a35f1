"""What a job says of its shoulder: how far the collar gives way, or that it is taken as rigid."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from fitwright.fields.tables import Table

if TYPE_CHECKING:
    from fitwright.job.value import Job

__all__ = ["RIGID", "shoulder_table", "shoulder_told"]

#: Where the job has no table [shoulder].
RIGID = (
    "The shoulder is taken as rigid. Stacks on a real collar had 10 to 56 % of the nut's force "
    "less at the shoulder when hot than bars on a rigid one, and up to 28 % less after a cycle "
    "(finite elements). The bounds allow for a collar as stiff as those calculated; tell "
    "[shoulder] to have its own give counted."
)


def shoulder_told(job: Any) -> bool:
    """Whether the job tells of its collar."""
    return job.file.table("shoulder") is not None


def shoulder_table(job: Job, found: Any, units: str | None = None) -> Table:
    """How far the shoulder gives way, and whether its sizes lie where that is known.

    `found` are its findings. Rows: compliance, give under the nut's preload, reach (1 within the
    family it was fitted on). A job without a table [shoulder] says what that may cost.
    """
    if not shoulder_told(job):
        return Table(["shoulder", ""], [["rigid", RIGID]], title=job.title)
    built = job.states[0]
    rows = [
        [name, found[built, f"shoulder.{name}"].shown(units)]
        for name in ("compliance", "give", "reach")
    ]
    share = float(found[built, "shoulder.compliance"]) / float(found[built, "stack.compliance"])
    rows.append(["share of the joint's compliance", f"{100.0 * share:.0f} %"])
    return Table(["shoulder", ""], rows, title=job.title)
