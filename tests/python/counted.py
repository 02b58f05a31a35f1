"""Work counted in steps, so that no test hangs on how busy the machine is."""

from __future__ import annotations

import sys
from collections.abc import Callable
from typing import Any


def steps_of(work: Callable[[], Any]) -> int:
    """Calls of Python and C functions while `work` runs."""
    steps = 0

    def count(frame: Any, event: str, argument: Any) -> None:
        nonlocal steps
        steps += event in ("call", "c_call")

    before = sys.getprofile()
    sys.setprofile(count)
    try:
        work()
    finally:
        sys.setprofile(before)
    return steps
