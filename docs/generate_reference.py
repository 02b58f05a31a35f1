"""The pages of docs/reference: C++, command line, rooms of Python.

From declarations, headers, parser and what each room says it shows.

usage: generate_reference.py [FOLDER]
"""

from __future__ import annotations

import argparse
import importlib
import inspect
import re
import sys
from collections.abc import Iterator
from functools import cache, partial
from pathlib import Path
from typing import Any

from fitwright.commands.parser import CODES, parser
from fitwright.fields.units import QUANTITIES
from fitwright.models.results import MODELS

HERE = Path(__file__).resolve().parent
HEADERS = HERE.parent / "cpp" / "include"
MADE = "<!-- Made by docs/generate_reference.py from the installed package; do not edit. -->\n"

CPP_OPENING = f"""\
# C++

{MADE}
Each model is one function of its room. Its inputs and outputs are structures of doubles in SI units
(temperatures in degC). `fields::standard_inputs<rings::FitInputs>()` fills in the standard values;
what must be given is NaN until you set it, and what is worked out when left out is infinity. Metals
come from `materials::find`, in the order of the function's arguments. Anything that breaks a rule
throws `DomainError` with all problems by path (`fitwright/fields/error.hpp`). Functions keep no
state and may be called from any thread.

Models without a function of their own are marked. They are asked by name, on the plain arrays that
the structures are made of:
`fields::evaluate(fields::model_named("stack.wedge"), inputs, outputs, context)`.

How to install the package for CMake, and a whole program, are in [how-to.md](../how-to.md). A job
file is `job::Job` (`fitwright/job/job.hpp`), a study `study::Study` (`fitwright/study/study.hpp`).

An example, the pressure of a shrink fit:

```cpp
#include <fitwright/fields/model.hpp>
#include <fitwright/rings/fit.hpp>

double pressure() {{
    using namespace fitwright;
    auto in = fields::standard_inputs<rings::FitInputs>();
    in.shaft.seat = 0.080;
    in.ring.bore = 0.080;
    in.ring.outside = 0.105;
    in.ring.length = 0.030;
    in.interference = 38e-6;
    const auto& steel = materials::find("4340").numbers;
    return rings::fit(in, steel, materials::find("52100").numbers).pressure;
}}
```

Units below are those of the values in C++.
"""

COMMAND_OPENING = f"""\
# Command line

{MADE}
`fitwright COMMAND --help` shows the same in a terminal. {CODES[0].upper() + CODES[1:]}.
"""


def cell(text: str) -> str:
    return text.replace("|", "\\|").replace("<", "\\<")


def row(*cells: str) -> str:
    return "| " + " | ".join(cells) + " |\n"


def flat(declaration: dict[str, Any], path: str = "") -> Iterator[tuple[str, dict[str, Any]]]:
    for field in declaration["fields"]:
        here = f"{path}{field['name']}"
        if field["part"] is not None:
            yield from flat(field["part"], here + ".")
        else:
            yield here, field


def unit_of(field: dict[str, Any]) -> str:
    if field["kind"] == "choice":
        return "choice"
    return str(QUANTITIES[field["quantity"]]["si"])


@cache
def functions() -> dict[str, tuple[str, str]]:
    """Header and declaration of each model's C++ function, by room and name."""
    found = {}
    for header in sorted((HEADERS / "fitwright").glob("*/*.hpp")):
        text = header.read_text(encoding="utf-8")
        room = header.parent.name
        for match in re.finditer(r"^\w+<double> (\w+)\([^;]*\);", text, re.MULTILINE):
            declaration = re.sub(r"\s+", " ", match[0])
            name = str(header.relative_to(HEADERS))
            found.setdefault(f"{room}.{match[1]}", (name, declaration))
    return found


def model_text(key: str) -> str:
    model = MODELS[key]
    text = f"\n### `{key.replace('.', '::')}`\n\n{cell(model['answers'])}\n\n"
    if key in functions():
        header, declaration = functions()[key]
        text += f"```cpp\n#include <{header}>\n{broken(declaration)}\n```\n\n"
    else:
        text += f'By its name: `fields::evaluate(fields::model_named("{key}"), ...)`.\n\n'
    for title, side in (("input", "inputs"), ("output", "outputs")):
        text += row(title, "unit", "meaning") + "|---|---|---|\n"
        for path, field in flat(model[side]):
            text += row(f"`{path}`", unit_of(field), cell(field["meaning"]))
        text += "\n"
    return text + f"**Where it holds.** {cell(model['validity'])}\n"


def broken(declaration: str) -> str:
    """A declaration of more than one line, each argument under the first."""
    if len(declaration) < 96:
        return declaration
    head, rest = declaration.split("(", 1)
    depth, parts, part = 0, [], ""
    for letter in rest:
        depth += {"<": 1, ">": -1}.get(letter, 0)
        part += letter
        if letter == "," and not depth:
            parts.append(part.strip())
            part = ""
    return f"{head}(\n    " + "\n    ".join([*parts, part.strip()])


def cpp_page() -> str:
    text = CPP_OPENING
    room = ""
    for key, model in MODELS.items():
        if model["room"] != room:
            room = model["room"]
            text += f"\n## Room `{room}`\n"
        text += model_text(key)
    return text


def argument(action: argparse.Action) -> tuple[str, str]:
    if action.option_strings:
        name = ", ".join(action.option_strings)
        if action.nargs != 0:
            choices = "|".join(map(str, action.choices)) if action.choices else None
            name += " " + (choices or str(action.metavar or action.dest.upper()))
    else:
        metavar = action.metavar or action.dest
        name = metavar if isinstance(metavar, str) else " ".join(metavar)
    told = (action.help or "").replace("%(default)s", str(action.default)).replace("%%", "%")
    if action.required and action.option_strings:
        told += " (must be given)"
    return name, told


def commands_page() -> str:
    text = COMMAND_OPENING
    [commands] = [a for a in parser()._actions if isinstance(a, argparse._SubParsersAction)]
    told = {choice.dest: choice.help or "" for choice in commands._choices_actions}
    for name, command in commands.choices.items():
        text += f"\n## `fitwright {name}`\n\n{cell((told.get(name) or '').capitalize())}.\n\n"
        text += row("argument", "what it does") + "|---|---|\n"
        for action in command._actions:
            if not isinstance(action, argparse._HelpAction):
                shown, does = argument(action)
                text += row(f"`{shown.replace('|', chr(92) + '|')}`", cell(does))
    return text


#: Rooms of Python: where the names are, where their list is, what the page opens with, pages on it.
ROOMS = {
    "single": (
        "fitwright",
        "fitwright.face.single",
        "One model asked like a job, and functions of arrays",
        ["study-single"],
    ),
    "parts": (
        "fitwright.models.parts",
        "fitwright.models.parts",
        "What a model is given: `fw.Shaft`, `fw.Ring` and the others",
        [],
    ),
    "rings": (
        "fitwright.rings",
        "fitwright.rings",
        "Shrink fits: one ring, a nest of them, slip, seals and face gaps",
        ["theory", "theory-rings", "theory-seals"],
    ),
    "heat": (
        "fitwright.heat",
        "fitwright.heat",
        "Oven, chill, seating and taking off",
        ["theory-heat"],
    ),
    "threads": (
        "fitwright.threads",
        "fitwright.threads",
        "Torque, force and friction of nuts, stripping, stretch and lock tabs",
        ["theory-threads"],
    ),
    "bearings": (
        "fitwright.bearings",
        "fitwright.bearings",
        "Contact, mounted clearance, balance at speed, ratings and life",
        ["theory-bearings", "theory-bearings-running", "theory-life"],
    ),
    "joints": (
        "fitwright.joints",
        "fitwright.joints",
        "Bolts, round plates, and the plate over an outer ring",
        ["theory-joints"],
    ),
    "stack": (
        "fitwright.stack",
        "fitwright.stack",
        "Faces out of square, clocking and unbalance",
        ["theory-squareness"],
    ),
    "bodies": (
        "fitwright.bodies",
        "fitwright.bodies.stack",
        "The stack in section by finite elements",
        ["theory-bodies"],
    ),
    "tooling": (
        "fitwright.tooling",
        "fitwright.tooling",
        "Tools a shop makes for itself",
        ["theory-tooling"],
    ),
    "sizes": (
        "fitwright.sizes",
        "fitwright.sizes.standards",
        "Sizes as a drawing or a catalogue gives them, and as measured",
        ["sizes"],
    ),
    "materials": (
        "fitwright.materials",
        "fitwright.materials",
        "The metals, and your own",
        ["materials", "materials-table"],
    ),
    "batch": (
        "fitwright.batch",
        "fitwright.face.batch",
        "One sheet for each serial number of a table of readings",
        ["how-to"],
    ),
}
TITLES = {"single": "One model as a job", "parts": "Parts"}


def auto(kind: str, name: str) -> str:
    return f"```{{eval-rst}}\n.. auto{kind}:: {name}\n```\n"


def room_page(room: str) -> str:
    """A heading for each function, its result below it; then the other classes."""
    place, listed, opening, pages = ROOMS[room]
    if pages:
        opening += ": " + ", ".join(f"[{page}.md](../{page}.md)" for page in pages)
    names = sorted(importlib.import_module(listed).__all__, key=str.lower)
    owner = importlib.import_module(listed)
    held = {name: getattr(owner, name) for name in names}
    classes = [name for name, thing in held.items() if inspect.isclass(thing)]
    text = f"# {TITLES.get(room, 'fw.' + room)}\n\n{MADE}\n{opening}.\n"
    for name, thing in held.items():
        if inspect.isclass(thing):
            continue
        text += f"\n## `{name}`\n\n" + auto("function", f"{place}.{name}")
        result = str(getattr(thing, "__annotations__", {}).get("return", ""))
        if result in classes:
            classes.remove(result)
            text += "\n" + auto("class", f"{place}.{result}")
    for name in classes:
        text += f"\n## `{name}`\n\n" + auto("class", f"{place}.{name}")
    return text


PAGES = {
    "cpp.md": cpp_page,
    "command-line.md": commands_page,
    **{f"python-{room}.md": partial(room_page, room) for room in ROOMS},
}

if __name__ == "__main__":
    folder = Path(sys.argv[1]) if len(sys.argv) > 1 else HERE / "reference"
    for name, page in PAGES.items():
        (folder / name).write_text(page(), encoding="utf-8")
