"""What the sheet says of a ring that no oven opens, that yields, or that stands off its face."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from fitwright.fields.errors import InputError
from fitwright.job.rings import chill, yielding
from fitwright.job.slices import slice_paths

if TYPE_CHECKING:
    from fitwright.sheet.writer import Writer

__all__ = ["chill_words", "stand_off_words", "yielding_words"]


def chill_words(write: Writer, name: str) -> str:
    """What opens a fit that no oven opens, or why nothing does; nothing where the oven does."""
    if write.found[write.built, f"rings.{name}.oven_margin"] >= 0.0:
        return ""
    try:
        plan = chill(write.job, name, None)
    except InputError as error:
        return f"Nor does a chilled shaft: {error.problems[0][1]}."
    heat, cold, spare = (
        write.value(float(value), quantity)
        for value, quantity in (
            (plan.ring_temperature, "temperature"),
            (plan.shaft_needed, "temperature"),
            (plan.chill_margin, "difference"),
        )
    )
    return (
        f"With the ring at its limit of {heat} the shaft must be at {cold} or colder; the data of "
        f"its metal end {spare} below that. Whether it may be so cold the maker's manual says."
    )


def stand_off_words(write: Writer, row: dict[str, Any]) -> str:
    """Ways to shut a ring that may stand off its face by more than it may; else nothing."""
    here = f"rings.{row['name']}.seating"
    if write.found[write.built, f"{here}.gap_margin"] >= 0.0:
        return ""
    gap, slide, least = (
        write.output(f"{here}.{name}") for name in ("gap_high", "press_to_slide", "gap_least")
    )
    allowed = write.input(f"rings.{row['name']}.allowed_gap")
    outside = (
        f" A press held from outside leaves {least} at the least, however hard: pull on the shaft."
        if row.get("press_against") == "outside"
        else ""
    )
    return (
        f"up to {gap}, where {allowed} may stay. Cool the end at its face first, so that it grips "
        f"there first; press harder while it cools: {slide} slides it home even when cold.{outside}"
    )


def yielding_words(write: Writer, row: dict[str, Any]) -> str:
    """What a fit that yields holds and leaves; nothing where it stays elastic as built."""
    name = str(row["name"])
    slices = slice_paths(row)
    words = []
    for number, path in enumerate(slices or [f"rings.{name}"]):
        if write.found[write.built, f"{path}.ring_yield_use"] <= 1.0:
            continue
        where = f"Slice {number + 1}: " if slices else ""
        try:
            out = yielding(write.job, name, None, number + 1 if slices else None, {})
        except InputError as error:
            words.append(f"{where}{error.problems[0][1]}.")
            continue
        shown = {
            field: write.value(float(getattr(out, field)), quantity)
            for field, quantity in (
                ("pressure", "stress"),
                ("elastic_pressure", "stress"),
                ("holding_force", "force"),
                ("permanent_bore_growth", "fine"),
                ("permanent_outside_growth", "fine"),
                ("next_interference", "fine"),
            )
        }
        words.append(
            f"{where}{out.plastic_share:.0%} of the section yields; the pressure is "
            f"{shown['pressure']} (elastic {shown['elastic_pressure']}), it holds "
            f"{shown['holding_force']} along the shaft. Taken off, the bore stays "
            f"{shown['permanent_bore_growth']} larger, the outside "
            f"{shown['permanent_outside_growth']}, and {shown['next_interference']} of "
            f"interference is left for the next time."
        )
    return " ".join(words)
