"""Outlines of shop-made tools at their work [mm], above their axis, from the sizes a job tells."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

import numpy as np

from fitwright.job.attached import known_by_job
from fitwright.pictures.pieces import Piece, Point, box, material_title, millimetres, teeth

if TYPE_CHECKING:
    from fitwright.job.value import Job

__all__ = ["Tool", "read_tool"]


@dataclass
class Tool:
    """Parts, the arrows of the loads (tail, head), and sizes to write beside."""

    pieces: list[Piece]
    arrows: list[tuple[Point, Point]]
    sizes: list[str] = field(default_factory=list)  # paths of inputs, within the tool
    axis: bool = True  # a half-section; else a view


class _Reader:
    """Sizes and metals of one tool, and of the ring it works on."""

    def __init__(self, job: Job, row: dict[str, Any], ring: str) -> None:
        self.job, self.row, self.ring = job, row, ring
        self.here = f"tools.{row['name']}"

    def size(self, path: str) -> float:
        return millimetres(self.job, f"{self.here}.{path}")

    def told(self, path: str, otherwise: float) -> float:
        value = self.size(path)
        return value if value < 1e9 else otherwise

    def metal(self, part: str = "") -> str:
        table = self.row[part] if part else self.row
        path = f"{self.here}.{part}.material" if part else f"{self.here}.material"
        return material_title(self.job, path, table["material"])

    def of_ring(self) -> dict[str, Any]:
        return next(r for r in self.job.file.rows("ring") if r["name"] == self.ring)

    def ring_metal(self) -> str:
        row = self.of_ring()
        return material_title(self.job, f"rings.{self.ring}.material", row["material"])

    def ring_title(self) -> str:
        return str(self.of_ring().get("title", self.ring))

    def ring_section(self) -> tuple[float, float, float]:
        """Bore, outside at the nut's end [radii], length."""
        here, slices = f"rings.{self.ring}", self.of_ring().get("slices", [])
        length = millimetres(self.job, f"{here}.length")
        outside = millimetres(self.job, f"{here}.outside")
        if slices:
            paths = [f"{here}.slice{k + 1}" for k in range(len(slices))]
            length = sum(millimetres(self.job, f"{path}.length") for path in paths)
            outside = millimetres(self.job, f"{paths[-1]}.outside")
        return 0.5 * millimetres(self.job, f"{here}.bore"), 0.5 * outside, length

    def title(self) -> str:
        return str(self.row.get("title", self.row["name"]))


def _middle(x0: float, x1: float, y0: float, y1: float) -> Point:
    return 0.5 * (x0 + x1), 0.5 * (y0 + y1)


def _shaft(x0: float, x1: float, radius: float, metal: str, name: str = "shaft") -> Piece:
    return Piece(
        name,
        [(x0, 0.0), (x1, 0.0), (x1, radius), (x0, radius)],
        metal,
        (x0 + 0.25 * (x1 - x0), 0.6 * radius),
        ghost=True,
    )


def _shaft_metal(read: _Reader) -> str:
    shaft = read.job.file.table("shaft") or {}
    return material_title(read.job, "shaft.material", shaft["material"])


def _press_sleeve(read: _Reader) -> Tool:
    bore, outside, length = read.ring_section()
    low, high, long = 0.5 * read.size("inside"), 0.5 * read.size("outside"), read.size("length")
    end = length + long
    pieces = [
        _shaft(-0.3 * length, length + 0.25 * long, min(bore, low), _shaft_metal(read)),
        Piece(
            read.ring_title(),
            box(0.0, length, bore, outside, 0.4, 0.8),
            read.ring_metal(),
            _middle(0.0, length, bore, outside),
        ),
        Piece(
            read.title(), box(length, end, low, high), read.metal(), _middle(length, end, low, high)
        ),
    ]
    mean = 0.5 * (low + high)
    push = ((end + 0.3 * long, mean), (end, mean))
    return Tool(pieces, [push], ["inside", "outside", "length"])


def _puller(read: _Reader) -> Tool:
    bore, _, length = read.ring_section()
    radius = 0.5 * read.size("groove.diameter")
    wide, deep, lip = (read.size(f"groove.{name}") for name in ("width", "depth", "lip"))
    hook, reach = read.size("hook_thickness"), read.size("hook_reach")
    leg, long = read.size("leg_thickness"), read.size("leg_length")
    inner = radius + read.size("hook_clearance")
    face = max(length, lip + wide)
    foot, top = face - lip - wide, face - lip  # of the groove
    bottom = radius - deep
    ring = [(0.0, bore), (face, bore), (face, radius), (top, radius), (top, bottom),
            (foot, bottom), (foot, radius), (0.0, radius)] if foot > 0.0 else \
           [(0.0, bore), (face, bore), (face, radius), (top, radius), (top, bottom),
            (0.0, bottom)]  # fmt: skip
    inside = top + long  # of the yoke
    yoke = read.size("yoke_depth")
    screw = 0.5 * read.size("screw.diameter")
    free = read.size("screw.length")
    arm = [
        (top - hook, radius - reach), (top, radius - reach), (top, inner), (inside + yoke, inner),
        (inside + yoke, inner + leg), (top - hook, inner + leg),
    ]  # fmt: skip
    point = inside - free
    rod = [
        (point, 0.0), *teeth(point, inside + yoke + 1.2 * screw, screw, read.size("screw.pitch")),
        (inside + yoke + 1.2 * screw, 0.0),
    ]  # fmt: skip
    pieces = [
        _shaft(-0.3 * face, point, bore, _shaft_metal(read)),
        Piece(
            read.ring_title(), ring, read.ring_metal(),
            _middle(0.0, 0.8 * max(foot, 1.0), bore, bottom),
        ),
        Piece("leg and hook", arm, read.metal(), _middle(top, inside, inner, inner + leg)),
        Piece(
            "yoke",
            box(inside, inside + yoke, screw, inner),
            read.metal(),
            _middle(inside, inside + yoke, screw, inner),
        ),
        Piece("screw", rod, read.metal("screw"), (point + 0.4 * free, 0.6 * screw)),
    ]  # fmt: skip
    pull = ((top + 0.35 * long, inner + 0.5 * leg), (top + 0.7 * long, inner + 0.5 * leg))
    sizes = ["leg_length", "leg_thickness", "hook_thickness", "hook_reach", "yoke_depth"]
    return Tool(pieces, [pull], [*sizes, "screw.diameter", "groove.width", "groove.lip"])


def _holding_fixture(read: _Reader) -> Tool:
    thick, rim = read.size("plate.thickness"), 0.5 * read.size("plate.outside")
    rod = 0.5 * read.size("rod.diameter")
    hole = 0.5 * read.told("plate.hole", 2.2 * rod)
    nut, height = 0.5 * read.size("plate.nut_diameter"), read.size("rod.engagement")
    circle, leg = 0.5 * read.size("plate.bolt_circle"), read.size("plate.leg")
    bolt, free = read.size("bolt.diameter"), read.size("rod.length")
    start = -height - 2.0 * rod
    thread = [
        (start, 0.0), *teeth(start, free, rod, read.size("rod.pitch")), (free, 0.0),
    ]  # fmt: skip
    screw = [
        (-0.65 * bolt, circle - 0.75 * bolt), (-0.65 * bolt, circle + 0.75 * bolt),
        (0.0, circle + 0.75 * bolt), (0.0, circle + 0.5 * bolt),
        (thick + bolt, circle + 0.5 * bolt), (thick + bolt, circle - 0.5 * bolt),
        (0.0, circle - 0.5 * bolt), (0.0, circle - 0.75 * bolt),
    ]  # fmt: skip
    weld = [(0.0, nut), (-leg, nut), (0.0, nut + leg)]
    pieces = [
        Piece("rod", thread, read.metal("rod"), (0.6 * free, 0.5 * rod)),
        Piece(
            "nut, welded on",
            box(-height, 0.0, rod, nut),
            read.metal("plate"),
            _middle(-height, 0.0, rod, nut),
        ),
        Piece(
            "weld",
            weld,
            read.metal("plate"),
            (-0.3 * leg, nut + 0.3 * leg),
            hatched=False,
            front=True,
        ),
        Piece(
            "plate",
            box(0.0, thick, hole, rim, 0.0, 1.0),
            read.metal("plate"),
            (0.5 * thick, 0.5 * (nut + circle)),
        ),
        Piece("bolts", screw, read.metal("bolt"), (-0.3 * bolt, circle), hatched=False, front=True),
        _shaft(free, free + max(0.4 * free, 2.0 * rod), 1.6 * rod, _shaft_metal(read), "rotor"),
    ]
    tail = free + max(0.4 * free, 2.0 * rod)
    sizes = ["rod.diameter", "rod.length", "plate.thickness", "plate.bolt_circle", "plate.leg"]
    return Tool(pieces, [((tail + 2.0 * rod, 0.8 * rod), (tail, 0.8 * rod))], [*sizes, "travel"])


def _nut_driver(read: _Reader) -> Tool:
    job = read.job
    height = millimetres(job, "nut.height")
    low, high = 0.5 * millimetres(job, "nut.diameter"), 0.5 * millimetres(job, "nut.outside")
    inner, outer = 0.5 * read.size("inside"), 0.5 * read.size("outside")
    long, engaged = read.size("length"), read.size("engagement")
    at, tall = 0.5 * read.size("circle"), 0.5 * read.size("tooth_height")
    pins = read.row.get("engages") == "pins"
    if pins:
        tall = 0.5 * read.size("tooth_width")
    foot = height if pins else height - engaged
    end = foot + (engaged if not pins else 0.0) + long
    wall = max(outer - inner, 0.12 * long)
    socket = [
        (foot, inner), (end - wall, inner), (end - wall, 0.0), (end, 0.0), (end, outer),
        (foot, outer),
    ]  # fmt: skip
    reach = height - engaged if pins else foot
    tooth = box(reach, height + (0.0 if not pins else 1.0), at - tall, min(at + tall, outer))
    nut = job.file.table("nut") or {}
    metal = material_title(job, "nut.material", nut["material"])
    pieces = [
        _shaft(-0.3 * height, height + 0.3 * height, low, _shaft_metal(read)),
        Piece(
            "nut", box(0.0, height, low, high, 0.0, 0.6), metal, (0.3 * height, 0.5 * (low + at))
        ),
        Piece("socket", socket, read.metal(), _middle(foot, end, inner, outer)),
        Piece(
            "pin" if pins else "dog",
            tooth,
            read.metal(),
            (0.5 * (reach + height), at),
            hatched=False,
            front=True,
        ),
    ]
    sizes = ["inside", "outside", "length", "circle", "tooth_width", "engagement"]
    return Tool(pieces, [], sizes)


def _bar(start: Point, end: Point, width: float) -> list[Point]:
    (x0, y0), (x1, y1) = start, end
    dx, dy = x1 - x0, y1 - y0
    long = float(np.hypot(dx, dy)) or 1.0
    nx, ny = -0.5 * width * dy / long, 0.5 * width * dx / long
    return [(x0 + nx, y0 + ny), (x1 + nx, y1 + ny), (x1 - nx, y1 - ny), (x0 - nx, y0 - ny)]


def _disc(x: float, y: float, radius: float) -> list[Point]:
    turn = np.linspace(0.0, 2.0 * np.pi, 49)
    return [(x + radius * float(np.cos(a)), y + radius * float(np.sin(a))) for a in turn]


def _wrench_adapter(read: _Reader) -> Tool:
    long, reach = read.size("wrench_length"), read.size("adapter_length")
    angle = float(read.job[f"{read.here}.angle"])
    nut = 0.5 * millimetres(read.job, "nut.outside")
    level = max(1.2 * nut, 0.08 * long) + abs(reach * float(np.sin(angle)))
    drive = (0.0, level)
    at = (-reach * float(np.cos(angle)), level + reach * float(np.sin(angle)))
    hand = (long, level)
    pieces = [
        Piece("nut", _disc(*at, nut), "", at, hatched=False, ghost=True),
        Piece("adapter", _bar(at, drive, 0.5 * nut), "", _middle(at[0], 0.0, at[1], level),
              hatched=False),
        Piece("torque wrench", _bar(drive, hand, 0.3 * nut), "", (0.6 * long, level),
              hatched=False),
    ]  # fmt: skip
    push = ((long, level + 0.2 * long), (long, level))
    return Tool(pieces, [push], ["wrench_length", "adapter_length", "angle"], axis=False)


def _multiplier(read: _Reader) -> Tool:
    arm = read.size("arm")
    nut = 0.5 * millimetres(read.job, "nut.outside")
    level = 1.6 * nut
    slant = float(read.job[f"{read.here}.bear_angle"])
    bears = (arm, level)
    tail = (arm - 0.25 * arm * float(np.sin(slant)), level - 0.25 * arm * float(np.cos(slant)))
    pieces = [
        Piece("reaction arm", _bar((0.0, level), bears, 0.5 * nut), "", (0.7 * arm, level),
              hatched=False),
        Piece("multiplier on the nut", _disc(0.0, level, 1.3 * nut), "", (0.0, level),
              hatched=False),
    ]  # fmt: skip
    return Tool(pieces, [(tail, bears)], ["arm", "gear_ratio", "height"], axis=False)


_KINDS: dict[str, Callable[[_Reader], Tool]] = {
    "press_sleeve": _press_sleeve,
    "puller": _puller,
    "holding_fixture": _holding_fixture,
    "nut_driver": _nut_driver,
    "wrench_adapter": _wrench_adapter,
    "multiplier": _multiplier,
}


def read_tool(job: Job, row: dict[str, Any], ring: str) -> Tool:
    """What is drawn of a tool, at the ring it serves."""
    kind = str(row["kind"])
    tool = _KINDS[kind](_Reader(job, row, ring))
    known = known_by_job(kind)
    tool.sizes = [path for path in tool.sizes if path not in known]
    return tool
