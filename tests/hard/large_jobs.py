"""Jobs with as many rings and states as are asked for, as text."""

from __future__ import annotations

SHAFT_AND_NUT = """
[shaft]
material = "4340"
bore = "30 mm"
[[seat]]
name = "main"
diameter = "80.03 mm"
[nut]
material = "4140"
diameter = "75 mm"
pitch = "2 mm"
height = "20 mm"
outside = "104 mm"
face_inside = "77 mm"
face_outside = "96 mm"
torque = "650 N m"
"""
LOCK = """
[lock]
material = "1020"
bore = "75.5 mm"
outside = "98 mm"
thickness = "1.5 mm"
"""


def rings(count: int) -> str:
    return "".join(
        f'[[ring]]\nname = "r{k}"\nseat = "main"\nmaterial = "4140"\nbore = "79.99 mm"\n'
        f'outside = "110 mm"\nlength = "20 mm"\n'
        for k in range(count)
    )  # fmt: skip


def states(count: int) -> str:
    return "".join(f'[[state]]\nname = "s{k}"\nspeed = "{k} rpm"\n' for k in range(count))
