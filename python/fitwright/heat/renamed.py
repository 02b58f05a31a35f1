"""Arguments of an earlier version, refused with what they are called now."""

from __future__ import annotations

import functools
from collections.abc import Callable, Mapping
from typing import Any, TypeVar

from fitwright.fields.errors import InputError

__all__ = ["renamed"]

Called = TypeVar("Called", bound=Callable[..., Any])


def renamed(function: Called, former: Mapping[str, str]) -> Called:
    """The function; an argument that it no longer takes is told by its new name."""

    @functools.wraps(function)
    def call(*arguments: Any, **named: Any) -> Any:
        if wrong := [(name, text) for name, text in former.items() if name in named]:
            raise InputError(wrong)
        return function(*arguments, **named)

    return call  # type: ignore[return-value]
