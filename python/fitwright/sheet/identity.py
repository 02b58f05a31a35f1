"""Who a sheet is for: serial number, work order, revision, date, and the hash of the job."""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from typing import TYPE_CHECKING

from markupsafe import Markup

from fitwright import _core
from fitwright.fields.errors import InputError
from fitwright.fields.user_text import MOST_NOTE, problem_with
from fitwright.job.save import job_hash

if TYPE_CHECKING:
    from fitwright.job.value import Job

__all__ = ["PAPERS", "Identity", "Paper"]

#: What is longer than this is no serial number, and fits no head of a page.
LONGEST = 60
#: Digits of the hash on the sheet.
SHORT = 12


@dataclass(frozen=True)
class Paper:
    """A sheet of paper, as CSS and as the typesetter call it."""

    css: str
    pdf: str


PAPERS = {"A4": Paper("A4", "a4"), "letter": Paper("letter", "us-letter")}


@dataclass(frozen=True)
class Identity:
    """What stands on the head and foot of each page."""

    title: str
    serial: str
    work_order: str
    revision: str
    note: str
    date: str
    hash: str
    version: str

    @classmethod
    def of(
        cls,
        job: Job,
        serial: str = "",
        work_order: str = "",
        note: str = "",
        revision: str = "",
        date: str = "",
    ) -> Identity:
        """Of a job; the date of today when left out. Refuses what cannot stand on one line."""
        told = {
            "serial": serial,
            "work_order": work_order,
            "revision": revision,
            "date": date,
        }
        problems = [
            (name, said) for name, text in told.items() if (said := problem_with(text, LONGEST))
        ]
        if said := problem_with(note, MOST_NOTE, lines=True):
            problems.append(("note", said))
        if problems:
            raise InputError(problems)
        notes = [str(job.file.document.get("note", "")), note]
        return cls(
            job.title,
            serial,
            work_order,
            revision,
            " ".join(text for text in notes if text),
            date or datetime.date.today().isoformat(),
            job_hash(job)[:SHORT],
            _core.version(),
        )

    @property
    def blanks(self) -> list[tuple[str, str]]:
        """Fields of the head, those told filled in."""
        return [
            ("Serial no.", self.serial),
            ("Work order", self.work_order),
            ("Date", self.date),
            ("Fitter", ""),
            ("Checked by", ""),
        ]

    @property
    def head(self) -> str:
        named = [("serial no.", self.serial), ("work order", self.work_order)]
        return ", ".join([self.title, *(f"{name} {text}" for name, text in named if text)])

    @property
    def foot(self) -> str:
        revision = f", revision {self.revision}" if self.revision else ""
        return f"{self.date}{revision}, job {self.hash}, fitwright {self.version}"

    @property
    def css_head(self) -> Markup:
        return css_text(self.head)

    @property
    def css_foot(self) -> Markup:
        return css_text(self.foot)


def css_text(text: str) -> Markup:
    """A string of a style sheet: all but plain letters and digits by their number."""
    plain = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789 .,-"
    return Markup('"' + "".join(c if c in plain else f"\\{ord(c):06x}" for c in text) + '"')
