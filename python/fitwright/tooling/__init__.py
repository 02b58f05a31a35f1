"""Shop-made tools: press, pull, turn, hold.

Models are in `formulas`, made from the field table of the core; beside them stands what is written
by hand.
"""

from fitwright.models.cautions import cautions
from fitwright.tooling import formulas
from fitwright.tooling.choice import check_each, choose, rod_sizes, weakest
from fitwright.tooling.formulas import *

__all__ = ["cautions", "check_each", "choose", "rod_sizes", "weakest"]
__all__ += formulas.__all__


def __dir__() -> list[str]:
    return sorted(__all__)
