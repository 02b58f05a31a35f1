"""One finding: an output held against its limit, with its margin and its reserve."""

from __future__ import annotations

from dataclasses import dataclass

from fitwright.fields.tables import Shown, Table
from fitwright.fields.value import Value

__all__ = ["ByState", "Eased", "Finding"]

#: A reserve this far below 0 is none: an oven left out is set to just what is needed.
ROUNDING = 1e-9
#: A reserve above this is "far": how far says nothing.
FAR = 2.0
#: What the core gives for a margin of size that the job tells too little for [m].
NOT_ASKED = 1.0


@dataclass(frozen=True)
class Finding:
    """One output in one state against its limit. A positive margin is good."""

    state: str
    path: str
    value: Value
    limit: Value
    is_least: bool
    margin: Value
    reserve: float
    level: str
    meaning: str
    #: What the reserve is a share of: the limit, or what its field counts in where the limit is 0.
    scale: Value

    @property
    def passed(self) -> bool:
        return self.reserve >= -ROUNDING

    @property
    def asked(self) -> bool:
        """Whether the job tells what this margin needs, as an opening or the end of a seat."""
        return not (self.value.quantity == "size" and self.value == NOT_ASKED)

    @property
    def mark(self) -> str:
        """ "good", "near" (a reserve below a tenth) or "bad"."""
        return "bad" if not self.passed else "near" if self.reserve < 0.1 else "good"

    @property
    def is_far(self) -> bool:
        return self.reserve > FAR

    def limit_text(self, system: str | None = None) -> str:
        return f"{'>=' if self.is_least else '<='} {self.limit.shown(system)}"

    def reserve_text(self, system: str | None = None) -> str:
        """ "41%" of the limit, "71% of 10.0 s" where the limit is 0, "far" beyond twice that."""
        if self.is_far:
            return "far"
        share = f"{self.reserve:.0%}"
        return share if self.limit != 0.0 else f"{share} of {self.scale.shown(system)}"

    def row(self, system: str) -> list[str]:
        return [
            self.path,
            self.state,
            self.value.shown(system),
            self.limit_text(system),
            self.margin.shown(system),
            self.reserve_text(system),
            {"good": "ok", "near": "near", "bad": "NOT MET"}[self.mark],
            self.level,
        ]


@dataclass(frozen=True)
class Eased:
    """A limit of the job that is wider than the usual one, or takes its place."""

    state: str
    path: str
    told: str
    usual: str
    meaning: str

    def __str__(self) -> str:
        return f"{self.path} ({self.state}): {self.told}, usually {self.usual}: {self.meaning}"


class ByState(Shown, dict[str, Value]):
    """One output in every state (and step) that has it, by name."""

    def __init__(self, path: str, values: dict[str, Value]) -> None:
        super().__init__(values)
        self.path = path

    def table(self, units: str | None = None) -> Table:
        return Table(
            ["state", self.path], [[state, value.shown(units)] for state, value in self.items()]
        )
