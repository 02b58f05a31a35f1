"""Nuts and screws: torque, preload, locking.

Models are in `formulas`, made from the field table of the core; beside them stands what is written
by hand.
"""

from fitwright.threads.formulas import *
from fitwright.threads.friction_data import friction_table as friction_table
from fitwright.threads.friction_data import tool_table as tool_table
from fitwright.threads.locking import lock_ways_out as lock_ways_out
