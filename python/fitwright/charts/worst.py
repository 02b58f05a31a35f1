"""Which inputs the worst samples of a study share: a scatter matrix."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from matplotlib.figure import Figure
from numpy.typing import NDArray

from fitwright.charts.figures import LIMIT
from fitwright.charts.picture import new_picture


def scatter_matrix(
    columns: Mapping[str, Sequence[float]],
    output: NDArray[np.float64],
    high_is_bad: bool,
    share: float,
) -> Figure:
    """Every pair of inputs (by label, in shop units); the worst share of the output on top, in the
    limit's colour."""
    names = list(columns)
    values = {name: np.asarray(column) for name, column in columns.items()}
    count = len(names)
    order = np.argsort(-output if high_is_bad else output)
    worst = np.zeros(len(output), dtype=bool)
    worst[order[: max(1, int(share * len(output)))]] = True
    first = new_picture(1.9 * count + 1.0, 1.9 * count + 0.6)
    figure = first.figure
    assert isinstance(figure, Figure)
    first.remove()
    grid = figure.subplots(count, count, squeeze=False)
    for row, below in enumerate(names):
        for column, along in enumerate(names):
            ax = grid[row][column]
            if row == column:
                bins = np.linspace(values[along].min(), values[along].max(), 31)
                ax.hist(values[along], bins=bins, color="0.8", density=True)
                ax.hist(values[along][worst], bins=bins, color=LIMIT, alpha=0.6, density=True)
                ax.set_yticks([])
            else:
                x, y = values[along], values[below]
                ax.plot(x[~worst], y[~worst], ".", color="0.7", markersize=2)
                ax.plot(x[worst], y[worst], ".", color=LIMIT, markersize=3)
            ax.tick_params(labelsize=7)
            ax.locator_params(axis="x", nbins=4)
            if row == count - 1:
                ax.set_xlabel(along, fontsize=7.5)
            else:
                ax.set_xticklabels([])
            if column == 0:
                ax.set_ylabel(below, fontsize=7.5)
            else:
                ax.set_yticklabels([])
    figure.set_layout_engine("tight")
    return figure
