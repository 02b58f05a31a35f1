"""The plate and the tools of a job file: `[plate]` and `[[tool]]` are models of joints and tooling,
told by their own fields, but for those the job knows already."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any

from fitwright import _core
from fitwright.models.results import MODELS

if TYPE_CHECKING:
    from fitwright.job.tables import JobTables

__all__ = ["SIDES", "TOOL_KINDS", "known_by_job", "model_of", "read_attached"]

ATTACHED: dict[str, dict[str, Any]] = _core.attached_kinds()
#: Kinds of tool a job can have.
TOOL_KINDS = [name for name in ATTACHED if not name.endswith("plate")]
#: Of the outer ring, where the plate is.
SIDES = ("nut", "shoulder")
#: Keys that are structure and text.
STRUCTURE = {"plate": {"side", "title"}, "tool": {"name", "title", "kind", "rings"}}


def kind_of_plate(file: JobTables) -> str:
    """Which plate it is: in a pocket that tells the ring's outside that is known already."""
    return "fitted_plate" if "ring_outside" in (file.table("pocket") or {}) else "plate"


def model_of(kind: str) -> str:
    return str(ATTACHED[kind]["model"])


def known_by_job(kind: str) -> dict[str, str]:
    """Inputs of the model that a job knows, and what tells them there."""
    return dict(ATTACHED[kind]["known"])


class _Reading:
    """One table: numbers by their path in the job, metals and choices in the model's order."""

    def __init__(self, file: JobTables, kind: str, path: str, metal: _core.Material) -> None:
        self.file, self.kind, self.path, self.metal = file, kind, path, metal
        self.known = known_by_job(kind)
        self.known_materials = set(ATTACHED[kind]["known_materials"])
        self.numbers: dict[str, Any] = {}
        self.materials: list[_core.Material] = []
        self.choices: list[int] = []

    def told_as(self, path: str) -> str:
        return f"{self.path}.{path}"

    def part(self, declaration: Mapping[str, Any], table: Mapping[str, Any], prefix: str) -> None:
        """Everything a table tells of one part of the model, and of the parts in it."""
        if declaration["has_material"]:
            self._material(f"{prefix}material", table)
        names = {"material"} if declaration["has_material"] else set()
        for field in declaration["fields"]:
            name, path = field["name"], prefix + field["name"]
            if field["kind"] in ("low_end", "high_end"):
                continue  # told with the value: { value, low, high }
            names.add(name)
            if field["kind"] == "part":
                self._inside(field, table.get(name, {}), path)
            elif field["kind"] == "choice":
                self._choice(field, table, path)
            elif name in table and path in self.known:
                self.file.problem(
                    self.told_as(path), f"is known to the job by {self.known[path]}: leave it out"
                )
            elif name in table:
                self.numbers[self.told_as(path)] = table[name]
        structure = STRUCTURE["plate" if self.kind.endswith("plate") else "tool"]
        for key in table:
            if key not in names and (prefix or key not in structure):
                self.file.unknown(key, names, self.told_as(prefix))

    def _inside(self, field: Mapping[str, Any], table: Any, path: str) -> None:
        if not isinstance(table, dict):
            self.file.problem(self.told_as(path), f"must be a table: {field['part']['meaning']}")
            table = {}
        self.part(field["part"], table, f"{path}.")

    def _material(self, path: str, table: Mapping[str, Any]) -> None:
        if path in self.known_materials:
            if "material" in table:
                self.file.problem(
                    self.told_as(path), "is that of the part in the job: leave it out"
                )
            self.materials.append(self.metal)
        else:
            self.materials.append(self.file.material(self.told_as(path), table.get("material")))

    def _choice(self, field: Mapping[str, Any], table: Mapping[str, Any], path: str) -> None:
        words = field["words"].split("|")
        word = table.get(field["name"], words[0])
        if word not in words:
            self.file.problem(self.told_as(path), f"must be one of {', '.join(words)}")
            word = words[0]
        self.choices.append(words.index(word))

    def plan(self, name: str, kind: str, rings: list[str]) -> dict[str, Any]:
        return {
            "name": name,
            "kind": kind,
            "rings": rings,
            "materials": self.materials,
            "choices": self.choices,
        }


class _PlateReading(_Reading):
    """The model's part `plate` is the table itself."""

    def told_as(self, path: str) -> str:
        return path if path.startswith("plate.") else f"plate.{path}"


def _plate(file: JobTables, metal: _core.Material) -> tuple[dict[str, Any], dict[str, Any], bool]:
    table = dict(file.table("plate") or {})
    kind = kind_of_plate(file)
    inputs = MODELS[model_of(kind)]["inputs"]
    own = next(f["part"] for f in inputs["fields"] if f["name"] == "plate")
    keys = {f["name"] for f in own["fields"]} | {"material"}
    # Told side by side; the model has them apart.
    nested = {key: value for key, value in table.items() if key not in keys}
    nested["plate"] = {key: value for key, value in table.items() if key in keys}
    reading = _PlateReading(file, kind, "plate", metal)
    reading.part(inputs, nested, "")
    side = table.get("side", SIDES[0])
    if side not in SIDES:
        file.problem("plate.side", f"must be one of {', '.join(SIDES)}")
    return reading.plan("", "", []), reading.numbers, side != "shoulder"


def _tools(
    file: JobTables, metal: _core.Material
) -> Iterator[tuple[dict[str, Any], dict[str, Any]]]:
    for row in file.rows("tool"):
        path = f"tools.{row['name']}"
        kind = row.get("kind")
        if kind not in TOOL_KINDS:
            file.problem(f"{path}.kind", f"must be one of {', '.join(TOOL_KINDS)}")
            continue
        rings = row.get("rings", [])
        if not isinstance(rings, list) or any(not isinstance(r, str) for r in rings):
            file.problem(f"{path}.rings", "must be a list of ring names")
            rings = []
        reading = _Reading(file, kind, path, metal)
        reading.part(MODELS[model_of(kind)]["inputs"], row, "")
        yield reading.plan(str(row["name"]), kind, rings), reading.numbers


def read_attached(file: JobTables, metal: _core.Material) -> tuple[dict[str, Any], dict[str, Any]]:
    """What the plan needs of plate and tools, and the numbers told of them by path. `metal` stands
    where the job itself knows what a part is made of."""
    plan: dict[str, Any] = {"plate": None, "plate_at_nut": True, "tools": []}
    numbers: dict[str, Any] = {}
    if file.table("plate") is not None:
        plan["plate"], told, plan["plate_at_nut"] = _plate(file, metal)
        numbers |= told
    for tool, told in _tools(file, metal):
        plan["tools"].append(tool)
        numbers |= told
    return plan, numbers
