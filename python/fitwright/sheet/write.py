"""The sheets of a job: bench, strip-down and annex, as one HTML file or one PDF.

Words are in templates/, numbers come from the core; here they are looked up and written out.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from fitwright.fields import files
from fitwright.fields import units as shop
from fitwright.fields.errors import InputError
from fitwright.fields.user_text import quoted
from fitwright.job.assembly import assembly_table
from fitwright.job.findings import evaluate
from fitwright.job.history import History, step_titles
from fitwright.job.shoulder import shoulder_told
from fitwright.job.tables import RIGID_SHOULDER
from fitwright.sheet.annex import metal_values, study_values
from fitwright.sheet.as_measured import add_readings, changed_values
from fitwright.sheet.bearing import running_values
from fitwright.sheet.digits import BenchWriter
from fitwright.sheet.identity import PAPERS, Identity, Paper, css_text
from fitwright.sheet.nut import drive_values, square_values, tabs_values
from fitwright.sheet.order import order_of_work, soak_time
from fitwright.sheet.steps import step_values
from fitwright.sheet.strip_down import calculated_pulls, coming_off, heat_flux
from fitwright.sheet.tools import plate_values, tool_cautions, tool_values
from fitwright.sheet.values import (
    bearing_values,
    finding_values,
    input_values,
    lock_values,
    nut_values,
    pressure_values,
    ring_values,
    seal_values,
    state_values,
)
from fitwright.sheet.writer import Writer

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from fitwright.job.findings import Findings
    from fitwright.job.value import Job
    from fitwright.studies.result import Study

__all__ = ["DOCUMENTS", "sheet_page", "write_sheet"]

#: The documents by name, with the title each has.
DOCUMENTS = {"bench": "Bench sheet", "strip_down": "Strip-down sheet", "annex": "Annex"}
#: Ordinary feeler gauges hold nothing thinner. common practice
THINNEST_LEAF = 30e-6
#: What the core takes when slip_clearance is left out, at least (cpp/include/fitwright/heat).
USUAL_SLIP = 30e-6
SIZES_AT = 20.0


def write_sheet(
    job: Job,
    path: Path,
    units: str | None = None,
    documents: Sequence[str] | str = tuple(DOCUMENTS),
    paper: str = "A4",
    study: Study | None = None,
    **told: str,
) -> Path:
    """See `Job.sheet`; returns where it is."""
    kind = path.suffix.lower()
    if kind not in (".html", ".htm", ".pdf"):
        raise InputError([("path", f"{quoted(str(path))} must end in .html or .pdf")])
    page, identity = sheet_page(job, units, documents, paper, study, **told)
    if kind == ".pdf":
        from fitwright.sheet.pdf import pdf_of

        files.write_bytes(path, pdf_of(page, identity, PAPERS[paper]))
    else:
        files.write_bytes(path, page.encode("utf-8", "replace"))
    return path


def sheet_page(
    job: Job,
    units: str | None = None,
    documents: Sequence[str] | str = tuple(DOCUMENTS),
    paper: str = "A4",
    study: Study | None = None,
    **told: str,
) -> tuple[str, Identity]:
    """The sheet as the text of an HTML page, and what stands on its head and foot."""
    units = shop.in_system(units, job.units)
    names = [documents] if isinstance(documents, str) else list(documents)
    problems = [
        ("document", f"{quoted(name)} must be one of {', '.join(DOCUMENTS)}")
        for name in names
        if name not in DOCUMENTS
    ]
    if paper not in PAPERS:
        problems.append(("paper", f"{quoted(paper)} must be one of {', '.join(PAPERS)}"))
    if problems:
        raise InputError(problems)
    identity = Identity.of(job, **told)
    made = _Sheet(job, units, PAPERS[paper], identity, study)
    return made.page(names), identity


@lru_cache(maxsize=1)
def _environment() -> Environment:
    return Environment(
        loader=PackageLoader("fitwright", "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )


class _Sheet:
    """One job's values, worked out once for all documents."""

    def __init__(
        self, job: Job, system: str, paper: Paper, identity: Identity, study: Study | None
    ) -> None:
        self.measured, self.job = job, job.at_level("heating")
        self.system, self.paper, self.identity, self.study = system, paper, identity, study
        self.found: Findings = evaluate(self.job)

    def page(self, names: Sequence[str]) -> str:
        documents = [{"name": name, "title": DOCUMENTS[name]} for name in names]
        views = {"annex": self._annex} if "annex" in names else {}
        bench = self._bench() if set(names) != {"annex"} else {}
        for document in documents:
            view = views[document["name"]]() if document["name"] in views else bench
            template = _environment().get_template(f"{document['name']}.html.j2")
            document["body"] = Markup(template.render(view, document=document))
        return (
            _environment()
            .get_template("sheet.html.j2")
            .render(
                title=self.job.title,
                documents=documents,
                paper=self.paper,
                identity=self.identity,
                kinds=css_text(", ".join(str(d["title"]) for d in documents)),
            )
        )

    def _common(self, write: Writer) -> dict[str, Any]:
        job, found = self.job, self.found
        states = {str(r["name"]): str(r.get("title", r["name"])) for r in job.file.rows("state")}
        titles = {**step_titles(job), **states}
        rings = [ring_values(write, row, states) for row in job.file.rows("ring")]
        seals = [seal_values(write, row, rings, states) for row in job.file.rows("seal")]
        bearing = bearing_values(write, rings)
        seats = [
            {
                "name": str(row["name"]),
                "size": write.input(f"seats.{row['name']}.diameter"),
                "scatter": write.scatter(f"seats.{row['name']}.diameter"),
            }
            for row in job.file.rows("seat")
        ]
        add_readings(write, self.measured, seats, rings, bearing)
        tools = [
            {"name": f"tools.{row['name']}", "title": str(row.get("title", row["name"]))}
            for row in job.file.rows("tool")
        ]
        named = [*rings, *seals, *tools]
        return {
            "title": job.title,
            "identity": self.identity,
            "units": self.system,
            "level": found.level,
            "built": states[write.built],
            "seats": seats,
            "rings": rings,
            "seals": seals,
            "bearing": bearing,
            "heated": [ring for ring in rings if ring["grips"]],
            "lock": lock_values(write),
            "eased": [str(limit) for limit in found.eased],
            "nut": nut_values(write),
            "tabs": tabs_values(write),
            "drive": drive_values(write),
            "square": square_values(write),
            "stack": {
                name: write.output(path)
                for name, path in (
                    ("low", "shoulder.clamp_low"),
                    ("high", "shoulder.clamp_high"),
                    ("free", "shoulder.clamp_free"),
                    ("seats", "stack.grip_capacity"),
                    ("seats_high", "stack.grip_capacity_high"),
                )
            },
            "not_met": [
                finding_values(write, f, named, titles) for f in found.governing() if not f.passed
            ],
            "findings": [finding_values(write, f, named, titles) for f in found.governing()],
            "states": [state_values(write, name, title) for name, title in states.items()],
            "state_titles": states,
            "fidelity": job.fidelity,
            "rigid_shoulder": "" if shoulder_told(job) else RIGID_SHOULDER,
            "plate": plate_values(write, states),
            "named": named,
            "usual_slip": write.value(USUAL_SLIP, "fine"),
            "sizes_at": write.value(SIZES_AT, "temperature"),
            "thinnest_leaf": write.value(THINNEST_LEAF, "fine"),
        }

    def _bench(self) -> dict[str, Any]:
        """Bench and strip-down sheet: digits that a person can set."""
        from fitwright.pictures.section import draw_section

        write = BenchWriter(self.job, self.found, self.system)
        view = self._common(write)
        for ring, row in zip(view["rings"], self.job.file.rows("ring"), strict=True):
            ring["soak"] = soak_time(write, ring["name"], row) if ring["grips"] else ""
            if ring["hot"]:
                window = f"rings.{ring['name']}.slip_on.window_low"
                ring["window"] = write.no_more(float(self.found[write.built, window]))
        lines = order_of_work(write, view["rings"])
        torques = [line["torque"] for line in lines if line["kind"] == "tighten"]
        view["nut"]["last_torque"] = torques[-1] if torques else view["nut"]["torque"]
        titles = {ring["name"]: ring["title"] for ring in view["rings"]}
        tools = tool_values(write, titles, _picture)
        return {
            **view,
            "tools": tools,
            "tool_cautions": tool_cautions(tools),
            "picture": _picture(draw_section(self.job, units=self.system)),
            "lines": lines,
            "measured": changed_values(write, self.measured),
            "coming_off": coming_off(write, view["rings"]),
            "calculated_pulls": calculated_pulls(write, titles),
            "heat_flux": heat_flux(write),
        }

    def _annex(self) -> dict[str, Any]:
        """Every figure, with the digits of the tables."""
        write = Writer(self.job, self.found, self.system)
        view = self._common(write)
        return {
            **view,
            "ways": [
                dict(zip(("part", "way", "own", "passed", "left", "mark"), row, strict=True))
                for row in assembly_table(self.job, self.system).rows
            ],
            "running": running_values(write, view["state_titles"]),
            "pressures": pressure_values(write, view["rings"], view["state_titles"]),
            "steps": step_values(write),
            "step_picture": _picture(History(self.job).plot(units=self.system)),
            "inputs": input_values(write, view["named"], view["state_titles"]),
            "study": study_values(self.study, self.system),
            "metals": metal_values(self.job),
            "tools": tool_values(write, {ring["name"]: ring["title"] for ring in view["rings"]}),
        }


def _picture(axes: Axes) -> Markup:
    """A picture as an element of the page: no prologue, no name spaces, no comments."""
    from fitwright.charts.picture import svg_text

    text = svg_text(axes)
    text = text[text.index("<svg") :]
    text = re.sub(r"<!--.*?-->", "", text, flags=re.DOTALL)
    text = re.sub(r"<metadata>.*?</metadata>", "", text, flags=re.DOTALL)
    text = re.sub(r'\s+xmlns(:\w+)?="[^"]*"', "", text)
    text = text.replace("xlink:href=", "href=")
    # Two pictures on a page number their groups alike; nothing refers to those.
    text = re.sub(r' id="[a-z]+[0-9a-z]*_\d+"', "", text)
    text = re.sub(r'^<svg([^>]*?)\s+width="[^"]*"', r"<svg\1", text)
    text = re.sub(r'^<svg([^>]*?)\s+height="[^"]*"', r"<svg\1", text)
    return Markup(_join(text.splitlines()))


def _join(lines: Iterable[str]) -> str:
    return "\n".join(line.rstrip() for line in lines if line.strip())
