"""What stands on the build sheet of the plate over the outer ring and of the shop's own tools."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from fitwright.job.attached import model_of
from fitwright.job.tools import tool_of, tool_rows
from fitwright.models.results import flat_fields
from fitwright.sheet.writer import Writer
from fitwright.tooling.choice import weakest

if TYPE_CHECKING:
    from markupsafe import Markup
    from matplotlib.axes import Axes

    from fitwright.models.results import Result

__all__ = ["plate_values", "tool_cautions", "tool_values"]

#: Of the plate, state by state.
PLATE = (
    "nip_warm", "ring_clamp", "shoulder_clamp", "shoulder_margin", "plate_clamp",
    "clamp_between_bolts", "bolt_force", "bolt_use", "prying", "plate_use",
)  # fmt: skip
#: What the core gives for a margin of a ring that has its play by a gap as built [N].
NOT_ASKED = 1e9
#: Told in big letters, or by name.
JUDGED = ("working_load", "capacity", "design_factor", "factor_margin", "weakest")


def plate_values(write: Writer, states: dict[str, str]) -> dict[str, Any] | None:
    """Table of the plate over all states; torque and preload of its bolts."""
    table = write.job.file.table("plate")
    if table is None:
        return None
    meaning = {f["name"]: f["meaning"] for f in flat_fields(model_of("plate"), "outputs")}
    return {
        "title": str(table.get("title", "plate")),
        "bolts": write.input("plate.bolts"),
        "circle": write.input("plate.bolt_circle"),
        "nip": write.output("plate.nip"),
        "closing": write.output("plate.closing_force"),
        "torque": write.output("plate.torque"),
        "preload": write.output("plate.preload"),
        "low": write.output("plate.preload_low"),
        "high": write.output("plate.preload_high"),
        "rows": [
            {
                "what": meaning[name],
                "cells": [
                    "has play"
                    if write.found[state, f"plate.{name}"] == NOT_ASKED
                    else write.output(f"plate.{name}", state)
                    for state in states
                ],
            }
            for name in PLATE
        ],
        "states": list(states.values()),
    }


def _cells(write: Writer, result: Result) -> list[dict[str, Any]]:
    """Every output beside those told in big letters, and whether it is within its limit."""
    rows = []
    for field in result._fields():
        name, value = field["name"], float(result._outputs[field["name"]])
        if name in JUDGED:
            continue
        # A limit that is not set is NaN, and unequal to itself.
        low = field["low"] == field["low"] and value < field["low"]
        high = field["high"] == field["high"] and value > field["high"]
        rows.append(
            {
                "name": name.replace("_", " "),
                "value": write.value(value, field["quantity"]),
                "meaning": field["meaning"],
                "bad": low or high,
            }
        )
    return rows


def tool_values(
    write: Writer, titles: dict[str, str], picture: Callable[[Axes], Markup] | None = None
) -> list[dict[str, Any]]:
    """Each tool for each ring it serves: load, factor, weakest element, every figure, cautions;
    and its drawing, where `picture` makes it an element of the page."""
    from fitwright.pictures.tools import draw_tool

    told = []
    for row, ring in tool_rows(write.job):
        name = str(row["name"])
        result = tool_of(write.job, name, ring or None, write.found)
        outputs = result._outputs
        fields = {field["name"]: field for field in result._fields()}
        big = [
            (word.replace("_", " "), write.value(float(outputs[word]), fields[word]["quantity"]))
            for word in ("working_load", "capacity", "design_factor")
            if word in fields
        ]
        judged = "weakest" in outputs
        told.append(
            {
                "title": str(row.get("title", name)),
                "kind": str(row["kind"]).replace("_", " "),
                "ring": titles.get(ring, ""),
                "picture": "" if picture is None else picture(
                    draw_tool(write.job, name, ring or None, units=write.system, found=write.found)
                ),
                "big": big,
                "weakest": str(weakest(result)).replace("_", " ") if judged else "",
                "loading": str(row.get("loading", "steady")) if judged else "",
                "margin": write.value(float(outputs["factor_margin"]), "ratio") if judged else "",
                "bad": judged and float(outputs["factor_margin"]) < 0.0,
                "cells": _cells(write, result),
                "cautions": result.cautions,
            }
        )  # fmt: skip
    return told


def tool_cautions(tools: list[dict[str, Any]]) -> list[str]:
    """The cautions of all tools of a page, each once."""
    return list(dict.fromkeys(text for tool in tools for text in tool["cautions"]))
