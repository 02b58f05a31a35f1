"""The tables of a job file: which there may be, their keys, their words and their metals."""

from __future__ import annotations

import difflib
import inspect
from collections.abc import Mapping
from typing import Any

from fitwright import _core, materials
from fitwright.fields.errors import InputError
from fitwright.fields.units import SYSTEMS, UnitProblem
from fitwright.fields.user_text import MOST_NOTE, MOST_TITLE, problem_with, shortened, told
from fitwright.job.size_limits import MOST_PROBLEMS
from fitwright.job.text import parse
from fitwright.threads.words import ThreadWords, read_thread

__all__ = ["TABLES", "JobTables", "slices_of"]

TABLES: dict[str, dict[str, Any]] = _core.job_tables()
LISTS = ("seat", "ring", "state")
#: Tables there is one of.
TABLES_ALONE = ("shaft", "nut", "lock", "shoulder", "bearing", "service", "pocket", "workshop")
#: What the steps of the history run on.
FIDELITIES = ("bars", "section")
#: Lists a job can do without.
MORE_LISTS = ("seal", "step")
#: Keys of a table beside its declared fields: structure and text.
EXTRA = {
    "shaft": {"material"},
    "nut": {"material", "thread", "thread_class", "lubricant"},
    "lock": {"material", "kind", "tabs", "slots"},
    "shoulder": set(),
    "bearing": {"material", "inner_rings", "outer_ring_material"},
    "service": set(),
    "pocket": {"material"},
    "workshop": set(),
    "seat": {"name"},
    "ring": {"name", "title", "seat", "material", "slices"},
    "slice": set(),
    "seal": {"name", "title", "ring", "material"},
    "state": {"name", "title", "lags", "torques"},
    "step": {"name", "title", "state", "parts", "from", "to", "times"},
}
#: Ends of the torque while turning on to a lock tab: both or none.
WINDOW = ("torque_window_low", "torque_window_high")
#: Loads across the shaft that a state may tell of: the bearing is then solved ball by ball.
RING_LOADS = {f["name"] for f in TABLES["state_loads"]["fields"]}
#: What makes a stack out of square, by table.
RUNOUTS = {
    "shaft": ("shoulder_runout",),
    "ring": ("wedge", "runout"),
    "nut": ("face_runout",),
}
#: Keys of a material of one's own, and whether they must be given.
OWN_KEYS = {
    name: parameter.default is inspect.Parameter.empty
    for name, parameter in inspect.signature(materials.own).parameters.items()
}
TOP = {
    "title",
    "note",
    "units",
    "fidelity",
    *TABLES_ALONE,
    *LISTS,
    *MORE_LISTS,
    "plate",
    "tool",
    "limit",
    "output",
    "material",
    "correlation",
}

#: Where the job has no table [shoulder].
RIGID_SHOULDER = (
    "The shoulder is taken as rigid. Stacks on a real collar had 10 to 56 % of the nut's force "
    "less at the shoulder when hot than bars on a rigid one, and up to 28 % less after a cycle "
    "(finite elements). The bounds allow for a collar as stiff as those calculated; tell "
    "[shoulder] to have its own give counted."
)


def slices_of(ring: Mapping[str, Any]) -> list[dict[str, Any]]:
    """The slices of a ring whose outside has steps; none for a ring of one outside."""
    return list(ring.get("slices", []))


class JobTables:
    """The tables of a job file, their shape and their metals, and what is wrong with them."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.document = parse(text)
        self.problems: list[tuple[str, str]] = []
        self._materials: dict[str, _core.Material] = {}
        self._mended = False
        self._check_shape()

    @property
    def title(self) -> str:
        return str(self.document.get("title", "untitled job"))

    def names(self, kind: str) -> list[str]:
        return [str(row["name"]) for row in self.rows(kind)]

    def rows(self, kind: str) -> list[dict[str, Any]]:
        return [row for row in self.document.get(kind, []) if isinstance(row, dict)]

    def table(self, name: str) -> dict[str, Any] | None:
        table = self.document.get(name)
        return table if isinstance(table, dict) else None

    # -- shape ------------------------------------------------------------------------------

    def problem(self, path: str, text: str) -> None:
        """Notes a problem; the report of a file that is wrong all over ends somewhere."""
        self.problems.append((path, text))
        if len(self.problems) > MOST_PROBLEMS:
            raise InputError([*self.problems, ("", "and so on: the file was not read any further")])

    def _check_shape(self) -> None:
        for key in self.document:
            if key not in TOP:
                self.unknown(key, TOP, "")
        for kind in ("shaft", "nut"):
            if self.table(kind) is None:
                self.problem(kind, f"must be given as a table [{kind}]")
        for kind in (*TABLES_ALONE, "plate"):
            if kind in self.document and kind not in ("shaft", "nut") and self.table(kind) is None:
                self.problem(kind, f"must be a table [{kind}]")
        for kind in (*LISTS, *MORE_LISTS, "tool", "limit", "output", "material", "correlation"):
            rows = self.document.get(kind, [])
            if not isinstance(rows, list) or any(not isinstance(r, dict) for r in rows):
                self.problem(kind, f"must be given as tables [[{kind}]]")
                self.document[kind] = []
            elif not rows and kind in LISTS:
                self.problem(kind, f"must be given as tables [[{kind}]]")
        for kind in (*LISTS, *MORE_LISTS, "tool", "output"):
            for number, row in enumerate(self.rows(kind)):
                if not isinstance(row.get("name"), str):
                    self.problem(f"{kind}[{number}].name", "must be given, as text")
                    row["name"] = f"unnamed_{number}"
        self._read_thread()
        for kind in TABLES_ALONE:
            table = self.table(kind)
            if table is not None:
                self._check_keys(kind, kind, table)
        for kind in (*LISTS, *MORE_LISTS):
            for row in self.rows(kind):
                self._check_keys(kind, f"{kind}s.{row['name']}", row)
        for row in self.rows("ring"):
            if "slices" in row:
                self._check_slices(f"rings.{row['name']}", row)
        note = problem_with(self.document.get("note", ""), MOST_NOTE, lines=True)
        if note:
            self.problem("note", note)
        texts = [("title", self.document.get("title", ""))]
        texts.append(("lock.kind", (self.table("lock") or {}).get("kind", "")))
        texts.append(("nut.lubricant", (self.table("nut") or {}).get("lubricant", "")))
        texts.append(("plate.title", (self.table("plate") or {}).get("title", "")))
        for kind in (*LISTS, *MORE_LISTS, "tool"):
            texts += [(f"{kind}s.{r['name']}.title", r.get("title", "")) for r in self.rows(kind)]
        for path, text in texts:
            wrong = problem_with(text, MOST_TITLE)
            if wrong:
                self.problem(path, wrong)
        if self.document.get("fidelity", "bars") not in FIDELITIES:
            rule = f"must be {' or '.join(FIDELITIES)}"
            self.problem("fidelity", f"{told(self.document['fidelity'])} {rule}")
            del self.document["fidelity"]
        system = self.document.get("units", "metric")
        if not isinstance(system, str) or system not in SYSTEMS:
            self.problem("units", f"{told(system)} must be metric or inch")
            del self.document["units"]

    def _read_thread(self) -> None:
        """[nut] thread = "M75x2 LH" stands for diameter, pitch, form and hand."""
        nut = self.table("nut") or {}
        if "thread" not in nut:
            return
        given = [key for key in ThreadWords._fields if key in nut]
        if given:
            self.problem("nut.thread", f"tells {', '.join(given)} already; leave one of them out")
            return
        try:
            words = read_thread(self.text_of("nut.thread", nut["thread"]))
        except UnitProblem as problem:
            self.problem("nut.thread", str(problem))
            words = ThreadWords("80 mm", "2 mm", "iso_metric", "right")  # so that the rest is read
        nut.update(words._asdict())

    def _check_keys(self, kind: str, path: str, table: Mapping[str, Any]) -> None:
        known = {f["name"] for f in TABLES[kind]["fields"] if f["kind"] in ("number", "choice")}
        known |= EXTRA[kind]
        if kind == "state":
            asked = {f["name"] for f in TABLES["state_service"]["fields"]}
            known |= asked
            if self.table("service") is None:
                for key in asked & table.keys():
                    self.problem(f"{path}.{key}", "needs a table [service], which tells the oil")
            known |= RING_LOADS
            if self.table("bearing") is None:
                for key in RING_LOADS & table.keys():
                    self.problem(f"{path}.{key}", "needs a table [bearing], which carries it")
        for key in table:
            if key not in known:
                self.unknown(key, known, f"{path}.")

    def _check_slices(self, path: str, row: dict[str, Any]) -> None:
        """The slices of a ring whose outside has steps, in order from the shoulder."""
        slices = row["slices"]
        if not isinstance(slices, list) or any(not isinstance(s, dict) for s in slices):
            self.problem(f"{path}.slices", "must be a list of tables with outside and length")
            row["slices"] = []
        elif not slices:
            self.problem(f"{path}.slices", "must hold at least one slice")
        for number, one in enumerate(slices_of(row)):
            self._check_keys("slice", f"{path}.slice{number + 1}", one)

    def unknown(self, key: str, known: set[str], prefix: str) -> None:
        near = difflib.get_close_matches(key[:80], sorted(known), n=3, cutoff=0.4)
        hint = f"; did you mean {' or '.join(near)}?" if near else ""
        self.problem(f"{prefix}{shortened(key)}", f"is not a known key{hint}")

    def text_of(self, path: str, value: Any) -> str:
        if isinstance(value, str):
            return value
        self.problem(path, "must be given, as text" if value is None else "must be text")
        return ""

    # -- materials and plan -------------------------------------------------------------------

    def _own_materials(self) -> None:
        for number, row in enumerate(self.rows("material")):
            name = row.get("name")
            if not isinstance(name, str):
                self.problem(f"material[{number}].name", "must be given, as text")
                continue
            if name in self._materials:
                self.problem(f"material.{name}", "is named twice; names must be different")
            unknown = row.keys() - OWN_KEYS.keys()
            missing = [k for k, needed in OWN_KEYS.items() if needed and k not in row]
            for key in sorted(unknown):
                self.unknown(key, set(OWN_KEYS), f"material.{name}.")
            for key in missing:
                self.problem(f"material.{name}.{key}", "must be given")
            try:
                if not unknown and not missing:
                    self._materials[name] = materials.own(**row)
            except InputError as error:
                self.problems += [(f"material.{path}", text) for path, text in error.problems]

    @property
    def own_metals(self) -> dict[str, _core.Material]:
        """Metals that the file tells itself, by name."""
        return dict(self._materials)

    def material(self, path: str, name: Any) -> _core.Material:
        if isinstance(name, str) and name in self._materials:
            return self._materials[name]
        text = self.text_of(path, name)
        if text:
            try:
                return materials.material(text)
            except InputError as error:
                own = f" (own: {', '.join(self._materials)})" if self._materials else ""
                self.problems += [(path, problem + own) for _, problem in error.problems]
        return materials.material("1045")  # stands in so that the report can go on
