"""The error a user meets: every problem at once, each with its path, value and rule."""

from __future__ import annotations

from collections.abc import Iterable

from fitwright.fields.user_text import visible

#: A longer report is a wrong file, not a list to work through.
MOST_SHOWN = 60
#: Characters of one problem: values in it are shortened where it is made.
LONGEST = 2_000


class InputError(ValueError):
    """Input that cannot be used. `problems` holds (path, text) pairs, one per field."""

    def __init__(self, problems: Iterable[tuple[str, str]]) -> None:
        self.problems: list[tuple[str, str]] = [
            (_fit(path, 200), _fit(text, LONGEST)) for path, text in problems
        ]
        lines = [f"{path}: {text}" if path else text for path, text in self.problems]
        head = f"{len(lines)} problems:\n  " if len(lines) > 1 else ""
        if len(lines) > MOST_SHOWN:
            lines[MOST_SHOWN:] = [f"... and {len(lines) - MOST_SHOWN} more"]
        super().__init__(head + "\n  ".join(lines) or "the input cannot be used")

    def __reduce__(self) -> tuple[type[InputError], tuple[list[tuple[str, str]]]]:
        return type(self), (self.problems,)


def _fit(text: str, most: int) -> str:
    """A user's text may stand in it: one line, nothing that a screen would obey."""
    return visible(text if len(text) <= most else f"{text[: most - 3]}...")
