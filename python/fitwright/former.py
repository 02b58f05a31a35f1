"""Modules that were moved into rooms: the old names still work, with a warning, for one version."""

from __future__ import annotations

import importlib
import importlib.abc
import importlib.machinery
import sys
import types
import warnings
from collections.abc import Sequence

__all__ = ["MODULES"]

#: What a module of an earlier version is now.
MODULES = {
    "balls": "bearings",
    "bearing_life": "bearings",
    "errors": "fields.errors",
    "findings": "job.findings",
    "heating": "heat",
    "job": "face.job",
    "models": "models.results",
    "panel": "face.panel",
    "parts": "models.parts",
    "study": "studies.result",
    "tables": "fields.tables",
}
#: Of those, names that are rooms now and cannot be taken.
ROOMS = {"job", "models"}


class Finder(importlib.abc.MetaPathFinder, importlib.abc.Loader):
    """Finds `fitwright.heating` and the like where they are now."""

    def find_spec(
        self, name: str, path: Sequence[str] | None, target: types.ModuleType | None = None
    ) -> importlib.machinery.ModuleSpec | None:
        room, _, module = name.rpartition(".")
        if room != "fitwright" or module not in MODULES or module in ROOMS:
            return None
        return importlib.machinery.ModuleSpec(name, self)

    def create_module(self, spec: importlib.machinery.ModuleSpec) -> types.ModuleType:
        now = f"fitwright.{MODULES[spec.name.rpartition('.')[2]]}"
        warnings.warn(
            f"{spec.name} is now {now}; the old name goes with the next version",
            DeprecationWarning,
            stacklevel=2,
        )
        made = types.ModuleType(spec.name)
        made.__getattr__ = importlib.import_module(now).__getattribute__  # type: ignore[method-assign]
        return made

    def exec_module(self, module: types.ModuleType) -> None:
        pass


if not any(isinstance(finder, Finder) for finder in sys.meta_path):
    sys.meta_path.append(Finder())
