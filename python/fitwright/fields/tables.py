"""One formatter for text and HTML: every result shows itself through it."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from typing import Any

from fitwright.fields.records import Records
from fitwright.fields.user_text import visible


class Table(Records):
    """Rows of text under a head. Shows itself in a terminal and in a notebook."""

    def __init__(
        self,
        head: Sequence[str],
        rows: Sequence[Sequence[str]],
        title: str = "",
        marks: Sequence[str] | None = None,
    ) -> None:
        self.head = [visible(cell) for cell in head]
        self.rows = [[visible(cell) for cell in row] for row in rows]
        #: may have several lines
        self.title = "\n".join(visible(line) for line in title.split("\n"))
        #: per row "good", "near", "bad" or ""
        self.marks = list(marks) if marks is not None else [""] * len(self.rows)

    def to_dict(self) -> list[dict[str, Any]]:
        """One row a dict, as it is shown."""
        names = [
            name if name and self.head.count(name) == 1 else f"{name}_{place}".strip("_")
            for place, name in enumerate(self.head, 1)
        ]
        return [dict(zip(names, row, strict=True)) for row in self.rows]

    def __str__(self) -> str:
        cells = [self.head, *self.rows]
        widths = [max(len(row[i]) for row in cells) for i in range(len(self.head))]
        numeric = [
            all(_is_numeric(row[i]) for row in self.rows) if self.rows else False
            for i in range(len(self.head))
        ]

        def line(row: Sequence[str]) -> str:
            parts = [
                cell.rjust(width) if right else cell.ljust(width)
                for cell, width, right in zip(row, widths, numeric, strict=True)
            ]
            return "  ".join(parts).rstrip()

        rule = "  ".join("-" * width for width in widths)
        body = [line(self.head), rule, *(line(row) for row in self.rows)]
        return "\n".join([self.title, *body] if self.title else body)

    __repr__ = __str__

    def _repr_html_(self) -> str:
        colour = {"good": "#e6f4ea", "near": "#fff4d6", "bad": "#fbe0dd", "": ""}
        head = "".join(f"<th style='text-align:left'>{escape(cell)}</th>" for cell in self.head)
        body = ""
        for row, mark in zip(self.rows, self.marks, strict=True):
            style = f" style='background:{colour[mark]}'" if colour[mark] else ""
            cells = "".join(f"<td style='text-align:left'>{escape(cell)}</td>" for cell in row)
            body += f"<tr{style}>{cells}</tr>"
        lines = escape(self.title).replace("\n", "<br>")
        title = f"<caption>{lines}</caption>" if self.title else ""
        return f"<table>{title}<thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>"


def _is_numeric(cell: str) -> bool:
    first = cell.split(" ")[0]
    return not cell or first.replace(".", "").replace("-", "").replace("e+", "").isdigit()


class Shown:
    """Shows itself as a table, in a terminal and in a notebook."""

    def table(self) -> Table:
        raise TypeError(f"{type(self).__name__} has no table")

    def __repr__(self) -> str:
        return str(self.table())

    def _repr_html_(self) -> str:
        return self.table()._repr_html_()
