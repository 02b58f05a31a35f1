"""Pictures of parts in section: deformed, with stress as colour, and pressure along each seat."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from matplotlib.axes import Axes
from matplotlib.collections import PolyCollection
from numpy.typing import NDArray

from fitwright.charts.figures import DASHES, SERIES, new_axes
from fitwright.charts.picture import drawable, new_picture
from fitwright.fields import units as shop

__all__ = ["DeformedPart", "SeatLine", "deformed", "pressure_along_seats"]

Floats = NDArray[np.float64]
#: Corners and middles of the sides of an eight-node element, once round.
ROUND = [0, 4, 1, 5, 2, 6, 3, 7]
#: Exaggerations that can be read off a picture.
STEPS = (1.0, 2.0, 5.0)
#: Share of the picture's length that the largest movement is drawn with.
DRAWN = 0.03


class DeformedPart(NamedTuple):
    """A part's mesh, its movements [m] and equivalent stress [Pa] at the nodes."""

    name: str
    r: Floats
    z: Floats
    elements: NDArray[np.int32]
    outwards: Floats
    along: Floats
    stress: Floats


class SeatLine(NamedTuple):
    """Pressure [Pa] over places [m] along a seat."""

    name: str
    place: Floats
    pressure: Floats


def _round_scale(wanted: float) -> float:
    """The largest of 1, 2, 5, 10 ... that is not above it."""
    scale = 1.0
    while 10.0 * scale <= wanted:
        scale *= 10.0
    return max((step * scale for step in STEPS if step * scale <= wanted), default=1.0)


def deformed(
    parts: Sequence[DeformedPart], title: str, system: str, scale: float | None = None
) -> Axes:
    """Half-section with movements exaggerated `scale` times (told in the title; chosen when left
    out) and the equivalent stress as colour. Colours end at the value 99 of 100 elements stay
    below: at a sharp edge there is none."""
    size, stress = shop.shop_unit("size", system), shop.shop_unit("stress", system)
    moved = max(float(np.abs(x).max()) for part in parts for x in (part.outwards, part.along))
    length = max(float(p.z.max()) for p in parts) - min(float(p.z.min()) for p in parts)
    told = scale if scale is not None else _round_scale(DRAWN * length / max(moved, 1e-12))
    ax = new_picture(9.0, 4.6)
    shapes, colours = [], []
    for part in parts:
        z = (part.z + told * part.along) * size["factor"]
        r = (part.r + told * part.outwards) * size["factor"]
        corners = part.elements[:, ROUND]
        shapes.append(np.stack([z[corners], r[corners]], axis=-1))
        colours.append(part.stress[corners].max(axis=1) * stress["factor"])
    shown = np.concatenate(colours)
    drawn = PolyCollection(
        list(np.concatenate(shapes)), array=shown, cmap="viridis", linewidths=0.1, edgecolors="face"
    )
    drawn.set_clim(0.0, max(float(np.sort(shown)[int(0.99 * (len(shown) - 1))]), 1e-9))
    ax.add_collection(drawn)
    ax.autoscale_view()
    ax.set_aspect("equal")
    figure = ax.get_figure(root=True)
    if figure is not None:
        bar = figure.colorbar(drawn, ax=ax, shrink=0.8)
        bar.set_label(f"von Mises stress [{stress['label']}]")
    ax.set_title(drawable(f"{title}: movements drawn {told:g} times as large"), fontsize=10.0)
    ax.set_xlabel(f"from the shoulder to the nut [{size['label']}]")
    ax.set_ylabel(f"radius [{size['label']}]")
    return ax


def pressure_along_seats(seats: Sequence[SeatLine], title: str, system: str) -> Axes:
    """Pressure of each seat over its place; near a sharp edge it grows with every mesh."""
    size, stress = shop.shop_unit("size", system), shop.shop_unit("stress", system)
    ax = new_axes(8.6, 4.2)
    for number, seat in enumerate(seats):
        order = np.argsort(seat.place)
        ax.plot(
            seat.place[order] * size["factor"],
            seat.pressure[order] * stress["factor"],
            marker=".",
            markersize=3.0,
            linewidth=1.4,
            color=SERIES[number % len(SERIES)],
            linestyle=DASHES[(number // len(SERIES)) % len(DASHES)],
            label=drawable(seat.name, 36),
        )
    ax.set_ylim(bottom=0.0)
    ax.set_title(drawable(title), fontsize=10.0)
    ax.set_xlabel(f"from the shoulder to the nut [{size['label']}]; points at edges are no peaks")
    ax.set_ylabel(f"pressure [{stress['label']}]")
    ax.legend(frameon=False, fontsize=8.5)
    return ax
