"""Stacks in section: rings, shaft and collar as axisymmetric finite elements."""

from fitwright.bodies.stack import *
