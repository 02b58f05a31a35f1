"""Can it be put together: every part on its way on and off, with what it has to pass, in sizes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fitwright.fields.tables import Table
from fitwright.fields.units import in_system
from fitwright.job.finding import NOT_ASKED
from fitwright.job.findings import evaluate

if TYPE_CHECKING:
    from fitwright.job.findings import Findings
    from fitwright.job.value import Job


def assembly_table(job: Job, units: str | None = None) -> Table:
    """The way of every part: own size, greatest of what it passes, and what is left.

    Made of the outputs `on_clearance`, `off_clearance`, `seat_margin`, `opening_clearance` of
    rings, washer and nut; what is not told (an opening, the end of a seat) has a dash.
    """
    found, units = evaluate(job, "quick"), in_system(units, job.units)
    rows, marks = [], []
    for part in _parts(job):
        for title, own, passed, left in _ways(job, found, part):
            margin = found[job.states[0], left]
            if margin == NOT_ASKED:
                continue
            rows.append(
                [
                    part.rpartition(".")[2],
                    title,
                    _shown(job, found, own, units),
                    _shown(job, found, passed, units),
                    margin.shown(units),
                    "ok" if margin >= 0.0 else "NOT MET",
                ]
            )
            marks.append("good" if margin >= 0.0 else "bad")
    heads = ["part", "way", "its own", "what it passes", "left", ""]
    return Table(heads, rows, title=f"{job.title}: can it be put together", marks=marks)


def _parts(job: Job) -> list[str]:
    lock = ["lock"] if job.file.table("lock") is not None else []
    return ["shoulder", *(f"rings.{ring}" for ring in job.rings), *lock, "nut"]


def _ways(job: Job, found: Findings, part: str) -> list[tuple[str, str, str, str]]:
    """Title, path of its own size, of what it passes, and of the margin."""
    if part == "shoulder":
        first = f"rings.{job.rings[0]}.on_bore"
        return [("stops the first ring", "shaft.shoulder_outside", first, "shoulder.step")]
    opening = ("through its opening", f"{part}.opening", f"{part}.outside")
    ways = [(*opening, f"{part}.opening_clearance")]
    if part == "nut":
        lands = ("over lands to its thread", "", "nut.on_greatest", "nut.on_clearance")
        return [
            *([lands] if found[job.states[0], "nut.on_greatest"] > 0.0 else []),
            ("face on what it bears on", "nut.face_outside", "", "nut.face_margin"),
            ("runs on until it clamps", "nut.thread_start", "", "nut.run_on_margin"),
            ("whole height on its thread", "nut.thread_end", "", "nut.engaged_margin"),
            *ways,
        ]
    bore = f"{part}.bore" if part == "lock" else f"{part}.on_bore"
    on = ("on to its place", bore, f"{part}.on_greatest", f"{part}.on_clearance")
    if part == "lock":
        return [on, *ways]
    off = (f"{part}.off_size", f"{part}.off_greatest", f"{part}.off_clearance")
    seat = f"seats.{_seat(job, part.rpartition('.')[2])}.end"
    return [
        on,
        ("off again, cold", *off),
        ("contact on its seat", seat, "", f"{part}.seat_margin"),
        *ways,
    ]


def _seat(job: Job, ring: str) -> str:
    return next(str(row["seat"]) for row in job.file.rows("ring") if row["name"] == ring)


def _shown(job: Job, found: Findings, path: str, units: str) -> str:
    if not path:
        return ""
    if any(path == known for known, *_ in job.input_rows):
        return job[path].shown(units)
    return found[job.states[0], path].shown(units)
