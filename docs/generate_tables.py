"""The pages docs/materials-table.md and docs/fields.md from the installed package.

usage: generate_tables.py [FOLDER]
"""

from __future__ import annotations

import math
import sys
from collections.abc import Iterator
from importlib import resources
from pathlib import Path
from typing import Any

import fitwright as fw
from fitwright import _core
from fitwright.fields.units import QUANTITIES, shown
from fitwright.job.attached import ATTACHED
from fitwright.job.tables import EXTRA, TABLES
from fitwright.models.results import MODELS

HERE = Path(__file__).resolve().parent
MADE = "Made by docs/generate_tables.py from the installed package; do not edit.\n"

MATERIALS_OPENING = f"""\
# Metals that come with the library

{MADE}
Young's modulus E, mean expansion alpha from 20 degC to the temperature, and yield (or 0.2 % proof
stress) Re; where the data end before a temperature the place is empty. What the words mean, and the
status of a source (*published*, *common practice*, *from memory*), is told in
[materials.md](materials.md). The values of your own part, from its certificate, are better than
any table: see *Own materials* in [how-to.md](how-to.md).
"""

FIELDS_OPENING = f"""\
# Fields of a job file

{MADE}
A value is text with its unit, `"80 mm"`; any unit of the same kind will do (`"3.15 in"`). Pure
numbers stand without. *must be given* has no standard value; *worked out* is computed from the
other fields when left out. Every number may scatter: write a table
`{{ value = "80 mm", spread = "normal", deviation = "2 um" }}` ([how-to.md](how-to.md)).
In Python the same inputs have paths: `shaft.bore`, `seats.NAME.diameter`, `rings.NAME.bore`,
`states.NAME.speed`, `states.NAME.lags.PART`.

Before the first table stand `title`, `note`, `units` (`metric` or `inch`) and `fidelity` (`bars`,
or `section`: the steps of the history on finite elements).
"""

OUTPUTS_OPENING = """
## Outputs

What can be read and limited: `findings["full_load", "shoulder.clamp_low"]`, or a `[[limit]]` with
this path (`*` stands for one whole name: `rings.*.grip_left`). The standard limit holds unless the
job file gives another; rings with `joint = "slide"` have none on grip and oven. What holds for the
assembly as a whole, from `nut.preload` on, belongs to the first state. `bearing.combined.*` is
there where a state tells of a radial load or a moment.
"""

ATTACHED_OPENING = """
## `[plate]` and `[[tool]]`

Models of other rooms in a job: the plate bolted over the outer ring, and tools the shop made. Their
fields are those of the model, parts of it are tables (`[plate.bolt]`, `[tool.screw]`), each with
its `material`; `[plate]` tells the plate itself. What the job knows is not told again. Paths are
`plate.thickness`, `plate.bolt.diameter`, `tools.NAME.screw.diameter`; outputs are those of the
model, `plate.*` in every state, `tools.NAME.*` or, for a tool that serves rings,
`tools.NAME.RING.*` in the first state.
"""

#: The keys of a job file that are no numbers.
STRUCTURE = {
    "name": "lower-case name (letters, digits, _) that paths are made of; different for each",
    "title": "free text for tables and the build sheet",
    "material": "name of a metal of the library, or of a `[[material]]` of this file",
    "thread": "the thread as a drawing names it, `M75x2 LH` or `2 1/4-12 UN`, in place of "
    "diameter, pitch, form and hand",
    "thread_class": "class of the thread, nut over shaft: its limits of size make the shear of the "
    "threads; `6H/6g` metric and `2B/2A` unified when left out",
    "lubricant": "free text for the build sheet: what goes on thread and face of the nut",
    "kind": "free text for the build sheet, for example `tab washer`",
    "seat": "name of the seat the ring sits on",
    "slices": "in place of `outside` for a ring with steps: a list of tables, from the shoulder on",
    "tabs": "tabs of a tab washer, evenly spaced, one of them bent",
    "slots": "slots of the nut they can go into",
    "inner_rings": "the ring, or the two halves in order from the shoulder, that are the bearing's",
    "outer_ring_material": "metal of the bearing's outer ring",
    "ring": "name of the ring of the stack that seals, or under which the shaft does",
    "state": "name of the state a step of kind `state` goes to",
    "parts": "names of the rings, or `lock`, that go on together; of a `pull`: those "
    "that come off, the last one first, with what stands before them",
    "from": "first step that is done over again",
    "to": "last step that is done over again",
    "times": "how many times, 1 to 1000",
    "lags": "table: how much hotter than the shaft each part is; parts left out are as warm as it",
    "torques": "table: torque that rings which grip pass to the shaft, as hubs and gears do; "
    "nothing in the first state",
}
OPTIONAL = {
    "thread",
    "thread_class",
    "lubricant",
    "tabs",
    "slots",
    "title",
    "kind",
    "lags",
    "torques",
    "slices",
    "state",
    "parts",
    "from",
    "to",
    "times",
}
HEADS = {
    "seat": "[[seat]]",
    "ring": "[[ring]]",
    "slice": "[[ring]] slices",
    "seal": "[[seal]]",
    "state": "[[state]]",
    "step": "[[step]]",
    "state_service": "[[state]], with a [service]",
    "state_loads": "[[state]], with a [bearing]",
}


def row(*cells: str) -> str:
    return "| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |\n"


def materials_page() -> str:
    text = MATERIALS_OPENING
    text += "\n## Values\n\n"
    temperatures = (20.0, 100.0, 200.0)
    head = [f"{name} {t:.0f}" for name in ("E", "alpha", "Re", "k", "c") for t in temperatures]
    text += row("name", "metal", *head, "Poisson", "density", "range", "heating limit")
    text += "|---" * (6 + len(head)) + "|\n"
    units = ("GPa", "1e-6/K", "MPa", "W/m/K", "J/kg/K")
    text += row("", "", *[u for u in units for _ in temperatures], "", "kg/m3", "degC", "degC")
    names = _core.material_names()
    for name in names:
        m = _core.find_material(name)
        cells = []
        for what, quantity in (
            ("modulus", "modulus"),
            ("expansion", "expansion"),
            ("yield", "stress"),
            ("conductivity", "conductivity"),
            ("heat_capacity", "heat_capacity"),
        ):
            for t in temperatures:
                inside = m.lowest <= t <= m.highest
                cells.append(shown(m.at(what, t), quantity).split(" ")[0] if inside else "")
        text += row(
            f"`{name}`",
            m.title,
            *cells,
            f"{m.poisson:g}",
            f"{m.density:.0f}",
            f"{m.lowest:.0f} to {m.highest:.0f}",
            f"{m.heating_limit:.0f}",
        )
    text += "\n## Sources\n"
    for name in names:
        m = _core.find_material(name)
        text += f"\n**{name}**, {m.title}\n\n" + "".join(f"- {line}\n" for line in m.sources)
    return text


def bound(value: float, quantity: str) -> str:
    unit = QUANTITIES[quantity]["metric"]
    return f"{value * unit['factor'] + unit['offset']:.6g}"


def field_row(field: dict[str, Any]) -> str:
    name = f"`{field['name']}`"
    if field["kind"] == "choice":
        words = field["words"].split("|")
        return row(name, "", ", ".join(words), words[0], field["meaning"])
    quantity = field["quantity"]
    low = "above " if field["low_excluded"] else ""
    limits = f"{low}{bound(field['low'], quantity)} to {bound(field['high'], quantity)}"
    standard = field["standard"]
    if math.isnan(standard):
        told = "must be given"
    elif math.isinf(standard):
        told = "worked out"
    else:
        told = bound(standard, quantity)
    unit = QUANTITIES[quantity]["metric"]["label"]
    return row(name, unit, limits, told, field["meaning"])


def parts_tables() -> str:
    text = ""
    for table, declaration in TABLES.items():
        text += f"\n## `{HEADS.get(table, f'[{table}]')}`: {declaration['meaning']}\n\n"
        text += row("field", "unit", "range", "standard", "meaning") + "|---" * 5 + "|\n"
        for key in sorted(EXTRA.get(table, ()), key=list(STRUCTURE).index):
            needed = "" if key in OPTIONAL or table == "pocket" else "must be given"
            text += row(f"`{key}`", "", "", needed, STRUCTURE[key])
        for field in declaration["fields"]:
            if field["kind"] == "low_end":
                base = field["name"].removesuffix("_low")
                ends = [f["standard"] for f in declaration["fields"] if f["name"].startswith(base)]
                quantity = field["quantity"]
                told = f"{bound(ends[1], quantity)} and {bound(ends[2], quantity)}"
                meaning = f"ends of `{base}`, written `{base} = {{ value, low, high }}`"
                text += row("", "", "", told, meaning)
            elif field["kind"] != "high_end":
                text += field_row(field)
    return text


def told_fields(declaration: dict[str, Any], prefix: str = "") -> Iterator[dict[str, Any]]:
    """Numbers and choices of a model by their paths."""
    for field in declaration["fields"]:
        path = prefix + field["name"]
        if field["kind"] == "part":
            yield from told_fields(field["part"], f"{path}.")
        elif field["kind"] in ("number", "choice"):
            yield {**field, "name": path}


def attached_tables() -> str:
    text = ATTACHED_OPENING
    for name, kind in ATTACHED.items():
        if name == "fitted_plate":
            continue
        model = kind["model"]
        head = "[plate]" if name == "plate" else f'[[tool]]` with `kind = "{name}"'
        text += f"\n### `{head}`: `fw.{model}`\n\n"
        keys = ["`name`", "`kind`", "`title`"] if name != "plate" else ["`title`", "`side`"]
        text += f"Keys beside the fields: {', '.join(keys)}"
        text += ", `rings` it serves.\n" if kind["serves_rings"] else ".\n"
        if name == "plate":
            text += "`side` of the outer ring it is on: `nut` (standard) or `shoulder`.\n"
        by: dict[str, list[str]] = {}
        for path, told_by in kind["known"].items():
            by.setdefault(told_by, []).append(f"`{path}`")
        for told_by, paths in by.items():
            text += f"Known by {told_by}: {', '.join(paths)}.\n"
        if name == "plate":
            told_by = ATTACHED["fitted_plate"]["known"]["ring.outside"]
            text += f"Known by {told_by}, where that is told: `ring.outside`.\n"
        metals = [m for m in MODELS[model]["materials"] if m not in kind["known_materials"]]
        told = [m.removeprefix("plate.") if name == "plate" else m for m in metals]
        if told:
            text += f"Metals to name: {', '.join(f'`{m}`' for m in told)}."
        text = text.rstrip() + "\n\n"
        text += row("field", "unit", "range", "standard", "meaning") + "|---" * 5 + "|\n"
        for field in told_fields(MODELS[model]["inputs"]):
            if field["name"] in kind["known"]:
                continue
            short = field["name"].removeprefix("plate.") if name == "plate" else field["name"]
            text += field_row({**field, "name": short})
    return text


def outputs_table() -> str:
    demo = (resources.files("fitwright") / "demos" / "blower.toml").read_text(encoding="utf-8")
    told = 'title = "full load"'
    # So that what hangs on a load across the shaft, and on a fitted outer ring, is there.
    demo = demo.replace(told, f'{told}\nradial_load = "1 kN"')
    fitted = 'ring_outside = "170 mm"\nhousing_outside = "230 mm"\nmaterial = "ductile_iron"'
    demo = demo.replace("[pocket]\n", f"[pocket]\n{fitted}\n")
    demo = demo.replace(told, f'{told}\ntorques = {{ sleeve = "1 kN m" }}')
    job = fw.Job.loads(demo[: demo.index("[[limit]]")])
    core = job.core.at("heating")
    limits = {row[0]: row[1:] for row in core.limits()}
    text = OUTPUTS_OPENING + "\n" + row("output", "unit", "standard limit", "level", "meaning")
    text += "|---" * 5 + "|\n"
    ring, told_already = job.rings[0], set()
    for number, (state, path, quantity, meaning) in enumerate(core.outputs()):
        if state not in (job.states[0], job.states[-1]) or path in told_already:
            continue
        if path.startswith("rings.") and not path.startswith(f"rings.{ring}."):
            continue
        told_already.add(path)
        told = [
            f"{sign} {bound(limit, quantity)}"
            for sign, limit in zip((">=", "<="), limits.get(number, ()), strict=False)
            if limit == limit
        ]
        unit = QUANTITIES[quantity]["metric"]["label"]
        named = path.replace(f"rings.{ring}.", "rings.NAME.")
        text += row(f"`{named}`", unit, " and ".join(told), core.level_of(number), meaning)
    return text


def fields_page() -> str:
    return FIELDS_OPENING + parts_tables() + attached_tables() + outputs_table()


if __name__ == "__main__":
    folder = Path(sys.argv[1]) if len(sys.argv) > 1 else HERE
    (folder / "materials-table.md").write_text(materials_page(), encoding="utf-8")
    (folder / "fields.md").write_text(fields_page(), encoding="utf-8")
