"""Pieces a picture of a stack is made of: outlines in mm, and the drawing that holds them."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from fitwright.fields import units

if TYPE_CHECKING:
    from fitwright.job.value import Job

Point = tuple[float, float]
MOST_TEETH = 40


@dataclass
class Piece:
    """One part in section: its outline, and the point its name is led to."""

    name: str
    outline: list[Point]
    material: str
    at: Point
    #: outline drawn thin and dashed: only suggested
    ghost: bool = False
    hatched: bool = True
    #: seen whole in front of what it goes through: a bolt
    front: bool = False
    #: points of the outline that are a break, not an edge
    broken: int = 0


@dataclass
class Drawing:
    """The parts from left to right, and where dimensions and forces go."""

    pieces: list[Piece]
    seats: list[tuple[str, float, float]]  # path, radius, x
    bore: float
    left: float
    right: float
    top: float
    nut_face: float
    nut_end: float
    ball: tuple[float, float, float] | None = None  # x, radius of the circle, radius of the ball
    contact_line: list[Point] = field(default_factory=list)


def millimetres(job: Job, path: str) -> float:
    return float(job[path]) * float(units.shop_unit("size")["factor"])


def part_titles(job: Job) -> dict[str, str]:
    """What each ring is called."""
    return {str(r["name"]): str(r.get("title", r["name"])) for r in job.file.rows("ring")}


def material_title(job: Job, path: str, name: object) -> str:
    material = job.file.material(path, name)
    return (
        f"{material.name}: {material.title}" if material.title != material.name else name_of(name)
    )


def name_of(name: object) -> str:
    return str(getattr(name, "name", name))


def box(
    x0: float, x1: float, y0: float, y1: float, at_bore: float = 0.0, at_top: float = 0.0
) -> list[Point]:
    """A ring in section, its corners broken."""
    c = min(at_bore, 0.3 * (x1 - x0))
    b = min(c, 0.15 * (y1 - y0))
    t = min(at_top, 0.2 * (x1 - x0), 0.15 * (y1 - y0))
    return [
        (x0 + c, y0), (x1 - c, y0), (x1, y0 + b), (x1, y1 - t),
        (x1 - t, y1), (x0 + t, y1), (x0, y1 - t), (x0, y0 + b),
    ]  # fmt: skip


def stepped_box(
    x0: float, y0: float, slices: list[tuple[float, float]], at_bore: float
) -> list[Point]:
    """A ring in section whose outside has steps: slices as (outside radius, length)."""
    x1 = x0 + sum(length for _, length in slices)
    low = min(outside for outside, _ in slices)
    lower = box(x0, x1, y0, low, at_bore)
    top: list[Point] = []
    x = x0
    for outside, length in slices:
        top += [(x, outside), (x + length, outside)]
        x += length
    return [*lower[:3], *reversed(top), lower[7]]


def teeth(x0: float, x1: float, crest: float, pitch: float) -> list[Point]:
    """The profile of the thread between two planes; a fine thread is drawn coarser."""
    step = max(pitch, (x1 - x0) / MOST_TEETH)
    root = crest - 0.6 * min(step, 1.5 * pitch)
    count = max(int((x1 - x0) / step), 1)
    xs = np.linspace(x0, x1, 2 * count + 1)
    return [(float(x), crest if i % 2 else root) for i, x in enumerate(xs)]


def arc(x: float, y: float, radius: float, x0: float, x1: float, side: float) -> list[Point]:
    """Of a circle about (x, y), below (-1) or above (1) it, from x0 to x1."""
    xs = np.linspace(x0, x1, 25)
    half = np.sqrt(np.maximum(radius**2 - (xs - x) ** 2, 0.0))
    return [(float(a), float(y + side * b)) for a, b in zip(xs, half, strict=True)]
