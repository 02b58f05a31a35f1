"""A screw thread as it is written on a drawing, read into size, pitch, form and hand."""

from __future__ import annotations

import re
from typing import NamedTuple

from fitwright.fields.units import UnitProblem, parse

__all__ = ["ThreadWords", "read_thread"]

_HAND = r"(?:[\s,-]+(LH|RH|left|right)(?:[ -]hand)?)?"
_METRIC = re.compile(rf"\s*(M|Tr)\s*([0-9.]+)\s*[x×X*]\s*([0-9.]+){_HAND}\s*", re.IGNORECASE)
_INCH = re.compile(
    r"\s*((?:[0-9]+[ -])?[0-9]+/[0-9]+|[0-9.]+)\s*(?:in|\")?\s*-\s*([0-9.]+)\s*"
    rf"(UNEF|UNC|UNF|UNS|UN|Acme){_HAND}\s*",
    re.IGNORECASE,
)


class ThreadWords(NamedTuple):
    """What the words say, as the keys of [nut] are written."""

    diameter: str
    pitch: str
    form: str
    hand: str


def read_thread(text: str) -> ThreadWords:
    """ "M75x2 LH", "Tr 60x9", "2 1/4-12 UN LH", "3-4 Acme". Raises UnitProblem."""
    hands = {"lh": "left", "left": "left"}
    if match := _METRIC.fullmatch(text):
        form = "iso_metric" if match[1].lower() == "m" else "trapezoidal"
        told = ThreadWords(
            f"{match[2]} mm", f"{match[3]} mm", form, hands.get((match[4] or "").lower(), "right")
        )
    elif match := _INCH.fullmatch(text):
        form = "acme" if match[3].lower() == "acme" else "unified"
        hand = hands.get((match[4] or "").lower(), "right")
        told = ThreadWords(f"{match[1]} in", f"{match[2]} tpi", form, hand)
    else:
        raise UnitProblem(
            f'"{text}" is not read as a thread; write it like "M75x2 LH" or "2 1/4-12 UN"'
        )
    parse(told.diameter, "size")
    parse(told.pitch, "size")
    return told
