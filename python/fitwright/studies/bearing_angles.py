"""Contact angles of a job's bearing against its speed."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from fitwright.fields.errors import InputError
from fitwright.fields.units import Number
from fitwright.job.running import require_bearing, state_title
from fitwright.job.value import Job
from fitwright.studies.sweep import run_sweep

if TYPE_CHECKING:
    from matplotlib.axes import Axes

__all__ = ["draw_angles"]


def draw_angles(
    job: Job, state: str, speed: tuple[Number, Number, int] | Sequence[Number] | None
) -> Axes:
    from fitwright.charts.bearing import angles_against_speed

    require_bearing(job)
    title = state_title(job, state)
    path = f"states.{state}.speed"
    told = float(job[path])
    if speed is None and told <= 0.0:
        raise InputError([("speed", f"must be given: state {state} stands still")])
    names = ("bearing.inner_angle", "bearing.outer_angle")
    swept = run_sweep(
        job.at_level("quick"), {path: (0.0, told, 101) if speed is None else speed}, outputs=names
    )
    inner, outer = (swept[state, name] for name in names)
    axes = angles_against_speed(swept.inputs[path], inner, outer)
    axes.set_title(f"{job.title}: {title}, {job[f'states.{state}.thrust'].shown()}", fontsize=10)
    return axes
