"""Reading a job file: TOML in, core job out, every problem told in one report with its path."""

from __future__ import annotations

import inspect
from collections.abc import Mapping
from typing import Any

from fitwright import _core, materials
from fitwright.errors import InputError
from fitwright.jobattached import read_attached
from fitwright.joblimits import MOST_PROBLEMS
from fitwright.jobnumbers import Inputs, one_number, read_number
from fitwright.jobtext import parse
from fitwright.thread_words import ThreadWords, read_thread
from fitwright.units import SYSTEMS, UnitProblem
from fitwright.usertext import MOST_NOTE, MOST_TITLE, problem_with, shortened, told

NAN = float("nan")
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
    "state": {"name", "title", "lags"},
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
    "material",
    "correlation",
}


def slices_of(ring: Mapping[str, Any]) -> list[dict[str, Any]]:
    """The slices of a ring whose outside has steps; none for a ring of one outside."""
    return list(ring.get("slices", []))


class JobFile:
    """The document of a job file and what is wrong with it."""

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

    def _problem(self, path: str, text: str) -> None:
        """Notes a problem; the report of a file that is wrong all over ends somewhere."""
        self.problems.append((path, text))
        if len(self.problems) > MOST_PROBLEMS:
            raise InputError([*self.problems, ("", "and so on: the file was not read any further")])

    def _check_shape(self) -> None:
        for key in self.document:
            if key not in TOP:
                self._unknown(key, TOP, "")
        for kind in ("shaft", "nut"):
            if self.table(kind) is None:
                self._problem(kind, f"must be given as a table [{kind}]")
        for kind in (*TABLES_ALONE, "plate"):
            if kind in self.document and kind not in ("shaft", "nut") and self.table(kind) is None:
                self._problem(kind, f"must be a table [{kind}]")
        for kind in (*LISTS, *MORE_LISTS, "tool", "limit", "material", "correlation"):
            rows = self.document.get(kind, [])
            if not isinstance(rows, list) or any(not isinstance(r, dict) for r in rows):
                self._problem(kind, f"must be given as tables [[{kind}]]")
                self.document[kind] = []
            elif not rows and kind in LISTS:
                self._problem(kind, f"must be given as tables [[{kind}]]")
        for kind in (*LISTS, *MORE_LISTS, "tool"):
            for number, row in enumerate(self.rows(kind)):
                if not isinstance(row.get("name"), str):
                    self._problem(f"{kind}[{number}].name", "must be given, as text")
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
            self._problem("note", note)
        texts = [("title", self.document.get("title", ""))]
        texts.append(("lock.kind", (self.table("lock") or {}).get("kind", "")))
        texts.append(("nut.lubricant", (self.table("nut") or {}).get("lubricant", "")))
        texts.append(("plate.title", (self.table("plate") or {}).get("title", "")))
        for kind in (*LISTS, *MORE_LISTS, "tool"):
            texts += [(f"{kind}s.{r['name']}.title", r.get("title", "")) for r in self.rows(kind)]
        for path, text in texts:
            wrong = problem_with(text, MOST_TITLE)
            if wrong:
                self._problem(path, wrong)
        if self.document.get("fidelity", "bars") not in FIDELITIES:
            rule = f"must be {' or '.join(FIDELITIES)}"
            self._problem("fidelity", f"{told(self.document['fidelity'])} {rule}")
            del self.document["fidelity"]
        system = self.document.get("units", "metric")
        if not isinstance(system, str) or system not in SYSTEMS:
            self._problem("units", f"{told(system)} must be metric or inch")
            del self.document["units"]

    def _read_thread(self) -> None:
        """[nut] thread = "M75x2 LH" stands for diameter, pitch, form and hand."""
        nut = self.table("nut") or {}
        if "thread" not in nut:
            return
        given = [key for key in ThreadWords._fields if key in nut]
        if given:
            self._problem("nut.thread", f"tells {', '.join(given)} already; leave one of them out")
            return
        try:
            words = read_thread(self._text("nut.thread", nut["thread"]))
        except UnitProblem as problem:
            self._problem("nut.thread", str(problem))
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
                    self._problem(f"{path}.{key}", "needs a table [service], which tells the oil")
            known |= RING_LOADS
            if self.table("bearing") is None:
                for key in RING_LOADS & table.keys():
                    self._problem(f"{path}.{key}", "needs a table [bearing], which carries it")
        for key in table:
            if key not in known:
                self._unknown(key, known, f"{path}.")

    def _check_slices(self, path: str, row: dict[str, Any]) -> None:
        """The slices of a ring whose outside has steps, in order from the shoulder."""
        slices = row["slices"]
        if not isinstance(slices, list) or any(not isinstance(s, dict) for s in slices):
            self._problem(f"{path}.slices", "must be a list of tables with outside and length")
            row["slices"] = []
        elif not slices:
            self._problem(f"{path}.slices", "must hold at least one slice")
        for number, one in enumerate(slices_of(row)):
            self._check_keys("slice", f"{path}.slice{number + 1}", one)

    def _unknown(self, key: str, known: set[str], prefix: str) -> None:
        import difflib

        near = difflib.get_close_matches(key[:80], sorted(known), n=3, cutoff=0.4)
        hint = f"; did you mean {' or '.join(near)}?" if near else ""
        self._problem(f"{prefix}{shortened(key)}", f"is not a known key{hint}")

    def _text(self, path: str, value: Any) -> str:
        if isinstance(value, str):
            return value
        self._problem(path, "must be given, as text" if value is None else "must be text")
        return ""

    # -- materials and plan -------------------------------------------------------------------

    def _own_materials(self) -> None:
        for number, row in enumerate(self.rows("material")):
            name = row.get("name")
            if not isinstance(name, str):
                self._problem(f"material[{number}].name", "must be given, as text")
                continue
            if name in self._materials:
                self._problem(f"material.{name}", "is named twice; names must be different")
            unknown = row.keys() - OWN_KEYS.keys()
            missing = [k for k, needed in OWN_KEYS.items() if needed and k not in row]
            for key in sorted(unknown):
                self._unknown(key, set(OWN_KEYS), f"material.{name}.")
            for key in missing:
                self._problem(f"material.{name}.{key}", "must be given")
            try:
                if not unknown and not missing:
                    self._materials[name] = materials.own(**row)
            except InputError as error:
                self.problems += [(f"material.{path}", text) for path, text in error.problems]

    def _material(self, path: str, name: Any) -> _core.Material:
        if isinstance(name, str) and name in self._materials:
            return self._materials[name]
        text = self._text(path, name)
        if text:
            try:
                return materials.material(text)
            except InputError as error:
                own = f" (own: {', '.join(self._materials)})" if self._materials else ""
                self.problems += [(path, problem + own) for _, problem in error.problems]
        return materials.material("1045")  # stands in so that the report can go on

    def _choice(self, kind: str, path: str, table: Mapping[str, Any], name: str) -> str:
        field = next(f for f in TABLES[kind]["fields"] if f["name"] == name)
        words = field["words"].split("|")
        word = table.get(name, words[0])
        if not isinstance(word, str) or word not in words:
            rule = f"{told(word)} must be one of {', '.join(words)}"
            self._problem(f"{path}.{name}", rule)
            return str(words[0])  # stands in so that the report can go on
        return str(word)

    def _step(self, row: Mapping[str, Any]) -> dict[str, Any]:
        path = f"steps.{row['name']}"
        parts, times = row.get("parts", []), row.get("times", 1)
        if not isinstance(parts, list):
            self._problem(f"{path}.parts", "must be a list of names of rings, or the lock")
            parts = []
        if isinstance(times, bool) or not isinstance(times, int) or not 1 <= times <= 1000:
            self._problem(f"{path}.times", "must be a whole number from 1 to 1000")
            times = 1
        return {
            "name": row["name"],
            "kind": self._choice("step", path, row, "kind"),
            "against": self._choice("step", path, row, "against"),
            "state": self._text(f"{path}.state", row.get("state", "")),
            "parts": [str(part) for part in parts],
            "first": self._text(f"{path}.from", row.get("from", "")),
            "last": self._text(f"{path}.to", row.get("to", "")),
            "times": times,
        }

    def _place(self, kind: str, path: str, table: Mapping[str, Any], name: str) -> int:
        """Number of the word chosen; 0 when it is none of them (noted as a problem)."""
        field = next(f for f in TABLES[kind]["fields"] if f["name"] == name)
        words = field["words"].split("|")
        return int(words.index(self._choice(kind, path, table, name)))

    def _count(self, path: str, table: Mapping[str, Any], name: str) -> int:
        """A count that is structure; 0 when it is not told."""
        count = table.get(name, 0)
        if isinstance(count, bool) or not isinstance(count, int) or (name in table and count < 1):
            self._problem(f"{path}.{name}", "must be a whole number from 1 to 360")
            return 0
        return min(count, 1000)  # the core refuses what is too many

    @property
    def has_window(self) -> bool:
        """Whether the file tells of a torque window."""
        return all(name in (self.table("nut") or {}) for name in WINDOW)

    def _check_window(self) -> None:
        given = [name for name in WINDOW if name in (self.table("nut") or {})]
        if len(given) == 1:
            (other,) = (name for name in WINDOW if name not in given)
            self._problem(f"nut.{other}", f"must be given with {given[0]}")

    @property
    def has_runouts(self) -> bool:
        """Whether the file tells of anything out of square."""
        return any(
            key in row
            for kind, keys in RUNOUTS.items()
            for row in (self.rows(kind) if kind == "ring" else [self.table(kind) or {}])
            for key in keys
        )

    @property
    def has_held_pocket(self) -> bool:
        """Whether it is asked if the outer ring creeps in its pocket."""
        return self.table("pocket") is not None and self.table("service") is not None

    @property
    def has_ring_loads(self) -> bool:
        """Whether a state tells of a radial load or a tilting moment on the bearing."""
        return self.table("bearing") is not None and any(
            RING_LOADS & row.keys() for row in self.rows("state")
        )

    def build(self) -> tuple[_core.Job, dict[str, _core.Spread]]:
        """The core job and the inputs that scatter. Raises InputError with every problem."""
        self._own_materials()
        self._check_window()
        shaft, nut = self.table("shaft") or {}, self.table("nut") or {}
        lock, bearing = self.table("lock"), self.table("bearing")
        rings = [
            (
                row["name"],
                self._text(f"rings.{row['name']}.seat", row.get("seat")),
                self._material(f"rings.{row['name']}.material", row.get("material")),
                self._choice("ring", f"rings.{row['name']}", row, "joint") == "grip",
                self._choice("ring", f"rings.{row['name']}", row, "press_against"),
                len(slices_of(row)),
            )
            for row in self.rows("ring")
        ]
        seals = [
            (
                row["name"],
                self._text(f"seals.{row['name']}.ring", row.get("ring")),
                self._material(f"seals.{row['name']}.material", row.get("material")),
                self._choice("seal", f"seals.{row['name']}", row, "face") == "bore",
            )
            for row in self.rows("seal")
        ]
        service = self.table("service")
        pocket = self.table("pocket")
        fitted = pocket is not None and "ring_outside" in pocket
        if pocket is not None and service is None and not fitted:
            self._problem(
                "pocket", "needs a table [service], or ring_outside: nothing else asks for it"
            )
        inner = bearing.get("inner_rings", []) if bearing is not None else []
        if not isinstance(inner, list):
            self._problem("bearing.inner_rings", "must be a list of ring names")
            inner = []
        plan: dict[str, Any] = {
            "shaft": self._material("shaft.material", shaft.get("material")),
            "nut": self._material("nut.material", nut.get("material")),
            "left_hand": self._choice("nut", "nut", nut, "hand") == "left",
            "nut_form": self._place("nut", "nut", nut, "form"),
            "nut_face_law": self._place("nut", "nut", nut, "face_law"),
            "rotation": self._place("shaft", "shaft", shaft, "rotation"),
            "lock_tabs": self._count("lock", lock or {}, "tabs"),
            "lock_slots": self._count("lock", lock or {}, "slots"),
            "has_torque_window": self.has_window,
            "has_runouts": self.has_runouts,
            "has_ring_loads": self.has_ring_loads,
            "lock": None if lock is None else self._material("lock.material", lock.get("material")),
            "balls": None
            if bearing is None
            else self._material("bearing.material", bearing.get("material")),
            "outer_ring": None
            if bearing is None
            else self._material("bearing.outer_ring_material", bearing.get("outer_ring_material")),
            "inner_rings": [str(name) for name in inner],
            "service": None
            if service is None
            else [
                self._place("service", "service", service, name)
                for name in ("kind", "grooves", "lubrication", "cleanliness")
            ],
            "pocket": pocket is not None,
            "thread_class": self._text("nut.thread_class", nut.get("thread_class", "")),
            "pocket_material": self._material("pocket.material", (pocket or {}).get("material"))
            if fitted
            else None,
            "seats": self.names("seat"),
            "rings": rings,
            "seals": seals,
            "states": self.names("state"),
            "in_section": self.document.get("fidelity") == "section",
            "has_shoulder": self.table("shoulder") is not None,
            "steps": [self._step(row) for row in self.rows("step")],
        }
        attached, self._attached = read_attached(self, plan["shaft"])
        plan |= attached
        core = self._core_job(plan)
        spreads: dict[str, _core.Spread] = {}
        self._numbers(core, spreads)
        self._limits(core)
        self._standard(core, spreads)
        self._correlations(core, spreads)
        # Missing and impossible values are told together with what could not be read.
        unread = {path for path, _ in self.problems}
        self.problems += [p for p in core.problems() if p[0] not in unread]
        if self.problems:
            raise InputError(self.problems)
        return core, spreads

    def _core_job(self, plan: dict[str, Any]) -> _core.Job:
        """The job without its numbers. What is wrong with the plan is noted and mended, so that
        the report can go on to the numbers."""
        try:
            return _core.Job(_core.Plan(**plan))
        except InputError as error:
            self.problems += error.problems
        self._mended = True
        named = {
            kind: [n for n in dict.fromkeys(self.names(kind)) if _is_name(n)]
            for kind in (*LISTS, *MORE_LISTS)
        }
        seats = named["seat"]
        held = {ring[0]: ring for ring in plan["rings"]}
        taken = {"nut", "lock", "outer_ring", "balls", "pocket"}
        rings = [held[name] for name in named["ring"] if name not in taken]
        sealing = {seal[0]: seal for seal in plan["seals"]}
        seals = [sealing[name] for name in named["seal"] if name not in {*taken, *held}]
        plan |= {
            "seats": seats,
            "states": named["state"],
            "rings": [(n, seat if seat in seats else seats[0], *rest) for n, seat, *rest in rings]
            if seats
            else [],
            "seals": [s for s in seals if s[1] in {r[0] for r in rings}],
            "inner_rings": [rings[0][0]] if rings else [],
            "lock_tabs": 0,
            "lock_slots": 0,
            "steps": [],
            "plate": None,
            "tools": [],
        }
        try:
            return _core.Job(_core.Plan(**plan))
        except InputError as error:
            raise InputError(self.problems) from error

    def _numbers(self, core: _core.Job, spreads: dict[str, _core.Spread]) -> None:
        #: inputs the file tells of
        self.told: set[str] = set()
        inputs = Inputs(core.inputs())
        given: dict[str, Any] = {}
        for kind in TABLES_ALONE:
            for key, value in (self.table(kind) or {}).items():
                given[f"{kind}.{key}"] = value
        for kind in (*LISTS, *MORE_LISTS):
            for row in self.rows(kind):
                for key, value in row.items():
                    given[f"{kind}s.{row['name']}.{key}"] = value
        for row in self.rows("ring"):
            for number, one in enumerate(slices_of(row)):
                for key, value in one.items():
                    given[f"rings.{row['name']}.slice{number + 1}.{key}"] = value
        given |= self._attached
        for row in self.rows("state"):
            lags = row.get("lags", {})
            if not isinstance(lags, dict):
                self._problem(f"states.{row['name']}.lags", "must be a table of parts")
                continue
            prefix = f"states.{row['name']}.lags."
            for part, value in lags.items():
                path = prefix + part
                if path not in inputs and not self._mended:
                    parts = [p.rpartition(".")[2] for p in inputs if p.startswith(prefix)]
                    self._problem(path, f"is not a part of this job; parts: {', '.join(parts)}")
                given[path] = value
        for path, value in given.items():
            if path not in inputs:
                continue  # structure, or told already
            self.told.add(path)
            try:
                read_number(core, spreads, inputs, path, value, units_needed=True)
            except UnitProblem as problem:
                self._problem(path, str(problem))

    def _standard(self, core: _core.Job, spreads: dict[str, _core.Spread]) -> None:
        """What scatters without being told: expansion, where the file tells no factor for it."""
        for spread in _core.standard_spreads(core):
            if spread.path not in self.told:
                spreads[spread.path] = spread

    def _correlations(self, core: _core.Job, spreads: dict[str, _core.Spread]) -> None:
        """[[correlation]] between = two inputs that scatter, value = from -1 to 1; 0 frees a pair
        that is tied by the standard."""
        self.correlations: list[tuple[str, str, float]] = []
        for number, row in enumerate(self.rows("correlation")):
            path = f"correlation[{number}]"
            for key in row:
                if key not in ("between", "value"):
                    self._unknown(key, {"between", "value"}, f"{path}.")
            pair, value = row.get("between"), row.get("value")
            if (
                not isinstance(pair, list)
                or len(pair) != 2
                or any(not isinstance(p, str) or p not in spreads for p in pair)
            ):
                self._problem(f"{path}.between", "must name two inputs that scatter")
            elif isinstance(value, bool) or not isinstance(value, int | float) or abs(value) > 1:
                self._problem(f"{path}.value", "must be a number between -1 and 1")
            else:
                self.correlations.append((pair[0], pair[1], float(value)))
        told, tied = self._pairs(spreads), self.correlations_of(core, spreads)
        problem = _core.correlation_problem(told, len(spreads))
        if problem:
            self._problem("correlation", problem)
            return
        problem = _core.correlation_problem(tied, len(spreads))
        if problem:
            names = list(spreads)
            free = [f"{names[a]} with {names[b]}" for a, b, _ in tied[len(told) :]]
            self._problem(
                "correlation",
                f"{problem}, with what is tied by the standard: {'; '.join(free[:8])}"
                f"{' ...' if len(free) > 8 else ''}; tell these pairs as well (0: free)",
            )

    def _pairs(self, spreads: Mapping[str, _core.Spread]) -> list[tuple[int, int, float]]:
        place = {path: number for number, path in enumerate(spreads)}
        return [
            (place[a], place[b], value)
            for a, b, value in self.correlations
            if a in place and b in place
        ]

    def correlations_of(
        self, core: _core.Job, spreads: Mapping[str, _core.Spread]
    ) -> list[tuple[int, int, float]]:
        """Inputs that scatter together, by their place among those that scatter: what the file
        tells first, then the standard."""
        return _core.standard_correlations(core, list(spreads.values()), self._pairs(spreads))

    def _limits(self, core: _core.Job) -> None:
        known = {path: quantity for _, path, quantity, _ in core.at("heating").outputs()}
        for number, row in enumerate(self.rows("limit")):
            path = f"limit[{number}]"
            for key in row:
                if key not in ("output", "states", "at_least", "at_most"):
                    self._unknown(key, {"output", "states", "at_least", "at_most"}, f"{path}.")
            pattern = self._text(f"{path}.output", row.get("output"))
            states = row.get("states", ["*"])
            if not pattern or not isinstance(states, list):
                if pattern:
                    self._problem(f"{path}.states", "must be a list of state names")
                continue
            if "*" in pattern:
                kinds = {q for p, q in known.items() if _same_output(pattern, p)}
            else:
                kinds = {known[pattern]} if pattern in known else set()
            if len(kinds) > 1:
                self._problem(
                    f"{path}.output",
                    f"{told(pattern)} means outputs of several kinds: " + ", ".join(sorted(kinds)),
                )
                continue
            bounds = {"at_least": NAN, "at_most": NAN}
            for side in bounds:
                if side not in row or not kinds:
                    continue
                try:
                    bounds[side] = one_number(row[side], min(kinds), units_needed=True)
                except UnitProblem as problem:
                    self._problem(f"{path}.{side}", str(problem))
            if "at_least" not in row and "at_most" not in row:
                self._problem(path, "needs at_least or at_most")
            elif bounds["at_least"] > bounds["at_most"]:
                self._problem(path, "at_least must not be above at_most")
            for state in dict.fromkeys(map(str, states)):
                try:
                    core.set_limit(pattern, state, bounds["at_least"], bounds["at_most"])
                except InputError as error:
                    for wrong, text in error.problems:
                        side = "states" if wrong == "state" else "output"
                        rule = text if wrong == "state" else f"{told(pattern)} {text}"
                        if not self._mended:
                            self._problem(f"{path}.{side}", rule)


def _is_name(name: str) -> bool:
    return name.isascii() and name.isidentifier() and name == name.lower() and name[0] != "_"


def _same_output(pattern: str, path: str) -> bool:
    names, wanted = path.split("."), pattern.split(".")
    return len(names) == len(wanted) and all(
        w in ("*", n) for w, n in zip(wanted, names, strict=True)
    )
