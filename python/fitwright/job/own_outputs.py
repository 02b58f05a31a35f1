"""Outputs of a user's own: expressions over the inputs and outputs of a system, by state.

    [[output]]
    name = "thrust_margin"
    of = "shoulder.clamp_low - state.thrust"
    at_least = "2 kN"

A path means an output in the state at hand, else an input; "@state" after it means the output of
one state, "state." before it an input of the state at hand, "inputs." before it an input whose path
an output has too. Its own path is "outputs.thrust_margin".
"""

from __future__ import annotations

import difflib
from collections.abc import Mapping, Sequence
from typing import Any

from fitwright import _core
from fitwright.fields.errors import InputError
from fitwright.fields.expression import Compiled, Named, compile_expression
from fitwright.fields.units import UnitProblem, shop_unit
from fitwright.fields.user_text import told
from fitwright.job.numbers import one_number

__all__ = ["OwnRow", "compiled_outputs"]

#: State, path, meaning, quantity, scale, steps, at_least, at_most: as the core takes it.
OwnRow = tuple[str, str, str, str, float, list[tuple[str, int, float]], float, float]
KEYS = ("of", "states", "at_least", "at_most", "title")
ROOM = "outputs"
NAN = float("nan")


class _Elsewhere(Exception):
    """An output that the state at hand does not have."""


class _Paths:
    """What a path of an expression stands for, in one state after the other."""

    def __init__(self, core: _core.System) -> None:
        self.inputs = {row[0]: (leaf, row[1]) for leaf, row in enumerate(core.inputs())}
        self.outputs = {
            (row[0], row[1]): (number, row[2]) for number, row in enumerate(core.outputs())
        }
        self.known = {path for _, path in self.outputs}
        self.later = {(row[0], row[1]) for row in core.at("heating").outputs()}
        self.states = list(dict.fromkeys(state for state, _ in self.outputs))
        self.state, self.by_state = "", False

    def find(self, text: str) -> Named:
        path, _, at = text.partition("@")
        if at and at not in self.states:
            raise UnitProblem(f'"{at}" is not a state; there is {", ".join(self.states)}')
        if path.startswith("inputs."):
            return self.input(path.removeprefix("inputs."))
        if path.startswith("state."):
            self.by_state = True
            return self.input(f"states.{self.state}.{path.removeprefix('state.')}")
        if path in self.known:
            here = (at or self.state, path)
            first = (self.states[0], path)
            everywhere = sum((state, path) in self.outputs for state in self.states) > 1
            if not at and everywhere:
                self.by_state = True
            if here not in self.outputs and not at and not everywhere:
                here = first
            if here not in self.outputs:
                raise _Elsewhere(f"{path} is not an output of state {here[0]}")
            number, quantity = self.outputs[here]
            return Named("output", number, quantity)
        if path in self.inputs and not at:
            return self.input(path)
        if any(path == later for _, later in self.later):
            raise UnitProblem(
                f"{path} is of a level above quick; an expression can use those of the quick one"
            )
        near = difflib.get_close_matches(path, [*self.known, *self.inputs], 3, 0.0)
        raise UnitProblem(f"{path} is neither an input nor an output; nearest: {', '.join(near)}")

    def input(self, path: str) -> Named:
        if path not in self.inputs:
            near = difflib.get_close_matches(path, list(self.inputs), 3, 0.0)
            raise UnitProblem(f"{path} is not an input; nearest: {', '.join(near)}")
        leaf, quantity = self.inputs[path]
        return Named("input", leaf, quantity)


def compiled_outputs(
    core: _core.System,
    given: Mapping[str, Any],
    problems: list[tuple[str, str]],
    units_needed: bool = False,
) -> list[OwnRow]:
    """Rows for the core of every output told, in each of its states; what is wrong is noted."""
    paths = _Paths(core.at("quick"))
    rows: list[OwnRow] = []
    for name, told_so in given.items():
        where = f"{ROOM}.{name}"
        if not (name.isidentifier() and name.isascii() and name == name.lower()):
            problems.append((where, "must be named by a lower-case word"))
            continue
        table = {"of": told_so} if isinstance(told_so, str) else told_so
        if not isinstance(table, Mapping) or set(table) - set(KEYS) or "of" not in table:
            problems.append((where, f"must tell of, and may tell {', '.join(KEYS[1:])}"))
            continue
        try:
            rows += _rows_of(paths, where, table, units_needed)
        except UnitProblem as problem:
            problems.append((where, str(problem)))
    if not problems:
        try:
            _core.with_own_outputs(core.at("quick"), rows)
        except InputError as error:
            problems += error.problems
    return rows


def _rows_of(
    paths: _Paths, where: str, table: Mapping[str, Any], units_needed: bool
) -> list[OwnRow]:
    states = table.get("states")
    if states is not None and (
        not isinstance(states, Sequence)
        or isinstance(states, str)
        or not states
        or any(state not in paths.states for state in states)
    ):
        raise UnitProblem(
            f"states {told(states)} must be a list of some of {', '.join(paths.states)}"
        )
    made: dict[str, Compiled] = {}
    missing = ""
    paths.by_state = False
    for state in states or paths.states:
        paths.state = state
        try:
            made[state] = compile_expression(table["of"], paths.find)
        except _Elsewhere as error:
            missing = missing or str(error)
            if states:
                raise UnitProblem(missing) from None
        if states is None and not paths.by_state:
            break  # the same in every state
    if not made:
        raise UnitProblem(missing)
    quantity = next(iter(made.values())).quantity
    bounds = {}
    for side in ("at_least", "at_most"):
        bounds[side] = NAN
        if side in table:
            try:
                bounds[side] = one_number(table[side], quantity, units_needed)
            except UnitProblem as problem:
                raise UnitProblem(f"{side} {problem}") from None
    if bounds["at_least"] > bounds["at_most"]:
        raise UnitProblem("at_least must not be above at_most")
    scale = 1.0 / shop_unit(quantity, "metric")["factor"]
    meaning = str(table.get("title", table["of"]))
    return [
        (state, where, meaning, quantity, scale, one.steps, bounds["at_least"], bounds["at_most"])
        for state, one in made.items()
    ]
