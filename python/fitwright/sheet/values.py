"""What stands on the build sheet: values of a job looked up and written out, part by part."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from fitwright.job.finding import Finding
from fitwright.job.slices import length_of, slice_paths
from fitwright.job.thread_name import thread_name
from fitwright.job.titles import plain_words
from fitwright.sheet.rings import chill_words, stand_off_words, yielding_words
from fitwright.sheet.writer import Writer, printed

if TYPE_CHECKING:
    pass

STATES_ACROSS = 6


def ring_values(write: Writer, row: dict[str, Any], states: dict[str, str]) -> dict[str, Any]:
    job, name = write.job, str(row["name"])
    here, seat = f"rings.{name}", f"seats.{row['seat']}.diameter"
    grips = row.get("joint", "grip") == "grip"
    wanted = write.given(f"{here}.slip_clearance")
    setting = write.given(f"{here}.oven")
    limit = write.given(f"{here}.heating_limit")
    material = job.file.material(f"{here}.material", row["material"])
    weakest = min(job.states, key=lambda state: write.found[state, f"{here}.holding_force"])
    left = write.found[write.built, f"{here}.interference_left"]
    hot = hot_values(write, here)
    return {
        **hot,
        "name": name,
        "title": str(row.get("title", name)),
        "material": material.name,
        "grips": grips,
        "seat": str(row["seat"]),
        "bore": write.input(f"{here}.bore"),
        "bore_scatter": write.scatter(f"{here}.bore"),
        "length": write.shown(length_of(job, row)),
        "slices": [
            (
                write.input(f"{path}.outside"),
                write.input(f"{path}.length"),
                write.output(f"{path}.pressure"),
                write.output(f"{path}.ring_hoop"),
            )
            for path in slice_paths(row)
        ],
        "measured": write.value(job[seat] - job[f"{here}.bore"], "fine"),
        "effective": write.shown(left),
        "is_tight": left > 0.0,
        "gap": write.output(f"{here}.gap"),
        "pressure": write.output(f"{here}.pressure"),
        "needed": write.output(f"{here}.oven_needed"),
        "setting": write.output(f"{here}.oven_needed") if setting is None else write.shown(setting),
        "limit": write.value(material.heating_limit, "temperature")
        if limit is None
        else write.shown(limit),
        "opening": write.output(f"{here}.opening"),
        "wanted": "the usual" if wanted is None else write.shown(wanted),
        "spare": write.output(f"{here}.opening_margin"),
        "too_hot": write.found[write.built, f"{here}.setting_margin"] < 0.0,
        # A setting left out opens the bore by just what is wanted, up to rounding.
        "too_small": setting is not None
        and write.found[write.built, f"{here}.opening_margin"] < 0.0,
        "holds": write.output(f"{here}.holding_force"),
        "holds_least": write.output(f"{here}.holding_force", weakest),
        "weakest": states[weakest],
        "turns_least": write.output(f"{here}.torque_capacity", weakest),
        "chill": chill_words(write, name) if grips else "",
        "yields": yielding_words(write, row),
        "stands_off": stand_off_words(write, row) if hot["hot"] else "",
    }


def hot_values(write: Writer, here: str) -> dict[str, Any]:
    """What a ring does between oven and seat; nothing where its metal has no data of heat."""
    known = {path for state, path, *_ in write.job.output_rows if state == write.built}
    hot = f"{here}.slip_on.window" in known
    named = {
        "window": "slip_on.window_low",
        "grab": "slip_on.grab",
        "cold": "slip_on.time_to_room",
        "stay": "seating.gap_high",
        "pull": "take_off.cold_pull_high",
        "free": "take_off.difference_free",
    }
    press = write.job[f"{here}.press"]
    return {
        "hot": hot,
        "press": write.shown(press) if press > 0.0 else "",
        "carry": write.input(f"{here}.carry_time"),
        "late": hot and write.found[write.built, f"{here}.slip_on.time_left"] < 0.0,
        **{word: write.output(f"{here}.{path}") if hot else "" for word, path in named.items()},
    }


def nut_values(write: Writer) -> dict[str, Any]:
    table = write.job.file.table("nut") or {}
    left = table.get("hand", "right") == "left"
    return {
        "thread": thread_name(write.job),
        "hand": "left" if left else "right",
        "way": "anticlockwise" if left else "clockwise",
        "other_way": "clockwise" if left else "anticlockwise",
        "torque": write.input("nut.torque"),
        "torque_scatter": write.scatter("nut.torque"),
        "preload": write.output("nut.preload"),
        "preload_low": write.output("nut.preload_low"),
        "preload_high": write.output("nut.preload_high"),
        "loosening": write.output("nut.loosening_torque"),
        "lubricant": str(table.get("lubricant", "")),
        "thread_friction": _ends(write, "nut.thread_friction"),
        "face_friction": _ends(write, "nut.face_friction"),
        "use": write.output("nut.tightening_yield_use"),
        "shaft_thread": _greatest(write, "nut.shaft_thread_use"),
        "nut_thread": _greatest(write, "nut.nut_thread_use"),
        "face": _greatest(write, "nut.face_use"),
    }


def _greatest(write: Writer, path: str) -> str:
    return write.output(path, max(write.job.states, key=lambda state: write.found[state, path]))


def _ends(write: Writer, path: str) -> str:
    return f"{write.input(f'{path}_low')} to {write.input(f'{path}_high')}"


def lock_values(write: Writer) -> dict[str, Any] | None:
    table = write.job.file.table("lock")
    if table is None:
        return None
    kind = str(table.get("kind", "lock"))
    return {"kind": kind, "tabs": "tab" in kind.lower(), "thickness": write.input("lock.thickness")}


def bearing_values(write: Writer, rings: list[dict[str, Any]]) -> dict[str, Any] | None:
    table = write.job.file.table("bearing")
    if table is None:
        return None
    inner = [str(name) for name in table["inner_rings"]]
    named = ("clearance", "radial_play", "contact_angle", "end_play")
    return {
        "inner": inner,
        "split": len(inner) == 2,
        "titles": [ring["title"] for ring in rings if ring["name"] in inner],
        "given": write.input("bearing.clearance"),
        "scatter": write.scatter("bearing.clearance"),
        "shim": write.input("bearing.shim"),
        **{name: write.output(f"bearing.{name}") for name in named},
        **{f"{name}_allowed": _allowed(write, f"bearing.{name}") for name in named},
    }


def _allowed(write: Writer, path: str) -> str:
    """The limits of an output as built: "0.25 mm to 0.45 mm", or nothing."""
    output = write.job.core.output(write.built, path)
    quantity = write.found[write.built, path].quantity
    rows = [(low, high) for number, low, high in write.job.core.limits() if number == output]
    lows = [low for low, _ in rows if low == low]
    highs = [high for _, high in rows if high == high]
    if lows and highs:
        return f"{write.value(max(lows), quantity)} to {write.value(min(highs), quantity)}"
    if lows:
        return f"at least {write.value(max(lows), quantity)}"
    return f"at most {write.value(min(highs), quantity)}" if highs else ""


def state_values(write: Writer, name: str, title: str) -> dict[str, Any]:
    has_bearing = write.job.file.table("bearing") is not None
    return {
        "title": title,
        "speed": write.input(f"states.{name}.speed"),
        "shaft": write.input(f"states.{name}.shaft_temperature"),
        "thrust": write.input(f"states.{name}.thrust"),
        "nut": write.output("nut.force", name),
        "nut_low": write.output("nut.force_low", name),
        "low": write.output("shoulder.clamp_low", name),
        "high": write.output("shoulder.clamp_high", name),
        "clearance": write.output("bearing.clearance", name) if has_bearing else "",
    }


def pressure_values(
    write: Writer, rings: list[dict[str, Any]], states: dict[str, str]
) -> list[dict[str, Any]]:
    """Ring by state: pressure, and how much hotter than the shaft; so many states to a table."""
    names = list(states)
    tables = []
    for start in range(0, len(names), STATES_ACROSS):
        some = names[start : start + STATES_ACROSS]
        rows = [
            {
                "title": ring["title"],
                "cells": [_pressure(write, ring["name"], state) for state in some],
            }
            for ring in rings
        ]
        tables.append({"states": [states[name] for name in some], "rows": rows})
    return tables


def _pressure(write: Writer, ring: str, state: str) -> dict[str, str]:
    lag = write.input(f"states.{state}.lags.{ring}")
    loose = write.found[state, f"rings.{ring}.pressure"] <= 0.0
    return {
        "loose": "loose" if loose else "",
        "text": write.output(f"rings.{ring}.{'gap' if loose else 'pressure'}", state),
        "lag": lag if lag.startswith("-") else f"+{lag}",
    }


def seal_values(
    write: Writer, row: dict[str, Any], rings: list[dict[str, Any]], states: dict[str, str]
) -> dict[str, Any]:
    name = str(row["name"])
    here = f"seals.{name}"
    tightest = min(write.job.states, key=lambda state: write.found[state, f"{here}.least_radial"])
    titles = {ring["name"]: ring["title"] for ring in rings}
    return {
        "name": name,
        "title": str(row.get("title", _words(name))),
        "ring": titles[str(row["ring"])],
        "stator": write.input(f"{here}.stator"),
        "scatter": write.scatter(f"{here}.stator"),
        "built": write.output(f"{here}.clearance"),
        "least": write.output(f"{here}.clearance", tightest),
        "radial": write.output(f"{here}.least_radial", tightest),
        "tightest": states[tightest],
        "touches": write.found[tightest, f"{here}.touch_margin"] < 0.0,
    }


def finding_values(
    write: Writer, finding: Finding, named: list[dict[str, Any]], states: dict[str, str]
) -> dict[str, str]:
    """`named`: rings and seals, and tools by "tools." and their name."""
    parts = finding.path.split(".")
    key = f"tools.{parts[1]}" if parts[0] == "tools" else parts[1]
    title = {part["name"]: part["title"] for part in named}.get(key, parts[0])
    return {
        "path": finding.path,
        "part": title if parts[0] in ("rings", "seals", "tools") else parts[0],
        "words": plain_words(finding.path),
        "state": states[finding.state],
        "value": write.shown(finding.value),
        "limit": f"{'≥' if finding.is_least else '≤'} {write.shown(finding.limit)}",
        "margin": write.shown(finding.margin),
        "reserve": _degrees(finding.reserve_text(write.system)),
        "mark": {"good": "ok", "near": "near", "bad": "NOT MET"}[finding.mark],
    }


def _degrees(text: str) -> str:
    """ "71% of 10.0 K" with its unit as it is printed."""
    share, of, amount = text.partition(" of ")
    return f"{share}{of}{printed(amount)}" if amount else share


def input_values(
    write: Writer, named: list[dict[str, Any]], states: dict[str, str]
) -> list[dict[str, str]]:
    quantities = {path: quantity for path, quantity, *_ in write.job.input_rows}
    titles = {part["name"]: part["title"] for part in named}
    rows = []
    for path, spread in write.job.spreads.items():
        kind, *names = path.split(".")
        if kind == "states" and len(names) == 3:
            what = "passes a torque of" if names[1] == "torques" else "hotter by"
            name = f"{states[names[0]]}: {_words(titles.get(names[2], names[2]))} {what}"
        elif kind == "states":
            name = f"{states[names[0]]}: {_words(names[1])}"
        elif kind in ("rings", "seals"):
            name = f"{titles[names[0]]}: {_words(names[1])}"
        elif kind == "tools":
            name = f"{titles[f'tools.{names[0]}']}: {' '.join(_words(word) for word in names[1:])}"
        else:
            name = " ".join(_words(word) for word in (kind.removesuffix("s"), *names))
        rows.append(
            {
                "name": name,
                "value": write.input(path),
                "scatter": write.spread(spread, quantities[path]),
            }
        )
    return rows


def _words(name: str) -> str:
    return name.replace("_", " ")
