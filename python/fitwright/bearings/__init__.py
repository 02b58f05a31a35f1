"""Rolling bearings: loads, contacts, life, and the balls one by one.

Models are in `formulas`, made from the field table of the core; beside them stands what is written
by hand.
"""

from fitwright.bearings.balls import Balls as Balls
from fitwright.bearings.balls import ball_by_ball as ball_by_ball
from fitwright.bearings.balls import draw_angles as draw_angles
from fitwright.bearings.balls import draw_clearance as draw_clearance
from fitwright.bearings.formulas import *
from fitwright.bearings.life import DutyLife as DutyLife
from fitwright.bearings.life import duty_life as duty_life
from fitwright.bearings.life import ring_life as ring_life
