"""A ring whose outside has steps, as pictures and sheets want it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from fitwright.fields.value import Value
from fitwright.job.tables import slices_of

if TYPE_CHECKING:
    from fitwright.job.value import Job


def slice_paths(row: dict[str, Any]) -> list[str]:
    """Where the inputs and outputs of a ring's slices lie: rings.NAME.slice1 and so on."""
    return [f"rings.{row['name']}.slice{number + 1}" for number in range(len(slices_of(row)))]


def outside_of(job: Job, row: dict[str, Any]) -> Value:
    """The outside of a ring: as given, or that of its widest slice."""
    given = job[f"rings.{row['name']}.outside"]
    slices = slice_paths(row)
    if not slices:
        return given
    return Value(
        max(float(job[f"{path}.outside"]) for path in slices), given.quantity, given.system
    )


def length_of(job: Job, row: dict[str, Any]) -> Value:
    """The length of a ring: as given, or all of its slices."""
    given = job[f"rings.{row['name']}.length"]
    slices = slice_paths(row)
    if not slices:
        return given
    return Value(sum(float(job[f"{path}.length"]) for path in slices), given.quantity, given.system)
