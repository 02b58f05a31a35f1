"""Friction by surface and lubricant, and what tools do to a torque: data with their sources."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from importlib import resources
from typing import Any, Generic, Protocol, TypeVar

from fitwright.fields.arguments import checked
from fitwright.fields.errors import InputError
from fitwright.fields.tables import Table

__all__ = ["friction_table", "tool_table"]


@dataclass(frozen=True)
class Friction:
    """Friction of one surface and lubricant. `source` and `status` tell how far to trust it."""

    name: str
    surface: str
    lubricant: str
    low: float
    usual: float
    high: float
    source: str
    status: str

    def for_nut(self) -> dict[str, float]:
        """The six friction fields of a nut, the same for thread and face: `fw.Nut(**...)`."""
        ends = {"": self.usual, "_low": self.low, "_high": self.high}
        return {
            f"{place}_friction{end}": value
            for place in ("thread", "face")
            for end, value in ends.items()
        }

    def row(self) -> list[str]:
        told = f"{self.low:.2f} to {self.high:.2f}"
        return [self.name, self.surface, self.lubricant, told, f"{self.usual:.3f}", self.status]


@dataclass(frozen=True)
class Tool:
    """A way to tighten: `scatter` of its torque either way, `factor` greatest over least force."""

    name: str
    tool: str
    scatter: float
    factor_low: float
    factor_high: float
    source: str
    status: str

    def row(self) -> list[str]:
        factor = f"{self.factor_low:.1f} to {self.factor_high:.1f}"
        return [self.name, self.tool, f"{self.scatter:.0%}", factor, self.status]


class Named(Protocol):
    """A row that tells its name and itself."""

    @property
    def name(self) -> str: ...
    def row(self) -> list[str]: ...


Row = TypeVar("Row", bound=Named)


@checked
class Rows(Generic[Row]):
    """Rows by name, `rows["oiled"]`; shows itself as a table."""

    def __init__(self, title: str, head: list[str], rows: list[Row]) -> None:
        self._title, self._head = title, head
        self._rows: dict[str, Row] = {row.name: row for row in rows}

    def __iter__(self) -> Iterator[Row]:
        return iter(self._rows.values())

    def __len__(self) -> int:
        return len(self._rows)

    def __getitem__(self, name: str) -> Row:
        if name not in self._rows:
            raise InputError([(name, f"is not in the table; it has {', '.join(self._rows)}")])
        return self._rows[name]

    def table(self, units: str | None = None) -> Table:
        return Table(self._head, [row.row() for row in self], self._title)

    def __repr__(self) -> str:
        return str(self.table())

    def _repr_html_(self) -> str:
        return self.table()._repr_html_()


@lru_cache(maxsize=1)
def _data() -> dict[str, list[dict[str, Any]]]:
    text = resources.files("fitwright").joinpath("data/threads.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def friction_table() -> Rows[Friction]:
    """Friction between threads and under the face by surface and lubricant, with its sources.

    >>> import fitwright as fw
    >>> answer = fw.threads.friction_table()
    """
    head = ["name", "surface", "lubricant", "range", "usual", "status"]
    rows = [Friction(**row) for row in _data()["friction"]]
    return Rows("friction of threads and nut faces; a measured value is better", head, rows)


def tool_table() -> Rows[Tool]:
    """How far each way to tighten scatters, with its sources.

    >>> import fitwright as fw
    >>> answer = fw.threads.tool_table()
    """
    head = ["name", "tool", "torque, either way", "greatest over least force", "status"]
    rows = [Tool(**row) for row in _data()["tool"]]
    return Rows("scatter of ways to tighten", head, rows)
