"""The steps of a job one after the other: what each face, seat and the nut carry after each."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from fitwright.arguments import checked
from fitwright.errors import InputError
from fitwright.findings import Value
from fitwright.tables import Table
from fitwright.units import in_system

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from fitwright.job import Job

__all__ = ["Face", "History", "JointDiagram", "Seat", "StepState"]

#: What a step of each kind does, for tables and sheet.
DONE = {
    "slip_on": "slip on",
    "press": "press",
    "release": "release the press",
    "nut_on": "nut up by hand",
    "tighten": "tighten",
    "lock": "lock the nut",
    "state": "state",
    "loosen": "loosen the nut",
    "pull": "pull off",
    "repeat": "again",
}
#: How a point of a seat stands: the core's numbers.
GRIPS = ("apart", "holds", "slides to the shoulder", "slides to the nut")


class Face(NamedTuple):
    """One pair of faces: between what, the force through it, and the gap."""

    name: str
    force: Value
    gap: Value


class Seat(NamedTuple):
    """A part's seat along the shaft, as arrays (SI); how each point stands in words."""

    part: str
    place: NDArray[np.float64]
    pressure: NDArray[np.float64]
    friction: NDArray[np.float64]
    slip: NDArray[np.float64]
    grip: list[str]
    force: Value


class StepState(NamedTuple):
    """The stack after one step. `faces` run from the shoulder to the nut."""

    name: str
    kind: str
    title: str
    faces: list[Face]
    seats: list[Seat]
    nut: Value
    nut_travel: Value
    dissipated: float


@checked
class History:
    """What `Job.history` found, step by step. `history["full_load"]`, `.table()`, `.plot()`."""

    def __init__(self, job: Job) -> None:
        self.job = job
        found, begin = job._core.history()
        titles = step_titles(job)
        parts = [*job.rings, *(["lock"] if job._file.table("lock") is not None else [])]
        names = [*parts, "nut"]
        self.steps: list[StepState] = []
        for (name, kind, *_), row in zip(job._core.steps(), found, strict=True):
            faces, seats, seat_force, nut, travel, dissipated = row
            self.steps.append(
                StepState(
                    name,
                    kind,
                    titles[name],
                    [
                        Face(f"{side}", Value(force, "force"), Value(gap, "fine"))
                        for side, (force, gap) in zip(
                            _between(["shoulder", *names]), faces, strict=True
                        )
                    ],
                    [
                        _seat(part, seats[first:last], Value(force, "force"))
                        for part, first, last, force in zip(
                            parts, begin[:-1], begin[1:], seat_force, strict=True
                        )
                        if last > first
                    ],
                    Value(nut, "force"),
                    Value(travel, "fine"),
                    dissipated,
                )
            )

    def __iter__(self) -> Iterator[StepState]:
        return iter(self.steps)

    def __len__(self) -> int:
        return len(self.steps)

    def __getitem__(self, name: str) -> StepState:
        for step in self.steps:
            if step.name == name:
                return step
        known = ", ".join(step.name for step in self.steps)
        raise InputError([("step", f'"{name}" is not a step of this job; there are {known}')])

    def table(self, units: str | None = None) -> Table:
        """Force at every face after every step; a gap where faces stand apart."""
        faces, units = self.steps[0].faces, in_system(units, self.job.units)
        rows = [
            [step.name, step.title, *(_face(face, units) for face in step.faces)]
            for step in self.steps
        ]
        return Table(
            ["step", "", *(face.name for face in faces)],
            rows,
            title="force at each face after each step, or the gap where they stand apart",
        )

    def plot(self, steps: Sequence[str] | None = None, units: str | None = None) -> Axes:
        """Force along the stack from shoulder to nut, a line for each step (or those named)."""
        from fitwright.plots.history import force_along_stack

        chosen = [self[name] for name in steps] if steps is not None else self.clamped
        return force_along_stack(self.job, chosen, in_system(units, self.job.units))

    @property
    def clamped(self) -> list[StepState]:
        """The steps from the tightening on."""
        kinds = [step.kind for step in self.steps]
        first = kinds.index("tighten") if "tighten" in kinds else 0
        return [step for step in self.steps[first:] if step.kind != "lock"]

    def __repr__(self) -> str:
        return str(self.table())

    def _repr_html_(self) -> str:
        return self.table()._repr_html_()


def step_titles(job: Job) -> dict[str, str]:
    """What each step does, in words: its title in the job file, or its kind and parts."""
    rows = {str(row["name"]): row for row in job._file.rows("step")}
    states = {str(r["name"]): str(r.get("title", r["name"])) for r in job._file.rows("state")}
    rings = {str(r["name"]): str(r.get("title", r["name"])) for r in job._file.rows("ring")}
    titles, on, clamped = {}, "", False
    for name, kind, against, state, parts in job._core.steps():
        if kind == "slip_on":
            on = " and ".join(rings.get(part, part) for part in parts)
        clamped = clamped or kind == "tighten"
        cold = state == job.states[0]
        told = {
            "slip_on": f"slip on {on}",
            "press": f"press {on}, held against the "
            + ("shaft" if against == "shaft" else "far side of the shoulder"),
            "state": f"let {on} cool"
            if cold and not clamped
            else states.get(state, state) + (", again" if cold else ""),
            "pull": f"pull off {on}",
        }.get(kind, DONE[kind])
        titles[name] = str(rows.get(name, {}).get("title", told))
    return titles


def _between(names: Sequence[str]) -> list[str]:
    return [f"{a}-{b}" for a, b in itertools.pairwise(names)]


def _face(face: Face, system: str) -> str:
    return f"gap {face.gap.shown(system)}" if face.gap > 0.0 else face.force.shown(system)


def _seat(part: str, rows: NDArray[np.float64], force: Value) -> Seat:
    place, pressure, friction, slip, grip = (rows[:, k].copy() for k in range(5))
    return Seat(part, place, pressure, friction, slip, [GRIPS[int(g)] for g in grip], force)


@checked
class JointDiagram:
    """Forces at nut and shoulder against the thrust of a state. `.table()`, `.plot()`."""

    def __init__(self, job: Job, state: str, thrust: Any) -> None:
        given = usual_thrust(job, state) if thrust is None else thrust
        here = job.at_level("history")
        path = f"states.{state}.thrust"
        wanted = ("nut.clamp", "shoulder.clamp", "nut.clamp_least", "shoulder.clamp_least")
        swept = here.sweep({path: given}, outputs=list(wanted))
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
        from fitwright.plots.history import joint_diagram

        return joint_diagram(self, in_system(units, self.job.units))

    def __repr__(self) -> str:
        return str(self.table())

    def _repr_html_(self) -> str:
        return self.table()._repr_html_()


def usual_thrust(job: Job, state: str) -> tuple[float, float, int]:
    """Both ways to where a face opens, and at least to twice the thrust of the state.

    No farther than four times the tightening force, nor than the job has an answer.
    """
    preload = float(job.evaluate(level="quick")[job.states[0], "nut.preload"])
    least = 2.0 * abs(float(job[f"states.{state}.thrust"])) or preload
    low, high = (_reach(job, state, sign, least, 4.0 * preload) for sign in (-1.0, 1.0))
    return -low, high, 41


def _reach(job: Job, state: str, sign: float, least: float, most: float) -> float:
    faces = ("shoulder.clamp_least", "nut.clamp_least")
    here, path, reach = job.at_level("history"), f"states.{state}.thrust", least
    while reach < most:
        reach = min(1.5 * reach, most)
        try:
            found = here.replace({path: sign * reach}).evaluate(level="history")
        except InputError:
            break
        if min(float(found[state, face]) for face in faces) <= 0.0:
            return min(1.2 * reach, most)
    return least
