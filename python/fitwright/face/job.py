"""A job with all its questions: what a user loads and asks."""

from __future__ import annotations

import os
import warnings
from collections.abc import Mapping
from importlib import resources
from typing import Any, Self

from fitwright import _core
from fitwright.face.bearing import BearingOfJob
from fitwright.face.papers import Papers
from fitwright.face.questions import Questions
from fitwright.face.ring import RingOfJob
from fitwright.face.variations import Variations
from fitwright.fields.arguments import checked
from fitwright.fields.errors import InputError
from fitwright.fields.tables import Table
from fitwright.fields.units import Number
from fitwright.fields.value import Value
from fitwright.job.measured import changes_of, table_of_readings, with_readings

__all__ = ["Job", "MeasuredJob", "demo"]

#: What was a method of the job and now is one of a group, for one version more.
FORMER = {
    "bearing_table": "bearing.table",
    "frequencies": "bearing.frequencies",
    "bearing_waterfall": "bearing.waterfall",
    "bearing_angles": "bearing.angles",
    "bearing_balls": "bearing.balls",
    "bearing_loads": "bearing.loads",
    **{
        name: f"ring(NAME).{name}"
        for name in ("yielding", "chill", "slip_on", "seating", "soak", "loosen")
    },
}


@checked
class Job(Questions, Variations, Papers):
    """Parts, states and limits; made by `Job.load`, `Job.loads` or `fw.demo`."""

    def ring(self, name: str) -> RingOfJob:
        """One ring with the numbers of the job: `job.ring("sleeve").slip_on()`.

        `name` is that of a ring of the job.

        >>> import fitwright as fw
        >>> job = fw.demo("blower")
        >>> answer = job.ring("sleeve").soak().soak_time
        """
        if name not in self.rings:
            known = ", ".join(self.rings)
            raise InputError([("ring", f'"{name}" is not a ring of this job: {known}')])
        return RingOfJob(self, name)

    @property
    def bearing(self) -> BearingOfJob:
        """The bearing with the numbers of the job: `job.bearing.loads("full_load")`."""
        return BearingOfJob(self)

    def measured(
        self,
        readings: Mapping[str, Number] | str | os.PathLike[str],
        *,
        gauge: Mapping[str, Number] | Number = None,
    ) -> MeasuredJob:
        """The job with readings in place of what was expected; its sheet shows both.

        `readings` by path of the input, or a CSV file or spreadsheet (.xlsx, the extra
        `spreadsheet`) with the columns `path` and `reading`. What was measured no longer scatters,
        but for the standard uncertainty of the `gauge` (one for all, or by path). A size that is
        more than 2 % off what was expected is refused as a slip of the pen or of the unit.

        >>> as_built = job.measured({"seats.main.diameter": "80.034 mm"}, gauge="1 um")
        >>> as_built.sheet("bench.html", serial="R-0042"); as_built.save("as_built.toml")
        """
        there, found = with_readings(self, readings, gauge)
        made = MeasuredJob(there.core, there.file, there.spreads)
        made._chosen = there.chosen_level
        made.expected, made.readings = self, found
        return made

    def __getattr__(self, name: str) -> Any:
        now = FORMER.get(name)
        if now is None:
            raise AttributeError(f"'{type(self).__name__}' object has no attribute '{name}'")
        warnings.warn(
            f"Job.{name} is now Job.{now}; the old name goes with the next version",
            DeprecationWarning,
            stacklevel=2,
        )
        if now.startswith("bearing."):
            return getattr(self.bearing, now.removeprefix("bearing."))
        return lambda ring, *given, **named: getattr(self.ring(ring), name)(*given, **named)


@checked
class MeasuredJob(Job):
    """A job with readings in it. `.expected` is the job before, `.readings` are by path."""

    expected: Job

    def _like(self, core: _core.Job, spreads: Mapping[str, _core.Spread]) -> Self:
        there = super()._like(core, spreads)
        there.expected, there.readings = self.expected, dict(self.readings)
        return there

    def replace(self, changes: Mapping[str, Number | Mapping[str, Any]]) -> Self:
        """A new job with other values; what is replaced no longer is a reading."""
        there = super().replace(changes)
        there.readings = {p: r for p, r in self.readings.items() if p not in changes}
        return there

    def changed(self) -> list[tuple[str, str, Value, Value]]:
        """State, path, and value before and after, of what the shop works by."""
        return changes_of(self.expected, self)

    def table(self, units: str | None = None) -> Table:
        """Readings, what was expected, and how far off they are."""
        return table_of_readings(self, self.readings, units or self.units)


@checked
def demo(name: str = "blower") -> Job:
    """One of the demo jobs that come with the library."""
    folder = resources.files("fitwright") / "demos"
    known = sorted(p.name[:-5] for p in folder.iterdir() if p.name.endswith(".toml"))
    if name not in known:
        raise InputError([("name", f'"{name}" is not a demo; there is {", ".join(known)}')])
    return Job.loads((folder / f"{name}.toml").read_text(encoding="utf-8"))
