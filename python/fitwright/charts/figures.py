"""Figures of a study and a sweep, from plain data.

Values come in SI with `factor` and `offset` of the shop unit (a row of `units.shop_unit`):
shown = value * factor + offset. A limit that is None, NaN or infinite is no limit.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from matplotlib.axes import Axes
from matplotlib.ticker import FuncFormatter, NullFormatter
from numpy.typing import ArrayLike, NDArray

from fitwright import _core
from fitwright.charts.picture import Picture, new_picture

BODY, BAD, LIMIT, INK = "#5b7fa6", "#c9553d", "#a01818", "#222222"
BARS = 64  # a histogram of the core has 1024 bins; this many are shown at most
SERIES = ("#1f4e79", "#c9553d", "#3d8b5f", "#8a5fa8", "#b8860b", "#4b4b4b", "#2f9aa0", "#b0487e")
DASHES = ("-", "--", "-.", ":")


def new_axes(width: float = 7.0, height: float = 4.2) -> Picture:
    """Axes on a figure of their own [inch], without pyplot; they show themselves in a notebook."""
    return new_picture(width, height)


def _limit(value: float | None, factor: float, offset: float) -> float | None:
    if value is None or not np.isfinite(value):
        return None
    return value * factor + offset


def _bins(statistics: _core.Statistics) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Counts, and the edges between them, where there are any (SI)."""
    counts = np.asarray(statistics.bins, dtype=np.float64)
    steps = np.arange(len(counts) + 1, dtype=np.float64)
    edges: NDArray[np.float64] = np.asarray(statistics.bins_from + statistics.bin_width * steps)
    used = np.flatnonzero(counts)
    if len(used) == 0:
        return counts, edges
    first, last = int(used[0]), int(used[-1])
    return counts[first : last + 1], edges[first : last + 2]


def _draw_limit(ax: Axes, at: float, text: str, side: float) -> None:
    ax.axvline(at, color=LIMIT, linewidth=1.4)
    ax.annotate(
        text,
        xy=(at, 1.0),
        xycoords=("data", "axes fraction"),
        xytext=(4.0 * side, -2.0),
        textcoords="offset points",
        ha="left" if side > 0 else "right",
        va="top",
        color=LIMIT,
        fontsize=8.5,
        rotation=90,
    )


def histogram(
    ax: Axes,
    statistics: _core.Statistics,
    limit_low: float | None = None,
    limit_high: float | None = None,
    unit_label: str = "",
    factor: float = 1.0,
    offset: float = 0.0,
) -> Axes:
    """How one output scatters, its limits, and how many of a million lie outside them.

    The share outside is that of the samples counted by the core, not of the bars.
    """
    counts, edges = _bins(statistics)
    together = max(int(np.ceil(len(counts) / BARS)), 1)
    pad = -len(counts) % together
    step = float(edges[1] - edges[0])
    edges = np.concatenate([edges, edges[-1] + step * np.arange(1, pad + 1)])[::together]
    counts = np.concatenate([counts, np.zeros(pad)]).reshape(-1, together).sum(axis=1)
    xs = edges * factor + offset
    low, high = _limit(limit_low, factor, offset), _limit(limit_high, factor, offset)
    middles = 0.5 * (xs[:-1] + xs[1:])
    outside = np.zeros(len(middles), dtype=bool)
    if low is not None:
        outside |= middles < low
    if high is not None:
        outside |= middles > high
    share = counts / max(statistics.count, 1) * 100.0
    colors = np.where(outside, BAD, BODY)
    ax.bar(xs[:-1], share, np.diff(xs), align="edge", color=colors.tolist(), linewidth=0.0)
    if low is not None:
        _draw_limit(ax, low, f"at least {low:.4g}", -1.0)
    if high is not None:
        _draw_limit(ax, high, f"at most {high:.4g}", 1.0)
    mean = statistics.mean * factor + offset
    deviation = statistics.deviation * abs(factor)
    told = f"mean {mean:.4g}, deviation {deviation:.3g}"
    if low is not None or high is not None:
        failed = statistics.count - statistics.passed
        ppm = failed / max(statistics.count, 1) * 1e6
        told += f"; outside {ppm:.0f} ppm ({failed} of {statistics.count})"
    ax.margins(x=0.04)
    ax.set_ylim(0.0, 1.12 * max(float(share.max(initial=0.0)), 1e-9))
    ax.set_xlabel(f"{unit_label}\n{told}".lstrip())
    ax.set_ylabel("share of samples [%]")
    return ax


def cumulative(
    ax: Axes,
    statistics: _core.Statistics,
    limit_low: float | None = None,
    limit_high: float | None = None,
    unit_label: str = "",
    factor: float = 1.0,
    offset: float = 0.0,
    label: str | None = None,
) -> Axes:
    """Share of samples below each value, on a scale that opens both tails.

    Called again on the same axes it adds a curve, for two jobs side by side; give `label` then.
    """
    counts, edges = _bins(statistics)
    total = max(float(counts.sum()), 1.0)
    share = np.cumsum(counts) / total
    inside = (share > 0.0) & (share < 1.0)
    xs = edges[1:] * factor + offset
    ax.plot(xs[inside], share[inside], linewidth=1.6, label=label)
    ax.set_yscale("logit")
    ax.yaxis.set_major_formatter(FuncFormatter(lambda y, _: f"{100.0 * y:.6g} %"))
    ax.yaxis.set_minor_formatter(NullFormatter())
    ax.grid(True, which="major", linewidth=0.4, alpha=0.6)
    for value, text, side in (
        (_limit(limit_low, factor, offset), "at least", -1.0),
        (_limit(limit_high, factor, offset), "at most", 1.0),
    ):
        if value is not None:
            _draw_limit(ax, value, f"{text} {value:.4g}", side)
    ax.set_xlabel(unit_label)
    ax.set_ylabel("share of samples below")
    if label is not None:
        ax.legend(frameon=False, fontsize=9)
    return ax


def tornado(
    ax: Axes,
    names: Sequence[str],
    contributions: ArrayLike,
    unit_label: str = "",
    factor: float = 1.0,
    most: int = 12,
) -> Axes:
    """What one standard deviation of each input does to an output: the largest on top.

    `contributions` are derivative times standard deviation (SI, signed); `factor` to shop units.
    A bar runs from what a low input does to what a high one does; the sign is written.
    """
    values = np.asarray(contributions, dtype=np.float64) * factor
    order = np.argsort(-np.abs(values), kind="stable")
    shown = [int(i) for i in order[:most] if values[i] != 0.0]
    rows = np.arange(len(shown))
    sizes = np.abs(values[shown])
    ax.barh(rows, 2.0 * sizes, left=-sizes, height=0.62, color=BODY)
    reach = max(float(sizes.max(initial=0.0)), 1e-300)
    for row, i in zip(rows, shown, strict=True):
        ax.text(
            float(np.abs(values[i])) + 0.03 * reach,
            float(row),
            f"{values[i]:+.3g}",
            va="center",
            ha="left",
            fontsize=8.5,
            color=INK,
        )
    ax.set_yticks(rows, [names[i] for i in shown], parse_math=False)
    ax.axvline(0.0, color=INK, linewidth=0.8)
    ax.set_xlim(-1.1 * reach, 1.35 * reach)
    ax.set_ylim(max(len(shown), 1) - 0.4, -0.6)
    ax.set_xlabel(f"± one standard deviation of the input [{unit_label}]" if unit_label else "")
    left = int(np.count_nonzero(values)) - len(shown)
    if left > 0:
        text = f"and {left} that matter less"
        ax.text(0.99, 0.02, text, transform=ax.transAxes, ha="right", fontsize=8.5, color=INK)
    return ax


def sweep_plot(
    ax: Axes,
    xs: ArrayLike,
    ys_by_name: Mapping[str, ArrayLike],
    limits: Mapping[str, float | tuple[float | None, float | None]] | None = None,
    labels: tuple[str, str] = ("", ""),
) -> Axes:
    """Outputs over one input, all in shop units already.

    `limits` holds by name a limit, or a pair (at least, at most).
    """
    x = np.asarray(xs, dtype=np.float64)
    for number, (name, values) in enumerate(ys_by_name.items()):
        color = SERIES[number % len(SERIES)]
        dash = DASHES[(number // len(SERIES)) % len(DASHES)]
        mark = "o" if len(x) < 12 else None
        y = np.asarray(values, dtype=np.float64)
        ax.plot(x, y, color=color, linestyle=dash, marker=mark, linewidth=1.7, label=name)
        bounds = (limits or {}).get(name, ())
        pair = bounds if isinstance(bounds, tuple) else (bounds,)
        words = ("at least", "at most") if isinstance(bounds, tuple) else ("limit",)
        for bound, word in zip(pair, words, strict=False):
            level = _limit(bound, 1.0, 0.0)
            if level is not None:
                ax.axhline(level, color=color, linewidth=0.9, dashes=(5, 3))
                ax.annotate(
                    f"{word} {level:.4g}",
                    xy=(1.0, level),
                    xycoords=("axes fraction", "data"),
                    xytext=(-2.0, 2.0),
                    textcoords="offset points",
                    ha="right",
                    va="bottom",
                    fontsize=8.5,
                    color=color,
                )
    ax.set_xlabel(labels[0])
    ax.set_ylabel(labels[1])
    ax.grid(True, linewidth=0.4, alpha=0.6)
    if ys_by_name:
        ax.legend(frameon=False, fontsize=9)
    return ax
