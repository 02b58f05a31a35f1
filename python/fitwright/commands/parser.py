"""The parser of the command line, and its exit codes."""

from __future__ import annotations

import argparse
import os
import sys

from fitwright import _core
from fitwright.commands import jobs, numbers, start, words
from fitwright.commands.answer import Answer, print_answer
from fitwright.fields.errors import InputError

__all__ = ["main", "parser"]

ABOUT = "What will hold a stack of heat-fitted parts on a shaft, and how sure that is."
CODES = (
    "exit codes: 0 done, and every limit that was asked is met; 1 a limit is not met, or a row of "
    "a batch was refused; 2 the input cannot be used (the reason is told); 130 stopped by hand"
)


def build() -> str:
    """Version, vector level that runs here, and the compiler the core was built with."""
    level = _core.active_level()
    told = f"level v{level}" if level else "baseline"
    return f"fitwright {_core.version()} (core: {told}, {_core.compiler()})"


def parser() -> argparse.ArgumentParser:
    whole = argparse.ArgumentParser(prog="fitwright", description=ABOUT, epilog=CODES)
    whole.add_argument("--version", action="version", version=build())
    commands = whole.add_subparsers(dest="command", required=True, metavar="COMMAND")
    form = argparse.ArgumentParser(add_help=False)
    forms = form.add_mutually_exclusive_group()
    forms.add_argument("--json", action="store_true", help="answer as JSON, numbers in SI")
    forms.add_argument("--csv", action="store_true", help="answer as CSV, numbers in SI")
    for room in (start, jobs, numbers, words):
        room.add(commands, form)
    whole.set_defaults(parser=whole)
    return whole


def main(arguments: list[str] | None = None) -> int:
    # A title in letters that the terminal does not have must not end the command.
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="backslashreplace")
    given = parser().parse_args(arguments)
    try:
        answer: Answer = given.run(given)
        print_answer(answer, given, print)
        sys.stdout.flush()
    except InputError as error:
        print(error, file=sys.stderr)
        return 2
    except BrokenPipeError:  # `fitwright ... | head`
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except (OSError, ValueError) as error:
        print(error, file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        print("stopped by hand", file=sys.stderr)
        return 130
    return 0 if answer.passed else 1
