"""What stands still in a study though it does not in a shop: inputs that were given no scatter."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from fitwright.job.system import System

#: Inputs that no shop holds exactly, by table and field.
MEASURED = {
    "seats": {"diameter"},
    "rings": {"bore", "oven", "press"},
    "nut": {"torque"},
    "bearing": {"clearance"},
    "states": {"shaft_temperature", "thrust", "oil_temperature", "radial_load", "moment"},
}
ROOM = 20.0


def standing(job: System) -> list[str]:
    """Paths of inputs without scatter: those whose own ends lie apart, and what is measured, set or
    guessed (sizes of fits, torque, presses, ovens, temperatures and loads of the states)."""
    values = dict(zip((row[0] for row in job.input_rows), job.asked.values(), strict=True))
    found = []
    for path, value in values.items():
        if path in job.spreads or path.endswith(("_low", "_high")):
            continue
        low, high = values.get(f"{path}_low"), values.get(f"{path}_high")
        apart = low is not None and high is not None and low < high
        if apart or (np.isfinite(value) and _is_measured(path, value)):
            found.append(path)
    return found


def _is_measured(path: str, value: float) -> bool:
    if "." not in path:  # of a single model
        return False
    table, *_, field = path.split(".")
    if ".lags." in path or ".torques." in path:
        return value != 0.0
    if field not in MEASURED.get(table, ()):
        return False
    return value != (ROOM if field == "shaft_temperature" else 0.0)


def grouped(paths: Sequence[str], most: int = 6) -> str:
    """Paths for one line: names of rings, states and parts as *, with how many stand behind it."""
    groups: dict[str, list[str]] = {}
    for path in paths:
        names = path.split(".")
        if names[0] in ("rings", "states", "seats", "seals"):
            names[1] = "*"
        if "lags" in names or "torques" in names:
            names[-1] = "*"
        groups.setdefault(".".join(names), []).append(path)
    shown = [
        own[0] if len(own) == 1 else f"{name} ({len(own)})"
        for name, own in list(groups.items())[:most]
    ]
    rest = sum(len(own) for own in list(groups.values())[most:])
    return ", ".join(shown) + (f" and {rest} more" if rest else "")
