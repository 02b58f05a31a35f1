"""What a stack in section found: steps, fields for pictures, and what the mesh costs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from fitwright.fields.errors import InputError
from fitwright.fields.tables import Table
from fitwright.fields.units import shown
from fitwright.fields.value import Value
from fitwright.stack.seat import GRIPS, Seat

__all__ = ["Refined", "SectionField", "SectionHistory", "SectionRefinement", "SectionStep"]

Floats = NDArray[np.float64]


class SectionFace(NamedTuple):
    """A pair of faces: its force, its mean gap, and both point by point from the inside."""

    name: str
    force: Value
    gap: Value
    radius: Floats
    pressure: Floats
    gaps: Floats


class Growth(NamedTuple):
    """How far an outside has moved: places along z, radii, and the movement outwards there [m].

    Radial: double it for a diameter.
    """

    z: Floats
    radius: Floats
    movement: Floats


class SectionField(NamedTuple):
    """A part everywhere: its mesh, movements [m] and stresses [Pa] at the nodes.

    Movements along z are without the shift of the ring as a whole. A peak at a sharp edge is none:
    `Sections.refinement` tells which peaks converge.
    """

    r: Floats
    z: Floats
    elements: NDArray[np.int32]
    outwards: Floats
    along: Floats
    radial: Floats
    axial: Floats
    hoop: Floats
    shear: Floats
    von_mises: Floats


class SectionStep(NamedTuple):
    """The stack after one step. `faces` run from the shoulder to the nut."""

    name: str
    faces: list[SectionFace]
    seats: list[Seat]
    mean_pressure: dict[str, Value]
    growth: dict[str, Growth]
    roll: dict[str, float]
    nut: Value
    nut_travel: Value
    pull: Value
    dissipated: float


class SectionHistory:
    """Steps by name or number.

    `found["hot"].faces[0].force`, `.table()`, `.field("hot", "sleeve")`.
    """

    def __init__(self, core: Any, found: Any, names: Sequence[str], rings: Sequence[str]) -> None:
        self._core, self._found = core, found
        self._rings, self._names = list(rings), list(names)
        self.steps = [self._step(k, name) for k, name in enumerate(names)]

    def _step(self, k: int, name: str) -> SectionStep:
        row = self._core.step(self._found, k)
        parts = ["shoulder", *self._rings, "nut"]
        nothing = np.asarray([], dtype=np.float64)
        faces = []
        for i, (force, gap) in enumerate(row["faces"]):
            points = row["face_points"][i] if i < len(self._rings) else None
            columns = (
                [points[:, j].copy() for j in range(3)] if points is not None else [nothing] * 3
            )
            between = f"{parts[i]}-{parts[i + 1]}"
            faces.append(SectionFace(between, Value(force, "force"), Value(gap, "fine"), *columns))
        begin = self._found.seat_begin()
        seats = []
        for i, ring in enumerate(self._rings):
            points = row["seats"][begin[i] : begin[i + 1]]
            if len(points) == 0:
                continue
            place, pressure, friction, slip, grip = (points[:, j].copy() for j in range(5))
            words = [GRIPS[int(g)] for g in grip]
            force = Value(row["seat_force"][i], "force")
            seats.append(Seat(ring, place, pressure, friction, slip, words, force))
        growth = {}
        for i, part in enumerate(["shaft", *self._rings]):
            z, radius = self._core.outside(i)
            growth[part] = Growth(z, radius, row["growth"][i])
        return SectionStep(
            name,
            faces,
            seats,
            {
                ring: Value(p, "stress")
                for ring, p in zip(self._rings, row["mean_pressure"], strict=True)
            },
            growth,
            dict(zip(self._rings, row["roll"], strict=True)),
            Value(row["nut"], "force"),
            Value(row["nut_travel"], "fine"),
            Value(row["pull"], "force"),
            float(row["dissipated"]),
        )

    def __iter__(self) -> Iterator[SectionStep]:
        return iter(self.steps)

    def __len__(self) -> int:
        return len(self.steps)

    def _number(self, step: str | int) -> int:
        if isinstance(step, int):
            return range(len(self.steps))[step]
        if step not in self._names:
            known = ", ".join(self._names)
            raise InputError([("step", f'"{step}" is not a step; there are {known}')])
        return self._names.index(step)

    def __getitem__(self, step: str | int) -> SectionStep:
        return self.steps[self._number(step)]

    def field(self, step: str | int, part: str) -> SectionField:
        """Movements and stresses of a part ("shaft" or a ring) after a step, for pictures."""
        parts = ["shaft", *self._rings]
        if part not in parts:
            raise InputError([("part", f'"{part}" is not a part; there is {", ".join(parts)}')])
        number = parts.index(part)
        mesh = self._core.mesh(number)
        return SectionField(*mesh, **self._core.field(self._found, self._number(step), number))

    def table(self, units: str | None = None) -> Table:
        """Force at every face after every step; a gap where faces stand apart; mean pressures."""
        rows = [
            [
                step.name,
                *(
                    f"gap {face.gap.shown(units)}" if face.force == 0.0 else face.force.shown(units)
                    for face in step.faces
                ),
                *(p.shown(units) for p in step.mean_pressure.values()),
            ]
            for step in self.steps
        ]
        faces = [face.name for face in self.steps[0].faces] if self.steps else []
        head = ["step", *faces, *(f"pressure {ring}" for ring in self._rings)]
        return Table(head, rows, title="stack in section, step by step")

    def __repr__(self) -> str:
        return str(self.table())

    def _repr_html_(self) -> str:
        return self.table()._repr_html_()


class Refined(NamedTuple):
    """A result on the usual mesh, what finer ones run to, and how far it is from there.

    `trend`: "converges" (with its order), "settled" (nothing left to tell) or "unsteady".
    """

    value: float
    limit: float
    error: float
    order: float
    trend: str


class Peak(NamedTuple):
    """Largest equivalent stress of a part; `refused` where it has no limit, and `text` says why."""

    part: str
    z: float
    r: float
    von_mises: Refined
    refused: bool
    text: str


class SectionRefinement:
    """What the mesh costs.

    `.table()`, `.peaks`, `.seats[ring]` (z, pressure, change by the last halving).
    """

    def __init__(
        self, study: Mapping[str, Any], names: Sequence[str], rings: Sequence[str], at: str
    ) -> None:
        self.at, self._rings = at, list(rings)
        self.unknowns: tuple[int, ...] = tuple(study["unknowns"])
        self.steps: dict[str, dict[str, list[Refined]]] = {
            name: {key: [Refined(*r) for r in rows] for key, rows in step.items()}
            for name, step in zip(names, study["steps"], strict=True)
        }
        self.seats: dict[str, tuple[Floats, Floats, Floats]] = dict(
            zip(rings, study["seats"], strict=True)
        )
        self.peaks = [
            Peak(part, z, r, Refined(*told), refused, text)
            for part, (z, r, told, refused, text) in zip(
                ["shaft", *rings], study["peaks"], strict=True
            )
        ]

    def table(self, units: str | None = None) -> Table:
        """Every result of the step looked at: its value, limit, error and order."""
        step = self.steps[self.at]
        between = ["shoulder", *self._rings, "nut"]
        faces = [f"{between[i]}-{between[i + 1]}" for i in range(len(between) - 1)]
        told = [
            *(
                ("pressure " + n, "stress", r)
                for n, r in zip(self._rings, step["mean_pressure"], strict=True)
            ),
            *(("force " + n, "force", r) for n, r in zip(faces, step["face_force"], strict=True)),
            *(("gap " + n, "fine", r) for n, r in zip(faces, step["face_gap"], strict=True)),
            *(
                ("growth " + n, "fine", r)
                for n, r in zip(["shaft", *self._rings], step["growth"], strict=True)
            ),
        ]  # fmt: skip
        rows = [
            [
                name,
                shown(r.value, quantity, units),
                shown(r.limit, quantity, units),
                shown(r.error, quantity, units),
                f"{r.order:.1f}" if r.trend == "converges" else r.trend,
            ]
            for name, quantity, r in told
        ]
        return Table(
            ["result", "value", "limit", "error", "order"],
            rows,
            title=f"what the mesh costs after {self.at}",
        )

    def __repr__(self) -> str:
        return str(self.table())

    def _repr_html_(self) -> str:
        return self.table()._repr_html_()
