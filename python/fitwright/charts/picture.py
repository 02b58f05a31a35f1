"""Pictures: the half-section of a stack, and the figures of studies and sweeps.

Figures are made without pyplot, so that nothing here keeps state or needs a screen.
"""

from __future__ import annotations

import io
import os
from functools import lru_cache
from pathlib import Path
from typing import Any

from matplotlib import rc_context
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.font_manager import findfont, get_font
from matplotlib.legend import Legend
from matplotlib.text import Annotation, Text

from fitwright.fields import files
from fitwright.fields.errors import InputError
from fitwright.fields.user_text import quoted, visible

__all__ = ["Picture", "drawable", "new_picture", "picture_path", "save", "svg_text"]

#: The same picture gives the same file.
_STEADY: dict[Any, Any] = {
    "svg.hashsalt": "fitwright",
    "svg.fonttype": "path",
    "path.simplify": False,
}


@lru_cache(maxsize=1)
def _letters() -> frozenset[int]:
    """What the font of the pictures can draw; it comes with matplotlib."""
    return frozenset(get_font(findfont("DejaVu Sans")).get_charmap())


def drawable(text: str, most: int = 200) -> str:
    """A text as a picture can hold it: shortened, and letters that the font lacks as boxes."""
    lines = "\n".join(visible(line) for line in text.split("\n"))
    if not lines.isascii():
        known = _letters()
        lines = "".join(c if c == "\n" or ord(c) in known else "\N{WHITE SQUARE}" for c in lines)
    return lines if len(lines) <= most else f"{lines[: most - 1].rstrip()}\N{HORIZONTAL ELLIPSIS}"


_PLAIN_TEXT: dict[Any, Any] = {"text.parse_math": False}


class Picture(Axes):
    """Axes that show their figure when a notebook cell ends with them."""

    # All text of a picture comes through here: a user's $ is no formula, and no title is so long,
    # or in such letters, that the picture fails.
    def text(self, x: float, y: float, s: str, *more: Any, **style: Any) -> Text:
        return super().text(x, y, drawable(s), *more, **{"parse_math": False, **style})

    def annotate(self, text: str, *more: Any, **style: Any) -> Annotation:
        return super().annotate(drawable(text), *more, **{"parse_math": False, **style})

    def set_title(self, label: str, *more: Any, **style: Any) -> Text:
        return super().set_title(drawable(label, 100), *more, **style)

    def legend(self, *about: Any, **style: Any) -> Legend:
        made = super().legend(*about, **style)
        for text in made.get_texts():
            text.set_parse_math(False)
            text.set_text(drawable(text.get_text(), 80))
        return made

    def _repr_png_(self) -> bytes:
        file = io.BytesIO()
        self.get_figure(root=True).savefig(file, format="png", dpi=110)  # type: ignore[union-attr]
        return file.getvalue()


def new_picture(width: float = 7.0, height: float = 4.2, bare: bool = False) -> Picture:
    """Axes on a figure of their own [inch]; bare: without frame, over the whole sheet."""
    with rc_context(_PLAIN_TEXT):  # of titles and labels, which are made with the axes
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
    target = picture_path(path)
    with files.new_file(target) as file:
        _save(axes, file, target.suffix.lower()[1:])


def picture_path(path: str | os.PathLike[str]) -> Path:
    """Where a picture goes, refused where its ending is none of a picture."""
    target = files.path_of(path, "path")
    if target.suffix.lower() not in (".pdf", ".svg", ".png"):
        told = f"{quoted(str(target))} must end in .pdf, .svg or .png"
        raise InputError([("path", told)])
    return target


def svg_text(axes: Axes) -> str:
    """The figure as the text of an SVG file."""
    file = io.StringIO()
    _save(axes, file, "svg")
    return file.getvalue()
