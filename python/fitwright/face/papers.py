"""What goes out of a job: pictures, the panel, sheets, files."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from fitwright.fields.arguments import checked
from fitwright.fields.files import path_of
from fitwright.job.value import Job

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from fitwright.face.panel import Panel
    from fitwright.studies.result import Study


@checked
class Papers(Job):
    """Methods of `fw.Job`: what goes out of it."""

    def draw(self, path: str | os.PathLike[str] | None = None, units: str | None = None) -> Axes:
        """A half-section of the stack to scale, as SVG, PDF or PNG by the name of the file.

        Nothing is written without a `path`; `units` of the sizes is "metric" or "inch".

        >>> import fitwright as fw
        >>> job = fw.demo("blower")
        >>> answer = job.draw()
        """
        from fitwright.pictures.section import draw_section

        return draw_section(self, path, units or self.units)

    def draw_tool(
        self,
        name: str,
        ring: str | None = None,
        path: str | os.PathLike[str] | None = None,
        units: str | None = None,
    ) -> Axes:
        """A tool at its work, to scale; written as .svg, .pdf or .png where a path is given.

        `name` is that of the tool, `ring` which of those it serves, `units` "metric" or "inch".

        >>> import fitwright as fw
        >>> answer = fw.demo("pump").draw_tool("puller", "inner_ring")
        """
        from fitwright.pictures.tools import draw_tool

        return draw_tool(self, name, ring, path, units or self.units)

    def panel(
        self, inputs: Sequence[str], *, span: float = 0.1, rows: int = 12, units: str | None = None
    ) -> Panel:
        """A what-if panel for the notebook: a slider per input, the findings below."""
        from fitwright.face.panel import Panel

        return Panel(self, inputs, span, rows, units or self.units)

    def sheet(
        self,
        path: str | os.PathLike[str],
        units: str | None = None,
        *,
        documents: Sequence[str] | str = ("bench", "strip_down", "annex"),
        paper: str = "A4",
        serial: str = "",
        work_order: str = "",
        note: str = "",
        revision: str = "",
        date: str = "",
        study: Study | None = None,
    ) -> Path:
        """The sheets of the job, as one self-contained HTML file or, by the name, as PDF.

        `documents`: "bench" (measure, heat and press, order of work, checks), "strip_down" (what
        comes off in which order, with heat and pull of each) and "annex" (states, findings, study,
        sources), or some of them. `paper`: "A4" or "letter". What is told of serial number, work
        order, revision and date (today when left out) stands on every page, with a hash of the job;
        `note` under the title; a `study` of the job in the annex. PDF needs the extra `pdf`.

        `path` is where it is written, `units` "metric" or "inch"; `serial`, `work_order`,
        `revision` and `date` are text.

        >>> import fitwright as fw
        >>> job = fw.demo("blower")
        >>> answer = job.sheet("blower.html", serial="R-0042", work_order="771")
        """
        from fitwright.sheet.write import write_sheet

        told = {
            "serial": serial,
            "work_order": work_order,
            "note": note,
            "revision": revision,
            "date": date,
        }
        return write_sheet(
            self, path_of(path, "path"), units or self.units, documents, paper, study, **told
        )

    def save(self, path: str | os.PathLike[str]) -> Path:
        """The job as a file that loads as the same job; comments of its own file are kept.

        `path` is where it is written.

        >>> import fitwright as fw
        >>> job = fw.demo("blower")
        >>> answer = job.save("as_told.toml")
        """
        from fitwright.job.save import save_job

        return save_job(self, path)

    @property
    def hash(self) -> str:
        """SHA-256 of all a job holds but its titles and comments, as on its sheets."""
        from fitwright.job.save import job_hash

        return job_hash(self)
