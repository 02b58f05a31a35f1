"""The gap a cooling ring leaves at its shoulder, over the press force."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from fitwright.charts.figures import BODY, INK, LIMIT, SERIES
from fitwright.charts.picture import Picture, new_picture
from fitwright.fields.errors import InputError
from fitwright.fields.units import shop_unit
from fitwright.heat import curves as heating
from fitwright.heat.pictures import COLD, HOT, _note, _scale

if TYPE_CHECKING:
    from fitwright.heat.formulas import SeatingResult


def gap_against_press(result: SeatingResult, units: str | None = None) -> Picture:
    """Gap at the shoulder over the press force: held, taken off with its range, and the formula."""
    if isinstance(result.gap, np.ndarray):
        raise InputError([("", "the picture is of one result of heat.seating, without arrays")])
    ax = new_picture(7.0, 4.4)
    fine, _, size_label = _scale("fine", units)
    force, _, force_label = _scale("force", units)
    capacity = float(result.capacity)
    press = heating.told(result, "press_force")
    press_to = max(1.25 * capacity, 1.1 * press)
    forces = np.linspace(0.0, press_to, 241)
    curve = heating.again(result, press_force=forces)
    x = forces * force
    ax.fill_between(
        x,
        curve.gap_low * fine,
        curve.gap_high * fine,
        color=BODY,
        alpha=0.25,
        linewidth=0.0,
        label="range of friction and correction",
    )
    ax.plot(x, curve.gap * fine, color=COLD, linewidth=2.0, label="press taken off")
    ax.plot(
        x,
        curve.gap_held * fine,
        color=COLD,
        linewidth=1.4,
        linestyle=(0, (4, 3)),
        label="while held",
    )
    ax.plot(
        x,
        curve.gap_formula * fine,
        color=SERIES[5],
        linewidth=1.0,
        linestyle=":",
        label="rigid walls, held (lower bound)",
    )
    allowed = heating.told(result, "allowed_gap") * fine
    ax.axhline(allowed, color=LIMIT, linewidth=1.1)
    ax.annotate(
        f"allowed {allowed:.3g} {size_label}",
        xy=(1.0, allowed),
        xycoords=("axes fraction", "data"),
        xytext=(-2.0, 2.0),
        textcoords="offset points",
        ha="right",
        va="bottom",
        fontsize=8.5,
        color=LIMIT,
    )
    ax.axvline(capacity * force, color=INK, linewidth=0.9, linestyle=(0, (2, 2)))
    ax.annotate(
        "slides whole",
        xy=(capacity * force, 0.62),
        xycoords=("data", "axes fraction"),
        xytext=(-4.0, 0.0),
        textcoords="offset points",
        rotation=90,
        ha="right",
        va="top",
        fontsize=8.5,
        color=INK,
        bbox={"facecolor": "#ffffff", "edgecolor": "none", "pad": 1.0},
    )
    if press > 0.0:
        point = (press * force, float(result.gap) * fine)
        ax.plot(*point, "o", color=HOT, markersize=6.0, zorder=6)
        decimals = int(shop_unit("fine", units)["decimals"])
        told = f"{point[1]:.{decimals}f} {size_label} at {point[0]:.0f} {force_label}"
        clamp = float(result.clamp_left) * force
        if clamp > 0.0:
            told = f"at {point[0]:.0f} {force_label}, {clamp:.0f} {force_label} stay clamped"
        if press < 0.6 * press_to:
            _note(ax, told, point, (9.0, 12.0), HOT)
        else:
            _note(ax, told, point, (0.0, 14.0), HOT, "right")
    ax.set_ylim(bottom=0.0)
    ax.set_xlim(0.0, press_to * force)
    ax.set_xlabel(f"press force while the ring cools [{force_label}]")
    ax.set_ylabel(f"gap at the shoulder [{size_label}]")
    ax.grid(True, linewidth=0.4, alpha=0.6)
    ax.legend(framealpha=0.95, edgecolor="none", fontsize=9, loc="upper right")
    return ax
