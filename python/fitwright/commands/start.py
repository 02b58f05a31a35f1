"""`fitwright new`: a job file that runs, made of a few answers."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any, NamedTuple

from fitwright.commands.answer import Answer
from fitwright.fields.errors import InputError
from fitwright.fields.files import write_once

__all__ = ["QUESTIONS", "add", "new_text"]


class Question(NamedTuple):
    """One answer a new job needs: its key, what is asked, and what stands when nothing is said."""

    key: str
    asked: str
    metric: str
    inch: str


#: Sizes of the standard answers are invented.
QUESTIONS = (
    Question("title", "What is the job called?", "New job", "New job"),
    Question("shaft_material", "Metal of the shaft", "4340", "4340"),
    Question("shaft_bore", "Bore of the shaft (0 mm: solid)", "0 mm", "0 in"),
    Question("seat", "Diameter of the seat, measured", "60.030 mm", "2.3635 in"),
    Question("ring_name", "Name of the ring (lower-case letters, _)", "sleeve", "sleeve"),
    Question("ring_material", "Its metal", "4140", "4140"),
    Question("ring_bore", "Its bore, measured", "60.000 mm", "2.3622 in"),
    Question("ring_outside", "Its outside diameter", "80 mm", "3.15 in"),
    Question("ring_length", "Its length", "30 mm", "1 1/4 in"),
    Question("oven", "What it is heated to", "120 degC", "250 degF"),
    Question("press", "Force that presses it while it cools", "25 kN", "5600 lbf"),
    Question("thread", "Thread of the nut (LH: left-hand)", "M55x2", "2 1/4-12 UN"),
    Question("nut_outside", "Outside diameter of the nut", "76 mm", "3 in"),
    Question("face_inside", "Inside diameter of its face", "62 mm", "2.45 in"),
    Question("nut_height", "Height of the nut", "16 mm", "0.63 in"),
    Question("torque", "Tightening torque", "400 N m", "300 ft-lb"),
    Question("speed", "Speed in service", "6000 rpm", "6000 RPM"),
    Question("temperature", "Temperature of the shaft in service", "60 degC", "140 degF"),
)


def add(commands: Any, form: argparse.ArgumentParser) -> None:
    new = commands.add_parser(
        "new", parents=[form], help="write a commented job file: asks, or takes answers"
    )
    new.add_argument("file", type=Path, help="the job file to write")
    new.add_argument("--units", choices=("metric", "inch"), default="metric")
    keys = ", ".join(question.key for question in QUESTIONS)
    new.add_argument("--answers", nargs="*", default=[], metavar="KEY=VALUE", help=keys)
    new.add_argument("--ask", action="store_true", help="ask for the rest (as at a terminal)")
    new.set_defaults(run=run_new)


def run_new(given: argparse.Namespace) -> Answer:
    taken = InputError([(str(given.file), "is there already; choose another name")])
    if given.file.exists():
        raise taken
    told = _told(given.answers)
    asks = given.ask or (sys.stdin.isatty() and not given.answers)
    text = new_text(told, given.units, _ask if asks else None)
    if not write_once(given.file, text.encode("utf-8")):
        raise taken
    name = given.file
    lines = [
        f"Written: {name}",
        f"Next: fitwright check {name}; fitwright sheet {name} --out bench.html",
        "Every key it may have: fitwright schema; what a path means: fitwright explain PATH FILE.",
    ]
    return Answer("\n".join(lines), [{"file": str(name)}])


def _told(answers: list[str]) -> dict[str, str]:
    known = {question.key for question in QUESTIONS}
    found: dict[str, str] = {}
    problems: list[tuple[str, str]] = []
    for answer in answers:
        key, equals, value = answer.partition("=")
        if not equals or key not in known:
            problems.append(("answers", f'"{answer}" must be KEY=VALUE with a key of the help'))
        found[key] = value
    if problems:
        raise InputError(problems)
    return found


def _ask(question: Question, standard: str) -> str:
    print(f"{question.asked} [{standard}]: ", end="", file=sys.stderr, flush=True)
    return sys.stdin.readline().strip() or standard


def new_text(
    told: dict[str, str], units: str, ask: Callable[[Question, str], str] | None = None
) -> str:
    """The text of the new job file; refused with its reasons when it does not run."""
    from jinja2 import Environment, PackageLoader, StrictUndefined

    from fitwright.face.job import Job

    answers = {}
    for question in QUESTIONS:
        standard = question.inch if units == "inch" else question.metric
        answers[question.key] = told.get(question.key) or (
            standard if ask is None else ask(question, standard)
        )
    environment = Environment(
        loader=PackageLoader("fitwright", "templates"),
        undefined=StrictUndefined,
        trim_blocks=True,
        keep_trailing_newline=True,
    )
    environment.filters["text"] = _toml_text
    template = environment.get_template("new.toml.j2")
    text = template.render(answers, units=units)
    Job.loads(text).evaluate("quick")
    return text


def _toml_text(value: str) -> str:
    """A TOML string, whatever was typed."""
    import tomlkit

    return tomlkit.item(value).as_string()
