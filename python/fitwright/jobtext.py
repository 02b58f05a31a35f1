"""The text of a job file, refused when it cannot be one: job files are data from anywhere."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

from fitwright.errors import InputError

#: A job of 48 rings and 20 states takes a tenth of this.
LARGEST_FILE = 1_000_000
#: Bounds the time the parser may take (a dotted key costs the square of its length).
LONGEST_LINE = 1_000
DEEPEST = 8


def read_text(path: Path) -> str:
    """The text of a job file, refused when it cannot be one."""
    try:
        if path.exists() and not path.is_file():
            raise IsADirectoryError(0, "it is not a file")
        size = path.stat().st_size
        text = path.read_text(encoding="utf-8-sig") if size <= LARGEST_FILE else ""
    except UnicodeDecodeError as error:
        raise InputError([(str(path), f"is not UTF-8 text: {error.reason}")]) from error
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or error
        raise InputError([(str(path), f"cannot be read: {reason}")]) from error
    if size > LARGEST_FILE:
        told = f"is {size} bytes long; a job file has at most {LARGEST_FILE}"
        raise InputError([(str(path), told)])
    return text


def parse(text: str) -> dict[str, Any]:
    if len(text) > LARGEST_FILE:
        raise InputError([("", f"the job file is longer than {LARGEST_FILE} characters")])
    for number, line in enumerate(text.splitlines(), 1):
        if len(line) > LONGEST_LINE:
            told = f"has {len(line)} characters; a line has at most {LONGEST_LINE}"
            raise InputError([(f"line {number}", told)])
    try:
        document = tomllib.loads(text)
    except ValueError as error:
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
