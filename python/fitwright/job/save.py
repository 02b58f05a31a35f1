"""A job back into its file, comments and order kept; and its hash."""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from fitwright import _core
from fitwright.fields import files, units
from fitwright.fields.errors import InputError
from fitwright.job.file import JobFile
from fitwright.job.numbers import BOUNDED
from fitwright.job.tables import EXTRA, LISTS, MORE_LISTS, TABLES_ALONE
from fitwright.threads.words import read_thread

if TYPE_CHECKING:
    from fitwright.job.value import Job

__all__ = ["job_hash", "job_text", "save_job"]

#: Rooms of paths that are lists of tables in the file, and the name of the list.
ROOMS = {f"{kind}s": kind for kind in (*LISTS, *MORE_LISTS, "tool")}
#: Digits tried until a number in shop units reads back the same.
FEWEST, MOST = 3, 17


def save_job(job: Job, path: str | os.PathLike[str]) -> Path:
    """See `Job.save`."""
    target = files.path_of(path, "path")
    files.write_bytes(target, job_text(job).encode("utf-8"))
    return target


def job_text(job: Job) -> str:
    """The text of the job's file with what has been replaced since."""
    import tomlkit

    extra = {path for _, path, *_ in job.own_outputs} - {
        path for _, path, *_ in job.file.own_outputs
    }
    if extra:
        told = "was told by with_outputs and is not in the file: write it there as [[output]]"
        raise InputError([(path, told) for path in sorted(extra)])
    document = tomlkit.parse(job.file.text)
    core, spreads = JobFile(job.file.text).build()
    before = dict(zip((row[0] for row in job.input_rows), core.values(), strict=True))
    changed = [
        path
        for (path, *_), value in zip(job.input_rows, job.core.values(), strict=True)
        if not same(before[path], value)
    ]
    changed += [
        path
        for path in {**spreads, **job.spreads}
        if _told_spread(spreads.get(path)) != _told_spread(job.spreads.get(path))
    ]
    known = set(before)
    for path in dict.fromkeys(_base(path, known) for path in changed):
        table, key = _place(document, path)
        if path in ("nut.diameter", "nut.pitch") and "thread" in table:
            table.update(read_thread(str(table.pop("thread")))._asdict())
        table[key] = _entry(job, path, known)
    return tomlkit.dumps(document)


def same(one: float, other: float) -> bool:
    """Equal, or both left out (not a number, or worked out)."""
    return one == other or (one != one and other != other)


def _base(path: str, known: set[str]) -> str:
    """The input whose table tells the low and the high end of another."""
    for end in ("_low", "_high"):
        base = path.removesuffix(end)
        if base != path and {base, f"{base}_low", f"{base}_high"} <= known:
            return base
    return path


def _place(document: Any, path: str) -> tuple[Any, str]:
    """The table of the file that tells an input, and its key there."""
    room, *names = path.split(".")
    if room not in ROOMS:
        return _inside(document[room], names)
    name, *rest = names
    row = next(row for row in document[ROOMS[room]] if row["name"] == name)
    if rest[0].startswith("slice"):
        return row["slices"][int(rest[0].removeprefix("slice")) - 1], rest[1]
    if rest[0] in ("lags", "torques"):
        if rest[0] not in row:
            row[rest[0]] = {}
        return row[rest[0]], rest[1]
    return _inside(row, rest)


def _inside(table: Any, names: list[str]) -> tuple[Any, str]:
    """A key in a table, or in a part of it, as the rod of a tool."""
    *parts, key = names
    for part in parts:
        if part not in table:
            table[part] = {}
        table = table[part]
    return table, key


def _entry(job: Job, path: str, known: set[str]) -> Any:
    """What stands in the file for an input: its value, or a table of value, ends and scatter."""
    import tomlkit

    quantity = job[path].quantity
    told = {"value": _text(float(job[path]), quantity)}
    ends = (f"{path}_low", f"{path}_high")
    if known.issuperset(ends):
        for key, end in zip(("low", "high"), ends, strict=True):
            if abs(float(job[end])) < float("inf"):
                told[key] = _text(float(job[end]), quantity)
    spread = job.spreads.get(path)
    if spread is not None and path not in job.standard_spreads:
        told = {**told, **_scatter(spread, quantity, known.issuperset(ends))}
        if spread.shape == "measured":
            del told["value"]
    if set(told) == {"value"}:
        return told["value"]
    table = tomlkit.inline_table()
    table.update(told)
    return table


def _scatter(spread: _core.Spread, quantity: str, has_ends: bool) -> dict[str, Any]:
    step = "difference" if quantity == "temperature" else quantity
    told: dict[str, Any] = {"spread": spread.shape}
    if spread.shape == "measured":
        told["measured"] = [_text(value, quantity) for value in spread.measured]
        told["of"] = spread.of
        if spread.deviation == spread.deviation:
            told["gauge"] = _text(spread.deviation, step)
        if spread.repeatability == spread.repeatability:
            told["repeatability"] = _text(spread.repeatability, step)
        return told
    if spread.shape in ("normal", "truncated_normal", "lognormal", "beta"):
        told["deviation"] = _text(spread.deviation, step)
    if not has_ends and spread.shape in BOUNDED:
        told |= {"low": _text(spread.low, quantity), "high": _text(spread.high, quantity)}
    return told


def _text(value: float, quantity: str) -> str:
    """A number that reads back to the same bits, in shop units where those can tell it."""
    if quantity in ("ratio", "count"):
        return repr(value)
    row = units.shop_unit(quantity)
    for digits in range(FEWEST, MOST + 1):
        text = f"{value * row['factor'] + row['offset']:.{digits}g} {row['label']}"
        try:
            if units.parse(text, quantity) == value:
                return text
        except units.UnitProblem:
            break  # written with an exponent, or a unit that is not read
    return f"{value!r} {units.QUANTITIES[quantity]['si']}"


def _told_spread(spread: _core.Spread | None) -> tuple[Any, ...]:
    if spread is None:
        return ()
    numbers = (spread.middle, spread.deviation, spread.low, spread.high, spread.repeatability)
    return (spread.shape, *(repr(x) for x in numbers), list(spread.measured), spread.of)


def job_hash(job: Job) -> str:
    """SHA-256 of all a job holds but its comments and texts: inputs, scatter, limits, structure."""
    values = [
        [path, repr(value)]
        for (path, *_), value in zip(job.input_rows, job.core.values(), strict=True)
    ]
    spreads = {path: _told_spread(spread) for path, spread in sorted(job.spreads.items())}
    limits = [[output, repr(low), repr(high)] for output, low, high in job.core.limits()]
    structure = {**_structure(job.file.document), **_attached(job.file)}
    whole = [values, spreads, limits, job.core.steps(), structure]
    if job.core.is_in_section():
        whole.append("section")
    if job.own_outputs:
        whole.append(repr(job.own_outputs))
    return hashlib.sha256(json.dumps(whole, sort_keys=True).encode("utf-8")).hexdigest()


def _structure(document: Mapping[str, Any]) -> dict[str, Any]:
    """Words and counts that are no inputs: materials, names, choices, which parts there are."""
    from fitwright.job.tables import TABLES

    found: dict[str, Any] = {}
    for kind in (*TABLES_ALONE, *LISTS, *MORE_LISTS):
        if kind == "shoulder" and kind not in document:
            continue  # younger than the hashes of jobs without it
        held = document.get(kind)
        rows = held if isinstance(held, list) else [held] if isinstance(held, dict) else []
        choices = {
            f["name"]: f["words"].split("|")[0]
            for f in TABLES[kind]["fields"]
            if f["kind"] == "choice"
        }
        kept = EXTRA[kind] - {"title", "kind", "lags", "torques", "slices", "lubricant", "thread"}
        found[kind] = [
            {**choices, **{key: row[key] for key in sorted(row) if key in kept or key in choices}}
            for row in rows
        ]
    for key in ("material", "correlation"):
        found[key] = document.get(key, [])
    return found


def _attached(file: JobFile) -> dict[str, Any]:
    """Of the plate and the tools: kinds, choices, metals, which rings they serve."""
    from fitwright import materials
    from fitwright.job.attached import read_attached

    plan, _ = read_attached(file, materials.material(_core.material_names()[0]))
    held = [*([plan["plate"]] if plan["plate"] else []), *plan["tools"]]
    told = [{**one, "materials": [metal.name for metal in one["materials"]]} for one in held]
    return {"attached": [plan["plate_at_nut"], *told]} if held else {}
