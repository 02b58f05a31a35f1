"""The rooms of the Python package: each uses only rooms before it, and no module is in a circle.

All imports count: those for annotations, and those inside functions that load late.
"""

from __future__ import annotations

import ast
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import fitwright
import pytest

PACKAGE = Path(fitwright.__file__).parent
#: From the ground up. Rooms of one line know nothing of each other's insides but what they export.
ROOMS = [
    "_core",
    "fields",
    "charts",
    "materials",
    "sizes",
    "models",
    "rings",
    "heat",
    "threads",
    "bearings",
    "joints",
    "stack",
    "bodies",
    "tooling",
    "job",
    "studies",
    "pictures",
    "sheet",
    "face",
    "former",
    "commands",
]


def modules() -> dict[str, Path]:
    names = {}
    for path in sorted(PACKAGE.rglob("*.py")):
        parts = ["fitwright", *path.relative_to(PACKAGE).with_suffix("").parts]
        names[".".join(parts[:-1] if parts[-1] == "__init__" else parts)] = path
    return names


def imports_of(path: Path, known: dict[str, Path]) -> set[str]:
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("fitwright"):
            for alias in node.names:
                inner = f"{node.module}.{alias.name}"
                found.add(inner if inner in known or alias.name == "_core" else str(node.module))
        elif isinstance(node, ast.Import):
            found |= {a.name for a in node.names if a.name.startswith("fitwright")}
    return found


KNOWN = modules()
IMPORTS = {name: imports_of(path, KNOWN) for name, path in KNOWN.items()}
#: The front door shows every room; it loads them late, and nobody inside uses it for more than
#: the names of generated examples.
DOOR = {"fitwright", "fitwright.__main__"}


def room_of(module: str) -> str:
    return module.split(".")[1]


@pytest.mark.parametrize("module", sorted(set(KNOWN) - DOOR))
def test_a_module_uses_its_own_room_and_those_before_it(module):
    place = ROOMS.index(room_of(module))
    later = {m for m in IMPORTS[module] if m in DOOR or ROOMS.index(room_of(m)) > place}
    assert not later, f"{module} reaches up to {', '.join(sorted(later))}"


def test_no_module_is_in_a_circle():
    graph = {name: used & set(KNOWN) for name, used in IMPORTS.items() if name not in DOOR}
    try:
        TopologicalSorter(graph).prepare()
    except CycleError as error:
        pytest.fail(" <- ".join(error.args[1]))


def test_nothing_reaches_through_the_private_parts_of_a_job():
    for name, path in KNOWN.items():
        if name == "fitwright.job.value":
            continue
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Attribute) and node.attr.startswith("_"):
                owner = ast.unparse(node.value)
                is_job = owner.split(".")[-1].lstrip("_") == "job"
                assert not is_job, f"{name}: {owner}.{node.attr}"
