"""A shop-made tool at its work, to scale: a half-section with its load and its main sizes."""

from __future__ import annotations

import os
import textwrap
from typing import TYPE_CHECKING

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from fitwright.charts.labels import arrange, clean, put
from fitwright.charts.picture import new_picture, save
from fitwright.fields.units import shown, without_zeros
from fitwright.job.tools import tool_of, tool_rows
from fitwright.pictures.paper import FORCE, INK, MARGIN, WIDTH, Paper
from fitwright.pictures.pieces import Drawing
from fitwright.pictures.tool_outline import read_tool

if TYPE_CHECKING:
    from fitwright.job.findings import Findings
    from fitwright.job.value import Job

__all__ = ["draw_tool"]

LONGEST = 110  # characters of a line below the drawing


def draw_tool(
    job: Job,
    name: str,
    ring: str | None = None,
    path: str | os.PathLike[str] | None = None,
    units: str | None = None,
    found: Findings | None = None,
) -> Axes:
    """One tool at its ring, to scale, on a figure of its own; as .svg, .pdf or .png if given."""
    result = tool_of(job, name, ring, found)  # refuses what is not there
    mine = [(row, served) for row, served in tool_rows(job) if row["name"] == name]
    row, serves = next((m for m in mine if ring is None or m[1] == ring), mine[0])
    tool = read_tool(job, row, serves)
    points = [p for piece in tool.pieces for p in piece.outline]
    points += [p for arrow in tool.arrows for p in arrow]
    xs, ys = zip(*points, strict=True)
    drawing = Drawing(tool.pieces, [], 0.0, min(xs), max(xs), max(ys), 0.0, 0.0)
    axes = new_picture(WIDTH, 5.0, bare=True)
    sheet = Paper(axes, drawing)
    for number, piece in enumerate(tool.pieces):
        look = sheet.looks.setdefault(piece.material, len(sheet.looks))
        sheet.section(piece, look, 1 if number % 2 else -1)
    past = sheet.inch(0.15)
    if tool.axis:
        ends = [(drawing.left - past, 0.0), (drawing.right + past, 0.0)]
        sheet.line(ends, 0.8, color=INK, dashes=(14, 3, 2, 3), zorder=6)
    for tail, head in tool.arrows:
        sheet.arrow(tail, head, 2.2, FORCE)

    pieces = sorted(tool.pieces, key=lambda piece: piece.at[0])
    layout = arrange(
        axes,
        [piece.name for piece in pieces],
        [sheet.paper(piece.at[0]) for piece in pieces],
        MARGIN,
        WIDTH - MARGIN,
    )
    bend = drawing.top + sheet.inch(0.14)
    base = bend + sheet.inch(0.32)
    sheet.write(layout, [piece.at for piece in pieces], base, bend, 1.0)
    upper = base + sheet.inch(sum(layout.heights)) + sheet.inch(0.1)

    sizes = [
        f"{path.replace('_', ' ').replace('.', ' ')} "
        + without_zeros(job[f"tools.{name}.{path}"].shown(units))
        for path in tool.sizes
    ]
    outputs = {field["name"]: field["quantity"] for field in result._fields()}
    loads = [
        f"{word.replace('_', ' ')} {shown(float(result._outputs[word]), outputs[word], units)}"
        for word in ("working_load", "reaction_force", "setting")
        if word in outputs
    ]
    if "design_factor" in outputs:
        loads.append(f"design factor {result._outputs['design_factor']:.1f}")
    level = min(*ys, 0.0)
    left = sheet.from_x + sheet.inch(MARGIN)
    lines = [(line, INK) for line in textwrap.wrap("; ".join(sizes), LONGEST)]
    for text, colour in (*lines, ("; ".join(loads), FORCE)):
        level -= sheet.inch(0.26)
        style = {"ha": "left", "va": "center", "fontsize": 8.5, "color": colour}
        gid = "size" if colour == INK else "force"
        put(axes, left, level, clean(text, LONGEST), gid=gid, **style)
    level -= sheet.inch(0.2)
    figure = axes.get_figure(root=True)
    assert isinstance(figure, Figure)
    figure.set_size_inches(WIDTH, (upper - level) * sheet.scale)
    axes.set_xlim(sheet.from_x, sheet.from_x + sheet.inch(WIDTH))
    axes.set_ylim(level, upper)
    if path is not None:
        save(axes, path)
    return axes
