"""Shrink fits, one ring or many.

Models are in `formulas`, made from the field table of the core; beside them stands what is written
by hand.
"""

from fitwright.rings.formulas import *
