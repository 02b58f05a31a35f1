"""The elements of a sheet's HTML as a tree that the typesetter walks: one text, two ways to print.

Only what the templates write is understood; what a user wrote comes as text and never as markup.
"""

from __future__ import annotations

import re
from html.parser import HTMLParser
from typing import Any

__all__ = ["Pages", "tree_of"]

#: Elements without an end.
VOID = {"br", "meta", "link", "img"}
#: What a printed page does not show.
UNSEEN = {"head", "style", "title"}
#: Letters beyond which a cell that may wrap shares what is left of the width.
LONG_CELL = 22
#: Widths of the columns that are written in by hand [mm].
BY_HAND = {"tick": 9.0, "sign": 15.0, "blank": 19.0}
#: Width of a letter of the tables, and what a cell has beside its text [mm].
LETTER, BESIDE = 1.85, 2.4
#: Width of a page, and the least that a column which shares the rest must get [mm].
PAGE, LEAST_SHARE = 186.0, 24.0
#: Sizes of the letters of a fine table, and of a small line in a cell.
FINE, SMALL = 0.94, 0.82
#: Letters that a cell which may wrap asks for.
WRAPPED = 12


class Pages(HTMLParser):
    """Reads one HTML page; `.articles` are its documents, `.pictures` their drawings."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.articles: list[dict[str, Any]] = []
        self.pictures: list[str] = []
        self._open: list[dict[str, Any]] = [_node("page", "")]
        self._unseen = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        told = dict(attrs)
        if tag in UNSEEN:
            self._unseen += 1
        node = _node(tag, told.get("class") or "")
        for key in ("title", "data-picture", "colspan"):
            if told.get(key):
                node[key.removeprefix("data-")] = told[key]
        self._open[-1]["children"].append(node)
        if tag == "article":
            self.articles.append(node)
        if tag not in VOID:
            self._open.append(node)

    def handle_endtag(self, tag: str) -> None:
        if tag in UNSEEN:
            self._unseen -= 1
        while len(self._open) > 1:
            if self._open.pop()["tag"] == tag:
                break

    def handle_data(self, data: str) -> None:
        text = re.sub(r"[ \t\r\n]+", " ", data)  # what must not break stays
        if text and not self._unseen:
            self._open[-1]["children"].append(text)


def tree_of(page: str) -> tuple[list[dict[str, Any]], list[str]]:
    """Articles of a page as trees, and the pictures they name by number."""
    pictures: list[str] = []

    def keep(match: re.Match[str]) -> str:
        pictures.append(_whole_svg(match[0]))
        return f'<i data-picture="{len(pictures) - 1}"></i>'

    reader = Pages()
    reader.feed(re.sub(r"<svg\b.*?</svg>", keep, page, flags=re.DOTALL))
    reader.close()
    for article in reader.articles:
        _lay_tables(article)
    return reader.articles, pictures


def _node(tag: str, classes: str) -> dict[str, Any]:
    return {"tag": tag, "classes": classes.split(), "children": []}


def _whole_svg(text: str) -> str:
    """A drawing as a file of its own: the page knows its name spaces, a file must tell them."""
    spaces = 'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
    return text.replace("<svg", f"<svg {spaces}", 1)


def _rows_of(table: dict[str, Any]) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = []
    for child in table["children"]:
        if isinstance(child, dict):
            found += [child] if child["tag"] == "tr" else _rows_of(child)
    return found


def _cells(row: dict[str, Any]) -> list[dict[str, Any]]:
    return [c for c in row["children"] if isinstance(c, dict) and c["tag"] in ("td", "th")]


def _lay_tables(node: dict[str, Any]) -> None:
    """Gives every table the widths of its columns: by hand [mm], by content, or a share."""
    for child in node["children"]:
        if isinstance(child, dict):
            if child["tag"] == "table":
                child["columns"] = _columns(child)
            _lay_tables(child)


def _columns(table: dict[str, Any]) -> list[Any]:
    """Widths in mm where lines must not break, shares of the rest where they may."""
    rows = [_cells(row) for row in _rows_of(table)]
    count = max(sum(int(c.get("colspan", 1)) for c in row) for row in rows)
    whole, words, wraps = [0.0] * count, [0.0] * count, [0.0] * count
    by_hand = [0.0] * count
    for row in rows:
        place = 0
        for cell in row:
            span = int(cell.get("colspan", 1))
            if span == 1:
                lines = _lines(cell, 1.0)
                longest = max((len(line) * size for line, size in lines), default=0.0)
                held = whole if cell["tag"] == "td" and _stays_whole(cell) else wraps
                held[place] = max(held[place], longest)
                each = [len(word) * size for line, size in lines for word in line.split(" ")]
                words[place] = max([words[place], *each])
                for name in set(cell["classes"]) & BY_HAND.keys():
                    by_hand[place] = max(by_hand[place], BY_HAND[name])
            place += span
    letter = LETTER * (FINE if "fine" in table["classes"] else 1.0)
    found: list[Any] = []
    for line, word, wrap, hand in zip(whole, words, wraps, by_hand, strict=True):
        if wrap > LONG_CELL and not hand and not line:
            found.append({"share": wrap})
        else:
            least = max(line, word) if line or hand else max(word, min(wrap, WRAPPED))
            found.append({"hand": max(hand, least * letter + BESIDE)})
    if not any("share" in column for column in found):
        found[0] = {"share": 1}
    room = PAGE - LEAST_SHARE * sum("share" in column for column in found)
    asked = sum(column.get("hand", 0.0) for column in found)
    for column in found:
        if asked > room and "hand" in column:
            column["hand"] = column["hand"] / asked * room
    return found


def _stays_whole(cell: dict[str, Any]) -> bool:
    return "n" in cell["classes"] and "wrap" not in cell["classes"]


def _lines(node: dict[str, Any], size: float) -> list[tuple[str, float]]:
    """The lines of a cell as they stand when none has to wrap, each with its size of letters."""
    found = [("", size)]
    for child in node["children"]:
        if isinstance(child, str):
            found[-1] = (found[-1][0] + child, found[-1][1])
        elif child["tag"] in ("small", "br"):
            found += _lines(child, size * SMALL) if child["tag"] == "small" else []
            found.append(("", size))
        else:
            first, *more = _lines(child, size)
            found[-1] = (found[-1][0] + first[0], found[-1][1])
            found += more
    return [(" ".join(line.split(" ")).strip(), size) for line, size in found]
