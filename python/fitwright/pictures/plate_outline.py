"""Outlines of what holds the outer ring: pocket, plate and bolts, from the sizes a job tells."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fitwright.pictures.pieces import Drawing, Piece, Point, box, material_title, millimetres

if TYPE_CHECKING:
    from fitwright.job.value import Job

__all__ = ["ring_sizes", "set_plate"]


def ring_sizes(job: Job) -> tuple[float, float, float]:
    """Inner and outer radius and width of the outer ring under a plate [mm]."""
    fitted = "ring_outside" in (job.file.table("pocket") or {})
    outside = millimetres(job, "pocket.ring_outside" if fitted else "plate.ring.outside")
    inside = millimetres(job, "plate.ring.inside")
    return 0.5 * inside, 0.5 * outside, millimetres(job, "plate.ring.width")


def _told(job: Job, path: str, otherwise: float) -> float:
    """Half of a diameter that may be left out."""
    value = millimetres(job, path)
    return 0.5 * value if value < 1e9 else otherwise


def set_plate(job: Job, drawing: Drawing, middle: float, at: int) -> None:
    """Pocket, plate and bolts round an outer ring with its middle at `middle`, put in behind the
    pieces before `at`."""
    table = job.file.table("plate") or {}
    inside, outside, width = ring_sizes(job)
    way = -1.0 if table.get("side") == "shoulder" else 1.0
    depth = millimetres(job, "plate.pocket.depth") + millimetres(job, "plate.pocket.shim")
    thick = millimetres(job, "plate.thickness")
    rim = 0.5 * millimetres(job, "plate.outside")
    hole = 0.5 * millimetres(job, "plate.hole")
    circle = 0.5 * millimetres(job, "plate.bolt_circle")
    bolt = millimetres(job, "plate.bolt.diameter")
    head = _told(job, "plate.bolt.head_diameter", 0.75 * bolt)
    engaged = millimetres(job, "plate.thread.engagement")
    land = _told(job, "plate.pocket.shoulder_inside", inside)

    def across(points: list[Point]) -> list[Point]:
        """From the pocket's shoulder towards the plate, the way the plate is."""
        foot = middle - way * 0.5 * width
        return [(foot + way * x, y) for x, y in points]

    back = 0.45 * width
    over = rim + 0.12 * (rim - outside) + 2.0
    housing = [(0.0, land), (0.0, outside), (depth, outside), (depth, over), (-back, over),
               (-back, land)]  # fmt: skip
    screw = [
        (depth - engaged, circle - 0.5 * bolt), (depth + thick, circle - 0.5 * bolt),
        (depth + thick, circle - head), (depth + thick + 0.65 * bolt, circle - head),
        (depth + thick + 0.65 * bolt, circle + head), (depth + thick, circle + head),
        (depth + thick, circle + 0.5 * bolt), (depth - engaged, circle + 0.5 * bolt),
    ]  # fmt: skip
    count = f"{float(job['plate.bolts']):.0f} bolts M{bolt:g}"
    material = table.get("material")
    pieces = [
        Piece(
            "housing",
            across(housing),
            material_title(job, "plate.pocket.material", table["pocket"]["material"]),
            across([(-0.5 * back, 0.5 * (outside + over))])[0],
        ),
        Piece(
            str(table.get("title", "plate")),
            across(box(depth, depth + thick, hole, rim, 0.4, 0.8)),
            material_title(job, "plate.material", material),
            across([(depth + 0.5 * thick, hole + 0.25 * (outside - hole))])[0],
        ),
        Piece(
            count,
            across(screw),
            material_title(job, "plate.bolt.material", table["bolt"]["material"]),
            across([(depth + thick + 0.4 * bolt, circle)])[0],
            hatched=False,
            front=True,
        ),
    ]
    drawing.pieces[at:at] = pieces
    ends = [x for piece in pieces for x, _ in piece.outline]
    drawing.left, drawing.right = min(drawing.left, *ends), max(drawing.right, *ends)
    drawing.top = max(drawing.top, over)
