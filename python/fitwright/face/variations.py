"""What follows when a job's parts change: rings matched to shafts, tolerances."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from fitwright.face.verbs import Verbs
from fitwright.fields.arguments import checked
from fitwright.job.value import Job

if TYPE_CHECKING:
    from fitwright.studies.assign import Allocation, Match


@checked
class Variations(Verbs, Job):
    """Methods of `fw.Job`: what follows when its parts change."""

    def match(self, seats: Any, rings: Mapping[str, Any], *, rounds: int = 4) -> Match:
        """Measured rings to measured shafts: the assignment with most good sets and, of those, most
        reserve. Needs SciPy (the extra `study`).

        `seats`: measured diameters of one seat; `rings`: measured bores by name of ring. Several
        kinds of ring are assigned one after the other, at most `rounds` times.

        >>> import fitwright as fw
        >>> job = fw.demo("blower")
        >>> seats = ["80.035 mm", "80.038 mm"]
        >>> answer = job.match(seats, {"sleeve": ["79.996 mm", "79.993 mm"]})
        """
        from fitwright.studies.assign import match

        return match(self, seats, rings, rounds)

    def allocate(
        self,
        paths: str | Sequence[str],
        rate: float = 0.99,
        *,
        costs: Mapping[int, float] | Mapping[str, Mapping[int, float]] | None = None,
        seed: int = 1,
        samples: int = 100_000,
    ) -> Allocation:
        """The cheapest ISO 286 grades of some sizes that keep a pass rate, checked by a study.

        Each size is taken as normal about its value, six deviations wide. `costs`: cost of each
        grade, {6: 1.8, 7: 1.0}, or one such table per path; a plain one is built in.

        `paths` are the sizes, `rate` the share that must be good, `samples` with `seed` those of
        the study.

        >>> import fitwright as fw
        >>> job = fw.demo("blower")
        >>> answer = job.allocate(["seats.main.diameter", "rings.sleeve.bore"], 0.90)
        """
        from fitwright.studies.assign import allocate

        return allocate(self, paths, rate, costs, seed, samples)
