"""Readings on the sheet: beside what was expected, how far off, and what they changed."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from fitwright.job.measured import changes_of
from fitwright.job.titles import Titles, plain_words

if TYPE_CHECKING:
    from fitwright.job.value import Job
    from fitwright.sheet.writer import Writer

__all__ = ["add_readings", "changed_values"]

#: What a fitter reads of outputs that have no limit, and so no plain words of their own.
WORDS = {
    "interference_left": "interference left",
    "oven_needed": "heat needed",
    "opening": "clearance at the oven setting",
    "holding_force": "holds along the shaft",
}


def add_readings(
    write: Writer,
    job: Job,
    seats: list[dict[str, Any]],
    rings: list[dict[str, Any]],
    bearing: dict[str, Any] | None,
) -> None:
    """Fills in what was measured; what was not stays a blank to write in."""
    readings, expected = job.readings, job.expected or job

    def fill(into: dict[str, Any], path: str, scatter: str) -> None:
        into |= {"reading": "", "deviation": "", "outside": False}
        spread = expected.spreads.get(path)
        into[scatter] = "" if spread is None else write.spread(spread, expected[path].quantity)
        if path in readings:
            held = readings[path]
            sign = "+" if held.deviation > 0.0 else ""
            into["reading"] = write.shown(held.value)
            into["deviation"] = f"{sign}{write.shown(held.deviation)}"
            into["outside"] = bool(held.outside)

    for seat in seats:
        path = f"seats.{seat['name']}.diameter"
        seat["size"] = write.shown(expected[path])
        fill(seat, path, "scatter")
    for ring in rings:
        bore, seat_path = f"rings.{ring['name']}.bore", f"seats.{ring['seat']}.diameter"
        fill(ring, bore, "bore_scatter")
        ring["expected_bore"] = write.shown(expected[bore])
        ring["expected_fit"] = write.value(expected[seat_path] - expected[bore], "fine")
        ring["fit_measured"] = bore in readings and seat_path in readings
    if bearing is not None:
        fill(bearing, "bearing.clearance", "scatter")
        bearing["given"] = write.shown(expected["bearing.clearance"])


def changed_values(write: Writer, job: Job) -> dict[str, Any] | None:
    """What the readings changed, line by line; nothing for a job that was not measured."""
    if job.expected is None:
        return None
    titles = Titles(job)
    limits = {(f.state, f.path): f.passed for f in write.found}
    return {
        "changed": [
            {
                "title": f"{titles.part(path)}: {_words(path)}",
                "before": write.shown(before),
                "after": write.shown(after),
                "bad": not limits.get((state, path), True),
            }
            for state, path, before, after in changes_of(job.expected, job)
        ]
    }


def _words(path: str) -> str:
    name = path.rpartition(".")[2]
    return WORDS.get(name) or plain_words(path)
