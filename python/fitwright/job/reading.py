"""A reading of a size or a condition, beside what was expected of it."""

from __future__ import annotations

from typing import NamedTuple

from fitwright.fields.value import Value

__all__ = ["Reading"]


class Reading(NamedTuple):
    """One reading beside what was expected."""

    path: str
    value: Value
    expected: Value
    deviation: Value
    #: beyond three standard deviations, or beyond the ends of its scatter; None without a scatter
    outside: bool | None
