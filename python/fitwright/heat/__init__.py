"""Heating and cooling: ovens, slipping on, seating, chilling, taking off.

Models are in `formulas`, made from the field table of the core; beside them stands what is written
by hand.
"""

from fitwright.heat.curves import Cooling as Cooling
from fitwright.heat.curves import GripSlice as GripSlice
from fitwright.heat.curves import again as again
from fitwright.heat.curves import cooling as cooling
from fitwright.heat.curves import seating_together as seating_together
from fitwright.heat.curves import told as told
from fitwright.heat.draw import draw as draw
from fitwright.heat.formulas import *
