"""One ring of a job: on from the oven, off again, in its chill, where it yields."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from fitwright.fields.arguments import checked
from fitwright.fields.units import Number
from fitwright.job.value import Job

if TYPE_CHECKING:
    from fitwright.heat import ChillResult, LoosenResult, SeatingResult, SlipOnResult, SoakResult
    from fitwright.rings import ElasticPlasticFitResult


@checked
class RingOfJob:
    """`job.ring(NAME)`: one ring, with the numbers of the job.

    >>> job.ring("sleeve").slip_on().time_to_grip
    """

    def __init__(self, job: Job, name: str) -> None:
        self._job, self.name = job, name

    def __repr__(self) -> str:
        return f"<ring {self.name!r} of {self._job.title!r}>"

    def yielding(
        self, state: str | None = None, *, slice: int | None = None, **more: Any
    ) -> ElasticPlasticFitResult:
        """What a ring holds that yields when it is put on, and what that leaves for ever.

        A job counts every ring as elastic: where `ring_yield_use` is above 1 its pressure and grip
        are too high. This is `rings.elastic_plastic_fit` with the job's numbers: joined at rest at
        the temperatures of the first state, no clamp and no end effect, then at the speed of
        `state`. Where the whole wall yields it is refused, and the message tells the ways out.

        Parameters
        ----------
        state : whose speed is asked for; the first one (at rest) when left out
        slice : of a ring with steps, 1 nearest to the shoulder
        more : ring_yield, ring_tangent_modulus and so on as for fw.rings.elastic_plastic_fit

        >>> found = job.ring("sleeve").yielding("overspeed")
        >>> found.pressure, found.plastic_share, found.permanent_bore_growth
        """
        from fitwright.job.rings import yielding

        return yielding(self._job, self.name, state, slice, more)

    def chill(self, *, shaft_lowest: Number = None) -> ChillResult:
        """How cold the shaft must be where a ring, at its heating limit, does not slip on.

        `heat.chill` with the job's numbers, the shaft as in the first state. `shaft_lowest`: the
        lowest temperature the shaft may see; the end of its material's data when left out.

        >>> plan = job.ring("sleeve").chill()
        >>> plan.ring_temperature, plan.shaft_needed, plan.chill_margin
        """
        from fitwright.job.rings import chill

        return chill(self._job, self.name, shaft_lowest)

    def slip_on(self, *, slice: int | None = None) -> SlipOnResult:
        """A ring from the oven until it is cold: `heat.slip_on` with the job's numbers.

        The job's own `slip_on.` outputs are of this run, of a ring with steps of one of its even
        section; `slice` names one of its steps (1 nearest to the shoulder) as if it went on alone.
        `fw.heat.draw` of the result draws sizes against temperature with window and grab.

        >>> fw.heat.draw(job.ring("sleeve").slip_on())
        """
        from fitwright.job.rings import slip_on

        return slip_on(self._job, self.name, slice)

    def seating(self, *, slice: int | None = None) -> SeatingResult:
        """The gap a ring leaves as it cools: `heat.seating` with the job's numbers.

        `fw.heat.draw` of the result draws the gap against the press force.

        >>> fw.heat.draw(job.ring("sleeve").seating())
        """
        from fitwright.job.rings import seating

        return seating(self._job, self.name, slice)

    def soak(self, *, slice: int | None = None, **oven: Any) -> SoakResult:
        """How long a ring must lie in the oven until it is hot to its core: `heat.soak` with the
        job's numbers. `oven`: oven, oven_film, emissivity and so on as for fw.heat.soak.

        >>> job.ring("sleeve").soak(oven_film=15.0).soak_time
        """
        from fitwright.job.rings import soak

        return soak(self._job, self.name, slice, oven)

    def loosen(self, *, slice: int | None = None, **heat: Any) -> LoosenResult:
        """How long heating frees a ring, and how long it stays free: `heat.loosen` with the job's
        numbers. `heat`: heater, heat_flux, skin_depth, bath and so on as for fw.heat.loosen.

        >>> job.ring("sleeve").loosen(heat_flux="300 kW/m^2").time_free
        """
        from fitwright.job.rings import loosen

        return loosen(self._job, self.name, slice, heat)
