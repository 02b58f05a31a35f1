"""Forces at nut and shoulder against the thrust of a state, and where a face opens."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING, Any

from fitwright.fields.arguments import checked
from fitwright.fields.errors import InputError
from fitwright.fields.tables import Table
from fitwright.fields.units import in_system
from fitwright.fields.value import Value
from fitwright.job.findings import evaluate
from fitwright.job.value import Job
from fitwright.studies.sweep import run_sweep

if TYPE_CHECKING:
    from matplotlib.axes import Axes

__all__ = ["JointDiagram", "usual_thrust"]


@checked
class JointDiagram:
    """Forces at nut and shoulder against the thrust of a state. `.table()`, `.plot()`."""

    def __init__(self, job: Job, state: str, thrust: Any) -> None:
        given = usual_thrust(job, state) if thrust is None else thrust
        here = job.at_level("history")
        path = f"states.{state}.thrust"
        wanted = ("nut.clamp", "shoulder.clamp", "nut.clamp_least", "shoulder.clamp_least")
        swept = run_sweep(here, {path: given}, outputs=list(wanted))
        self.job, self.state = job, state
        self.thrust = swept.inputs[path]
        self.nut, self.shoulder, self.nut_least, self.shoulder_least = (
            swept[state, output] for output in wanted
        )

    @property
    def opens(self) -> list[tuple[str, Value]]:
        """Where a face opens at the least of its force: "shoulder" or "nut", and the thrust."""
        found = []
        for name, force in (("shoulder", self.shoulder_least), ("nut", self.nut_least)):
            nothing = 1e-6 * max(float(force.max()), 1.0)
            along = itertools.pairwise(zip(self.thrust, force > nothing, strict=True))
            for (one, shut), (next_one, next_shut) in along:
                if shut != next_shut:
                    found.append((name, Value(0.5 * float(one + next_one), "force")))
        return found

    def table(self, units: str | None = None) -> Table:
        units = in_system(units, self.job.units)
        rows = [
            [Value(float(x), "force").shown(units) for x in row]
            for row in zip(self.thrust, self.nut, self.shoulder, strict=True)
        ]
        told = "".join(f"; {name} opens at {at.shown(units)}" for name, at in self.opens)
        title = f"joint in state {self.state}{told}"
        return Table(["thrust", "nut", "shoulder"], rows, title=title)

    def plot(self, units: str | None = None) -> Axes:
        """Nut and shoulder force against thrust; the point where a face opens is marked."""
        from fitwright.charts.stack import JointForces, joint_diagram

        forces = JointForces(
            self.thrust, self.nut, self.shoulder, self.nut_least, self.shoulder_least
        )
        opens = [(name, float(at)) for name, at in self.opens]
        here = float(self.job[f"states.{self.state}.thrust"])
        return joint_diagram(forces, opens, here, in_system(units, self.job.units))

    def __repr__(self) -> str:
        return str(self.table())

    def _repr_html_(self) -> str:
        return self.table()._repr_html_()


def usual_thrust(job: Job, state: str) -> tuple[float, float, int]:
    """Both ways to where a face opens, and at least to twice the thrust of the state.

    No farther than four times the tightening force, nor than the job has an answer.
    """
    preload = float(evaluate(job, level="quick")[job.states[0], "nut.preload"])
    least = 2.0 * abs(float(job[f"states.{state}.thrust"])) or preload
    low, high = (_reach(job, state, sign, least, 4.0 * preload) for sign in (-1.0, 1.0))
    return -low, high, 41


def _reach(job: Job, state: str, sign: float, least: float, most: float) -> float:
    faces = ("shoulder.clamp_least", "nut.clamp_least")
    here, path, reach = job.at_level("history"), f"states.{state}.thrust", least
    while reach < most:
        reach = min(1.5 * reach, most)
        try:
            found = evaluate(here.replace({path: sign * reach}), level="history")
        except InputError:
            break
        if min(float(found[state, face]) for face in faces) <= 0.0:
            return min(1.2 * reach, most)
    return least
