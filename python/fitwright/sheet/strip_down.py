"""What comes off in which order, with the heat or the pull of each part."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from fitwright.fields.errors import InputError
from fitwright.job.rings import loosen
from fitwright.job.slices import slice_paths
from fitwright.sheet.order import took_off

if TYPE_CHECKING:
    from fitwright.heat import LoosenResult
    from fitwright.sheet.digits import BenchWriter
    from fitwright.sheet.writer import Writer

__all__ = ["calculated_pulls", "coming_off", "heat_flux"]

#: A ring stays free for ever by what the core tells as this or more [s].
FOR_EVER = 1e9


def coming_off(write: BenchWriter, rings: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """The parts from the nut to the shoulder; heat and pull of those that grip."""
    rows = {str(row["name"]): row for row in write.job.file.rows("ring")}
    bearing = write.job.file.table("bearing") or {}
    inner = [str(name) for name in bearing.get("inner_rings", [])]
    lock = write.job.file.table("lock")
    parts: list[dict[str, Any]] = []
    if lock is not None:
        kind = str(lock.get("kind", "lock"))
        parts.append(
            {"title": kind, "grips": False, "tight": "", "sort": "lock", "second_half": False}
        )
    for ring in reversed(rings):
        name = ring["name"]
        parts.append(
            {
                "title": ring["title"],
                "grips": ring["grips"],
                "tight": ring["effective"] if ring["is_tight"] and not ring["grips"] else "",
                "sort": "bearing" if name in inner else "grips" if ring["grips"] else "slides",
                "second_half": len(inner) == 2 and name == inner[1],
                **(_gripping(write, rows[name], ring) if ring["grips"] else {}),
            }
        )
    return parts


def calculated_pulls(write: BenchWriter, titles: dict[str, str]) -> list[tuple[str, str]]:
    """Parts that a step of the job pulls off, with its force."""
    return [
        (titles.get(part, part), write.output("stack.pull_force", step))
        for part, step in took_off(write.job).items()
    ]


def _gripping(write: BenchWriter, row: dict[str, Any], ring: dict[str, Any]) -> dict[str, Any]:
    here = f"rings.{row['name']}"
    told = {"limit": ring["limit"], "pull": "", "difference": "", "heating": "", "free": ""}
    if not ring["hot"]:
        return told
    told["pull"] = write.output(f"{here}.take_off.cold_pull_high")
    told["difference"] = write.output(f"{here}.take_off.difference_free")
    loose = _loosen(write, row)
    if loose is None:
        told["heating"], told["free"] = "-", "pull while warm"
    else:
        told["heating"] = write.value(float(loose.time_to_free), "time")
        free = float(loose.time_free)
        told["free"] = "stays free" if free >= FOR_EVER else write.no_more(free)
    return told


def _loosen(write: Writer, row: dict[str, Any]) -> LoosenResult | None:
    if slice_paths(row):
        return None  # a ring with steps warms unevenly
    try:
        return loosen(write.job, str(row["name"]), None, {})
    except InputError:
        return None


def heat_flux(write: BenchWriter) -> str:
    """The heat per area the times are told for: the standard one of `heat.loosen`."""
    from fitwright.heat.curves import told

    for row in write.job.file.rows("ring"):
        if row.get("joint", "grip") == "grip" and (loose := _loosen(write, row)) is not None:
            return write.value(told(loose, "heat_flux"), "heat_flux")
    return ""
