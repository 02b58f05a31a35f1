"""A part's seat along the shaft after a step, and how each point of it stands."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from fitwright.fields.value import Value

__all__ = ["GRIPS", "Seat"]

#: How a point of a seat stands: the core's numbers.
GRIPS = ("apart", "holds", "slides to the shoulder", "slides to the nut")


class Seat(NamedTuple):
    """A part's seat along the shaft, as arrays (SI); how each point stands in words."""

    part: str
    place: NDArray[np.float64]
    pressure: NDArray[np.float64]
    friction: NDArray[np.float64]
    slip: NDArray[np.float64]
    grip: list[str]
    force: Value
