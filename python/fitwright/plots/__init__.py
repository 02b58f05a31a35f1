"""Pictures: the half-section of a stack, and the figures of studies and sweeps.

Figures are made without pyplot, so that nothing here keeps state or needs a screen.
"""

from __future__ import annotations

import io
import os
from typing import Any

from matplotlib import rc_context
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure

__all__ = ["Picture", "new_picture", "save", "svg_text"]

#: The same picture gives the same file.
_STEADY: dict[Any, Any] = {
    "svg.hashsalt": "fitwright",
    "svg.fonttype": "path",
    "path.simplify": False,
}


class Picture(Axes):
    """Axes that show their figure when a notebook cell ends with them."""

    def _repr_png_(self) -> bytes:
        file = io.BytesIO()
        self.get_figure(root=True).savefig(file, format="png", dpi=110)  # type: ignore[union-attr]
        return file.getvalue()


def new_picture(width: float = 7.0, height: float = 4.2, bare: bool = False) -> Picture:
    """Axes on a figure of their own [inch]; bare: without frame, over the whole sheet."""
    figure = Figure(figsize=(width, height), layout=None if bare else "constrained")
    FigureCanvasAgg(figure)
    if bare:
        axes = figure.add_axes((0.0, 0.0, 1.0, 1.0), axes_class=Picture)
        axes.set_axis_off()
    else:
        axes = figure.add_subplot(axes_class=Picture)
        axes.spines[["top", "right"]].set_visible(False)
    assert isinstance(axes, Picture)
    return axes


def _save(axes: Axes, target: Any, kind: str) -> None:
    figure = axes.get_figure(root=True)
    assert isinstance(figure, Figure)
    options: dict[str, Any] = {"dpi": 200}
    if kind == "svg":
        options["metadata"] = dict.fromkeys(("Date", "Creator", "Format", "Type"))
    elif kind == "pdf":
        options["metadata"] = dict.fromkeys(("CreationDate", "Creator", "Producer"))
    with rc_context(_STEADY):
        figure.savefig(target, format=kind, **options)


def save(axes: Axes, path: str | os.PathLike[str]) -> None:
    """The axes' figure as .pdf, .svg or .png (200 dots per inch), by the ending of the name."""
    kind = os.path.splitext(os.fspath(path))[1].lower()
    if kind not in (".pdf", ".svg", ".png"):
        raise ValueError(f'"{os.fspath(path)}": a picture is written as .pdf, .svg or .png')
    _save(axes, os.fspath(path), kind[1:])


def svg_text(axes: Axes) -> str:
    """The figure as the text of an SVG file."""
    file = io.StringIO()
    _save(axes, file, "svg")
    return file.getvalue()
