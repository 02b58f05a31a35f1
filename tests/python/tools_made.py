"""Shop-made tools for the tests, each with what a test changes of it."""

from __future__ import annotations

import fitwright as fw


def screw(**changed):
    held = {
        "diameter": "30 mm",
        "pitch": "6 mm",
        "engagement": "45 mm",
        "length": "180 mm",
        "material": "4140",
    }
    return fw.Screw(**{**held, **changed})


def groove(**changed):
    held = {"width": "12 mm", "depth": "6 mm", "lip": "10 mm", "diameter": "110 mm"}
    return fw.PulledGroove(**{**held, "material": "4140", **changed})


PULLER = {
    "leg_width": "40 mm",
    "leg_thickness": "25 mm",
    "leg_length": "250 mm",
    "hook_thickness": "11 mm",
    "hook_reach": "5 mm",
    "yoke_width": "50 mm",
    "yoke_depth": "70 mm",
    "material": "4140",
}


def puller(**changed):
    held = {"pull": "30 kN", "groove": groove(), "screw": screw(), **PULLER}
    return fw.tooling.puller(**{**held, **changed})


def fixture(**changed):
    plate = {
        "outside": "320 mm",
        "thickness": "25 mm",
        "nut_diameter": "60 mm",
        "bolt_circle": "280 mm",
        "bolts": 8,
        "leg": "8 mm",
        "material": "1020",
        **changed.pop("plate", {}),
    }
    bolt = {
        "diameter": "16 mm",
        "pitch": "2 mm",
        "yield_strength": "640 MPa",
        "material": "4140",
        **changed.pop("bolt", {}),
    }
    held = {
        "axis": "horizontal",
        "mass": "900 kg",
        "rod": screw(diameter="36 mm", engagement="40 mm", length="160 mm"),
        "plate": fw.FixturePlate(**plate),
        "bolt": fw.Bolt(**bolt),
        "travel": "2 mm",
        "loading": "jerked",
    }
    return fw.tooling.holding_fixture(**{**held, **changed})


def driver(**changed):
    nut = {
        "outside": "105 mm",
        "thread": "75 mm",
        "slots": 4,
        "slot_width": "10 mm",
        "slot_depth": "5 mm",
        "slot_length": "12 mm",
        "material": "1045",
        **changed.pop("nut", {}),
    }
    held = {
        "torque": "900 N m",
        "nut": fw.DrivenNut(**nut),
        "teeth": 4,
        "circle": "100 mm",
        "tooth_width": "9.5 mm",
        "tooth_height": "8 mm",
        "engagement": "10 mm",
        "inside": "105.4 mm",
        "outside": "125 mm",
        "length": "90 mm",
        "material": "4140",
    }
    return fw.tooling.nut_driver(**{**held, **changed})


def sleeve(**changed):
    held = {
        "force": "60 kN",
        "inside": "82 mm",
        "outside": "100 mm",
        "length": "200 mm",
        "face": fw.PushedFace(inside="80 mm", outside="105 mm", material="52100"),
        "piston_diameter": "60 mm",
        "material": "1045",
    }
    return fw.tooling.press_sleeve(**{**held, **changed})
