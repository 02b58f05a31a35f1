"""Heating and cooling: ovens, slipping on, seating, chilling, taking off.

Models are in `formulas`, made from the field table of the core; beside them stands what is written
by hand.
"""

from fitwright.heat import formulas
from fitwright.heat.curves import Cooling, GripSlice, again, cooling, seating_together
from fitwright.heat.draw import draw
from fitwright.heat.formulas import *
from fitwright.heat.renamed import renamed

#: Sizes of a body were radii once.
body = renamed(
    formulas.body,
    {
        "outer": "is a diameter now, as everywhere: outside=, twice the radius",
        "inner": "is a diameter now, as everywhere: inside=, twice the radius",
    },
)

__all__ = ["Cooling", "GripSlice", "again", "cooling", "draw", "seating_together"]
__all__ += formulas.__all__


def __dir__() -> list[str]:
    return sorted(__all__)
