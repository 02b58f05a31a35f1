"""What a command answers: text for people, JSON and CSV for programs, and whether limits hold."""

from __future__ import annotations

import argparse
import json
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

from fitwright.fields.records import csv_text

if TYPE_CHECKING:
    from fitwright.face.job import Job

__all__ = ["Answer", "add_job", "add_units", "load", "print_answer"]

CAUTION = (
    "An aid to judgement: the maker's manual and approved data govern, with licensed practice and "
    "local codes. Read the cautions on the sheets before the oven is lit."
)


@dataclass
class Answer:
    """`text` is shown; `records` become CSV, and JSON together with `more`."""

    text: str
    records: list[dict[str, Any]] = field(default_factory=list)
    more: dict[str, Any] = field(default_factory=dict)
    passed: bool = True


def print_answer(answer: Answer, given: argparse.Namespace, say: Callable[[str], None]) -> None:
    if given.json:
        whole = {**answer.more, "passed": answer.passed, "records": answer.records}
        say(json.dumps(whole, indent=2, default=str, allow_nan=False))
    elif given.csv:
        say(csv_text(answer.records).rstrip("\n"))
    else:
        say(answer.text)


def add_job(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", type=Path, help="job file (.toml), or the word demo")
    add_units(parser)


def add_units(parser: argparse.ArgumentParser) -> None:
    words = ("metric", "inch")
    parser.add_argument("--units", choices=words, help="as the job file says when left out")


def load(given: argparse.Namespace) -> tuple[Job, str]:
    """The job of a command and its name; `demo` is the one that comes with the library."""
    from fitwright.face.job import Job, demo

    if str(given.file) == "demo" and not given.file.exists():
        return demo("blower"), "blower"
    return Job.load(given.file), str(given.file.stem)
