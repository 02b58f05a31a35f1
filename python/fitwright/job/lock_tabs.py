"""The lock tabs of a job's nut, with the compliance of its whole joint."""

from __future__ import annotations

from typing import Any

import numpy as np

from fitwright.fields.units import Number
from fitwright.job.findings import evaluate
from fitwright.job.value import Job
from fitwright.models.parts import Nut
from fitwright.threads.formulas import LockTabsResult, lock_tabs

__all__ = ["lock_tabs_of"]


def lock_tabs_of(
    job: Job,
    *,
    tabs: Number = None,
    slots: Number = None,
    torque_low: Number = None,
    torque_high: Number = None,
    torque_limit: Number = None,
    miss: Number = None,
) -> LockTabsResult:
    """See `Job.lock_tabs`."""
    table, lock = job.file.table("nut") or {}, job.file.table("lock") or {}
    tabs = lock.get("tabs") if tabs is None else tabs
    slots = lock.get("slots") if slots is None else slots
    torque_low = _window(job, "torque_window_low") if torque_low is None else torque_low
    torque_high = _window(job, "torque_window_high") if torque_high is None else torque_high
    if miss is None and lock and np.isfinite(job["lock.miss"]):
        miss = float(job["lock.miss"])
    given: dict[str, Any] = {}
    for field in Nut._declaration["fields"]:
        name = field["name"]
        if field["kind"] == "choice":
            given[name] = table.get(name, field["words"].split("|")[0])
        elif np.isfinite(job[f"nut.{name}"]):
            given[name] = float(job[f"nut.{name}"])
    # The metal of the nut does not enter here: its softness is in the compliance.
    nut = Nut(**given, material="1045")
    return lock_tabs(
        nut=nut,
        tabs=tabs,
        slots=slots,
        torque_low=torque_low,
        torque_high=torque_high,
        torque_limit=torque_limit,
        miss=miss,
        compliance=float(evaluate(job, level="quick")[job.states[0], "stack.compliance"]),
        shaft_bore=float(job["shaft.bore"]),
    )


def _window(job: Job, name: str) -> float | None:
    value = float(job[f"nut.{name}"])
    return value if np.isfinite(value) else None
