"""The best way to turn rings against each other: what was found, and the search for it."""

from __future__ import annotations

import importlib
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from fitwright.arguments import checked
from fitwright.errors import InputError
from fitwright.tables import Shown, Table
from fitwright.units import shown, to_si

if TYPE_CHECKING:
    from fitwright.squareness import SquareStack

#: What can be made least, and the quantity it is told in.
AIMS = {"bend": "torque", "tilt": "slope", "runout": "fine", "unbalance": "ratio"}


@checked
class Clocked(Shown):
    """The best way found to turn the rings, `.stack` so turned, and how all ways spread [SI]."""

    def __init__(
        self,
        aim: str,
        slots: dict[str, int],
        positions: dict[str, float],
        turned: SquareStack,
        values: Mapping[str, float],
    ) -> None:
        self.aim, self.slots, self.positions, self.stack = aim, slots, positions, turned
        self.best, self.as_given = values["best"], values["as_given"]
        self.bound = values["bound"]
        self.least, self.mean, self.median = values["least"], values["mean"], values["median"]
        self.most, self.greatest = values["most"], values["greatest"]
        self.ways = int(values["ways"])
        self.method = "every way" if values["every"] else "search"

    def table(self, units: str | None = None) -> Table:
        quantity = AIMS[self.aim]
        rows = []
        for name, position in self.positions.items():
            n = self.slots[name]
            if n == 0:
                angle = to_si(f"{position!r} turn", "angle")
                told = f"turned {shown(float(angle), 'angle')}"
            else:
                told = "stays" if n == 1 else f"position {position:.0f} of 0 to {n - 1}"
            rows.append([f"rings.{name}", told])
        for label, value in (
            ("as given", self.as_given),
            ("best", self.best),
            ("no way is below", self.bound),
            ("mean of the ways", self.mean),
            ("95 % of the ways below", self.most),
            ("worst of the ways", self.greatest),
        ):
            rows.append([label, shown(value, quantity, units)])
        title = f"clocking for least {self.aim}: {self.method}, spread of {self.ways} ways"
        return Table(["", ""], rows, title)


def search(clocking: Any, counts: list[int], seed: int) -> list[float]:
    """Differential evolution over the rings that can be turned; the core tells the aim."""
    try:
        optimise = importlib.import_module("scipy.optimize")
    except ImportError as problem:
        text = "needs SciPy, which is not installed: pip install 'fitwright[study]'"
        raise InputError([("clock", text)]) from problem
    moving = [i for i, n in enumerate(counts) if n != 1]
    divide = np.asarray([float(n or 1) for n in counts], dtype=np.float64)

    def rows(points: NDArray[np.float64]) -> NDArray[np.float64]:
        turns = np.asarray([[0.0 for _ in counts] for _ in points.T], dtype=np.float64)
        turns[:, moving] = points.T
        return turns / divide

    found = optimise.differential_evolution(
        lambda points: clocking.at(rows(points)),
        bounds=[(0.0, float(counts[i] - 1) if counts[i] > 1 else 1.0) for i in moving],
        integrality=[counts[i] > 1 for i in moving],
        vectorized=True,
        updating="deferred",
        polish=False,
        init="sobol",
        popsize=16,
        maxiter=250,
        tol=1e-8,
        atol=1e-300,
        seed=seed,
    )
    positions = [0.0 for _ in counts]
    for i, value in zip(moving, found.x, strict=True):
        positions[i] = float(value)
    free = [i for i in moving if counts[i] == 0]
    if not free:
        return positions

    def with_free(angles: NDArray[np.float64]) -> float:
        row = np.array([positions], dtype=np.float64)
        row[0, free] = angles
        return float(clocking.at(row / divide)[0])

    # The evolution finds the valley, this its floor.
    start = np.asarray([positions[i] for i in free], dtype=np.float64)
    options = {"xtol": 1e-10, "ftol": 1e-12, "maxiter": 200}
    floor = optimise.minimize(with_free, start, method="Powell", options=options)
    if with_free(floor.x) < with_free(start):
        for i, value in zip(free, floor.x, strict=True):
            positions[i] = float(value)
    return positions
