"""Nuts and screws: torque, preload, locking.

Models are in `formulas`, made from the field table of the core; beside them stands what is written
by hand.
"""

from fitwright.threads import formulas
from fitwright.threads.formulas import *
from fitwright.threads.friction_data import friction_table, tool_table
from fitwright.threads.locking import lock_ways_out

__all__ = ["friction_table", "lock_ways_out", "tool_table"]
__all__ += formulas.__all__


def __dir__() -> list[str]:
    return sorted(__all__)
