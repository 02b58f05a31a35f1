"""Pictures of a bearing: loads around the ring, angles against speed, where the clearance went."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.projections.polar import PolarAxes
from numpy.typing import ArrayLike

from fitwright.charts.figures import BAD, BODY, INK, LIMIT, new_axes
from fitwright.charts.picture import Picture, new_picture

TURN = 2.0 * np.pi


def _polar(axes: Axes, place: tuple[float, float, float, float]) -> PolarAxes:
    figure = axes.get_figure(root=True)
    assert isinstance(figure, Figure)
    polar = figure.add_axes(place, projection="polar")
    assert isinstance(polar, PolarAxes)
    polar.set_theta_zero_location("S")  # a radial load is drawn downwards
    polar.tick_params(labelsize=8)
    polar.grid(color="#cccccc", linewidth=0.6)
    return polar


def _around(polar: PolarAxes, values: ArrayLike, color: str, label: str) -> None:
    ring = np.asarray(values, dtype=np.float64)
    angle = TURN * np.arange(len(ring) + 1) / len(ring)
    closed = np.append(ring, ring[0])
    polar.plot(angle, closed, color=color, linewidth=1.2, marker="o", markersize=4, label=label)


def ball_loads(
    inner_load: ArrayLike, outer_load: ArrayLike, inner_angle: ArrayLike, outer_angle: ArrayLike
) -> Picture:
    """Two rings: contact forces [N] and contact angles [rad] of each ball."""
    axes = new_picture(9.0, 4.8, bare=True)
    loads = _polar(axes, (0.05, 0.10, 0.38, 0.72))
    _around(loads, np.asarray(inner_load) / 1e3, BODY, "inner ring")
    _around(loads, np.asarray(outer_load) / 1e3, BAD, "outer ring")
    loads.set_rlabel_position(112.5)
    loads.set_rmin(0.0)
    loads.set_title("load of each ball [kN]", fontsize=10, pad=14)
    angles = _polar(axes, (0.57, 0.10, 0.38, 0.72))
    _around(angles, np.degrees(np.asarray(inner_angle)), BODY, "inner ring")
    _around(angles, np.degrees(np.asarray(outer_angle)), BAD, "outer ring")
    angles.set_rlabel_position(112.5)
    shown = np.degrees(np.concatenate([np.atleast_1d(inner_angle), np.atleast_1d(outer_angle)]))
    angles.set_rlim(min(0.0, 1.1 * float(shown.min())), max(1.0, 1.15 * float(shown.max())))
    angles.set_title("contact angle [deg]", fontsize=10, pad=14)
    handles, labels = loads.get_legend_handles_labels()
    axes.legend(handles, labels, loc="lower center", ncols=2, frameon=False, fontsize=9)
    return axes


def angles_against_speed(speed: ArrayLike, inner: ArrayLike, outer: ArrayLike) -> Picture:
    """Inner and outer contact angle [rad] over the speed [rad/s]."""
    axes = new_axes()
    rpm = np.asarray(speed) * 60.0 / TURN
    axes.plot(rpm, np.degrees(np.asarray(inner)), color=BODY, label="inner ring")
    axes.plot(rpm, np.degrees(np.asarray(outer)), color=BAD, label="outer ring")
    axes.set_xlabel("speed [rpm]")
    axes.set_ylabel("contact angle [deg]")
    if np.min(rpm) < np.max(rpm):
        axes.set_xlim(float(np.min(rpm)), float(np.max(rpm)))
    low, high = axes.get_ylim()
    if high - low < 2.0:  # a hair's breadth is not to look like a change
        middle = 0.5 * (low + high)
        axes.set_ylim(middle - 1.0, middle + 1.0)
    axes.legend(frameon=False, fontsize=9)
    return axes


def clearance_waterfall(steps: Mapping[str, float]) -> Picture:
    """The first step stands [m]; the others add to it; the last bar is what is left."""
    axes = new_axes(7.0, 0.45 * len(steps) + 1.6)
    names = [*steps, "left"]
    values = 1e6 * np.asarray(list(steps.values()), dtype=np.float64)
    after = np.cumsum(values)
    before = np.concatenate([[0.0], after[:-1]])
    rows = np.arange(len(values))
    colors = [INK, *(BODY if v >= 0.0 else BAD for v in values[1:])]
    axes.barh(rows, values, left=before, height=0.6, color=colors)
    axes.barh(len(values), after[-1], height=0.6, color=INK if after[-1] > 0.0 else LIMIT)
    for place, end in enumerate(after):  # from where one step ends to where the next begins
        axes.plot([end, end], [place + 0.3, place + 0.7], color=INK, linewidth=0.8)
    span = float(max(after.max(), 0.0) - min(after.min(), 0.0)) or 1.0
    for row, (start, value) in enumerate(zip(before, values, strict=True)):
        right = max(start, start + value)
        text = f"{value:+.1f}" if row else f"{value:.1f}"
        axes.text(right + 0.012 * span, row, text, va="center", fontsize=9)
    last = max(float(after[-1]), 0.0)
    axes.text(last + 0.012 * span, len(values), f"{after[-1]:.1f}", va="center", fontsize=9)
    axes.set_yticks(np.arange(len(names)), names, parse_math=False)
    axes.set_ylim(len(names) - 0.5, -0.5)
    low, high = axes.get_xlim()
    axes.set_xlim(low, high + 0.08 * span)
    axes.axvline(0.0, color=INK, linewidth=0.8)
    axes.set_xlabel("diametral clearance [um]")
    return axes
