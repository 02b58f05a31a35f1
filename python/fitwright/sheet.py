"""The build sheet a fitter tapes to the bench: one HTML file, made from the job alone.

Words are in templates/, numbers come from the core; here they are looked up and written out.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from fitwright import files
from fitwright import units as shop
from fitwright.history import step_titles
from fitwright.sheet_bearing import running_values
from fitwright.sheet_nut import drive_values, square_values, tabs_values
from fitwright.sheet_steps import step_values
from fitwright.sheet_tools import plate_values, tool_values
from fitwright.sheet_values import (
    Writer,
    bearing_values,
    finding_values,
    input_values,
    lock_values,
    nut_values,
    pressure_values,
    ring_values,
    seal_values,
    state_values,
)

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from fitwright.job import Job

__all__ = ["write_sheet"]

#: Ordinary feeler gauges hold nothing thinner. common practice
THINNEST_LEAF = 30e-6
#: What the core takes when slip_clearance is left out, at least (cpp/include/fitwright/heat).
USUAL_SLIP = 30e-6
SIZES_AT = 20.0


def write_sheet(job: Job, path: Path, units: str = "metric") -> Path:
    """Writes the sheet in metric or inch shop units; returns where it is."""
    shop.shop_unit("size", units)  # refuses other words before anything is worked out
    text = _environment().get_template("sheet.html.j2").render(_view(job, units))
    files.write_bytes(path, text.encode("utf-8", "replace"))
    return path


@lru_cache(maxsize=1)
def _environment() -> Environment:
    return Environment(
        loader=PackageLoader("fitwright", "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )


def _view(job: Job, system: str) -> dict[str, Any]:
    from fitwright.plots.section import draw_section

    job = job.at_level("heating")
    found = job.evaluate()
    write = Writer(job, found, system)
    states = {str(r["name"]): str(r.get("title", r["name"])) for r in job._file.rows("state")}
    titles = {**step_titles(job), **states}
    rings = [ring_values(write, row, states) for row in job._file.rows("ring")]
    seals = [seal_values(write, row, rings, states) for row in job._file.rows("seal")]
    tools = [
        {"name": f"tools.{row['name']}", "title": str(row.get("title", row["name"]))}
        for row in job._file.rows("tool")
    ]
    named = [*rings, *seals, *tools]
    heated = [ring for ring in rings if ring["grips"]]
    return {
        "title": job.title,
        "note": str(job._file.document.get("note", "")),
        "units": system,
        "level": found.level,
        "picture": _picture(draw_section(job, units=system)),
        "built": states[write.built],
        "seats": [
            {
                "name": str(row["name"]),
                "size": write.input(f"seats.{row['name']}.diameter"),
                "scatter": write.scatter(f"seats.{row['name']}.diameter"),
            }
            for row in job._file.rows("seat")
        ],
        "rings": rings,
        "heated": heated,
        "seals": seals,
        "lock": lock_values(write),
        "eased": [str(limit) for limit in found.eased],
        "ways": [
            dict(zip(("part", "way", "own", "passed", "left", "mark"), row, strict=True))
            for row in job.assembly(system).rows
        ],
        "nut": nut_values(write),
        "tabs": tabs_values(write),
        "drive": drive_values(write),
        "square": square_values(write),
        "bearing": bearing_values(write, rings),
        "stack": {
            name: write.output(path)
            for name, path in (
                ("low", "shoulder.clamp_low"),
                ("high", "shoulder.clamp_high"),
                ("free", "shoulder.clamp_free"),
                ("seats", "stack.grip_capacity"),
                ("seats_high", "stack.grip_capacity_high"),
            )
        },
        "states": [state_values(write, name, title) for name, title in states.items()],
        "running": running_values(write, states),
        "pressures": pressure_values(write, rings, states),
        "steps": step_values(write),
        "step_picture": _picture(job.history().plot(units=system)),
        "plate": plate_values(write, states),
        "tools": tool_values(write, {r["name"]: r["title"] for r in rings}, _picture),
        "findings": [finding_values(write, f, named, titles) for f in found.governing()],
        "not_met": [
            finding_values(write, f, named, titles) for f in found.governing() if not f.passed
        ],
        "inputs": input_values(write, named, states),
        "usual_slip": write.value(USUAL_SLIP, "fine"),
        "sizes_at": write.value(SIZES_AT, "temperature"),
        "thinnest_leaf": write.value(THINNEST_LEAF, "fine"),
        "blanks": ("Date", "Work order", "Rotor no.", "Fitter", "Checked by"),
    }


def _picture(axes: Axes) -> Markup:
    """A picture as an element of the page: no prologue, no name spaces, no comments."""
    from fitwright.plots import svg_text

    text = svg_text(axes)
    text = text[text.index("<svg") :]
    text = re.sub(r"<!--.*?-->", "", text, flags=re.DOTALL)
    text = re.sub(r"<metadata>.*?</metadata>", "", text, flags=re.DOTALL)
    text = re.sub(r'\s+xmlns(:\w+)?="[^"]*"', "", text)
    text = text.replace("xlink:href=", "href=")
    # Two pictures on a page number their groups alike; nothing refers to those.
    text = re.sub(r' id="[a-z]+[0-9a-z]*_\d+"', "", text)
    text = re.sub(r'^<svg([^>]*?)\s+width="[^"]*"', r"<svg\1", text)
    text = re.sub(r'^<svg([^>]*?)\s+height="[^"]*"', r"<svg\1", text)
    return Markup(_join(text.splitlines()))


def _join(lines: Iterable[str]) -> str:
    return "\n".join(line.rstrip() for line in lines if line.strip())
