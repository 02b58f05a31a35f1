"""Reading a job file: TOML in, core job out, every problem told in one report with its path."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from fitwright import _core, materials, units
from fitwright.errors import InputError
from fitwright.units import UnitProblem

#: A job of 48 rings and 20 states takes a tenth of this.
LARGEST_FILE = 1_000_000
DEEPEST = 8
NAN = float("nan")
SHAPES = ("normal", "truncated_normal", "uniform", "triangular")
TABLES: dict[str, dict[str, Any]] = _core.job_tables()
LISTS = ("seat", "ring", "state")
#: Keys of a table beside its declared fields: structure and text.
EXTRA = {
    "shaft": {"material"},
    "nut": {"material"},
    "lock": {"material", "kind"},
    "bearing": {"material", "inner_rings", "outer_ring_material"},
    "seat": {"name"},
    "ring": {"name", "title", "seat", "material"},
    "state": {"name", "title", "lags"},
}
TOP = {"title", "note", "shaft", "nut", "lock", "bearing", *LISTS, "limit", "material"}


def read_text(path: Path) -> str:
    """The text of a job file, refused when it cannot be one."""
    try:
        size = path.stat().st_size
        if size > LARGEST_FILE:
            raise InputError(
                [(str(path), f"is {size} bytes long; a job file has at most {LARGEST_FILE}")]
            )
        return path.read_text(encoding="utf-8")
    except OSError as error:
        raise InputError([(str(path), f"cannot be read: {error.strerror}")]) from error
    except UnicodeDecodeError as error:
        raise InputError([(str(path), f"is not UTF-8 text: {error.reason}")]) from error


def parse(text: str) -> dict[str, Any]:
    if len(text) > LARGEST_FILE:
        raise InputError([("", f"the job file is longer than {LARGEST_FILE} characters")])
    try:
        document = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise InputError([("", f"the job file is not TOML: {error}")]) from error
    except RecursionError as error:
        raise InputError([("", "the job file is nested too deeply")]) from error
    if not document:
        raise InputError([("", "the job file is empty; it needs shaft, nut, seat, ring and state")])
    _check_depth(document, "", 0)
    return document


def _check_depth(value: Any, path: str, depth: int) -> None:
    if depth > DEEPEST:
        raise InputError([(path[:80], "the job file is nested too deeply")])
    items: Any = ()
    if isinstance(value, dict):
        items = value.items()
    elif isinstance(value, list):
        items = enumerate(value)
    for key, item in items:
        _check_depth(item, f"{path}.{key}" if path else str(key), depth + 1)


class JobFile:
    """The document of a job file and what is wrong with it."""

    def __init__(self, text: str) -> None:
        self.document = parse(text)
        self.problems: list[tuple[str, str]] = []
        self._materials: dict[str, _core.Material] = {}
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
        self.problems.append((path, text))

    def _check_shape(self) -> None:
        for key in self.document:
            if key not in TOP:
                self._unknown(key, TOP, "")
        for kind in ("shaft", "nut"):
            if self.table(kind) is None:
                self._problem(kind, f"must be given as a table [{kind}]")
        for kind in ("lock", "bearing"):
            if kind in self.document and self.table(kind) is None:
                self._problem(kind, f"must be a table [{kind}]")
        for kind in (*LISTS, "limit", "material"):
            rows = self.document.get(kind, [])
            if not isinstance(rows, list) or any(not isinstance(r, dict) for r in rows):
                self._problem(kind, f"must be given as tables [[{kind}]]")
                self.document[kind] = []
            elif not rows and kind in LISTS:
                self._problem(kind, f"must be given as tables [[{kind}]]")
        for kind in LISTS:
            for number, row in enumerate(self.rows(kind)):
                if not isinstance(row.get("name"), str):
                    self._problem(f"{kind}[{number}].name", "must be given, as text")
                    row["name"] = f"unnamed_{number}"
        for kind in ("shaft", "nut", "lock", "bearing"):
            table = self.table(kind)
            if table is not None:
                self._check_keys(kind, kind, table)
        for kind in LISTS:
            for row in self.rows(kind):
                self._check_keys(kind, f"{kind}s.{row['name']}", row)

    def _check_keys(self, kind: str, path: str, table: Mapping[str, Any]) -> None:
        known = {f["name"] for f in TABLES[kind]["fields"] if f["kind"] in ("number", "choice")}
        known |= EXTRA[kind]
        for key in table:
            if key not in known:
                self._unknown(key, known, f"{path}.")

    def _unknown(self, key: str, known: set[str], prefix: str) -> None:
        import difflib

        near = difflib.get_close_matches(key, sorted(known), n=3, cutoff=0.4)
        hint = f"; did you mean {' or '.join(near)}?" if near else ""
        self._problem(f"{prefix}{key}", f"is not a known key{hint}")

    def _text(self, path: str, value: Any) -> str:
        if isinstance(value, str):
            return value
        self._problem(path, "must be given, as text" if value is None else "must be text")
        return ""

    # -- materials and plan -------------------------------------------------------------------

    def _own_materials(self) -> None:
        for number, row in enumerate(self.rows("material")):
            name = row.get("name", f"material[{number}]")
            fields = {k: v for k, v in row.items() if k != "name"}
            try:
                self._materials[name] = materials.own(name, **fields)
            except InputError as error:
                self.problems += [(f"material.{path}", text) for path, text in error.problems]
            except TypeError as error:
                self._problem(f"material.{name}", str(error).replace("own() ", ""))

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
        if word not in words:
            self._problem(f"{path}.{name}", f"{word!r} must be one of {', '.join(words)}")
        return str(word)

    def build(self) -> tuple[_core.Job, dict[str, _core.Spread]]:
        """The core job and the inputs that scatter. Raises InputError with every problem."""
        self._own_materials()
        shaft, nut = self.table("shaft") or {}, self.table("nut") or {}
        lock, bearing = self.table("lock"), self.table("bearing")
        rings = [
            (
                row["name"],
                self._text(f"rings.{row['name']}.seat", row.get("seat")),
                self._material(f"rings.{row['name']}.material", row.get("material")),
                self._choice("ring", f"rings.{row['name']}", row, "joint") == "grip",
            )
            for row in self.rows("ring")
        ]
        inner = bearing.get("inner_rings", []) if bearing is not None else []
        if not isinstance(inner, list):
            self._problem("bearing.inner_rings", "must be a list of ring names")
            inner = []
        plan: dict[str, Any] = {
            "shaft": self._material("shaft.material", shaft.get("material")),
            "nut": self._material("nut.material", nut.get("material")),
            "left_hand": self._choice("nut", "nut", nut, "hand") == "left",
            "lock": None if lock is None else self._material("lock.material", lock.get("material")),
            "balls": None
            if bearing is None
            else self._material("bearing.material", bearing.get("material")),
            "outer_ring": None
            if bearing is None
            else self._material("bearing.outer_ring_material", bearing.get("outer_ring_material")),
            "inner_rings": [str(name) for name in inner],
            "seats": self.names("seat"),
            "rings": rings,
            "states": self.names("state"),
        }
        try:
            core = _core.Job(_core.Plan(**plan))
        except InputError as error:
            raise InputError(self.problems + error.problems) from error
        spreads: dict[str, _core.Spread] = {}
        self._numbers(core, spreads)
        self._limits(core)
        # Missing and impossible values are told together with what could not be read.
        unread = {path for path, _ in self.problems}
        self.problems += [p for p in core.problems() if p[0] not in unread]
        if self.problems:
            raise InputError(self.problems)
        return core, spreads

    def _numbers(self, core: _core.Job, spreads: dict[str, _core.Spread]) -> None:
        quantities = {path: quantity for path, quantity, *_ in core.inputs()}
        given: dict[str, Any] = {}
        for kind in ("shaft", "nut", "lock", "bearing"):
            for key, value in (self.table(kind) or {}).items():
                given[f"{kind}.{key}"] = value
        for kind in LISTS:
            for row in self.rows(kind):
                for key, value in row.items():
                    given[f"{kind}s.{row['name']}.{key}"] = value
        for row in self.rows("state"):
            lags = row.get("lags", {})
            if not isinstance(lags, dict):
                self._problem(f"states.{row['name']}.lags", "must be a table of parts")
                continue
            for part, value in lags.items():
                path = f"states.{row['name']}.lags.{part}"
                if path not in quantities:
                    self._problem(path, "is not a part of this job")
                given[path] = value
        for path, value in given.items():
            if path not in quantities:
                continue  # structure, or told already
            try:
                read_number(core, spreads, path, quantities[path], value, units_needed=True)
            except UnitProblem as problem:
                self._problem(path, str(problem))

    def _limits(self, core: _core.Job) -> None:
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
            quantity = next(
                (q for _, p, q, _ in core.outputs() if _same_output(pattern, p)), "ratio"
            )
            bounds = {}
            for side in ("at_least", "at_most"):
                try:
                    bounds[side] = float(units.to_si(row[side], quantity)) if side in row else NAN
                except UnitProblem as problem:
                    self._problem(f"{path}.{side}", str(problem))
                    bounds[side] = NAN
            for state in states:
                try:
                    core.set_limit(pattern, str(state), bounds["at_least"], bounds["at_most"])
                except InputError as error:
                    self.problems += [(f"{path}.output", f"{p}: {t}") for p, t in error.problems]


def _same_output(pattern: str, path: str) -> bool:
    names, wanted = path.split("."), pattern.split(".")
    return len(names) == len(wanted) and all(
        w in ("*", n) for w, n in zip(wanted, names, strict=True)
    )


def read_number(
    core: _core.Job,
    spreads: dict[str, _core.Spread],
    path: str,
    quantity: str,
    given: Any,
    units_needed: bool = False,
) -> None:
    """Sets one input: a value, or a table of value, ends and scatter. Raises UnitProblem."""

    def number(value: Any) -> float:
        if units_needed and isinstance(value, int | float) and quantity not in ("ratio", "count"):
            raise UnitProblem(f"{value!r} has no unit; write it as text with its unit")
        read = units.to_si(value, quantity)
        if not isinstance(read, float):
            raise UnitProblem(f"{value!r} must be one number")
        return read

    leaf = core.leaf(path)
    before = core.values()[leaf]
    paths = {row[0]: index for index, row in enumerate(core.inputs())}
    ends = (paths.get(f"{path}_low", -1), paths.get(f"{path}_high", -1))
    if not isinstance(given, Mapping):
        value = number(given)
        core.set(leaf, value)
        old = spreads.get(path)
        if old is not None and old.leaf == leaf:
            spreads[path] = old.moved(value - before)
        return

    unknown = set(given) - {"value", "low", "high", "spread", "deviation"}
    if unknown:
        raise UnitProblem(f"has the unknown key {', '.join(sorted(unknown))}")
    if "value" not in given and before != before:
        raise UnitProblem("needs a value")
    value = number(given["value"]) if "value" in given else before
    core.set(leaf, value)
    low = number(given["low"]) if "low" in given else NAN
    high = number(given["high"]) if "high" in given else NAN
    if ends[0] >= 0:
        for end, bound in zip(ends, (low, high), strict=True):
            if bound == bound:
                core.set(end, bound)
        low, high = core.values()[ends[0]], core.values()[ends[1]]
    shape = given.get("spread")
    if shape is None:
        if "deviation" in given or (ends[0] < 0 and ("low" in given or "high" in given)):
            raise UnitProblem(f"says how far but not how it scatters: spread = {', '.join(SHAPES)}")
        spreads.pop(path, None)
        return
    if shape not in SHAPES:
        raise UnitProblem(f"spread {shape!r} must be one of {', '.join(SHAPES)}")
    step = "difference" if quantity == "temperature" else quantity
    deviation = NAN
    if "deviation" in given:
        read = units.to_si(given["deviation"], step)
        deviation = float(read)
    spread = _core.Spread(path, leaf, ends[0], ends[1], shape, value, deviation, low, high)
    problem = spread.problem()
    if problem:
        raise UnitProblem(f"spread {shape} {problem}")
    spreads[path] = spread
