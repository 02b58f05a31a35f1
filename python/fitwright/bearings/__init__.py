"""Rolling bearings: loads, contacts, life, and the balls one by one.

Models are in `formulas`, made from the field table of the core; beside them stands what is written
by hand.
"""

from fitwright.bearings import formulas
from fitwright.bearings.balls import Balls, ball_by_ball, draw_angles, draw_clearance
from fitwright.bearings.formulas import *
from fitwright.bearings.life import DutyLife, duty_life, ring_life

__all__ = [
    "Balls",
    "DutyLife",
    "ball_by_ball",
    "draw_angles",
    "draw_clearance",
    "duty_life",
    "ring_life",
]
__all__ += formulas.__all__


def __dir__() -> list[str]:
    return sorted(__all__)
