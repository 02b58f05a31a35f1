"""The bearing of a job: from state to state, ball by ball, and in pictures."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from fitwright.fields.arguments import checked
from fitwright.fields.tables import Table
from fitwright.fields.units import Number
from fitwright.job.value import Job

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from fitwright.bearings.balls import Balls


@checked
class BearingOfJob:
    """`job.bearing`: the bearing with the numbers of the job.

    >>> print(job.bearing.table())
    """

    def __init__(self, job: Job) -> None:
        self._job = job

    def __repr__(self) -> str:
        return f"<bearing of {self._job.title!r}>"

    def table(self, units: str | None = None) -> Table:
        """The bearing in every state: angles, stresses and edges at speed; with a table [service]
        film, lives and creep as well. A life is a statistic, not a promise."""
        from fitwright.job.running import bearing_table

        return bearing_table(self._job, units or self._job.units)

    def frequencies(self, units: str | None = None) -> Table:
        """What a probe at the casing hears of the bearing, in each state that turns."""
        from fitwright.job.running import frequencies_table

        return frequencies_table(self._job, units or self._job.units)

    def waterfall(self, state: str | None = None) -> Axes:
        """Where the clearance went, from the bench to a state (the last one when left out)."""
        from fitwright.job.running import draw_waterfall

        return draw_waterfall(self._job, state)

    def angles(
        self, state: str, speed: tuple[Number, Number, int] | Sequence[Number] | None = None
    ) -> Axes:
        """Contact angles at both rings against the speed, from rest to that of the state when left
        out, all else as in that state."""
        from fitwright.studies.bearing_angles import draw_angles

        return draw_angles(self._job, state, speed)

    def balls(self, state: str | None = None) -> Balls:
        """Every ball of the bearing in a state (the last one when left out): loads, angles,
        stresses as arrays, and the stiffness of the bearing. The first ball stands where
        `radial_load` points; without loads across the shaft all balls are alike."""
        from fitwright.job.running import balls_in

        return balls_in(self._job, state)

    def loads(self, state: str | None = None) -> Axes:
        """Picture of the ball loads and contact angles round the ring in a state (the last one
        when left out); a load towards the first ball is drawn downwards."""
        from fitwright.job.running import draw_loads

        return draw_loads(self._job, state)
