"""Reading a job file: TOML in, core job out, every problem told in one report with its path."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from fitwright import _core
from fitwright.fields.errors import InputError
from fitwright.fields.units import UnitProblem
from fitwright.fields.user_text import shortened, told
from fitwright.job.attached import read_attached
from fitwright.job.numbers import Inputs, one_number, read_number
from fitwright.job.own_outputs import OwnRow, compiled_outputs
from fitwright.job.tables import (
    LISTS,
    MORE_LISTS,
    RING_LOADS,
    RUNOUTS,
    TABLES,
    TABLES_ALONE,
    WINDOW,
    JobTables,
    slices_of,
)

__all__ = ["JobFile"]

NAN = float("nan")


class JobFile(JobTables):
    """A job file read whole: the plan of the core, its numbers, its scatter and its limits."""

    def _choice(self, kind: str, path: str, table: Mapping[str, Any], name: str) -> str:
        field = next(f for f in TABLES[kind]["fields"] if f["name"] == name)
        words = field["words"].split("|")
        word = table.get(name, words[0])
        if not isinstance(word, str) or word not in words:
            rule = f"{told(word)} must be one of {', '.join(words)}"
            self.problem(f"{path}.{name}", rule)
            return str(words[0])  # stands in so that the report can go on
        return str(word)

    def _step(self, row: Mapping[str, Any]) -> dict[str, Any]:
        path = f"steps.{row['name']}"
        parts, times = row.get("parts", []), row.get("times", 1)
        if not isinstance(parts, list):
            self.problem(f"{path}.parts", "must be a list of names of rings, or the lock")
            parts = []
        if isinstance(times, bool) or not isinstance(times, int) or not 1 <= times <= 1000:
            self.problem(f"{path}.times", "must be a whole number from 1 to 1000")
            times = 1
        return {
            "name": row["name"],
            "kind": self._choice("step", path, row, "kind"),
            "against": self._choice("step", path, row, "against"),
            "state": self.text_of(f"{path}.state", row.get("state", "")),
            "parts": [str(part) for part in parts],
            "first": self.text_of(f"{path}.from", row.get("from", "")),
            "last": self.text_of(f"{path}.to", row.get("to", "")),
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
            self.problem(f"{path}.{name}", "must be a whole number from 1 to 360")
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
            self.problem(f"nut.{other}", f"must be given with {given[0]}")

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

    def _torques(self, state: Mapping[str, Any]) -> dict[str, Any]:
        """What rings pass to the shaft in a state, by ring."""
        torques = state.get("torques", {})
        return torques if isinstance(torques, dict) else {}

    def _torque_rings(self) -> list[str]:
        """Rings that pass a torque to the shaft in some state, in the order of the stack."""
        rings, turning = self.names("ring"), set()
        for row in self.rows("state"):
            path = f"states.{row['name']}.torques"
            if not isinstance(row.get("torques", {}), dict):
                self.problem(path, 'must be a table of rings, as { hub = "2 kN m" }')
            for ring in self._torques(row):
                if ring in rings:
                    turning.add(ring)
                else:
                    names = ", ".join(rings)
                    self.problem(
                        f"{path}.{shortened(ring)}", f"is not a ring of this job; rings: {names}"
                    )
        return [ring for ring in rings if ring in turning]

    def build(self) -> tuple[_core.Job, dict[str, _core.Spread]]:
        """The core job and the inputs that scatter. Raises InputError with every problem."""
        self._own_materials()
        self._check_window()
        shaft, nut = self.table("shaft") or {}, self.table("nut") or {}
        lock, bearing = self.table("lock"), self.table("bearing")
        rings = [
            (
                row["name"],
                self.text_of(f"rings.{row['name']}.seat", row.get("seat")),
                self.material(f"rings.{row['name']}.material", row.get("material")),
                self._choice("ring", f"rings.{row['name']}", row, "joint") == "grip",
                self._choice("ring", f"rings.{row['name']}", row, "press_against"),
                len(slices_of(row)),
            )
            for row in self.rows("ring")
        ]
        seals = [
            (
                row["name"],
                self.text_of(f"seals.{row['name']}.ring", row.get("ring")),
                self.material(f"seals.{row['name']}.material", row.get("material")),
                self._choice("seal", f"seals.{row['name']}", row, "face") == "bore",
            )
            for row in self.rows("seal")
        ]
        service = self.table("service")
        pocket = self.table("pocket")
        fitted = pocket is not None and "ring_outside" in pocket
        if pocket is not None and service is None and not fitted:
            self.problem(
                "pocket", "needs a table [service], or ring_outside: nothing else asks for it"
            )
        inner = bearing.get("inner_rings", []) if bearing is not None else []
        if not isinstance(inner, list):
            self.problem("bearing.inner_rings", "must be a list of ring names")
            inner = []
        plan: dict[str, Any] = {
            "shaft": self.material("shaft.material", shaft.get("material")),
            "nut": self.material("nut.material", nut.get("material")),
            "left_hand": self._choice("nut", "nut", nut, "hand") == "left",
            "nut_form": self._place("nut", "nut", nut, "form"),
            "nut_face_law": self._place("nut", "nut", nut, "face_law"),
            "rotation": self._place("shaft", "shaft", shaft, "rotation"),
            "lock_tabs": self._count("lock", lock or {}, "tabs"),
            "lock_slots": self._count("lock", lock or {}, "slots"),
            "has_torque_window": self.has_window,
            "has_runouts": self.has_runouts,
            "has_ring_loads": self.has_ring_loads,
            "torque_rings": self._torque_rings(),
            "lock": None if lock is None else self.material("lock.material", lock.get("material")),
            "balls": None
            if bearing is None
            else self.material("bearing.material", bearing.get("material")),
            "outer_ring": None
            if bearing is None
            else self.material("bearing.outer_ring_material", bearing.get("outer_ring_material")),
            "inner_rings": [str(name) for name in inner],
            "service": None
            if service is None
            else [
                self._place("service", "service", service, name)
                for name in ("kind", "grooves", "lubrication", "cleanliness")
            ],
            "pocket": pocket is not None,
            "thread_class": self.text_of("nut.thread_class", nut.get("thread_class", "")),
            "pocket_material": self.material("pocket.material", (pocket or {}).get("material"))
            if fitted
            else None,
            "seats": self.names("seat"),
            "rings": rings,
            "seals": seals,
            "states": self.names("state"),
            "has_shoulder": self.table("shoulder") is not None,
            "in_section": self.document.get("fidelity") == "section",
            "steps": [self._step(row) for row in self.rows("step")],
        }
        attached, self._attached = read_attached(self, plan["shaft"])
        plan |= attached
        core = self._core_job(plan)
        spreads: dict[str, _core.Spread] = {}
        self._numbers(core, spreads)
        self._limits(core)
        self._outputs(core)
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
            "torque_rings": [],
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
                self.problem(f"states.{row['name']}.lags", "must be a table of parts")
                continue
            prefix = f"states.{row['name']}.lags."
            for part, value in lags.items():
                path = prefix + part
                if path not in inputs and not self._mended:
                    parts = [p.rpartition(".")[2] for p in inputs if p.startswith(prefix)]
                    self.problem(path, f"is not a part of this job; parts: {', '.join(parts)}")
                given[path] = value
            for ring, value in self._torques(row).items():
                given[f"states.{row['name']}.torques.{ring}"] = value
        for path, value in given.items():
            if path not in inputs:
                continue  # structure, or told already
            self.told.add(path)
            try:
                read_number(core, spreads, inputs, path, value, units_needed=True)
            except UnitProblem as problem:
                self.problem(path, str(problem))

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
                    self.unknown(key, {"between", "value"}, f"{path}.")
            pair, value = row.get("between"), row.get("value")
            if (
                not isinstance(pair, list)
                or len(pair) != 2
                or any(not isinstance(p, str) or p not in spreads for p in pair)
            ):
                self.problem(f"{path}.between", "must name two inputs that scatter")
            elif isinstance(value, bool) or not isinstance(value, int | float) or abs(value) > 1:
                self.problem(f"{path}.value", "must be a number between -1 and 1")
            else:
                self.correlations.append((pair[0], pair[1], float(value)))
        told, tied = self._pairs(spreads), self.correlations_of(core, spreads)
        problem = _core.correlation_problem(told, len(spreads))
        if problem:
            self.problem("correlation", problem)
            return
        problem = _core.correlation_problem(tied, len(spreads))
        if problem:
            names = list(spreads)
            free = [f"{names[a]} with {names[b]}" for a, b, _ in tied[len(told) :]]
            self.problem(
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

    def _outputs(self, core: _core.Job) -> None:
        """[[output]] name, of = an expression over paths, with limits of its own."""
        #: as the core takes them
        self.own_outputs: list[OwnRow] = []
        rows = self.rows("output")
        given = {row["name"]: {k: v for k, v in row.items() if k != "name"} for row in rows}
        if len(given) < len(rows):
            self.problem("output", "two have one name")
        if given and not self._mended:
            problems: list[tuple[str, str]] = []
            self.own_outputs = compiled_outputs(core, given, problems, units_needed=True)
            for path, text in problems:
                self.problem(path, text)

    def _limits(self, core: _core.Job) -> None:
        known = {path: quantity for _, path, quantity, _ in core.at("heating").outputs()}
        for number, row in enumerate(self.rows("limit")):
            path = f"limit[{number}]"
            for key in row:
                if key not in ("output", "states", "at_least", "at_most"):
                    self.unknown(key, {"output", "states", "at_least", "at_most"}, f"{path}.")
            pattern = self.text_of(f"{path}.output", row.get("output"))
            states = row.get("states", ["*"])
            if not pattern or not isinstance(states, list):
                if pattern:
                    self.problem(f"{path}.states", "must be a list of state names")
                continue
            if "*" in pattern:
                kinds = {q for p, q in known.items() if _same_output(pattern, p)}
            else:
                kinds = {known[pattern]} if pattern in known else set()
            if len(kinds) > 1:
                self.problem(
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
                    self.problem(f"{path}.{side}", str(problem))
            if "at_least" not in row and "at_most" not in row:
                self.problem(path, "needs at_least or at_most")
            elif bounds["at_least"] > bounds["at_most"]:
                self.problem(path, "at_least must not be above at_most")
            for state in dict.fromkeys(map(str, states)):
                try:
                    core.set_limit(pattern, state, bounds["at_least"], bounds["at_most"])
                except InputError as error:
                    for wrong, text in error.problems:
                        side = "states" if wrong == "state" else "output"
                        rule = text if wrong == "state" else f"{told(pattern)} {text}"
                        if not self._mended:
                            self.problem(f"{path}.{side}", rule)


def _is_name(name: str) -> bool:
    return name.isascii() and name.isidentifier() and name == name.lower() and name[0] != "_"


def _same_output(pattern: str, path: str) -> bool:
    names, wanted = path.split("."), pattern.split(".")
    return len(names) == len(wanted) and all(
        w in ("*", n) for w, n in zip(wanted, names, strict=True)
    )
