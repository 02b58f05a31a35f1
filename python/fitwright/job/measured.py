"""A job as measured: readings in place of expected values, and what they change."""

from __future__ import annotations

import csv
import io
import os
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from fitwright.fields import files, units
from fitwright.fields.errors import InputError
from fitwright.fields.tables import Table
from fitwright.fields.units import Number, UnitProblem
from fitwright.fields.value import Value
from fitwright.job.findings import evaluate
from fitwright.job.numbers import BOUNDED
from fitwright.job.reading import Reading
from fitwright.job.text import LARGEST_FILE, read_text
from fitwright.job.titles import Titles
from fitwright.job.value import AnyJob, Job

if TYPE_CHECKING:
    from collections.abc import Iterable

__all__ = ["changes_of", "readings_of_file", "table_of_readings", "with_readings"]

#: A size farther off than this share of what was expected is a slip of the pen or of the unit
#: (own choice: fits of reworked parts stay within a few thousandths of their size).
FARTHEST = 0.02
#: Standard deviations from the expected value beyond which a reading lies outside its scatter.
OUTSIDE = 3.0


def changes_of(expected: Job, measured: Job) -> list[tuple[str, str, Value, Value]]:
    """State, path, and value before and after, of what the shop works by."""
    before, after = evaluate(expected), evaluate(measured)
    built = measured.states[0]
    paths = [
        f"rings.{row['name']}.{output}"
        for row in measured.file.rows("ring")
        if row.get("joint", "grip") == "grip"
        for output in ("interference_left", "oven_needed", "opening", "holding_force")
    ]
    paths += ["shoulder.clamp_low"]
    if measured.file.table("bearing") is not None:
        paths += ["bearing.clearance", "bearing.end_play"]
    return [
        (built, path, before[built, path], after[built, path])
        for path in paths
        if before[built, path] != after[built, path]
    ]


def table_of_readings(job: Job, readings: Mapping[str, Reading], units: str) -> Table:
    """Readings, what was expected, and how far off they are."""
    titles = Titles(job)
    rows, marks = [], []
    for reading in readings.values():
        rows.append(
            [
                reading.path,
                titles.part(reading.path),
                reading.value.shown(units),
                reading.expected.shown(units),
                reading.deviation.shown(units),
                {None: "", False: "within its scatter", True: "OUTSIDE its scatter"}[
                    reading.outside
                ],
            ]
        )
        marks.append("bad" if reading.outside else "")
    head = ["input", "part", "as measured", "expected", "off by", ""]
    return Table(head, rows, f"{job.title}, as measured", marks)


def with_readings(
    job: AnyJob,
    readings: Mapping[str, Number] | str | os.PathLike[str],
    gauge: Mapping[str, Number] | Number = None,
) -> tuple[AnyJob, dict[str, Reading]]:
    """The job with readings in place of what was expected, and each beside what it was."""
    given = readings if isinstance(readings, Mapping) else readings_of_file(readings)
    problems: list[tuple[str, str]] = []
    changes: dict[str, Any] = {}
    for path, reading in given.items():
        try:
            quantity = job[path].quantity
            values = units.to_si(reading, quantity)
            one = isinstance(values, float)
            check_sense(job[path], [values] if isinstance(values, float) else values.tolist())
            changes[path] = _change(reading, one, _gauge_of(gauge, path))
        except UnitProblem as problem:
            problems.append((path, str(problem)))
        except InputError as error:
            problems += error.problems
    if problems:
        raise InputError(problems)
    there = job.replace(changes)
    return there, {path: _reading(job, there, path) for path in changes}


def _change(reading: Any, one: bool, gauge: Any) -> dict[str, Any]:
    """What `replace` takes: a reading of the part that goes in, with the gauge's deviation."""
    if one and gauge is None:
        return {"value": reading}
    table = {"measured": reading, "of": "one_part"}
    return table if gauge is None else {**table, "gauge": gauge}


def _gauge_of(gauge: Any, path: str) -> Any:
    return gauge.get(path) if isinstance(gauge, Mapping) else gauge


def check_sense(expected: Value, values: Iterable[float]) -> None:
    """Refuses a size that lies too far from what was expected to be one."""
    if expected.quantity != "size" or not abs(expected) < float("inf"):
        return
    for value in values:
        off = abs(value - expected)
        if off > FARTHEST * abs(expected):
            raise UnitProblem(
                f"{Value(value, 'size').shown()} is more than {FARTHEST:.0%} off the "
                f"{expected.shown()} expected; is it another unit, or another size?"
            )


def _reading(job: Job, made: Job, path: str) -> Reading:
    value, expected = made[path], job[path]
    quantity = {"size": "fine", "temperature": "difference"}.get(value.quantity, value.quantity)
    spread = job.spreads.get(path)
    outside = None
    if spread is not None:
        outside = abs(value - expected) > OUTSIDE * spread.standard_deviation
        if spread.shape in BOUNDED:
            outside = not spread.low <= value <= spread.high
    return Reading(path, value, expected, Value(value - expected, quantity, job.units), outside)


def readings_of_file(path: str | os.PathLike[str]) -> dict[str, str]:
    """Readings of a CSV file or spreadsheet with a column `path` and a column `reading`."""
    rows = table_of_file(path)
    found: dict[str, str] = {}
    problems: list[tuple[str, str]] = []
    for number, row in rows:
        where = f"{Path(path).name}, row {number}"
        name, reading = row.get("path", ""), row.get("reading", "")
        if "path" not in row or "reading" not in row:
            missing = " and ".join(k for k in ("path", "reading") if k not in row)
            raise InputError([(Path(path).name, f"has no column {missing}")])
        if not name and not reading:
            continue
        if name in found:
            problems.append((where, f"{name} stands there twice"))
        found[name] = reading
    if problems:
        raise InputError(problems)
    return found


def table_of_file(path: str | os.PathLike[str]) -> list[tuple[int, dict[str, str]]]:
    """Rows of a CSV file or spreadsheet by the heads of its columns, with their numbers."""
    path = files.path_of(path, "readings")
    cells = _spreadsheet(path) if path.suffix.lower() == ".xlsx" else _csv(path)
    if not cells:
        raise InputError([(path.name, "is empty; its first row must name the columns")])
    head = [cell.strip() for cell in cells[0]]
    twice = sorted({name for name in head if name and head.count(name) > 1})
    if twice:
        raise InputError([(path.name, f"has the column {twice[0]} twice")])
    rows = []
    for number, row in enumerate(cells[1:], 2):
        if any(cell.strip() for cell in row):
            padded = [*row, *[""] * (len(head) - len(row))]
            rows.append((number, {k: c.strip() for k, c in zip(head, padded, strict=False) if k}))
    return rows


def _csv(path: Path) -> list[list[str]]:
    text = read_text(path, "a table of readings has at most")
    first = text.split("\n", 1)[0]
    mark = max(",;\t", key=first.count)
    return list(csv.reader(text.splitlines(), delimiter=mark))


def _spreadsheet(path: Path) -> list[list[str]]:
    try:
        import openpyxl
    except ImportError as error:
        told = "a spreadsheet needs openpyxl: pip install fitwright[spreadsheet]; or save it as CSV"
        raise InputError([(path.name, told)]) from error
    data = files.read_bytes(path, LARGEST_FILE, "a table of readings has at most")
    try:
        book = openpyxl.load_workbook(io.BytesIO(data), read_only=True, data_only=True)
    except Exception as error:  # a zip file that is no workbook has many ways to say so
        raise InputError([(str(path), f"cannot be read as a spreadsheet: {error}")]) from error
    sheet = book.worksheets[0]
    rows = [["" if c is None else str(c) for c in row] for row in sheet.iter_rows(values_only=True)]
    book.close()
    return rows
