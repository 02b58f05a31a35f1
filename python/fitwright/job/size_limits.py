"""How much a job file may hold: one table of the core's, looked at before anything is laid out."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from fitwright import _core
from fitwright.fields.errors import InputError

#: name -> (the most, of what), such as "states" -> (100, "states in a job")
LIMITS: dict[str, tuple[int, str]] = _core.count_limits()
#: Problems that are told of one file: what comes after that many follows from the first ones.
MOST_PROBLEMS = 200
#: Tables of a job file that are counted.
COUNTED = {
    "seat": "seats",
    "ring": "rings",
    "seal": "seals",
    "state": "states",
    "step": "steps",
    "limit": "limits",
    "material": "materials",
    "correlation": "correlations",
}


def most(name: str) -> int:
    return LIMITS[name][0]


def too_many(name: str, count: int) -> str:
    """Empty, or "300: at most 100 states in a job"."""
    limit, what = LIMITS[name]
    return "" if count <= limit else f"{count}: at most {limit} {what}"


def check_counts(document: Mapping[str, Any]) -> None:
    """Refuses a document that holds too many of anything."""
    counts = [
        (kind, too_many(name, len(rows)))
        for kind, name in COUNTED.items()
        if isinstance(rows := document.get(kind), list)
    ]
    problems = [(kind, text) for kind, text in counts if text]
    if problems:
        raise InputError(problems)
