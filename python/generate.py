"""Build step: the Python face from the field table of the built core.

usage: generate.py FOLDER_OF_CORE OUTPUT_FOLDER
Writes models/parts.py (part classes), formulas.py in each room of models, _core.pyi and
job.schema.json.
"""

from __future__ import annotations

import math
import re
import sys
from pathlib import Path
from typing import Any

HEAD = '"""{title}\n\nMade by generate.py from the field table of the core; do not edit.\n"""\n\n'
#: Above the outputs of a model, in its docstring.
ATTRIBUTES = (
    "    In SI units; a number, or an array if an input was one.\n\n"
    "    Attributes\n    ----------\n"
)


def wrap(text: str, indent: str, width: int = 96) -> str:
    lines, line = [], indent
    for word in text.split():
        if len(line) + len(word) + 1 > width and line.strip():
            lines.append(line.rstrip())
            line = indent
        line += word + " "
    lines.append(line.rstrip())
    return "\n".join(lines)


class Generator:
    def __init__(self, core: Any, out: Path) -> None:
        self.core, self.out = core, out
        self.quantities = {q["name"]: q for q in core.quantities()}
        self.parts: dict[str, dict[str, Any]] = {}
        for model in core.models():
            self._collect(model["inputs"])

    def _collect(self, declaration: dict[str, Any]) -> None:
        for field in declaration["fields"]:
            if field["kind"] in ("part", "parts"):
                self.parts[field["part"]["name"]] = field["part"]
                self._collect(field["part"])

    def _shown(self, value: float, quantity: str) -> str:
        unit = self.quantities[quantity]["metric"]
        number = f"{value * unit['factor'] + unit['offset']:.6g}"
        return f"{number} {unit['label']}".strip()

    def _told(self, field: dict[str, Any]) -> str:
        """Meaning, range and standard value of an input."""
        q = field["quantity"]
        low = "above " if field["low_excluded"] else ""
        text = f"{field['meaning'].rstrip('.')}. Range {low}{self._shown(field['low'], q)} to "
        text += self._shown(field["high"], q)
        standard = field["standard"]
        if math.isinf(standard):
            text += "; worked out when left out."
        elif math.isnan(standard):
            text += "; must be given."
        else:
            text += f"; {self._shown(standard, q)} when left out."
        return text

    def _parameters(self, d: dict[str, Any]) -> list[tuple[str, str, str, str]]:
        """(name, annotation, default or "", documentation), required ones first."""
        rows = []
        if d["has_material"]:
            rows.append(("material", "MaterialLike", "", "name of a material, or a fw.Material"))
        for f in d["fields"]:
            if f["kind"] == "part":
                rows.append((f["name"], f["part"]["name"], "", f["part"]["meaning"]))
            elif f["kind"] == "parts":
                kind = f"Sequence[{f['part']['name']}]"
                rows.append((f["name"], kind, "", f"{f['meaning']}; 1 to {f['count']}"))
            elif f["kind"] == "choice":
                words = f["words"].split("|")
                literal = ", ".join(f'"{w}"' for w in words)
                rows.append((f["name"], f"Literal[{literal}]", f'"{words[0]}"', f["meaning"]))
            else:
                default = "" if math.isnan(f["standard"]) else "None"
                si = self.quantities[f["quantity"]]["si"]
                rows.append((f["name"], "Number", default, f"[{si}] {self._told(f)}"))
        return sorted(rows, key=lambda row: row[2] != "")

    def _signature(self, d: dict[str, Any], indent: str) -> str:
        return "".join(
            f"{indent}{name}: {kind}{' | None = None' if default == 'None' else ''}"
            f"{f' = {default}' if default not in ('', 'None') else ''},\n"
            for name, kind, default, _ in self._parameters(d)
        )

    def _documentation(self, d: dict[str, Any], indent: str) -> str:
        lines = [f"{indent}Parameters", f"{indent}----------"]
        for name, kind, _, text in self._parameters(d):
            lines.append(f"{indent}{name} : {kind}")
            lines.append(wrap(text, indent + "    "))
        return "\n".join(lines)

    def part_module(self) -> str:
        text = HEAD.format(title="The parts a user describes.")
        text += (
            "from __future__ import annotations\n\n"
            "from typing import Any, ClassVar, Literal\n\n"
            "from fitwright.models.results import MODELS, MaterialLike, Part\n"
            "from fitwright.fields.units import Number, Values\n\n"
            "__all__ = [" + ", ".join(f'"{n}"' for n in sorted(self.parts)) + "]\n\n\n"
            "def _declarations() -> dict[str, dict[str, Any]]:\n"
            "    found: dict[str, dict[str, Any]] = {}\n"
            "    queue = [model['inputs'] for model in MODELS.values()]\n"
            "    while queue:\n"
            "        for field in queue.pop()['fields']:\n"
            "            if field['part'] is not None:\n"
            "                found[field['part']['name']] = field['part']\n"
            "                queue.append(field['part'])\n"
            "    return found\n\n\n"
            "_DECLARATIONS = _declarations()\n"
        )
        for name in sorted(self.parts):
            d = self.parts[name]
            text += (
                f'\n\nclass {name}(Part):\n    """{d["meaning"][0].upper()}{d["meaning"][1:]}.\n\n'
            )
            text += self._documentation(d, "    ") + '\n    """\n\n'
            text += f'    _declaration: ClassVar[dict[str, Any]] = _DECLARATIONS["{name}"]\n'
            for f in d["fields"]:
                if f["kind"] in ("number", "low_end", "high_end"):
                    text += f"    {f['name']}: Values\n"
                elif f["kind"] == "choice":
                    text += f"    {f['name']}: str\n"
            text += "\n    def __init__(\n        self,\n        *,\n" + self._signature(
                d, "        "
            )
            text += "    ) -> None:\n        super().__init__(\n            {\n"
            for parameter, *_ in self._parameters(d):
                text += f'                "{parameter}": {parameter},\n'
            text += "            }\n        )\n"
        return text

    def _group_class(self, part: dict[str, Any]) -> str:
        """A member of a list of outputs."""
        text = f'\n\nclass {part["name"]}(Group):\n    """{part["meaning"].capitalize()}.\n\n'
        text += ATTRIBUTES
        for f in part["fields"]:
            si = self.quantities[f["quantity"]]["si"]
            text += f"    {f['name']} : [{si}]\n" + wrap(f["meaning"], "        ") + "\n"
        text += '    """\n\n'
        return text + "".join(f"    {f['name']}: Values\n" for f in part["fields"])

    def room_module(self, room: str, models: list[dict[str, Any]]) -> str:
        used = sorted(
            {
                f["part"]["name"]
                for m in models
                for f in m["inputs"]["fields"]
                if f["kind"] in ("part", "parts")
            }
        )
        body = ""
        for m in models:
            class_name = "".join(word.capitalize() for word in m["name"].split("_"))
            result = class_name + "Result"
            groups = {f["name"]: f["part"] for f in m["outputs"]["fields"] if f["kind"] == "parts"}
            for part in groups.values():
                body += self._group_class(part)
            body += (
                f'\n\nclass {result}(Result):\n    """{m["outputs"]["meaning"].capitalize()}.\n\n'
            )
            body += ATTRIBUTES
            for f in m["outputs"]["fields"]:
                if f["kind"] == "parts":
                    told = f"{f['meaning']}, one after the other, as {f['part']['name']}"
                    body += f"    {f['name']} : [list]\n" + wrap(told, "        ") + "\n"
                    continue
                si = self.quantities[f["quantity"]]["si"]
                body += f"    {f['name']} : [{si}]\n" + wrap(f["meaning"], "        ") + "\n"
            body += '    """\n\n' + f'    _model: ClassVar[str] = "{room}.{m["name"]}"\n'
            for f in m["outputs"]["fields"]:
                kind = f"list[{f['part']['name']}]" if f["kind"] == "parts" else "Values"
                body += f"    {f['name']}: {kind}\n"
            body += f"\n\ndef {m['name']}(\n    *,\n" + self._signature(m["inputs"], "    ")
            body += f') -> {result}:\n    """{m["answers"]}\n\n'
            body += "    Equation\n    --------\n" + wrap(m["equation"], "    ") + "\n\n"
            body += self._documentation(m["inputs"], "    ") + "\n\n"
            body += f"    Returns\n    -------\n    {result}\n\n"
            body += "    Raises\n    ------\n    fitwright.InputError\n"
            body += "        naming each field that is out of range, its value and the rule.\n\n"
            body += "    Validity\n    --------\n" + wrap(m["validity"], "    ") + "\n\n"
            body += "    Source\n    ------\n" + wrap(m["source"], "    ") + "\n\n"
            if m["cautions"]:
                told = m["cautions"].replace("|", ", ")
                body += "    Cautions\n    --------\n"
                body += wrap(f"{told}: `fw.tooling.cautions('{m['name']}')`.", "    ") + "\n\n"
            body += "    Example\n    -------\n    >>> import fitwright as fw\n"
            body += f"    >>> answer = {m['example']}\n" + '    """\n'
            body += f"    answer: {result} = call(\n        {result},\n        {{\n"
            for parameter, *_ in self._parameters(m["inputs"]):
                body += f'            "{parameter}": {parameter},\n'
            body += "        },\n    )\n    return answer\n"
        text = HEAD.format(title=f"Models of the room {room}.")
        text += "from __future__ import annotations\n\n"
        if "Sequence[" in body:
            text += "from collections.abc import Sequence\n"
        text += "from typing import ClassVar" + (", Literal" if "Literal[" in body else "") + "\n\n"
        material = "MaterialLike, " if "MaterialLike" in body else ""
        group = "Group, " if "(Group)" in body else ""
        text += f"from fitwright.models.results import {group}{material}Result, call\n"
        if used:
            text += f"from fitwright.models.parts import {', '.join(used)}\n"
        text += "from fitwright.fields.units import Number, Values\n"
        names = re.findall(r"^(?:class|def) (\w+)", body, flags=re.M)
        text += f"\n__all__ = [{', '.join(f'{name!r}' for name in sorted(names))}]\n"
        return text + body

    def run(self) -> None:
        self.out.mkdir(parents=True, exist_ok=True)
        rooms: dict[str, list[dict[str, Any]]] = {}
        for model in self.core.models():
            rooms.setdefault(model["room"], []).append(model)
        for room, models in rooms.items():
            (self.out / room).mkdir(exist_ok=True)
            (self.out / room / "formulas.py").write_text(self.room_module(room, models))
        (self.out / "models").mkdir(exist_ok=True)
        (self.out / "_core.pyi").write_text(core_stub(self.core))
        from generate_schema import schema_text

        (self.out / "job.schema.json").write_text(schema_text(self.core))
        # Last: the build looks at this file to know that all is there.
        (self.out / "models" / "parts.py").write_text(self.part_module())


def core_stub(core: Any) -> str:
    """Signatures as pybind11 prints them in the first line of each docstring."""
    text = HEAD.format(title="The compiled core.")
    text += "import collections.abc\nimport typing\n\nimport numpy\nimport numpy.typing\n"

    def function(name: str, value: Any, indent: str, decorator: str = "") -> str:
        line = (value.__doc__ or "").split("\n")[0]
        line = line.replace("fitwright::", "").replace("_core.", "")
        line = line.replace("self: object", "self")
        # pybind11 names bare containers; what they hold is told in python/fitwright.
        bare = {"list": "list[typing.Any]", "dict": "dict[str, typing.Any]"}
        bare["tuple"] = "tuple[typing.Any, ...]"
        line = re.sub(r"\b(list|dict|tuple)\b(?!\[)", lambda m: bare[m[1]], line)
        line = re.sub(r"(\*\*?\w+)(?=[,)])", r"\1: typing.Any", line)
        start = line.index("(") if "(" in line else 0
        return f"{decorator}{indent}def {name}{line[start:]}: ...\n"

    for name in sorted(vars(core)):
        value = getattr(core, name)
        if name.startswith("__"):
            continue
        if isinstance(value, type):
            base = "(System)" if name == "Job" else ""  # a job is one, wherever one is asked
            text += f"\nclass {name}{base}:\n"
            for member in sorted(vars(value)):
                if member.startswith("_") and member != "__init__":
                    continue
                item = vars(value)[member]
                if member == "__init__" and not (item.__doc__ or "").startswith("__init__("):
                    continue  # made by the core only
                if isinstance(item, staticmethod):
                    text += "    @staticmethod\n" + function(member, item.__func__, "    ")
                    continue
                if isinstance(item, property):
                    getter = (item.fget.__doc__ or "").strip().split("\n")[0]
                    kind = getter.rsplit("->", 1)[1].strip() if "->" in getter else "typing.Any"
                    kind = kind.replace("_core.", "")
                    text += f"    @property\n    def {member}(self) -> {kind}: ...\n"
                else:
                    text += function(member, item, "    ")
            text += "    ...\n"
        elif callable(value):
            text += "\n" + function(name, value, "")
    return text


if __name__ == "__main__":
    sys.path.insert(0, sys.argv[1])
    import _core

    Generator(_core, Path(sys.argv[2])).run()
