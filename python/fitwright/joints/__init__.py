"""Bolts, plates, and the ring in its pocket.

Models are in `formulas`, made from the field table of the core; beside them stands what is written
by hand.
"""

from fitwright.joints.bolt_classes import property_classes as property_classes
from fitwright.joints.formulas import *
