"""Text from a user: read in one place, and made fit to be shown in messages, tables and pages."""

from __future__ import annotations

import reprlib
from typing import Any

#: Characters of a value in a message.
MOST_TOLD = 80
#: Characters of a title, and of a note that may have several lines.
MOST_TITLE = 200
MOST_NOTE = 10_000


def visible(text: str) -> str:
    """The text with everything that no screen shows (control characters, half of a surrogate pair,
    marks that turn the direction of writing) written as an escape."""
    if text.isprintable():
        return text
    return "".join(
        c if c.isprintable() else " " if c == "\N{NO-BREAK SPACE}" else _escape(c) for c in text
    )


def _escape(character: str) -> str:
    return character.encode("unicode_escape").decode("ascii")


def shortened(text: str, most: int = MOST_TOLD) -> str:
    """Visible, and never longer than a line."""
    if len(text) <= most:
        return visible(text)
    return f"{visible(text[: most - 20])}... ({len(text)} characters)"


def quoted(text: str) -> str:
    """A text as it stands in a message, between quotes."""
    return f'"{shortened(text)}"'


def told(value: Any) -> str:
    """A value as it stands in a message: no value is so large, or so odd, that telling it fails."""
    if isinstance(value, int) and value.bit_length() > 256:
        return f"a whole number of about {value.bit_length() * 301 // 1000} digits"
    if isinstance(value, str) and len(value) > MOST_TOLD:
        return f"{value[: MOST_TOLD - 20]!r}... ({len(value)} characters)"
    try:
        text = _REPR.repr(value) if isinstance(value, _CONTAINERS) else repr(value)
    except Exception:  # whatever a class of the user's own does
        text = f"a {type(value).__name__}"
    return shortened(" ".join(text.split()))


_CONTAINERS = (list, tuple, dict, set, frozenset, bytes, bytearray)
_REPR = reprlib.Repr()


def problem_with(text: Any, most: int = MOST_TITLE, lines: bool = False) -> str:
    """Why a text cannot be a title (or a note of several lines); empty when it can."""
    if not isinstance(text, str):
        return "must be text"
    if len(text) > most:
        return f"has {len(text)} characters; at most {most} are shown"
    shown = text.replace("\n", "").replace("\t", "").replace("\r", "") if lines else text
    for character in shown.replace("\N{NO-BREAK SPACE}", ""):
        if not character.isprintable():
            return f"holds a character that cannot be shown ({_escape(character)})"
    return ""
