"""The error a user meets: every problem at once, each with its path, value and rule."""

from __future__ import annotations

from collections.abc import Iterable


class InputError(ValueError):
    """Input that cannot be used. `problems` holds (path, text) pairs, one per field."""

    def __init__(self, problems: Iterable[tuple[str, str]]) -> None:
        self.problems: list[tuple[str, str]] = list(problems)
        lines = [f"{path}: {text}" if path else text for path, text in self.problems]
        head = f"{len(lines)} problems:\n  " if len(lines) > 1 else ""
        super().__init__(head + "\n  ".join(lines))

    def __reduce__(self) -> tuple[type[InputError], tuple[list[tuple[str, str]]]]:
        return type(self), (self.problems,)
