"""The text of a job file, refused when it cannot be one: job files are data from anywhere."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Any

from fitwright.fields import files
from fitwright.fields.errors import InputError
from fitwright.fields.user_text import shortened
from fitwright.job.size_limits import check_counts, most, too_many

#: Bytes of a file: a character of its text has at most four.
LARGEST_FILE = most("characters")
#: A line that opens a table, or goes on with a list of lists: counted before anything is parsed.
_TABLE = re.compile(r"^[ \t]*\[", re.MULTILINE)
#: More than all lists together may hold.
MOST_TABLES = 10 * most("limits")


def read_text(path: Path, rule: str = "a job file has at most") -> str:
    """The text of a job file, or of a table for one, refused when it cannot be one."""
    if not path.is_file() and path.exists():
        raise InputError([(str(path), "cannot be read: it is not a file")])
    data = files.read_bytes(path, LARGEST_FILE, rule)
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise InputError([(str(path), f"is not UTF-8 text: {error.reason}")]) from error


def parse(text: str) -> dict[str, Any]:
    if not isinstance(text, str):
        raise InputError([("text", f"must be the text of a job file, not {type(text).__name__}")])
    if len(text) > LARGEST_FILE:
        raise InputError([("", f"the job file is longer than {LARGEST_FILE} characters")])
    # Bounds the time the parser may take: a dotted key costs the square of its length.
    longest = most("line")
    for number, line in enumerate(text.splitlines(), 1):
        if len(line) > longest:
            told = f"has {len(line)} characters; a line has at most {longest}"
            raise InputError([(f"line {number}", told)])
    tables = sum(1 for _ in _TABLE.finditer(text))
    if tables > MOST_TABLES:
        told = f"the job file has {tables} lines that begin with a bracket; at most {MOST_TABLES}"
        raise InputError([("", told)])
    try:
        document = tomllib.loads(text)
    except ValueError as error:
        raise InputError([("", f"the job file is not TOML: {error}")]) from error
    except RecursionError as error:
        raise InputError([("", "the job file is nested too deeply")]) from error
    if not document:
        raise InputError([("", "the job file is empty; it needs shaft, nut, seat, ring and state")])
    check_counts(document)
    _check_depth(document, "", 0)
    return document


def _check_depth(value: Any, path: str, depth: int) -> None:
    if depth > most("depth"):
        raise InputError([(shortened(path), "the job file is nested too deeply")])
    items: Any = ()
    if isinstance(value, dict):
        items = value.items()
    elif isinstance(value, list):
        if too_many("readings", len(value)):
            told = f"a list of {len(value)}: at most {most('readings')} in a job file"
            raise InputError([(shortened(path), told)])
        items = enumerate(value)
    for key, item in items:
        if isinstance(item, dict | list):
            _check_depth(item, f"{path}.{key}" if path else str(key), depth + 1)
