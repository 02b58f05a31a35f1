"""The value of one input at which an output reaches its target."""

from __future__ import annotations

from typing import Generic

import numpy as np

from fitwright.fields import units
from fitwright.fields.errors import InputError
from fitwright.fields.units import Number
from fitwright.fields.user_text import told
from fitwright.fields.value import Value
from fitwright.job.value import AnyJob

__all__ = ["Solution", "solve"]


class Solution(Generic[AnyJob]):
    """What `solve` found: the value of the input, and the job that has it."""

    def __init__(self, vary: str, value: Value, job: AnyJob) -> None:
        self.vary, self.value, self.job = vary, value, job

    def __repr__(self) -> str:
        return f"{self.vary} = {self.value!r}"


def solve(
    job: AnyJob,
    vary: str,
    output: str,
    target: Number,
    *,
    state: str | None = None,
    between: tuple[Number | None, Number | None] | None = None,
    level: str | None = None,
) -> Solution[AnyJob]:
    """See `Job.solve`."""
    if level is not None and level != job.level:
        there = solve(job.at_level(level), vary, output, target, state=state, between=between)
        return Solution(vary, there.value, job.replace({vary: float(there.value)}))
    state = job.states[0] if state is None else state
    leaf, wanted = job.core.leaf(vary), job.core.output(state, output)
    quantity = job.input_rows[leaf][1]
    if between is not None and not (isinstance(between, list | tuple) and len(between) == 2):
        raise InputError([("between", f"{told(between)} must be a pair: from, to")])
    low, high = (None, None) if between is None else between
    problems: list[tuple[str, str]] = []
    read = units.collect(
        {
            "target": (target, job.output_rows[wanted][2]),
            **({} if low is None else {"between[0]": (low, quantity)}),
            **({} if high is None else {"between[1]": (high, quantity)}),
        },
        problems,
    )
    problems += [(path, "must be one number") for path, v in read.items() if np.ndim(v)]
    if problems:
        raise InputError(problems)
    goal, bottom, top = (
        float(read.get(path, float("nan"))) for path in ("target", "between[0]", "between[1]")
    )
    found = job.core.solve(leaf, wanted, goal, bottom, top)
    return Solution(vary, Value(found, quantity, job.units), job.replace({vary: found}))
