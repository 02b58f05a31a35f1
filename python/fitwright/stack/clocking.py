"""The best way to turn rings against each other: what was found, and the search for it."""

from __future__ import annotations

import importlib
from typing import Any

import numpy as np
from numpy.typing import NDArray

from fitwright.fields.errors import InputError

#: What can be made least, and the quantity it is told in.
AIMS = {"bend": "torque", "tilt": "slope", "runout": "fine", "unbalance": "ratio"}


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
