"""One job for many serial numbers: a table of readings in, a sheet each and one summary out."""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

from fitwright.face.job import MeasuredJob
from fitwright.fields.arguments import checked
from fitwright.fields.errors import InputError
from fitwright.fields.files import make_folder
from fitwright.fields.records import Records
from fitwright.fields.tables import Shown, Table
from fitwright.fields.units import Number, in_system
from fitwright.job.measured import table_of_file
from fitwright.job.titles import Titles, plain_words

if TYPE_CHECKING:
    from fitwright.face.job import Job
    from fitwright.job.finding import Finding

__all__ = ["Batch", "Serial", "run"]

#: Columns of the table that are no readings.
WHO = ("serial", "work_order", "note")
#: "seats.main.diameter [mm]"
_HEAD = re.compile(r"\s*([^\[\]]+?)\s*(?:\[\s*([^\[\]]+?)\s*\])?\s*")
#: A number alone, whose unit the head of its column tells.
_PLAIN = re.compile(r"[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?")


@dataclass
class Serial:
    """What became of one row: the job as measured, or the problems that kept it from being one."""

    row: int
    serial: str
    work_order: str = ""
    note: str = ""
    job: MeasuredJob | None = None
    worst: Finding | None = None
    not_met: int = 0
    outside: list[str] = field(default_factory=list)
    sheet: Path | None = None
    #: (column, text)
    problems: list[tuple[str, str]] = field(default_factory=list)

    @property
    def passed(self) -> bool:
        return self.job is not None and not self.not_met

    @property
    def verdict(self) -> str:
        if self.problems:
            return "REFUSED"
        return f"{self.not_met} NOT MET" if self.not_met else "ok"


@checked
class Batch(Records, Shown):
    """The rows of a batch in order; `.passed`, `.refused`, `.table()`, `.to_dict()`."""

    def __init__(
        self, title: str, serials: Sequence[Serial], units: str = "", stopped: str = ""
    ) -> None:
        self.title, self.serials, self.units = title, list(serials), units
        #: why it ended before its last row, else empty
        self.stopped = stopped

    def __iter__(self) -> Any:
        return iter(self.serials)

    def __len__(self) -> int:
        return len(self.serials)

    def __getitem__(self, serial: str) -> Serial:
        for one in self.serials:
            if one.serial == serial:
                return one
        raise InputError([("serial", f'"{serial}" is not in this batch')])

    @property
    def passed(self) -> bool:
        """Whether every row was worked, and every limit of each is met."""
        return not self.stopped and all(one.passed for one in self.serials)

    @property
    def refused(self) -> list[Serial]:
        return [one for one in self.serials if one.problems]

    def to_dict(self) -> list[dict[str, Any]]:
        """One plain dict a row, for a file or a data frame; numbers in SI."""
        return [
            {
                "row": one.row,
                "serial": one.serial,
                "work_order": one.work_order,
                "verdict": one.verdict,
                "not_met": one.not_met,
                "worst": one.worst.path if one.worst else "",
                "state": one.worst.state if one.worst else "",
                "value": float(one.worst.value) if one.worst else None,
                "limit": float(one.worst.limit) if one.worst else None,
                "reserve": one.worst.reserve if one.worst else None,
                "outside_scatter": ", ".join(one.outside),
                "sheet": str(one.sheet) if one.sheet else "",
                "problems": "; ".join(_told(*problem) for problem in one.problems),
            }
            for one in self.serials
        ]

    def table(self, units: str | None = None) -> Table:
        """One line a serial number: verdict, and what leaves the least reserve."""
        rows, marks = [], []
        units = in_system(units, self.units)
        for one in self.serials:
            cells = ["", "", "", ""]
            if one.worst is not None and one.job is not None:
                titles = Titles(one.job)
                cells = [
                    f"{titles.part(one.worst.path)}: {plain_words(one.worst.path)}",
                    one.worst.value.shown(units),
                    one.worst.limit_text(units),
                    one.worst.reserve_text(units),
                ]
            elif one.problems:
                cells[0] = "; ".join(_told(*problem) for problem in one.problems)
            rows.append([str(one.row), one.serial, one.work_order, one.verdict, *cells])
            marks.append("good" if one.passed else "bad")
        good = sum(one.passed for one in self.serials)
        title = f"{self.title}: {good} of {len(self)} as measured keep every limit"
        if self.refused:
            title += f", {len(self.refused)} refused"
        if self.stopped:
            title += f"; {self.stopped}"
        head = ["row", "serial no.", "work order", "", "least reserve", "value", "limit", "reserve"]
        return Table(head, rows, title, marks)


@checked
def run(
    job: Job,
    readings: str | os.PathLike[str],
    *,
    out: str | os.PathLike[str] | None = None,
    gauge: Number = None,
    units: str | None = None,
    documents: Sequence[str] | str = "bench",
    paper: str = "A4",
    kind: str = "html",
    date: str = "",
    revision: str = "",
    progress: Callable[[int, int], None] | None = None,
) -> Batch:
    """A job as measured for each row of a CSV file or spreadsheet; sheets in the folder `out`.

    Columns: `serial`, and `work_order` and `note` when wanted; every other one is the path of an
    input, alone with readings such as "80.034 mm", or with its unit, `seats.main.diameter [mm]`,
    and plain numbers. An empty cell was not measured. A row that cannot be used is told with its
    column and the rule, and the others go on. `readings` is the file, `gauge` its standard
    uncertainty. Each of the `documents` is written as `kind` ("html" or "pdf"), in `units`,
    on `paper`, with `date` and `revision`; `progress` is called with how many
    are done, and of how many.

    >>> batch = fw.batch.run(job, "readings.csv", out="sheets", gauge="1 um")
    >>> print(batch)
    """
    rows = table_of_file(readings)
    name = Path(readings).name
    columns = _columns(job, name, rows[0][1] if rows else {})
    folder = None if out is None else Path(out)
    if folder is not None:
        make_folder(folder)
    made: list[Serial] = []
    taken: set[str] = set()
    stopped = ""
    try:
        for place, (number, row) in enumerate(rows):
            serial, work_order, note = (row.get(key, "") for key in WHO)
            one = Serial(number, serial, work_order, note)
            if not one.serial:
                one.problems.append(("serial", "must be given"))
            elif any(other.serial == one.serial for other in made):
                one.problems.append(("serial", f'"{one.serial}" stands there twice'))
            _measure(job, one, row, columns, gauge)
            if one.job is not None and folder is not None:
                path = folder / f"{_file_name(one, taken)}.{kind}"
                try:
                    one.sheet = one.job.sheet(
                        path,
                        units,
                        documents=documents,
                        paper=paper,
                        serial=one.serial,
                        work_order=one.work_order,
                        note=one.note,
                        date=date,
                        revision=revision,
                    )
                except InputError as error:
                    one.problems += error.problems
            made.append(one)
            if progress is not None:
                progress(place + 1, len(rows))
    except KeyboardInterrupt:
        if not made:
            raise
        stopped = f"stopped by hand after {len(made)} of {len(rows)} rows"
    return Batch(job.title, made, in_system(units, job.units), stopped)


def _columns(job: Job, name: str, first: dict[str, str]) -> dict[str, tuple[str, str]]:
    """Column -> path and unit. What is wrong with the head is wrong with every row."""
    problems: list[tuple[str, str]] = []
    if "serial" not in first:
        problems.append((name, "has no column serial, or no rows"))
    found: dict[str, tuple[str, str]] = {}
    for head in first:
        if head in WHO:
            continue
        match = _HEAD.fullmatch(head)
        path, unit = (match[1], match[2] or "") if match else (head, "")
        try:
            job.core.leaf(path)
        except InputError as error:
            problems += [(f"{name}, column {head}", text) for _, text in error.problems]
            continue
        found[head] = (path, unit)
    if first and not found and not problems:
        problems.append((name, "has no column with readings, as seats.main.diameter [mm]"))
    if problems:
        raise InputError(problems)
    return found


def _measure(
    job: Job, one: Serial, row: dict[str, str], columns: dict[str, tuple[str, str]], gauge: Number
) -> None:
    readings: dict[str, str] = {}
    for head, (path, unit) in columns.items():
        cell = row.get(head, "")
        if not cell:
            continue
        if unit and _PLAIN.fullmatch(cell):
            cell = f"{cell} {unit}"
        elif unit and "," in cell:
            one.problems.append((head, f'"{cell}" has a comma; a decimal is written with a point'))
            continue
        readings[path] = cell
    head_of = {path: head for head, (path, _) in columns.items()}
    try:
        measured = job.measured(readings, gauge=gauge)
        found = measured.evaluate()
    except InputError as error:
        one.problems += [(head_of.get(path, path), text) for path, text in error.problems]
        return
    if one.problems:
        return
    one.job, one.worst = measured, found.worst
    one.not_met = len({finding.path for finding in found.not_met})
    one.outside = [path for path, held in measured.readings.items() if held.outside]


def _file_name(one: Serial, taken: set[str]) -> str:
    """A name that every file system takes, and that no other row has."""
    plain = re.sub(r"[^A-Za-z0-9._-]+", "-", one.serial).strip(".-")[:60]
    name = f"serial-{plain}" if plain else f"row-{one.row}"
    count = 1
    while (made := name if count == 1 else f"{name}-{count}").lower() in taken:
        count += 1
    taken.add(made.lower())
    return made


def _told(path: str, text: str) -> str:
    return f"{path}: {text}" if path else text
