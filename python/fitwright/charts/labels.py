"""Names beside a drawing: placed in rows so that no text and no leader meets another."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.text import Text
from numpy.typing import NDArray

GAP = 0.12  # inch between two names
PAD = 0.05  # inch above and below a name
LONGEST = 60  # characters of a name
LARGEST_SHIFT = 1.0  # inch from a name to its part, before another row is tried


def clean(text: str, most: int = LONGEST) -> str:
    """A user's text on one line, shortened."""
    line = " ".join("".join(c if c.isprintable() else " " for c in text).split())
    return line if len(line) <= most else line[: most - 1].rstrip() + "…"


def put(axes: Axes, x: float, y: float, text: str, **style: object) -> Text:
    """Text as it stands: a user's $ is no formula."""
    return axes.text(x, y, text, parse_math=False, **style)  # type: ignore[arg-type]


def extent(axes: Axes, text: str, **style: object) -> tuple[float, float]:
    """Width and height of a text in inches."""
    probe = put(axes, 0.0, 0.0, text, **style)
    figure = axes.get_figure(root=True)
    assert isinstance(figure, Figure)
    box = probe.get_window_extent()
    probe.remove()
    return box.width / figure.dpi, box.height / figure.dpi


def _wrapped(text: str, width: int) -> list[str]:
    return textwrap.wrap(text, width, break_on_hyphens=False)


@dataclass
class Layout:
    """Where each name goes: middle and row; the lowest row is next to the drawing."""

    texts: list[str]
    at: NDArray[np.float64]
    rows: list[int]
    sizes: list[tuple[float, float]]
    style: dict[str, object]

    @property
    def heights(self) -> list[float]:
        """Of the rows, from the lowest."""
        return [
            max(h for (_, h), r in zip(self.sizes, self.rows, strict=True) if r == row) + 2.0 * PAD
            for row in range(max(self.rows) + 1)
        ]


def _spread(
    wanted: NDArray[np.float64],
    widths: NDArray[np.float64],
    rows: Sequence[int],
    low: float,
    high: float,
) -> NDArray[np.float64] | None:
    """Middles in the order of `wanted`, apart; higher names are led down between lower ones."""
    count = len(wanted)
    apart = np.zeros((count, count))
    for i in range(count):
        for j in range(i + 1, count):
            reach = 0.0
            if rows[i] <= rows[j]:
                reach += 0.5 * widths[i]
            if rows[j] <= rows[i]:
                reach += 0.5 * widths[j]
            apart[i, j] = reach + GAP if rows[i] == rows[j] else reach + 0.5 * GAP

    def push(start: NDArray[np.float64], least: NDArray[np.float64]) -> NDArray[np.float64]:
        at = np.maximum(start, least)
        for j in range(1, count):
            at[j] = max(at[j], float(np.max(at[:j] + apart[:j, j])))
        return at

    def pull(start: NDArray[np.float64], most: NDArray[np.float64]) -> NDArray[np.float64]:
        at = np.minimum(start, most)
        for i in range(count - 2, -1, -1):
            at[i] = min(at[i], float(np.min(at[i + 1 :] - apart[i, i + 1 :])))
        return at

    least, most = low + 0.5 * widths, high - 0.5 * widths
    # Both keep everything apart, so their mean does.
    mean = 0.5 * (push(wanted, least) + pull(wanted, most))
    at = pull(push(mean, least), most)
    return at if bool(np.all(at >= least - 1e-9)) else None


def arrange(
    axes: Axes, names: Sequence[str], wanted: Sequence[float], low: float, high: float
) -> Layout:
    """The first way of writing the names that fits between low and high [inch]."""
    order = [clean(name) for name in names]
    where = np.asarray(wanted, dtype=np.float64)
    ways = [(rows, wrap, 9.0, 0) for rows in (1, 2, 3) for wrap in (18, 13)]
    ways += [(1, LONGEST, size, 90) for size in (9.0, 8.0, 7.0, 6.0, 5.0, 4.0, 3.0)]
    fallback: Layout | None = None
    for rows, wrap, size, turned in ways:
        texts = order if turned else ["\n".join(_wrapped(t, wrap)) or " " for t in order]
        style: dict[str, object] = {"fontsize": size, "rotation": turned, "linespacing": 1.1}
        sizes = [extent(axes, text, **style) for text in texts]
        row = [i % rows for i in range(len(texts))]
        at = _spread(where, np.array([w for w, _ in sizes]), row, low, high)
        if at is None:
            continue
        layout = Layout(texts, at, row, sizes, style)
        if turned or float(np.max(np.abs(at - where))) <= LARGEST_SHIFT:
            return fallback if turned and fallback is not None else layout
        fallback = fallback or layout
    if fallback is None:
        raise ValueError(f"{len(order)} names do not fit into one picture")
    return fallback
