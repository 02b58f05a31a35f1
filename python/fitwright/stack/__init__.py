"""A gripped stack under its clamp; faces out of square.

Models are in `formulas`, made from the field table of the core; beside them stands what is written
by hand.
"""

from fitwright.stack import formulas
from fitwright.stack.formulas import *
from fitwright.stack.squareness import SquareStack

__all__ = ["SquareStack"]
__all__ += formulas.__all__


def __dir__() -> list[str]:
    return sorted(__all__)
