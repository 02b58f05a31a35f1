"""Commands on a whole job: demo, check, sheet, draw, batch."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING, Any

from fitwright.commands.answer import CAUTION, Answer, add_job, add_units, load
from fitwright.fields.files import make_folder
from fitwright.job.findings import evaluate

if TYPE_CHECKING:
    from fitwright.face.job import Job

__all__ = ["add"]

#: Words of the command line for the documents.
DOCUMENTS = {"bench": "bench", "strip-down": "strip_down", "annex": "annex"}


def add(commands: Any, form: argparse.ArgumentParser) -> None:
    demo = commands.add_parser("demo", parents=[form], help="check the demo job, with its sheets")
    add_units(demo)
    demo.set_defaults(run=check, file=Path("demo"))
    one = commands.add_parser(
        "check", parents=[form], help="findings of a job file, study, picture and sheets"
    )
    add_job(one)
    one.set_defaults(run=check)
    for sub, folder in ((demo, "build/demo"), (one, "build/check")):
        sub.add_argument("--out", type=Path, default=Path(folder), help=f"folder ({folder})")
        sub.add_argument("--samples", type=int, default=100_000, help="of the study (100000)")
        sub.add_argument("--all", action="store_true", help="every finding, not the digest")
        sub.add_argument("--no-files", action="store_true", help="write nothing")
        sub.add_argument("--no-study", action="store_true", help="only the findings")
    sheet = commands.add_parser("sheet", parents=[form], help="bench, strip-down and annex sheet")
    add_job(sheet)
    _paper(sheet)
    sheet.add_argument("--out", type=Path, help="file (.html or .pdf); FILE.html when left out")
    sheet.add_argument("--readings", type=Path, help="CSV or .xlsx with columns path, reading")
    sheet.add_argument("--serial", default="", help="serial number")
    sheet.add_argument("--work-order", default="")
    sheet.add_argument("--note", default="")
    sheet.set_defaults(run=write_sheet)
    draw = commands.add_parser("draw", parents=[form], help="half-section to scale")
    add_job(draw)
    draw.add_argument("--out", type=Path, help="file (.svg, .pdf or .png); FILE.svg when left out")
    draw.set_defaults(run=write_picture)
    batch = commands.add_parser(
        "batch", parents=[form], help="one sheet for each serial number of a table of readings"
    )
    batch.add_argument("readings", type=Path, help="CSV or .xlsx: serial, and a column per input")
    add_job(batch)
    _paper(batch)
    batch.add_argument("--out", type=Path, default=Path("build/batch"), help="folder (build/batch)")
    batch.add_argument("--pdf", action="store_true", help="PDF instead of HTML")
    batch.add_argument("--gauge", help="standard uncertainty of the gauge, as 1um")
    batch.add_argument("--no-files", action="store_true", help="only the summary")
    batch.set_defaults(run=run_batch)


def _paper(parser: argparse.ArgumentParser) -> None:
    words = list(DOCUMENTS)
    parser.add_argument("--documents", nargs="+", choices=words, help="all of them when left out")
    parser.add_argument("--paper", choices=("A4", "letter"), default="A4")
    parser.add_argument("--revision", default="")
    parser.add_argument("--date", default="", help="today when left out")


def check(given: argparse.Namespace) -> Answer:
    """Findings and study for the eye; picture and sheets in files."""
    job, name = load(given)
    units = given.units or job.units
    findings = evaluate(job)
    shown = findings.table(units) if given.all else findings.digest(units)
    lines = [f"{job.title}\n", str(shown), *findings._notes()]
    more: dict[str, Any] = {"title": job.title, "hash": job.hash, "level": findings.level}
    study = None
    if given.no_study:
        pass
    elif set(job.spreads) - set(job.standard_spreads):
        study = job.study(given.samples, seed=1)
        lines += ["", _study_words(study, units)]
        more["study"] = {"pass_rate": study.pass_rate, "interval": list(study.interval)}
    else:
        lines += ["", "No input of this job scatters: no study."]
    if not given.no_files:
        make_folder(given.out)
        files = [given.out / f"{name}.svg", given.out / f"{name}.png", given.out / f"{name}.html"]
        job.draw(files[0], units)
        job.draw(files[1], units)
        job.sheet(files[2], units, study=study)
        lines.append("\nWritten:")
        for label, path in zip(("picture", "picture", "sheets"), files, strict=True):
            lines.append(f"  {label:12} {path}")
        more["files"] = [str(path) for path in files]
    lines.append(f"\n{CAUTION}")
    return Answer("\n".join(lines), findings.to_dict(), more, findings.passed)


def _study_words(study: Any, units: str) -> str:
    lines = [study.title]
    if study.at_risk:
        risk = study.at_risk[0]
        lines.append(f"Most at risk: {risk.path} in {risk.state}, kept in {risk.pass_rate:.2%}.")
        lines.append(str(study.sensitivity(risk.state, risk.path, units=units)))
    return "\n".join(lines)


def _documents(given: argparse.Namespace) -> list[str]:
    return [DOCUMENTS[word] for word in given.documents or DOCUMENTS]


def write_sheet(given: argparse.Namespace) -> Answer:
    job, name = load(given)
    made: Job = job if given.readings is None else job.measured(given.readings)
    path = made.sheet(
        given.out or Path(f"{name}.html"),
        given.units,
        documents=_documents(given),
        paper=given.paper,
        serial=given.serial,
        work_order=given.work_order,
        note=given.note,
        revision=given.revision,
        date=given.date,
    )
    findings = made.evaluate()
    digest = findings.digest(given.units)
    lines = [f"Written: {path}", f"{made.title}: {digest.headline}"]
    lines += [f"  NOT MET  {f.path} in {f.state}: {f.value}" for f in digest.not_met]
    return Answer("\n".join(lines), [{"file": str(path)}], {"hash": made.hash}, findings.passed)


def write_picture(given: argparse.Namespace) -> Answer:
    job, name = load(given)
    path = given.out or Path(f"{name}.svg")
    job.draw(path, given.units)
    return Answer(f"Written: {path}", [{"file": str(path)}])


def run_batch(given: argparse.Namespace) -> Answer:
    from tqdm import tqdm

    from fitwright.face import batch

    job, _ = load(given)
    with tqdm(unit="row", disable=None, leave=False) as bar:

        def progress(done: int, of: int) -> None:
            bar.total = of
            bar.update(done - bar.n)

        found = batch.run(
            job,
            given.readings,
            out=None if given.no_files else given.out,
            gauge=given.gauge,
            units=given.units,
            documents=[DOCUMENTS[word] for word in given.documents or ("bench",)],
            paper=given.paper,
            kind="pdf" if given.pdf else "html",
            date=given.date,
            revision=given.revision,
            progress=progress,
        )
    lines = [str(found.table(given.units))]
    if not given.no_files:
        lines.append(f"Written: {given.out} ({sum(one.sheet is not None for one in found)} sheets)")
    return Answer("\n".join(lines), found.to_dict(), {"title": job.title}, found.passed)
