"""What parts, states and limited outputs are called in words."""

from __future__ import annotations

import tomllib
from functools import lru_cache
from importlib import resources
from typing import TYPE_CHECKING

from fitwright.job.history import step_titles

if TYPE_CHECKING:
    from fitwright.job.system import System

__all__ = ["Titles", "plain_words"]

#: Parts that a job file gives no title.
PARTS = {"stack": "whole stack", "outputs": "own"}
#: Rooms whose second word is the name of a part.
NAMED = ("rings", "seals", "seats", "states", "steps", "tools")


@lru_cache(maxsize=1)
def _words() -> dict[str, dict[str, str]]:
    text = (resources.files("fitwright") / "data" / "plain_words.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def plain_words(path: str) -> str:
    """What the output at a path is, without the name of its part: "grip left, of ..."."""
    room, *names = path.split(".")
    if not names:  # of a single model
        return room.replace("_", " ")
    if room in NAMED:
        names = names[1:]
    where = ""
    if names and names[0].startswith("slice"):
        where = f", step {names[0].removeprefix('slice')}"
        names = names[1:]
    field = ".".join(names)
    told = _words().get(room, {}).get(field)
    return (told or field.replace("_", " ").replace(".", ", ")) + where


class Titles:
    """The names of a job's parts and states, as the job file titles them."""

    def __init__(self, job: System) -> None:
        from fitwright.job.value import Job

        self._parts: dict[str, str] = {}
        self.states = dict.fromkeys(job.states, "")
        self._steps: dict[str, str] = {}
        #: of what has no parts
        self._whole = job.title
        if not isinstance(job, Job):
            return
        file = job.file
        self._parts = {
            f"{kind}s.{row['name']}": str(row.get("title", str(row["name"]).replace("_", " ")))
            for kind in ("ring", "seal", "tool")
            for row in file.rows(kind)
        }
        self._parts["plate"] = str((file.table("plate") or {}).get("title", "plate"))
        self._parts["lock"] = str((file.table("lock") or {}).get("kind", "lock"))
        self.states = {
            str(row["name"]): str(row.get("title", row["name"])) for row in file.rows("state")
        }
        self._steps = step_titles(job)

    def part(self, path: str) -> str:
        """The part a path speaks of: "labyrinth sleeve", "nut", "whole stack"."""
        if "." not in path:
            return self._whole
        room, *names = path.split(".")
        key = f"{room}.{names[0]}" if room in NAMED and names else room
        return self._parts.get(key, PARTS.get(room, key))

    def state(self, name: str) -> str:
        """A state, or a step of the history, in words."""
        return self.states.get(name) or self._steps.get(name, name)
