"""fitwright: what will hold a stack of heat-fitted parts on a shaft, and how sure that is.

Numbers are SI (temperatures degC); strings such as "38 um" carry units; arrays broadcast.
Rooms with models load when first used.
"""

from __future__ import annotations

import importlib
from typing import TYPE_CHECKING, Any

from fitwright import _core
from fitwright.errors import InputError

if TYPE_CHECKING:
    from fitwright import (
        balls,
        batch,
        bearing_life,
        bearings,
        bodies,
        heat,
        heating,
        joints,
        materials,
        rings,
        sizes,
        stack,
        threads,
        tooling,
        units,
    )
    from fitwright.job import Job, demo
    from fitwright.materials import Material
    from fitwright.parts import (
        AxialPath,
        BallRow,
        Bearing,
        Body,
        Bolt,
        BoltPlace,
        ClampedLayer,
        ClampPlate,
        DrivenNut,
        FixturePlate,
        HeldRing,
        Housing,
        InternalThread,
        Layer,
        LineBody,
        Lubricant,
        Nut,
        PlatedRing,
        Pocket,
        PulledGroove,
        PushedFace,
        Ring,
        RollerRow,
        Screw,
        SealRotor,
        SealStator,
        Service,
        Shaft,
        Slice,
        SquareRing,
        SquareShaft,
        SteppedRing,
    )

__version__ = _core.version()
__all__ = [
    "AxialPath",
    "BallRow",
    "Bearing",
    "Body",
    "Bolt",
    "BoltPlace",
    "ClampPlate",
    "ClampedLayer",
    "DrivenNut",
    "FixturePlate",
    "HeldRing",
    "Housing",
    "InputError",
    "InternalThread",
    "Job",
    "Layer",
    "LineBody",
    "Lubricant",
    "Material",
    "Nut",
    "PlatedRing",
    "Pocket",
    "PulledGroove",
    "PushedFace",
    "Ring",
    "RollerRow",
    "Screw",
    "SealRotor",
    "SealStator",
    "Service",
    "Shaft",
    "Slice",
    "SquareRing",
    "SquareShaft",
    "SteppedRing",
    "balls",
    "batch",
    "bearing_life",
    "bearings",
    "bodies",
    "demo",
    "heat",
    "heating",
    "joints",
    "materials",
    "rings",
    "sizes",
    "stack",
    "threads",
    "tooling",
    "units",
]

_MODULES = {
    "balls",
    "batch",
    "bearing_life",
    "bearings",
    "bodies",
    "heat",
    "heating",
    "joints",
    "materials",
    "rings",
    "sizes",
    "stack",
    "threads",
    "tooling",
    "units",
}
_NAMES = {
    "Job": "job",
    "demo": "job",
    "Material": "materials",
    **dict.fromkeys(
        (
            "AxialPath",
            "BallRow",
            "Bearing",
            "Body",
            "Bolt",
            "BoltPlace",
            "ClampPlate",
            "ClampedLayer",
            "DrivenNut",
            "FixturePlate",
            "HeldRing",
            "Housing",
            "InternalThread",
            "Layer",
            "LineBody",
            "Lubricant",
            "Nut",
            "PlatedRing",
            "Pocket",
            "PulledGroove",
            "PushedFace",
            "Ring",
            "RollerRow",
            "Screw",
            "SealRotor",
            "SealStator",
            "Service",
            "Shaft",
            "Slice",
            "SquareRing",
            "SquareShaft",
            "SteppedRing",
        ),
        "parts",
    ),
}


def __getattr__(name: str) -> Any:
    if name in _MODULES:
        return importlib.import_module(f"fitwright.{name}")
    if name in _NAMES:
        return getattr(importlib.import_module(f"fitwright.{_NAMES[name]}"), name)
    raise AttributeError(f"module 'fitwright' has no attribute '{name}'")


def __dir__() -> list[str]:
    return sorted(__all__)
