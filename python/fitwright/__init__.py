"""fitwright: what will hold a stack of heat-fitted parts on a shaft, and how sure that is.

Numbers are SI (temperatures degC); strings such as "38 um" carry units; arrays broadcast.
Rooms with models load when first used.
"""

from __future__ import annotations

import importlib
from typing import TYPE_CHECKING, Any

from fitwright import _core, former
from fitwright.fields.errors import InputError

if TYPE_CHECKING:
    from fitwright import (
        bearings,
        bodies,
        heat,
        joints,
        materials,
        rings,
        sizes,
        stack,
        threads,
        tooling,
    )
    from fitwright.face import batch
    from fitwright.face.job import Job, demo
    from fitwright.fields import units
    from fitwright.materials import Material
    from fitwright.models.parts import (
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
    "batch",
    "bearings",
    "bodies",
    "demo",
    "heat",
    "joints",
    "materials",
    "rings",
    "sizes",
    "stack",
    "threads",
    "tooling",
    "units",
]

_PARTS = {
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
}
_MODULES = {
    **{
        room: f"fitwright.{room}"
        for room in (
            "bearings",
            "bodies",
            "heat",
            "joints",
            "materials",
            "rings",
            "sizes",
            "stack",
            "threads",
            "tooling",
        )
    },
    "batch": "fitwright.face.batch",
    "units": "fitwright.fields.units",
}
_NAMES = {
    "Job": "fitwright.face.job",
    "demo": "fitwright.face.job",
    "Material": "fitwright.materials",
    **dict.fromkeys(_PARTS, "fitwright.models.parts"),
}


def __getattr__(name: str) -> Any:
    if name in _MODULES:
        return importlib.import_module(_MODULES[name])
    if name in _NAMES:
        return getattr(importlib.import_module(_NAMES[name]), name)
    if name in former.MODULES:
        return importlib.import_module(f"fitwright.{name}")
    raise AttributeError(f"module 'fitwright' has no attribute '{name}'")


def __dir__() -> list[str]:
    return sorted(__all__)
