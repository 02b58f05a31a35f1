"""Commands that tell what there is: explain, schema, units, materials, completion."""

from __future__ import annotations

import argparse
import json
from importlib import resources
from pathlib import Path
from typing import Any

from fitwright.commands.answer import Answer, load
from fitwright.fields.errors import InputError
from fitwright.job.findings import evaluate

__all__ = ["add"]


def add(commands: Any, form: argparse.ArgumentParser) -> None:
    explain = commands.add_parser(
        "explain", parents=[form], help="a finding or an input: what it is, where it stands"
    )
    explain.add_argument("path", help="as shoulder.clamp_low or rings.sleeve.bore")
    explain.add_argument("file", type=Path, nargs="?", default=Path("demo"), help="the demo's")
    explain.add_argument("--units", choices=("metric", "inch"))
    explain.add_argument("--state", help="how it came about in this state, line by line")
    explain.add_argument("--save", type=Path, help="that as .html, .tex or .txt")
    explain.set_defaults(run=run_explain)
    schema = commands.add_parser("schema", parents=[form], help="JSON schema of a job file")
    schema.set_defaults(run=run_schema)
    units = commands.add_parser(
        "units", parents=[form], help="quantities, and how they are written"
    )
    units.set_defaults(run=run_units)
    materials = commands.add_parser("materials", parents=[form], help="the metals of the library")
    materials.set_defaults(run=run_materials)
    shell = commands.add_parser("completion", parents=[form], help="completion for a shell")
    shell.add_argument("shell", choices=("bash", "zsh"))
    shell.set_defaults(run=run_completion)


def run_explain(given: argparse.Namespace) -> Answer:
    if given.path.endswith(".toml") or given.path == "demo":  # file and path the other way round
        given.path, given.file = str(given.file), Path(given.path)
    job, _ = load(given)
    if given.state is not None or given.save is not None:
        shown = job.explain(given.path, given.state)
        if given.save is not None:
            shown.save(given.save)
            return Answer(f"Written: {given.save}", shown.to_dict())
        return Answer(shown.text(), shown.to_dict())
    inputs = {row[0]: row for row in job.input_rows}
    if given.path in inputs:
        path, quantity, meaning, _ = inputs[given.path]
        spread = job.spreads.get(path)
        scatter = "" if spread is None else f"\nscatters: {spread.shape}"
        value = job[path]
        text = f"{path} = {value.shown(given.units)}: {meaning}{scatter}"
        record = {"path": path, "value": _number(value), "quantity": quantity, "meaning": meaning}
        return Answer(text, [record])
    return _finding(given, job)


def _finding(given: argparse.Namespace, job: Any) -> Answer:
    from fitwright.job.titles import Titles, plain_words

    found = evaluate(job)
    by_state = found[given.path]  # tells which there are when it is none
    titles = Titles(job)
    held = {f.state: f for f in found if f.path == given.path}
    meaning = next(row[3] for row in found._rows if row[1] == given.path)
    lines = [
        f"{given.path}: {titles.part(given.path)}, {plain_words(given.path)}",
        f"It is: {meaning}.",
    ]
    records = []
    for state, value in by_state.items():
        told = f"  {titles.state(state)} ({state}): {value.shown(given.units)}"
        record: dict[str, Any] = {"state": state, "value": _number(value), "meaning": meaning}
        if state in held:
            f = held[state]
            told += f", limit {f.limit_text(given.units)}, margin {f.margin.shown(given.units)}"
            told += f", reserve {f.reserve_text(given.units)}" + ("" if f.passed else ", NOT MET")
            record |= {"limit": float(f.limit), "reserve": f.reserve, "passed": f.passed}
        records.append(record)
        lines.append(told)
    eased = [str(e) for e in found.eased if e.path == given.path]
    lines += [f"Wider than usual: {text}" for text in eased]
    if held:
        lines += _what_moves(job, min(held.values(), key=lambda f: f.reserve), given.units)
    return Answer("\n".join(lines), records)


def _what_moves(job: Any, finding: Any, units: str | None, most: int = 5) -> list[str]:
    """The inputs that move a finding most, each by a hundredth of itself."""
    table = job.at_level(finding.level).derivatives().table(finding.state, finding.path, units)
    rows = ["  " + "  ".join(cell for cell in row if cell) for row in table.rows[:most]]
    return [f"What moves it most in {finding.state} ({', '.join(table.head)}):", *rows]


def _number(value: Any) -> float | None:
    return float(value) if abs(value) < float("inf") else None


def run_schema(given: argparse.Namespace) -> Answer:
    text = (resources.files("fitwright") / "job.schema.json").read_text(encoding="utf-8")
    if given.csv:
        raise InputError([("csv", "a schema is JSON; there are no lines of it")])
    return Answer(text, [json.loads(text)])


def run_units(given: argparse.Namespace) -> Answer:
    from fitwright.fields.tables import Table
    from fitwright.fields.units import QUANTITIES, example

    rows, records = [], []
    for name, row in QUANTITIES.items():
        metric, inch = row["metric"]["label"], row["inch"]["label"]
        rows.append([name, row["si"], metric, inch, example(name)])
        records.append({"quantity": name, "si": row["si"], "metric": metric, "inch": inch})
    head = ["quantity", "SI", "metric", "inch", "written"]
    return Answer(str(Table(head, rows, "units: numbers without one are SI, degC")), records)


def run_materials(given: argparse.Namespace) -> Answer:
    from fitwright import _core, materials

    records = []
    for name in _core.material_names():
        metal = materials.material(name)
        records.append(
            {
                "name": metal.name,
                "lowest": metal.lowest,
                "highest": metal.highest,
                "heating_limit": metal.heating_limit,
                "sources": "; ".join(metal.sources),
            }
        )
    return Answer(str(materials.library()), records)


def run_completion(given: argparse.Namespace) -> Answer:

    try:
        import shtab
    except ImportError as error:
        told = "needs shtab: pip install shtab"
        raise InputError([("completion", told)]) from error
    return Answer(shtab.complete(given.parser, shell=given.shell))
