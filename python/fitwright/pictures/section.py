"""The half-section of a stack, to scale: parts, names, main sizes, and the clamp as built."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Arc, Polygon, Rectangle

from fitwright.charts.labels import arrange, clean, extent, put
from fitwright.charts.picture import new_picture, picture_path, save
from fitwright.fields import units as shop
from fitwright.job.findings import evaluate
from fitwright.pictures.geometry import read_drawing
from fitwright.pictures.paper import FORCE, HATCHES, INK, MARGIN, PATCH, WIDTH, Paper

if TYPE_CHECKING:
    from fitwright.job.value import Job

__all__ = ["draw_section"]


def draw_section(
    job: Job, path: str | os.PathLike[str] | None = None, units: str | None = None
) -> Axes:
    """Half-section of the stack, to scale, on a figure of its own; as .svg or .png if given."""
    if path is not None:
        picture_path(path)  # refused before anything is drawn
    drawing = read_drawing(job)
    axes = new_picture(WIDTH, 6.0, bare=True)
    sheet = _Sheet(axes, drawing)
    sheet.parts()
    sheet.names()
    units = shop.in_system(units, job.units)
    sheet.sizes(job, units)
    sheet.clamp(job, units)
    sheet.turning(job)
    sheet.materials()
    sheet.title(job)
    sheet.trim()
    if path is not None:
        save(axes, path)
    return axes


class _Sheet(Paper):
    """What is drawn, from the stack outwards."""

    def parts(self) -> None:
        for number, piece in enumerate(self.drawing.pieces):
            look = self.looks.setdefault(piece.material, len(self.looks))
            self.section(piece, look, 1 if number % 2 else -1)
        if self.drawing.contact_line:
            self.line(self.drawing.contact_line, 0.9, color=FORCE, dashes=(9, 2, 2, 2), zorder=5)
        if self.drawing.ball is not None:
            x, y, radius = self.drawing.ball
            tick = 0.25 * radius
            self.line([(x - tick, y), (x + tick, y)], 0.6, zorder=5)
            self.line([(x, y - tick), (x, y + tick)], 0.6, zorder=5)
        if self.drawing.bore > 0.0:
            self.line([(self.drawing.right, 0.0), (self.drawing.right, self.drawing.bore)], 0.9)
        past = self.inch(0.15)
        ends = [(self.drawing.left - past, 0.0), (self.drawing.right + past, 0.0)]
        self.line(ends, 0.8, color=INK, dashes=(14, 3, 2, 3), zorder=6)

    def names(self) -> None:
        pieces = sorted(self.drawing.pieces, key=lambda piece: piece.at[0])
        layout = arrange(
            self.axes,
            [piece.name for piece in pieces],
            [self.paper(piece.at[0]) for piece in pieces],
            MARGIN,
            WIDTH - MARGIN,
        )
        bend = self.drawing.top + self.inch(0.14)
        base = bend + self.inch(0.32)
        self.write(layout, [piece.at for piece in pieces], base, bend, 1.0)
        self.upper = base + self.inch(sum(layout.heights))

    def sizes(self, job: Job, units: str) -> None:
        """Diameters of bore and seats, each from the centre line; length of the stack."""
        marks = [(x, r, f"seat ⌀ {job[seat].shown(units)}") for seat, r, x in self.drawing.seats]
        if self.drawing.bore > 0.0:
            bore = job["shaft.bore"].shown(units)
            marks.append((0.62 * self.drawing.left, self.drawing.bore, f"bore ⌀ {bore}"))
        marks.sort()
        foot = -self.inch(0.10)
        for x, radius, _ in marks:
            self.line([(x, 0.0), (x, radius)], 2.6, color="#ffffff", zorder=3.5)
            self.arrow((x, foot), (x, radius))
        layout = arrange(
            self.axes,
            [text for *_, text in marks],
            [self.paper(x) for x, *_ in marks],
            MARGIN,
            WIDTH - MARGIN,
        )
        base = -self.inch(0.24)
        self.write(layout, [(x, 0.0) for x, *_ in marks], base, foot, -1.0)
        level = base - self.inch(sum(layout.heights) + 0.30)

        shoulder, face = 0.0, self.drawing.nut_face
        factor = shop.shop_unit("size")["factor"]
        text = f"stack {shop.shown(face / factor, 'size', units)}"
        width = self.inch(extent(self.axes, text, fontsize=9.0)[0] + 0.1)
        self.line([(shoulder, level), (face, level)])
        for end, other in ((shoulder, face), (face, shoulder)):
            self.arrow((0.5 * (end + other), level), (end, level))
        inside = width < face - shoulder - self.inch(0.4)
        put(
            self.axes,
            0.5 * (shoulder + face) if inside else face + self.inch(0.15),
            level,
            text,
            ha="center" if inside else "left",
            va="center",
            fontsize=9.0,
            color=INK,
            gid="size",
            zorder=8,
            bbox=PATCH,
        )
        self.lower = level

    def clamp(self, job: Job, units: str) -> None:
        """What the nut gives and what reaches the shoulder, as built."""
        found = evaluate(job, level="quick")
        built = job.states[0]

        def span(low: str, high: str) -> str:
            return f"{found[built, low].shown(units)} to {found[built, high].shown(units)}"

        nut = found[built, "nut.preload"].shown(units)
        wide = span("nut.preload_low", "nut.preload_high")
        rows = (
            (self.drawing.nut_face, -1.0, f"nut clamps with {nut} ({wide})"),
            (0.0, 1.0, f"shoulder gets {span('shoulder.clamp_low', 'shoulder.clamp_high')}"),
        )
        level = self.lower - self.inch(0.14)
        for x, side, text in rows:
            level -= self.inch(0.26)
            tip = x + side * self.inch(0.75)
            start, end = ((x, level), (tip, level))
            self.arrow(start, end, 2.2, FORCE)
            width = extent(self.axes, text, fontsize=9.5)[0]
            left = self.paper(tip) + 0.08 if side > 0 else self.paper(tip) - 0.08 - width
            left = min(max(left, MARGIN), WIDTH - MARGIN - width)
            if side < 0 and left + width > self.paper(tip) - 0.05:
                left = self.paper(x) + 0.12
            put(
                self.axes,
                self.from_x + self.inch(left),
                level,
                text,
                ha="left",
                va="center",
                fontsize=9.5,
                color=FORCE,
                gid="force",
                bbox=PATCH,
                zorder=8,
            )
        for x in (0.0, self.drawing.nut_face):
            self.line([(x, -self.inch(0.04)), (x, level - self.inch(0.12))], 0.5, zorder=1)
        self.lower = level - self.inch(0.14)

    def turning(self, job: Job) -> None:
        """Hand of the thread and which way to tighten."""
        hand = str((job.file.table("nut") or {}).get("hand", "right"))
        way = "anticlockwise" if hand == "left" else "clockwise"
        text = f"{hand.upper()}-HAND\nthread\n\ntighten\n{way},\nseen from\nthe nut end"
        radius, head = self.inch(0.26), self.inch(0.11)
        x = self.drawing.right + self.inch(0.72)
        room = self.inch(extent(self.axes, text, fontsize=9.0)[1])
        y = max(0.5 * self.drawing.top, 0.5 * room) + radius
        ring = Arc((x, y), 2 * radius, 2 * radius, theta1=-60.0, theta2=240.0, lw=1.8, color=INK)
        self.axes.add_patch(ring)
        # Anticlockwise the arc ends lower left, heading right; clockwise it is the mirror image.
        turn = 1.0 if hand == "left" else -1.0
        foot = np.array([-turn * 0.5, -0.866]) * radius
        along, across = np.array([turn * 0.866, -0.5]), np.array([turn * 0.5, 0.866])
        corners = [
            foot + along * 2.0 * head,
            foot + across * 0.6 * head,
            foot - across * 0.6 * head,
        ]
        self.axes.add_patch(
            Polygon([(x + float(c[0]), y + float(c[1])) for c in corners], closed=True, color=INK)
        )
        put(
            self.axes,
            x,
            y - radius - self.inch(0.2),
            text,
            ha="center",
            va="top",
            fontsize=9.0,
            color=INK,
            gid="note",
            zorder=8,
            linespacing=1.15,
        )

    def materials(self) -> None:
        """Which hatching is which material."""
        height, box = 0.24, 0.34
        level, at = self.lower - self.inch(height), MARGIN
        for material, look in self.looks.items():
            text = clean(material.replace(" degC", " °C"), 90)
            width = extent(self.axes, text, fontsize=8.0)[0]
            if at > MARGIN and at + box + 0.1 + width > WIDTH - MARGIN:
                at, level = MARGIN, level - self.inch(height)
            x = self.from_x + self.inch(at)
            swatch = Polygon(
                Rectangle((x, level), self.inch(box), self.inch(0.15)).get_corners(),
                closed=True,
                facecolor=HATCHES[look % len(HATCHES)][2],
                edgecolor=INK,
                linewidth=0.8,
            )
            self.axes.add_patch(swatch)
            self.hatch(swatch, look, 1, 0.55)
            put(
                self.axes,
                x + self.inch(box + 0.08),
                level + self.inch(0.07),
                text,
                ha="left",
                va="center",
                fontsize=8.0,
                color=INK,
                gid="material",
            )
            at += box + 0.08 + width + 0.25
        self.lower = level - self.inch(0.12)

    def title(self, job: Job) -> None:
        left = self.from_x + self.inch(MARGIN)
        shown = clean(job.title, 80)
        style = {"ha": "left", "va": "bottom", "color": INK, "gid": "title"}
        state = job.file.rows("state")[0]
        built = str(state.get("title", state["name"]))
        below = f"half-section, to scale; clamp in the first state: {built}"
        put(self.axes, left, self.upper + self.inch(0.12), clean(below, 110), fontsize=8.5, **style)
        put(
            self.axes,
            left,
            self.upper + self.inch(0.30),
            shown,
            fontsize=12.5,
            fontweight="bold",
            **style,
        )
        self.upper += self.inch(0.62)

    def trim(self) -> None:
        """The paper ends where the drawing does."""
        figure = self.axes.get_figure(root=True)
        assert isinstance(figure, Figure)
        figure.set_size_inches(WIDTH, (self.upper - self.lower) * self.scale)
        self.axes.set_xlim(self.from_x, self.from_x + self.inch(WIDTH))
        self.axes.set_ylim(self.lower, self.upper)
