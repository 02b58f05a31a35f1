"""The command line: `python -m fitwright demo`, `check FILE`, `materials`."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

import fitwright as fw
from fitwright import _core
from fitwright.errors import InputError
from fitwright.files import make_folder
from fitwright.job import Job

CAUTION = (
    "An aid to judgement: the maker's manual and approved data govern, with licensed practice and "
    "local codes. Read the cautions on the build sheet before the oven is lit."
)


def show(job: Job, name: str, out: Path, units: str, samples: int) -> None:
    """Findings and study in the terminal; picture and build sheet in files."""
    make_folder(out)
    findings = job.evaluate()
    print(f"{job.title}\n")
    print(findings.table(units=units))
    print()
    if set(job.spreads) - set(job.standard_spreads):
        study = job.study(samples, seed=1)
        print(study.table(units=units))
        if study.at_risk:
            risk = study.at_risk[0]
            print(f"\nMost at risk: {risk.path} in {risk.state}, kept in {risk.pass_rate:.2%}.")
            print(study.sensitivity(risk.state, risk.path, units=units))
    else:
        print("No input of this job scatters: no study.")
    written = [out / f"{name}.svg", out / f"{name}.png", out / f"{name}.html"]
    job.draw(written[0])
    job.draw(written[1])
    job.sheet(written[2], units=units)
    print("\nWritten:")
    for label, path in zip(("picture", "picture", "build sheet"), written, strict=True):
        print(f"  {label:12} {path}")
    print(f"\n{CAUTION}")


def build() -> str:
    """Version, vector level that runs here, and the compiler the core was built with."""
    level = _core.active_level()
    told = f"level v{level}" if level else "baseline"
    return f"fitwright {fw.__version__} (core: {told}, {_core.compiler()})"


def main(arguments: list[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="fitwright", description=fw.__doc__)
    parser.add_argument("--version", action="version", version=build())
    commands = parser.add_subparsers(dest="command", required=True)
    for command, text in (
        ("demo", "evaluate the demo job, and write its picture and build sheet"),
        ("check", "the same for a job file of your own"),
    ):
        sub = commands.add_parser(command, help=text)
        if command == "check":
            sub.add_argument("file", type=Path)
        folder = Path("build") / command
        sub.add_argument("--out", type=Path, default=folder, help=f"folder to write to ({folder})")
        sub.add_argument("--units", choices=("metric", "inch"), default="metric")
        sub.add_argument("--samples", type=int, default=100_000)
    commands.add_parser("materials", help="the metals that come with the library")
    # A title in letters that the terminal does not have must not end the command.
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="backslashreplace")
    given = parser.parse_args(arguments)
    try:
        if given.command == "materials":
            print(fw.materials.library())
        else:
            is_demo = given.command == "demo"
            job = fw.demo("blower") if is_demo else Job.load(given.file)
            name = "blower" if is_demo else given.file.stem
            show(job, name, given.out, given.units, given.samples)
    except (InputError, OSError) as error:
        print(error, file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        print("stopped by hand", file=sys.stderr)
        return 130
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
