"""Bars of Sobol' indices."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from matplotlib.axes import Axes

from fitwright.charts.figures import BAD, BODY, INK, new_axes


def index_bars(
    names: Sequence[str],
    first: Sequence[tuple[float, float]],
    total: Sequence[tuple[float, float]],
) -> Axes:
    """Share of variance per input, alone and in all; pairs are (value, half of the interval)."""
    axes = new_axes()
    rows = np.arange(len(names))
    for pairs, shift, color, label in (
        (first, -0.19, BODY, "alone"),
        (total, 0.19, BAD, "alone and with others"),
    ):
        axes.barh(
            rows + shift,
            [100.0 * value for value, _ in pairs],
            height=0.36,
            xerr=[100.0 * half for _, half in pairs],
            color=color,
            ecolor=INK,
            error_kw={"linewidth": 1.0, "capsize": 2.0},
            label=label,
        )
    axes.set_yticks(rows, list(names), parse_math=False)
    axes.axvline(0.0, color=INK, linewidth=0.8)
    axes.set_ylim(max(len(names), 1) - 0.4, -0.6)
    axes.set_xlabel("share of the variance [%], with its 95 % interval")
    axes.legend(frameon=False, fontsize=9, loc="lower right")
    return axes
