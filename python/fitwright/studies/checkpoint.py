"""Blocks of a study on disk. Each names the study it belongs to: a folder that holds another
study's blocks is refused, whoever made it and whatever else stands there. Nothing on disk is ever
unpickled.

A block is MAGIC, the hash of its study, the hash of that, of its level and of all that follows, and
plain numbers.
"""

from __future__ import annotations

import hashlib
import json
import os
import struct
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from fitwright import _core
from fitwright.fields import files
from fitwright.fields.errors import InputError
from fitwright.fields.user_text import shortened

if TYPE_CHECKING:
    from fitwright.studies.plan import Plan

MAGIC = b"fitwright block 4\n"
HASH = 32
HEAD = struct.Struct("<8q")
#: Bytes of a manifest, and of a block beside its columns: some thousand outputs take a tenth.
LONGEST_MANIFEST = 100_000
LONGEST_BLOCK = 2_000_000_000


def name_of(what: str, level: str, number: int, ending: str = "") -> str:
    """The name of the file of one block of a level."""
    return f"{'' if level == 'quick' else level + '-'}{what}-{number:08d}{ending}"


class Checkpoint:
    """Blocks of one study in a folder; `load` gives None where there is none that can be used."""

    def __init__(
        self, folder: str | os.PathLike[str], plan: Plan, runs: Sequence[_core.StudyRun]
    ) -> None:
        self.folder, self.name = files.path_of(folder, "checkpoint"), plan.name
        self._parts, self._runs = plan.parts, runs
        files.make_folder(self.folder)
        manifest = self.folder / "study.json"
        samples = {part.level: part.samples for part in plan.parts}
        told = {"study": self.name, "seed": plan.seed, "samples": samples}
        # Who writes it first owns the folder; everybody reads what stands there then.
        if not manifest.exists():
            files.write_once(manifest, json.dumps(told, indent=1).encode())
        self._check(manifest)

    def _check(self, manifest: Path) -> None:
        try:
            found = json.loads(files.read_bytes(manifest, LONGEST_MANIFEST).decode("utf-8"))
        except (ValueError, RecursionError) as error:
            if isinstance(error, InputError):
                raise
            raise InputError([("checkpoint", f"{manifest} cannot be read")]) from error
        if not isinstance(found, dict) or found.get("study") != self.name:
            raise self._another()

    def _another(self) -> InputError:
        told = (
            f"{shortened(str(self.folder))} holds another study (job, seed, samples, levels, "
            "outputs or version differ); name another folder"
        )
        return InputError([("checkpoint", told)])

    def _path(self, place: int, number: int) -> Path:
        return self.folder / name_of("block", self._parts[place].level, number)

    def _digest(self, place: int, head: bytes, body: bytes) -> bytes:
        return hashlib.sha256(head + self._parts[place].level.encode() + body).digest()

    def load(self, place: int, number: int) -> _core.Block | None:
        path = self._path(place, number)
        if not path.exists():
            return None
        data = files.read_bytes(path, LONGEST_BLOCK)
        begin = len(MAGIC) + HASH
        if not data.startswith(MAGIC) or len(data) < begin + HASH:
            return None  # damaged, or of an older version: run it again
        head, digest, body = data[:begin], data[begin : begin + HASH], data[begin + HASH :]
        if self._digest(place, head, body) != digest:
            return None
        if head != MAGIC + bytes.fromhex(self.name):
            raise self._another()
        block, part = _block_from(body), self._parts[place]
        if block is None or block.first_chunk * part.chunk != number * part.block_samples:
            return None
        return None if self._runs[place].problem_of(block, len(part.kept)) else block

    def save(self, place: int, number: int, block: _core.Block) -> None:
        head, body = MAGIC + bytes.fromhex(self.name), _block_bytes(block)
        data = head + self._digest(place, head, body) + body
        files.write_bytes(self._path(place, number), data)


def _block_bytes(block: _core.Block) -> bytes:
    """Plain numbers only: a file on disk is data, never unpickled."""
    first, chunks, *arrays = block.state()
    return HEAD.pack(first, chunks, *(len(a) for a in arrays)) + b"".join(arrays)


def _block_from(body: bytes) -> _core.Block | None:
    """The block, or nothing where its lengths do not add up."""
    if len(body) < HEAD.size:
        return None
    first, chunks, *sizes = HEAD.unpack_from(body)
    if min(sizes) < 0 or any(size % 8 for size in sizes) or sum(sizes) != len(body) - HEAD.size:
        return None
    arrays, place = [], HEAD.size
    for size in sizes:
        arrays.append(body[place : place + size])
        place += size
    return _core.Block.from_state((first, chunks, *arrays))
