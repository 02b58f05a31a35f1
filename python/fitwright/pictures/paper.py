"""The paper a stack is drawn on: lines, arrows, sectioned parts and rows of names, to scale."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from matplotlib.collections import LineCollection
from matplotlib.patches import Polygon

from fitwright.charts.labels import Layout, put
from fitwright.charts.picture import Picture
from fitwright.pictures.pieces import Drawing, Piece, Point

WIDTH = 10.0  # inch; prints on A4 upright at 0.75 of this
MARGIN = 0.25
NOTE = 1.35  # right of the shaft: how to turn the nut
TALLEST = 4.6  # of the section itself
INK, THIN, FORCE = "#111111", "#555555", "#a01818"
PATCH = {"facecolor": "#ffffff", "edgecolor": "none", "pad": 1.5}  # clear of lines behind a text
# Per material: distance of the hatching lines [inch], every second one dashed, paler or not, tint.
HATCHES = (
    (0.085, False, "#e9eef4"),
    (0.052, False, "#f4efe4"),
    (0.070, True, "#e8f1e8"),
    (0.120, False, "#f3e9ee"),
    (0.045, True, "#eeeae4"),
    (0.100, True, "#e6f0f1"),
)


class Paper:
    """A sheet of paper: places are millimetres of the stack, `inch` turns paper sizes into them."""

    def __init__(self, axes: Picture, drawing: Drawing) -> None:
        self.axes, self.drawing = axes, drawing
        across = drawing.right - drawing.left
        self.scale = min((WIDTH - 2.0 * MARGIN - NOTE) / across, TALLEST / drawing.top)
        spare = WIDTH - 2.0 * MARGIN - NOTE - across * self.scale
        self.from_x = drawing.left - self.inch(MARGIN + 0.5 * spare)
        self.upper, self.lower = drawing.top, 0.0  # what is used so far
        self.looks: dict[str, int] = {}

    def inch(self, length: float) -> float:
        return length / self.scale

    def paper(self, x: float) -> float:
        """Inches from the left edge of the paper."""
        return (x - self.from_x) * self.scale

    def line(self, points: Sequence[Point], width: float = 0.7, **style: object) -> None:
        style.setdefault("color", THIN)
        xs, ys = zip(*points, strict=True)
        self.axes.plot(xs, ys, linewidth=width, solid_capstyle="butt", **style)  # type: ignore[arg-type]

    def arrow(self, tail: Point, head: Point, width: float = 0.7, color: str = THIN) -> None:
        size = 7.0 + 2.5 * width
        self.axes.annotate(
            "",
            xy=head,
            xytext=tail,
            zorder=7,
            arrowprops={
                "arrowstyle": "-|>,head_length=0.5,head_width=0.17",
                "linewidth": width,
                "color": color,
                "mutation_scale": size,
                "shrinkA": 0.0,
                "shrinkB": 0.0,
            },
        )

    def section(self, piece: Piece, look: int, slope: int) -> None:
        _, _, tint = HATCHES[look % len(HATCHES)]
        face = "#ffffff" if piece.ghost or not piece.hatched else tint
        dashes = (0, (5, 2)) if piece.ghost else "solid"
        width, edge = (0.8, THIN) if piece.ghost else (1.3, INK)
        order = 3.3 if piece.front else 3.0  # before or behind the hatching of the others
        patch = Polygon(
            piece.outline,
            closed=True,
            facecolor=face,
            edgecolor="none" if piece.broken else edge,
            linewidth=width,
            linestyle=dashes,
            joinstyle="round",
            zorder=order,
        )
        self.axes.add_patch(patch)
        if piece.broken:
            # Over the break a thin line; a solid shaft has no edge at the centre line.
            around = (
                piece.outline if self.drawing.bore == 0.0 else [*piece.outline, piece.outline[0]]
            )
            self.line(piece.outline[: piece.broken], 0.7, zorder=3.4)
            self.line(around[piece.broken - 1 :], width, color=edge, zorder=3.4)
        if piece.hatched:
            self.hatch(patch, look, slope, 0.3 if piece.ghost else 0.55)

    def hatch(self, patch: Polygon, look: int, slope: int, width: float) -> None:
        spacing, dashed, _ = HATCHES[look % len(HATCHES)]
        low, high = patch.get_xy().min(axis=0), patch.get_xy().max(axis=0)
        reach = float(high[1] - low[1])
        step = self.inch(spacing) * float(np.sqrt(2.0))
        # Lines of one part start at a multiple of the step, so that a part in two halves matches.
        start = float(np.floor((low[0] - reach) / step)) * step
        feet = np.arange(start, float(high[0]) + reach + step, step)
        for kind, these in (("-", feet[::2]), ("--" if dashed else "-", feet[1::2])):
            lines = LineCollection(
                [
                    [(float(f), float(low[1])), (float(f) + slope * reach, float(high[1]))]
                    for f in these
                ],
                colors="#6d6d6d",
                linewidths=width,
                linestyles="solid" if kind == "-" else [(0, (6, 3))],
                zorder=3.2,
            )
            self.axes.add_collection(lines, autolim=False)
            lines.set_clip_path(patch)

    def write(
        self, layout: Layout, ends: Sequence[Point], base: float, bend: float, side: float
    ) -> None:
        """Names from `base` away from the drawing; leaders run straight, over, straight."""
        for text, at, row, (x, y) in zip(layout.texts, layout.at, layout.rows, ends, strict=True):
            place = self.from_x + self.inch(float(at))
            level = base + side * self.inch(sum(layout.heights[:row]))
            start = level + side * self.inch(0.02)
            self.line([(place, start), (place, base), (x, bend), (x, y)], 0.6, zorder=7)
            if side > 0:
                dot = 1.8 if layout.style["rotation"] else 3.2
                self.axes.plot([x], [y], "o", color=INK, markersize=dot, zorder=7)
            put(
                self.axes,
                place,
                level + side * self.inch(0.05),
                text,
                ha="center",
                va="bottom" if side > 0 else "top",
                color=INK,
                zorder=8,
                gid="name" if side > 0 else "size",
                bbox=None if side > 0 else PATCH,
                **layout.style,
            )
