"""fitwright: what will hold a stack of heat-fitted parts on a shaft, and how sure that is.

Numbers are SI (temperatures degC); strings such as "38 um" carry units; arrays broadcast.
Rooms with models load when first used.
"""

from __future__ import annotations

import importlib
from typing import TYPE_CHECKING, Any

from fitwright.errors import InputError

if TYPE_CHECKING:
    from fitwright import balls, bearings, heat, materials, rings, sizes, threads
    from fitwright.job import Job, demo
    from fitwright.materials import Material
    from fitwright.parts import Bearing, Body, Housing, LineBody, Nut, Ring, Shaft

__version__ = "0.1.0"
__all__ = [
    "Bearing",
    "Body",
    "Housing",
    "InputError",
    "Job",
    "LineBody",
    "Material",
    "Nut",
    "Ring",
    "Shaft",
    "balls",
    "bearings",
    "demo",
    "heat",
    "materials",
    "rings",
    "sizes",
    "threads",
]

_MODULES = {"balls", "bearings", "heat", "materials", "rings", "sizes", "threads"}
_NAMES = {
    "Job": "job",
    "demo": "job",
    "Material": "materials",
    **dict.fromkeys(("Bearing", "Body", "Housing", "LineBody", "Nut", "Ring", "Shaft"), "parts"),
}


def __getattr__(name: str) -> Any:
    if name in _MODULES:
        return importlib.import_module(f"fitwright.{name}")
    if name in _NAMES:
        return getattr(importlib.import_module(f"fitwright.{_NAMES[name]}"), name)
    raise AttributeError(f"module 'fitwright' has no attribute '{name}'")


def __dir__() -> list[str]:
    return sorted(__all__)
