"""Shrink fits, one ring or many.

Models are in `formulas`, made from the field table of the core; beside them stands what is written
by hand.
"""

from fitwright.rings import formulas
from fitwright.rings.formulas import *

__all__ = []
__all__ += formulas.__all__


def __dir__() -> list[str]:
    return sorted(__all__)
