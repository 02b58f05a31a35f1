"""Pictures of heating: sizes of ring and seat as they meet, and oven against chill."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
from matplotlib.axes import Axes
from numpy.typing import NDArray

from fitwright.charts.figures import INK, LIMIT
from fitwright.charts.picture import Picture, new_picture
from fitwright.fields.units import shop_unit
from fitwright.heat import curves as heating

if TYPE_CHECKING:
    from fitwright.heat.formulas import ChillResult, OvenResult, SlipOnResult

HOT, COLD, OPEN = "#c9553d", "#1f4e79", "#3d8b5f"


def _scale(quantity: str, units: str | None) -> tuple[float, float, str]:
    unit = shop_unit(quantity, units)
    return float(unit["factor"]), float(unit["offset"]), str(unit["label"])


def _note(
    ax: Axes,
    text: str,
    at: tuple[float, float],
    shift: tuple[float, float],
    color: str = INK,
    align: str = "left",
) -> None:
    ax.annotate(
        text,
        xy=at,
        xytext=shift,
        textcoords="offset points",
        color=color,
        fontsize=8.5,
        ha=align,
        va="center",
        bbox={"facecolor": "#ffffff", "edgecolor": "none", "pad": 1.0, "alpha": 0.85},
        zorder=8,
    )


class _Meeting:
    """The run of a slip-on, in shop units, with its marks."""

    def __init__(self, result: SlipOnResult, units: str | None) -> None:
        self.result = result
        run = heating.cooling(result)
        fine, _, self.size_label = _scale("fine", units)
        degree, zero, self.degree_label = _scale("temperature", units)
        shaft: Any = result._arguments["shaft"]
        seat_20 = float(shaft.seat)
        self.time = run.time
        self.bore = (run.bore - seat_20) * fine
        self.seat = (run.seat - seat_20) * fine
        self.ring = run.ring_mean * degree + zero
        self.shaft = run.shaft_mean * degree + zero
        self.window = float(result.window)
        self.grab = float(result.grab)

    def at(self, column: NDArray[np.float64], time: float) -> float:
        return float(np.interp(time, self.time, column))

    @property
    def before(self) -> NDArray[np.bool_]:
        return np.asarray(self.time <= self.grab)


def size_against_temperature(result: SlipOnResult, units: str | None = None) -> Picture:
    """Bore and seat, each over its own mean temperature, from the oven until the joint is cold.

    Up to the grab the bore is above the seat; below it they would be as drawn were they free, and
    the distance is what grips.
    """
    ax = new_picture(7.0, 4.6)
    m = _Meeting(result, units)
    free = m.before
    after = ~free
    after[max(int(np.count_nonzero(free)) - 1, 0)] = True
    for temperature, size, color, label in (
        (m.ring, m.bore, HOT, "bore of the ring"),
        (m.shaft, m.seat, COLD, "seat of the shaft"),
    ):
        ax.plot(temperature[free], size[free], color=color, linewidth=1.9, label=label)
        ax.plot(temperature[after], size[after], color=color, linewidth=1.1, linestyle=(0, (4, 3)))
    ax.plot(m.ring[0], m.bore[0], "o", color=HOT, markersize=4.5)
    _note(
        ax,
        f"out of the oven, {m.ring[0]:.0f} {m.degree_label}",
        (m.ring[0], m.bore[0]),
        (-10.0, 5.0),
        align="right",
    )
    marks = (
        (
            m.window,
            OPEN,
            f"end of the window, {m.window:.0f} s\n"
            f"clearance {m.at(m.bore, m.window) - m.at(m.seat, m.window):.0f} {m.size_label}",
        ),
        (m.grab, LIMIT, f"grab, {m.grab:.0f} s"),
    )
    for time, color, text in marks:
        ring = (m.at(m.ring, time), m.at(m.bore, time))
        shaft = (m.at(m.shaft, time), m.at(m.seat, time))
        ax.plot(
            [shaft[0], ring[0]],
            [shaft[1], ring[1]],
            color=color,
            linewidth=1.0,
            linestyle=(0, (2, 2)),
            zorder=2,
        )
        for point in (ring, shaft):
            ax.plot(*point, "o", color=color, markersize=5.0, zorder=6)
        _note(ax, text, ring, (13.0, -9.0), color)
    cold = (float(m.ring[-1]), float(m.bore[-1]))
    top = (float(m.shaft[-1]), float(m.seat[-1]))
    ax.annotate(
        "",
        xy=top,
        xytext=cold,
        zorder=5,
        arrowprops={
            "arrowstyle": "<->",
            "color": INK,
            "linewidth": 1.0,
            "shrinkA": 0.0,
            "shrinkB": 0.0,
        },
    )
    _note(
        ax,
        f"interference {top[1] - cold[1]:.0f} {m.size_label}",
        (cold[0], 0.25 * cold[1] + 0.75 * top[1]),
        (8.0, 0.0),
    )
    ax.set_xlabel(f"mean temperature of each part [{m.degree_label}]")
    ax.set_ylabel(f"diameter over the seat's at 20 degC [{m.size_label}]")
    ax.grid(True, linewidth=0.4, alpha=0.6)
    ax.margins(x=0.10, y=0.08)
    ax.legend(frameon=False, fontsize=9, loc="upper left")
    return ax


def size_against_time(result: SlipOnResult, units: str | None = None) -> Picture:
    """Bore and seat over time from the oven, with carrying, sliding, window and grab."""
    ax = new_picture(7.0, 4.4)
    m = _Meeting(result, units)
    end = 1.35 * max(m.grab, m.window)
    shown = np.arange(len(m.time)) <= int(np.searchsorted(m.time, end))
    ax.plot(m.time[shown], m.bore[shown], color=HOT, linewidth=1.9, label="bore of the ring")
    ax.plot(m.time[shown], m.seat[shown], color=COLD, linewidth=1.9, label="seat of the shaft")
    carry, slide = heating.told(result, "carry_time"), heating.told(result, "slide_time")
    low, high = ax.get_ylim()
    for start, stop, text, shade in (
        (0.0, carry, "carry", "#f4efe4"),
        (carry, carry + slide, "slide home", "#e9eef4"),
    ):
        ax.axvspan(start, stop, color=shade, zorder=0)
        if stop - start > 0.06 * end:
            ax.text(
                0.5 * (start + stop),
                0.5 * (low + high),
                text,
                ha="center",
                va="center",
                fontsize=8.5,
                color=INK,
            )
    for time, color, text in (
        (m.window, OPEN, f"window ends, {m.window:.0f} s"),
        (m.grab, LIMIT, f"grab, {m.grab:.0f} s"),
    ):
        ax.axvline(time, color=color, linewidth=1.2, linestyle=(0, (4, 3)))
        ax.annotate(
            text,
            xy=(time, 1.0),
            xycoords=("data", "axes fraction"),
            xytext=(-4.0, -2.0),
            textcoords="offset points",
            rotation=90,
            ha="right",
            va="top",
            fontsize=8.5,
            color=color,
        )
    ax.set_ylim(low, high)
    ax.set_xlim(0.0, end)
    ax.set_xlabel("time from the oven [s]")
    ax.set_ylabel(f"diameter over the seat's at 20 degC [{m.size_label}]")
    ax.grid(True, linewidth=0.4, alpha=0.6)
    ax.legend(frameon=False, fontsize=9, loc="lower right")
    return ax


def ring_against_shaft(result: OvenResult | ChillResult, units: str | None = None) -> Picture:
    """What oven and chill share out: ring temperature needed over the shaft's, and their limits."""
    from fitwright.heat.formulas import oven
    from fitwright.materials import material

    ax = new_picture(7.0, 4.2)
    degree, zero, label = _scale("temperature", units)
    arguments: Any = result._arguments
    shaft, ring = material(arguments["shaft"].material), material(arguments["ring"].material)
    temperatures = np.linspace(shaft.lowest, max(40.0, shaft.lowest + 1.0), 121)
    curve = oven(
        shaft=arguments["shaft"],
        ring=arguments["ring"],
        interference=arguments["interference"],
        slip_clearance=arguments["slip_clearance"],
        shaft_temperature=temperatures,
    )
    told_limit = heating.told(result, "heating_limit")
    limit = (told_limit if np.isfinite(told_limit) else ring.heating_limit) * degree + zero
    x = temperatures * degree + zero
    y = np.asarray(curve.oven_needed) * degree + zero
    inside = y < ring.highest * degree + zero
    ax.plot(x[inside], y[inside], color=COLD, linewidth=2.0)
    good = inside & (y <= limit)
    ax.fill_between(x[good], y[good], limit, color=OPEN, alpha=0.18, linewidth=0.0)
    if np.any(good):
        middle = int(np.flatnonzero(good)[len(np.flatnonzero(good)) // 4])
        ax.annotate(
            "opens",
            xy=(x[middle], 0.5 * (y[middle] + limit)),
            ha="center",
            va="center",
            fontsize=9,
            color=OPEN,
        )
    ax.axhline(limit, color=LIMIT, linewidth=1.2)
    ax.annotate(
        "heating limit of the ring",
        xy=(0.0, limit),
        xycoords=("axes fraction", "data"),
        xytext=(18.0, 3.0),
        textcoords="offset points",
        ha="left",
        va="bottom",
        fontsize=8.5,
        color=LIMIT,
    )
    for cold, text in ((-78.5, "dry ice"), (-195.8, "nitrogen")):
        if cold > shaft.lowest:
            ax.axvline(cold * degree + zero, color=INK, linewidth=0.8, linestyle=(0, (2, 2)))
            ax.annotate(
                text,
                xy=(cold * degree + zero, 1.0),
                xycoords=("data", "axes fraction"),
                xytext=(3.0, -4.0),
                textcoords="offset points",
                va="top",
                fontsize=8.5,
                color=INK,
                rotation=90,
            )
    here = heating.told(result, "shaft_temperature") * degree + zero
    ax.plot(here, np.interp(here, x, y), "o", color=HOT, markersize=6.0, zorder=6)
    ax.set_xlim(float(x[0]), float(x[-1]))
    ax.set_xlabel(f"temperature of the shaft [{label}]")
    ax.set_ylabel(f"temperature the ring needs [{label}]")
    ax.grid(True, linewidth=0.4, alpha=0.6)
    return ax
