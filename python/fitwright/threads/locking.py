"""Ways out when no tab meets a slot within the torque window."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from fitwright.fields.arguments import checked
from fitwright.fields.errors import InputError
from fitwright.fields.tables import Shown, Table
from fitwright.fields.units import Number, UnitProblem, shown, to_si
from fitwright.models.results import Result, call

__all__ = ["WayOut", "WaysOut", "lock_ways_out"]

NEVER = (
    "Never back off to align; a bent tab is never used again: a new washer once one was bent. "
    "The maker's manual and approved data come first."
)


@dataclass(frozen=True)
class WayOut:
    """One way out. `possible`: it can work within the limits; `chance` of one try;
    `torque`, `preload` [SI] where it ends; `depth` [m] to take off."""

    kind: str
    text: str
    possible: bool
    chance: float
    torque: float | None = None
    preload: float | None = None
    depth: float | None = None


@checked
class WaysOut(Shown):
    """Ways out, best first; `.best`, or None where none can work."""

    def __init__(self, ways: list[WayOut], miss_told: bool) -> None:
        self.all, self.miss_told = ways, miss_told
        self.caution = NEVER

    @property
    def best(self) -> WayOut | None:
        return next((way for way in self.all if way.possible), None)

    def __iter__(self) -> Iterator[WayOut]:
        return iter(self.all)

    def __len__(self) -> int:
        return len(self.all)

    def table(self, units: str | None = None) -> Table:
        rows = [
            [
                str(place),
                way.kind,
                way.text,
                f"{way.chance:.0%}",
                "" if way.torque is None else shown(way.torque, "torque", units),
                "" if way.preload is None else shown(way.preload, "force", units),
                "" if way.depth is None else shown(way.depth, "fine", units),
            ]
            for place, way in enumerate(self.all, 1)
        ]
        marks = ["good" if way.possible else "bad" for way in self.all]
        told = "" if self.miss_told else "No measured miss: the worst one, a whole step. "
        head = ["", "way", "what to do", "chance", "torque", "force", "take off"]
        return Table(head, rows, told + NEVER, marks)


def _counts(others: Mapping[str, tuple[int, int]] | None) -> dict[str, tuple[int, int]]:
    if others is None:
        return {}
    wrong = [
        (f"others.{name}", f"{pair!r} must be two whole numbers: tabs and slots")
        for name, pair in others.items()
        if not isinstance(pair, tuple | list)
        or len(pair) != 2
        or not all(isinstance(n, int) and not isinstance(n, bool) and n > 0 for n in pair)
    ]
    if wrong:
        raise InputError(wrong)
    return {name: (pair[0], pair[1]) for name, pair in others.items()}


@checked
def lock_ways_out(
    tabs: Result,
    *,
    others: Mapping[str, tuple[int, int]] | None = None,
    stone_limit: Number = "50 um",
    units: str | None = None,
) -> WaysOut:
    """What can be done, ranked, when the nut of `fw.threads.lock_tabs(...)` has missed.

    Parameters
    ----------
    tabs : the answer of fw.threads.lock_tabs, best with the miss measured at the nut
    others : washers and nuts at hand: name to (tabs, slots)
    stone_limit : the most that may come off washer or nut face
    units : of the texts, "metric" or "inch"

    Example
    -------
    >>> import fitwright as fw
    >>> found = fw.demo("blower").lock_tabs()
    >>> answer = fw.threads.lock_ways_out(found, others={"washer with 19 tabs": (19, 4)})
    """
    if not isinstance(tabs, Result) or tabs._model != "threads.lock_tabs":
        raise InputError([("tabs", "must be an answer of fw.threads.lock_tabs")])
    answer: Any = tabs
    if isinstance(answer.chance, np.ndarray):
        raise InputError([("tabs", "must be one answer, not an array")])
    try:
        limit = to_si(stone_limit, "fine")
    except UnitProblem as problem:
        raise InputError([("stone_limit", str(problem))]) from problem
    if not isinstance(limit, float) or limit < 0.0:
        raise InputError([("stone_limit", "must be one depth from 0")])

    ways: list[WayOut] = []
    met = answer.window_margin >= 0.0
    if met:
        text = "turn on to the next meeting: it lies within the window"
        ways.append(WayOut("as it is", text, True, 1.0, answer.next_torque, answer.next_preload))
    again: list[WayOut] = []
    for name, (n, m) in {"": (0, 0), **_counts(others)}.items():
        fresh: Any = answer
        if name:
            given = {**answer._arguments, "tabs": n, "slots": m, "miss": None}
            fresh = call(type(answer), given)
        told = shown(fresh.meeting_angle, "angle", units)
        again.append(
            WayOut(
                name or "other or turned washer, other nut",
                f"try again with {name or 'another of the same kind'}: tabs and slots meet every "
                f"{told}, any one try meets within the window with this chance",
                fresh.chance > 0.0,
                fresh.chance,
            )
        )
    ways += sorted(again, key=lambda way: -way.chance)
    if not met:
        per_degree = shown(answer.stone_per_degree, "fine", units)
        fits = answer.stone_least <= limit
        depth = answer.stone_middle if answer.stone_middle <= limit else answer.stone_least
        text = (
            f"stone or grind washer or nut face, flat and square: {per_degree} a degree; "
            f"from {shown(answer.stone_least, 'fine', units)} on the meeting comes into the window"
        )
        if not fits:
            text += f"; more than the {shown(limit, 'fine', units)} allowed"
        ways.append(WayOut("take off", text, bool(fits), 1.0 if fits else 0.0, depth=depth))
        allowed = answer.limit_margin >= 0.0
        text = "turn on to the next meeting: above the window, " + (
            "within the limit" if allowed else "beyond the limit too"
        )
        ways.append(
            WayOut(
                "next meeting",
                text,
                bool(allowed),
                1.0 if allowed else 0.0,
                answer.next_torque,
                answer.next_preload,
            )
        )
    ways.sort(key=lambda way: not way.possible)  # keeps the order of what can work
    return WaysOut(ways, tabs._arguments.get("miss") is not None)
