"""The steps of a job one after the other: what each face, seat and the nut carry after each."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from numpy.typing import NDArray

from fitwright.fields.arguments import checked
from fitwright.fields.errors import InputError
from fitwright.fields.tables import Table
from fitwright.fields.units import in_system
from fitwright.fields.value import Value
from fitwright.job.slices import length_of
from fitwright.stack.seat import GRIPS, Seat

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from fitwright.job.value import Job

__all__ = ["Face", "History", "Seat", "StepState"]

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


class Face(NamedTuple):
    """One pair of faces: between what, the force through it, and the gap."""

    name: str
    force: Value
    gap: Value


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
        found, begin = job.core.history()
        titles = step_titles(job)
        parts = [*job.rings, *(["lock"] if job.file.table("lock") is not None else [])]
        names = [*parts, "nut"]
        self.steps: list[StepState] = []
        for (name, kind, *_), row in zip(job.core.steps(), found, strict=True):
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
        from fitwright.charts.stack import StepForces, force_along_stack

        chosen = [self[name] for name in steps] if steps is not None else self.clamped
        rows = self.job.file.rows("ring")
        names = [str(row.get("title", row["name"])) for row in rows]
        lengths = [float(length_of(self.job, row)) for row in rows]
        if self.job.file.table("lock") is not None:
            names.append("")
            lengths.append(float(self.job["lock.thickness"]))
        forces = [
            StepForces(
                step.title,
                [float(face.force) for face in step.faces],
                [face.gap > 0.0 for face in step.faces],
            )
            for step in chosen
        ]
        return force_along_stack(names, lengths, forces, in_system(units, self.job.units))

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
    rows = {str(row["name"]): row for row in job.file.rows("step")}
    states = {str(r["name"]): str(r.get("title", r["name"])) for r in job.file.rows("state")}
    rings = {str(r["name"]): str(r.get("title", r["name"])) for r in job.file.rows("ring")}
    titles, on, clamped = {}, "", False
    for name, kind, against, state, parts in job.core.steps():
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
