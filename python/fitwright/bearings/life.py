"""Lives that need lists: the loads of all balls of a bearing, the states of a duty cycle.

>>> row = fw.BallRow(balls=9, ball_diameter="12.7 mm", pitch_diameter="65 mm")
>>> life = fw.bearings.ring_life(row, inner_loads=loads, outer_loads=loads)
>>> fw.bearings.duty_life(shares=[0.7, 0.3], speeds=["3000 rpm", "6000 rpm"], lives=[l1, l2])
"""

from __future__ import annotations

from typing import Literal, NamedTuple

import numpy as np
from numpy.typing import NDArray

from fitwright import _core
from fitwright.bearings.formulas import ReferenceLifeResult
from fitwright.fields.errors import InputError
from fitwright.fields.tables import Table
from fitwright.fields.units import Number, UnitProblem, shown, to_si
from fitwright.models.parts import BallRow
from fitwright.models.results import MODELS, Arguments

__all__ = ["DutyLife", "duty_life", "ring_life"]


def _lists(lists: dict[str, tuple[Number, str]]) -> list[NDArray[np.float64]]:
    read, problems = [], []
    for name, (value, quantity) in lists.items():
        try:
            read.append(np.atleast_1d(np.asarray(to_si(value, quantity), dtype=float)))
        except UnitProblem as problem:
            problems.append((name, str(problem)))
            continue
        if read[-1].ndim != 1:
            problems.append((name, "must be a plain list"))
    if problems:
        raise InputError(problems)
    return read


def ring_life(
    row: BallRow,
    *,
    inner_loads: Number,
    outer_loads: Number,
    turning: Literal["inner", "outer"] = "inner",
    dynamic_rating: Number | None = None,
    make_factor: Number | None = None,
    speed: Number | None = None,
) -> ReferenceLifeResult:
    """Reference life (ISO/TS 16281) from the load of every ball on both raceways.

    One entry a ball; the other arguments are those of `fw.bearings.reference_life`.

    `row` is the row of balls, `inner_loads` and `outer_loads` [N] the load of each ball on both
    raceways, `turning` the ring that turns against the load, `speed` [rad/s]; `dynamic_rating`
    [N] and `make_factor` replace what the row would be rated at.

    >>> import fitwright as fw
    >>> row = fw.BallRow(
    ...     balls=16, ball_diameter="22.2 mm", pitch_diameter="125 mm", contact_angle="40 deg"
    ... )
    >>> inner, outer = ["1.7 kN"] * 16, ["1.8 kN"] * 16
    >>> answer = fw.bearings.ring_life(row, inner_loads=inner, outer_loads=outer)
    """
    loads = _lists({"inner_loads": (inner_loads, "force"), "outer_loads": (outer_loads, "force")})
    arguments = {
        "row": row,
        "turning": turning,
        "dynamic_rating": dynamic_rating,
        "make_factor": make_factor,
        "speed": speed,
        "inner_load": 0.0,
        "outer_load": 0.0,
    }
    read = Arguments("bearings.reference_life", arguments)
    if read.are_arrays:
        raise InputError([("", "one bearing at a time: only the loads are lists here")])
    answers = _core.ring_life([float(v) for v in read.values], read.choices, *loads)
    names = [field["name"] for field in MODELS["bearings.reference_life"]["outputs"]["fields"]]
    return ReferenceLifeResult(arguments, dict(zip(names, answers, strict=True)))


class DutyLife(NamedTuple):
    """Life of a duty cycle: revolutions, running time [s], and each state's share of the damage."""

    life: float
    running_time: float
    damage: list[float]

    def table(self, units: str | None = None) -> Table:
        rows = [
            ["life", shown(self.life, "revolutions", units)],
            ["running time", shown(self.running_time, "lifetime", units)],
        ]
        rows += [[f"damage of state {i + 1}", f"{d:.3f}"] for i, d in enumerate(self.damage)]
        return Table(["output", "value"], rows, title="duty cycle")


def duty_life(*, shares: Number, speeds: Number, lives: Number) -> DutyLife:
    """States in turn, each using up its share of the life (Palmgren, Miner).

    Parameters
    ----------
    shares : list
        Share of the time in each state; they need not sum to one.
    speeds : list
        Speed of the bearing in each state; 0 at rest.
    lives : list
        Life in each state, in revolutions, of whatever kind and reliability: the same for all.

    Example
    -------
    >>> import fitwright as fw
    >>> answer = fw.bearings.duty_life(
    ...     shares=[0.7, 0.3], speeds=["3000 rpm", "1500 rpm"], lives=[4e9, 9e9]
    ... )
    """
    read = _lists(
        {
            "shares": (shares, "ratio"),
            "speeds": (speeds, "speed"),
            "lives": (lives, "revolutions"),
        }
    )
    return DutyLife(*_core.duty_life(*read))
