"""What stands on the build sheet of the bearing: from state to state, and what a probe hears."""

from __future__ import annotations

from typing import Any

from fitwright.fields import units as shop
from fitwright.job.running import HEARD, bearing_columns, written
from fitwright.sheet.writer import Writer, printed

#: A life with its unit is wide: more states would run off a page.
STATES_ACROSS = 3


def running_values(write: Writer, states: dict[str, str]) -> dict[str, Any] | None:
    """Tables of a few states each, the frequencies, and the life over all states."""
    job, found = write.job, write.found
    if job.file.table("bearing") is None:
        return None
    names = list(states)
    tables = []
    for start in range(0, len(names), STATES_ACROSS):
        some = names[start : start + STATES_ACROSS]
        rows = [
            {
                "title": title,
                "cells": [printed(written(found, s, name, write.system)) for s in some],
            }
            for title, name in bearing_columns(job)
        ]
        tables.append({"states": [states[name] for name in some], "rows": rows})
    turning = [name for name in names if job[f"states.{name}.speed"] > 0.0]
    service = job.file.table("service") is not None
    return {
        "tables": tables,
        "heard": [title for title, *_ in HEARD],
        "frequencies": [
            {
                "title": states[name],
                "speed": write.input(f"states.{name}.speed"),
                "cells": [
                    {
                        "hertz": write.output(f"bearing.{hertz}", name),
                        "ratio": f"{float(found[name, f'bearing.{ratio}']):.3f}",
                    }
                    for _, hertz, ratio in HEARD
                ],
            }
            for name in turning
        ],
        "pocket": job.file.has_held_pocket,
        "loaded": job.file.has_ring_loads,
        "service": None
        if not service
        else {
            "duty": printed(written(found, write.built, "duty_time", write.system)),
            "share": shop.shown(float(job["service.reliability"]), "ratio", write.system),
            "fails": write.given("service.failing_torque") is not None,
        },
    }
