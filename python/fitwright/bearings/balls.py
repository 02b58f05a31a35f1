"""The balls of a loaded bearing one by one, and pictures of a bearing.

result = fw.bearings.equilibrium(bearing=..., thrust="5 kN", radial_load="2 kN", ...)
balls = fw.bearings.ball_by_ball(result)
balls.inner_load, balls.outer_angle, balls.stiffness
balls.draw()
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from fitwright import _core
from fitwright.fields.arguments import checked
from fitwright.fields.errors import InputError
from fitwright.fields.units import UnitProblem, to_si
from fitwright.models.results import Arguments, Result, call

if TYPE_CHECKING:
    from fitwright.charts.picture import Picture

__all__ = ["Balls", "ball_by_ball", "draw_angles", "draw_clearance"]


class Balls:
    """Arrays by ball, SI; the first ball stands where the radial load points."""

    def __init__(self, found: _core.BallByBall) -> None:
        def column(name: str) -> NDArray[np.float64]:
            return np.asarray(getattr(found, name), dtype=np.float64)

        self.inner_load = column("inner_load")
        self.outer_load = column("outer_load")
        self.inner_angle = column("inner_angle")
        self.outer_angle = column("outer_angle")
        self.inner_peak = column("inner_peak")
        self.outer_peak = column("outer_peak")
        self.centrifugal_force = column("centrifugal_force")
        self.gyroscopic_moment = column("gyroscopic_moment")
        #: forces per displacement: axial, radial, radial across, about the first ball, about 90 deg
        self.stiffness = np.asarray(found.stiffness, dtype=np.float64)

    def draw(self) -> Picture:
        """Loads and contact angles around the ring."""
        from fitwright.charts.bearing import ball_loads

        return ball_loads(self.inner_load, self.outer_load, self.inner_angle, self.outer_angle)


@checked
def ball_by_ball(result: Result) -> Balls:
    """Every ball of a result of `fw.bearings.equilibrium` that was asked at one point.

    `result` is one bearing in one state; the answer has loads and angles as arrays, one entry a
    ball.

    >>> import fitwright as fw
    >>> bearing = fw.Bearing(
    ...     balls=14, ball_diameter="19 mm", pitch_diameter="110 mm", inner_curvature=0.52,
    ...     outer_curvature=0.53, clearance="250 um", material="52100",
    ... )
    >>> whole = fw.bearings.equilibrium(
    ...     bearing=bearing, thrust="5 kN", radial_load="2 kN", speed="12000 rpm", material="52100"
    ... )
    >>> answer = fw.bearings.ball_by_ball(whole)
    """
    if result._model != "bearings.equilibrium":
        raise InputError([("result", f"must come from bearings.equilibrium, not {result._model}")])
    read = Arguments(result._model, result._arguments)
    if read.are_arrays:
        raise InputError([("result", "holds arrays; ask for one bearing at a time")])
    return Balls(_core.balls_of([float(v) for v in read.values], read.materials))


@checked
def draw_angles(result: Result, speeds: Sequence[float] | NDArray[np.float64]) -> Picture:
    """Contact angles of a `thrust_equilibrium` against speed [rad/s], all else as in the result.

    `result` is one bearing in one state, `speeds` the speeds of the curve, two or more.

    >>> import fitwright as fw
    >>> bearing = fw.Bearing(
    ...     balls=14, ball_diameter="19 mm", pitch_diameter="110 mm", inner_curvature=0.52,
    ...     outer_curvature=0.53, clearance="250 um", material="52100",
    ... )
    >>> there = fw.bearings.thrust_equilibrium(
    ...     bearing=bearing, thrust="5 kN", speed="12000 rpm", material="52100"
    ... )
    >>> answer = fw.bearings.draw_angles(there, [200.0, 600.0, 1200.0])
    """
    from fitwright.charts.bearing import angles_against_speed

    if result._model != "bearings.thrust_equilibrium":
        told = f"must come from bearings.thrust_equilibrium, not {result._model}"
        raise InputError([("result", told)])
    try:
        at = np.atleast_1d(np.asarray(to_si(speeds, "speed"), dtype=np.float64))
    except UnitProblem as problem:
        raise InputError([("speeds", str(problem))]) from problem
    if at.ndim != 1 or len(at) < 2:
        raise InputError([("speeds", "must be a list of two speeds or more")])
    arguments: dict[str, Any] = {**result._arguments, "speed": at}
    swept = call(type(result), arguments)
    return angles_against_speed(at, swept.inner_angle, swept.outer_angle)


def _is_one(value: Any) -> bool:
    return isinstance(value, int | float) and value - value == 0.0


@checked
def draw_clearance(steps: Mapping[str, float]) -> Picture:
    """A waterfall of the clearance: the first value stands [m], the others add to it.

    `steps` has the name of each bar and its value [m].

    >>> import fitwright as fw
    >>> answer = fw.bearings.draw_clearance({"as bought": 40e-6, "fit": -18e-6, "heat": -6e-6})
    """
    from fitwright.charts.bearing import clearance_waterfall

    wrong = [(f"steps.{k}", "must be a number") for k, v in steps.items() if not _is_one(v)]
    if wrong or not steps:
        raise InputError(wrong or [("steps", "name at least one value")])
    return clearance_waterfall(steps)
