"""Strength of bolts by property class, with its sources; part of fw.joints."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import lru_cache
from importlib import resources
from typing import Any

from fitwright.fields.units import shown, to_si
from fitwright.threads.friction_data import Rows

__all__ = ["property_classes"]


@dataclass(frozen=True)
class PropertyClass:
    """Least strengths of one class [Pa]. `source` and `status` tell how far to trust it."""

    name: str
    sizes: str
    proof: float
    yield_strength: float
    tensile_strength: float
    source: str
    status: str

    def for_bolt(self) -> dict[str, float]:
        """The two strengths of a bolt: `fw.Bolt(**...)`."""
        return {
            "yield_strength": self.yield_strength,
            "tensile_strength": self.tensile_strength,
        }

    def row(self) -> list[str]:
        values = (self.proof, self.yield_strength, self.tensile_strength)
        return [self.name, self.sizes, *(shown(v, "stress") for v in values), self.status]


@lru_cache(maxsize=1)
def bolt_data() -> dict[str, list[dict[str, Any]]]:
    text = resources.files("fitwright").joinpath("data/bolts.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def _si(value: float) -> float:
    return float(to_si(f"{value} MPa", "stress"))


def property_classes() -> Rows[PropertyClass]:
    """Proof, yield and tensile strength of bolts by property class, with their sources.

    >>> import fitwright as fw
    >>> answer = fw.joints.property_classes()
    """
    rows = [
        PropertyClass(
            row["name"],
            row["sizes"],
            _si(row["proof"]),
            _si(row["yield"]),
            _si(row["tensile"]),
            row["source"],
            row["status"],
        )
        for row in bolt_data()["class"]
    ]
    head = ["class", "sizes", "proof", "yield", "tensile", "status"]
    return Rows("least strengths of bolts; the mark on the head tells the class", head, rows)
