"""Bolts, plates, and the ring in its pocket.

Models are in `formulas`, made from the field table of the core; beside them stands what is written
by hand.
"""

from fitwright.joints import formulas
from fitwright.joints.bolt_classes import property_classes
from fitwright.joints.formulas import *

__all__ = ["property_classes"]
__all__ += formulas.__all__


def __dir__() -> list[str]:
    return sorted(__all__)
