"""Files are written and read here and nowhere else: whole or not at all, no link followed on
writing, nothing left behind when the disk is full, nothing but plain files read, and no more than
is asked for.
"""

from __future__ import annotations

import os
import secrets
import stat
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import IO

from fitwright.fields.errors import InputError
from fitwright.fields.user_text import told

Name = str | os.PathLike[str]


def path_of(name: object, argument: str) -> Path:
    """A path as an argument; anything else is refused."""
    if isinstance(name, str | os.PathLike) and not isinstance(name, bytes):
        text = os.fspath(name)
        if isinstance(text, str) and text:
            return Path(text)
    raise InputError([(argument, f"{told(name)} is not the name of a file")])


def _cannot(path: Path, doing: str, error: OSError | ValueError) -> InputError:
    reason = getattr(error, "strerror", None) or str(error)
    return InputError([(str(path), f"cannot be {doing}: {reason}")])


def make_folder(path: Path) -> None:
    """The folder and those above it, where they are not there."""
    try:
        path.mkdir(parents=True, exist_ok=True)
    except (OSError, ValueError) as error:
        raise _cannot(path, "made", error) from error


@contextmanager
def new_file(path: Path) -> Iterator[IO[bytes]]:
    """A file to write to, which takes the place of `path` when all is written.

    It stands under another name beside it until then; what was there stays when writing fails.
    """
    name = path.name
    beside = path.with_name(f".{name[:100]}.{secrets.token_hex(6)}.part") if name else path
    try:
        with suppress(FileNotFoundError):
            mode = os.lstat(path).st_mode
            if not (stat.S_ISREG(mode) or stat.S_ISLNK(mode)):
                raise OSError(0, "it is there and is not a file")
        flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_NOFOLLOW", 0)
        handle = os.open(beside, flags | getattr(os, "O_BINARY", 0), 0o666)
    except (OSError, ValueError) as error:
        raise _cannot(path, "written", error) from error
    try:
        with open(handle, "wb") as file:
            yield file
        os.replace(beside, path)
    except OSError as error:
        raise _cannot(path, "written", error) from error
    finally:
        with suppress(OSError):  # gone when all went well
            os.unlink(beside)


def write_bytes(path: Path, data: bytes) -> None:
    """A whole file at once."""
    with new_file(path) as file:
        file.write(data)


def write_once(path: Path, data: bytes) -> bool:
    """A whole file where none is; False where one is there, whoever was first."""
    beside = path.with_name(f".{path.name[:100]}.{secrets.token_hex(6)}.part")
    write_bytes(beside, data)
    try:
        os.link(beside, path)
    except FileExistsError:
        return False
    except OSError:  # a file system without links
        try:
            handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o666)
        except FileExistsError:
            return False
        except OSError as error:
            raise _cannot(path, "written", error) from error
        with open(handle, "wb") as file:
            file.write(data)
    finally:
        with suppress(OSError):
            os.unlink(beside)
    return True


def read_bytes(path: Path, most: int, rule: str = "at most") -> bytes:
    """A plain file of at most so many bytes. A pipe is not waited for, a device not read."""
    try:
        handle = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0))
    except (OSError, ValueError) as error:
        raise _cannot(path, "read", error) from error
    with open(handle, "rb") as file:
        found = os.fstat(handle)
        if not stat.S_ISREG(found.st_mode):
            raise InputError([(str(path), "cannot be read: it is not a file")])
        if found.st_size > most:
            raise InputError([(str(path), f"is {found.st_size} bytes long; {rule} {most}")])
        try:
            data = file.read(most + 1)
        except OSError as error:
            raise _cannot(path, "read", error) from error
    if len(data) > most:  # it grew meanwhile
        raise InputError([(str(path), f"is longer than {most} bytes")])
    return data
