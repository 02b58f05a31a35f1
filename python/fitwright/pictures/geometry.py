"""Outlines of a stack's parts in shop units of the picture (mm), from the sizes of the job.

Only where lines go is decided here. What a job does not hold (how high the shoulder stands, the
outer ring where no plate tells of it, how far the thread sticks out) is drawn in a usual
proportion.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from fitwright.fields import units
from fitwright.job.findings import evaluate
from fitwright.job.slices import length_of, slice_paths
from fitwright.job.thread_name import thread_name
from fitwright.pictures.pieces import (
    Drawing,
    Piece,
    Point,
    arc,
    box,
    material_title,
    millimetres,
    part_titles,
    stepped_box,
    teeth,
)
from fitwright.pictures.plate_outline import ring_sizes, set_plate

if TYPE_CHECKING:
    from fitwright.job.value import Job


def _middle_of_highest(x: float, slices: list[tuple[float, float]]) -> float | None:
    """Where the widest slice of a ring that begins at x has its middle."""
    places = []
    for outside, length in slices:
        places.append((outside, x + 0.5 * length))
        x += length
    return max(places)[1] if places else None


def read_drawing(job: Job) -> Drawing:
    """The outlines of all parts."""
    shaft = job.file.table("shaft") or {}
    nut = job.file.table("nut") or {}
    lock = job.file.table("lock")
    rows = job.file.rows("ring")
    titles = part_titles(job)
    bore = 0.5 * millimetres(job, "shaft.bore")
    thread = 0.5 * millimetres(job, "nut.diameter")

    pieces: list[Piece] = []
    seats: list[tuple[str, float, float]] = []
    surface: list[Point] = []  # of the shaft, from the shoulder on
    places: dict[str, tuple[float, float, float]] = {}
    x = 0.0
    for row in rows:
        name = str(row["name"])
        seat = f"seats.{row['seat']}.diameter"
        radius = 0.5 * millimetres(job, seat)
        size = float(units.shop_unit("size")["factor"])
        length = size * float(length_of(job, row))
        slices = [
            (0.5 * millimetres(job, f"{path}.outside"), millimetres(job, f"{path}.length"))
            for path in slice_paths(row)
        ]
        outside = (
            max(high for high, _ in slices)
            if slices
            else 0.5 * millimetres(job, f"rings.{name}.outside")
        )
        contact = millimetres(job, f"rings.{name}.contact_length")
        edge = 0.5 * (length - contact) if contact <= length else 0.0
        if all(seat != s for s, *_ in seats):
            seats.append((seat, radius, x + 0.3 * length))
        surface += [(x, radius), (x + length, radius)]
        places[name] = (x, x + length, outside)
        pieces.append(
            Piece(
                titles[name],
                stepped_box(x, radius, slices, 0.4)
                if slices
                else box(x, x + length, radius, outside, max(edge, 0.4), 0.8),
                material_title(job, f"rings.{name}.material", row["material"]),
                (
                    _middle_of_highest(x, slices) or x + 0.5 * length,
                    outside - 0.3 * (outside - radius),
                ),
            )
        )
        x += length
    if lock is not None:
        inside = 0.5 * millimetres(job, "lock.bore")
        outside = 0.5 * millimetres(job, "lock.outside")
        thick = millimetres(job, "lock.thickness")
        pieces.append(
            Piece(
                str(lock.get("kind", "lock")),
                box(x, x + thick, inside, outside),
                material_title(job, "lock.material", lock["material"]),
                (x + 0.5 * thick, outside - 0.15 * (outside - inside)),
            )
        )
        surface.append((x, thread))
        x += thick

    height, pitch = millimetres(job, "nut.height"), millimetres(job, "nut.pitch")
    engaged = teeth(x, x + height, thread, pitch)
    outside = 0.5 * millimetres(job, "nut.outside")
    face = min(0.5 * millimetres(job, "nut.face_outside"), outside)
    slope = min(0.1 * height, outside - face)
    hand = str(nut.get("hand", "right"))
    pieces.append(
        Piece(
            f"nut {thread_name(job)}, {hand}-hand",
            [*engaged, (x + height, outside - 0.8), (x + height - 0.8, outside),
             (x + slope, outside), (x, face)],
            material_title(job, "nut.material", nut["material"]),
            (x + 0.5 * height, outside - 0.3 * (outside - thread)),
        )
    )  # fmt: skip
    tail = max(0.3 * height, 2.0 * pitch)
    surface += [*engaged, *teeth(x + height, x + height + tail, thread, pitch)[1:]]
    end = x + height + tail
    surface += [(end + 0.5 * pitch, thread - pitch), (end + 0.5 * pitch, bore)]
    right = end + 0.5 * pitch

    first = places[str(rows[0]["name"])]
    shoulder = surface[0][1] + 0.72 * (first[2] - surface[0][1])
    left = -max(0.18 * right, 8.0)
    ys = np.linspace(bore, shoulder, 30)
    wave = 0.02 * right * np.sin(2.0 * np.pi * (ys - bore) / max(shoulder - bore, 1e-9))
    broken = [(left + float(w), float(y)) for w, y in zip(wave, ys, strict=True)]
    pieces.insert(
        0,
        Piece(
            "shaft",
            [*broken, (-0.6, shoulder), (0.0, shoulder - 0.6), *surface],
            material_title(job, "shaft.material", shaft["material"]),
            (0.5 * left, shoulder - 0.25 * (shoulder - bore)),
            broken=len(broken),
        ),
    )
    drawing = Drawing(
        pieces,
        seats,
        bore,
        left,
        right,
        max(y for p in pieces for _, y in p.outline),
        x,
        x + height,
    )
    if job.file.table("bearing") is not None:
        _add_bearing(job, drawing, places)
    return drawing


def _add_bearing(job: Job, drawing: Drawing, places: dict[str, tuple[float, float, float]]) -> None:
    """Ball, grooves, and the outer ring: in its pocket where a plate tells of it, else so much as
    says that there is one."""
    bearing = job.file.table("bearing") or {}
    inner = [str(name) for name in bearing["inner_rings"]]
    order = [str(row["name"]) for row in job.file.rows("ring")]
    x0, x1 = places[inner[0]][0], places[inner[-1]][1]
    middle = places[inner[0]][1] if len(inner) == 2 else 0.5 * (x0 + x1)
    ball = 0.5 * millimetres(job, "bearing.ball_diameter")
    circle = 0.5 * millimetres(job, "bearing.pitch_diameter")
    shoulder = places[inner[0]][2]
    groove = 2.0 * ball * float(job["bearing.inner_curvature"])
    centre = circle - ball + groove
    width = float(np.sqrt(max(groove**2 - (centre - min(shoulder, circle)) ** 2, 0.0)))
    width = min(width, 0.94 * (middle - x0), 0.94 * (x1 - middle))
    for name in inner:
        piece = drawing.pieces[1 + order.index(name)]
        low, high, _ = places[name]
        outline = piece.outline
        if len(inner) == 1:
            curve = arc(middle, centre, groove, middle + width, middle - width, -1.0)
            piece.outline = [*outline[:5], *curve, *outline[5:]]
        elif name == inner[0]:
            curve = arc(middle, centre, groove, high, high - width, -1.0)
            piece.outline = [*outline[:3], *curve, *outline[5:]]
        else:
            curve = arc(middle, centre, groove, low + width, low, -1.0)
            piece.outline = [*outline[:5], *curve, outline[7]]
        x = (
            low + 0.5 * (high - width - low)
            if name == inner[0]
            else low + 0.5 * (high - low + width)
        )
        piece.at = (x, shoulder - 0.3 * (shoulder - outline[0][1]))

    plated = job.file.table("plate") is not None
    half = min(1.35 * ball, middle - x0, x1 - middle)
    inside = circle + max(circle - shoulder, 0.25 * ball)
    outside = circle + 1.45 * ball
    if plated:
        inside, outside, across = ring_sizes(job)
        half = 0.5 * across
    outer = 2.0 * ball * float(job["bearing.outer_curvature"])
    centre = circle + ball - outer
    width = min(float(np.sqrt(max(outer**2 - (inside - centre) ** 2, 0.0))), 0.94 * half)
    outline = [
        (middle - half, inside),
        *arc(middle, centre, outer, middle - width, middle + width, 1.0),
        (middle + half, inside), (middle + half, outside), (middle - half, outside),
    ]  # fmt: skip
    at = 1 + order.index(inner[0])
    material = material_title(job, "bearing.outer_ring_material", bearing["outer_ring_material"])
    balls = material_title(job, "bearing.material", bearing["material"])
    angle = evaluate(job, level="quick")[job.states[0], "bearing.contact_angle"]
    count = f"{float(job['bearing.balls']):.0f} balls, contact at {angle.shown()}".replace(
        " deg", "°"
    )
    disc = np.linspace(0.0, 2.0 * np.pi, 73)
    drawing.pieces[at + 1 : at + 1] = [
        Piece(
            count,
            [(middle + ball * float(np.cos(a)), circle + ball * float(np.sin(a))) for a in disc],
            balls,
            (middle - 0.25 * ball, circle + 0.55 * ball),
            hatched=False,
        ),
        Piece(
            "outer ring" if plated else "outer ring (housing not shown)",
            outline,
            material,
            (middle + 0.6 * half, outside - 0.25 * (outside - circle - ball)),
            ghost=not plated,
        ),
    ]
    if plated:
        set_plate(job, drawing, middle, at + 3)
    drawing.ball = (middle, circle, ball)
    drawing.top = max(drawing.top, outside)
    thrusts = [float(job[f"states.{s}.thrust"]) for s in job.states]
    side = next((np.sign(t) for t in thrusts if t != 0.0), 0.0)
    if side != 0.0:
        # The ball pushes the inner ring towards the shoulder at its lower left contact.
        dx, dy = 1.5 * ball * side * np.sin(angle), 1.5 * ball * np.cos(angle)
        drawing.contact_line = [
            (middle - float(dx), circle - float(dy)),
            (middle + float(dx), circle + float(dy)),
        ]
