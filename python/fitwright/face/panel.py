"""A what-if panel for the notebook: sliders in, findings out (needs ipywidgets)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape
from typing import TYPE_CHECKING, Any, NamedTuple

from fitwright.fields import units
from fitwright.fields.arguments import checked
from fitwright.fields.errors import InputError
from fitwright.fields.tables import Table
from fitwright.job.findings import Findings, evaluate

if TYPE_CHECKING:
    from fitwright.job.value import Job


#: Deviations of its spread that a slider reaches each way.
REACH = 6.0


@dataclass(frozen=True)
class Row:
    """One input: a slider over what the job's spread makes likely, and a box for any number."""

    slider: Any
    box: Any
    note: Any
    unit: dict[str, Any]

    def in_si(self) -> float:
        return float((self.box.value - self.unit["offset"]) / self.unit["factor"])

    def set(self, value: float) -> None:
        """Both, and a word where the number lies beyond the slider: it is taken as it is."""
        self.box.value = value
        low, high = self.slider.min, self.slider.max
        self.slider.value = min(max(value, low), high)
        decimals, label = self.unit["decimals"], self.unit["label"]
        self.note.value = (
            ""
            if low <= value <= high
            else f"beyond {low:.{decimals}f} to {high:.{decimals}f} {label}: "
            "more than the job's own spread makes likely"
        )


class Change(NamedTuple):
    """What was set, for undo; a drag is one change however many places it passes."""

    dragged: str
    values: dict[str, float]


@checked
class Panel:
    """Sliders for some inputs of a job; the findings follow. `.job` is the job as set.

    A number typed beyond its slider is taken and said to be; what the job itself refuses is said
    and changes nothing. *Undo* takes the last change back, *write* writes the job file.
    """

    def __init__(
        self, job: Job, inputs: Sequence[str], span: float, rows: int, system: str
    ) -> None:
        try:
            import ipywidgets
        except ImportError as error:
            raise InputError(
                [("", "the panel needs ipywidgets: pip install ipywidgets")]
            ) from error
        if not inputs:
            raise InputError([("inputs", "name at least one input")])
        if not 0.0 < span < 1.0:
            raise InputError([("span", f"{span!r} must lie between 0 and 1")])
        self.job = self._start = job
        self._tightest, self._system = rows, system
        self._before = evaluate(job)
        self._made: list[Change] = []
        self._refused = False
        self._setting = False
        self._rows = {path: self._row(ipywidgets, path, span) for path in inputs}
        self._digest, self._changes = ipywidgets.HTML(), ipywidgets.HTML()
        self._note = ipywidgets.HTML()
        self._undo = ipywidgets.Button(description="undo", disabled=True)
        self._undo.on_click(lambda _button: self.undo())
        self._file = ipywidgets.Text(value="what_if.toml", layout={"width": "14em"})
        self._write = ipywidgets.Button(description="write job file")
        self._write.on_click(lambda _button: self._written())
        rows_of = [ipywidgets.HBox([row.slider, row.box, row.note]) for row in self._rows.values()]
        buttons = ipywidgets.HBox([self._undo, self._file, self._write])
        self.widget = ipywidgets.VBox([*rows_of, buttons, self._note, self._changes, self._digest])
        self._show(self._before)

    def _row(self, ipywidgets: Any, path: str, span: float) -> Row:
        value = self.job[path]
        unit = units.shop_unit(value.quantity, self._system)
        shown = float(value) * unit["factor"] + unit["offset"]
        spread = self.job.spreads.get(path)
        reach = (
            REACH * spread.standard_deviation * unit["factor"]
            if spread is not None
            else span * (abs(shown) or 1.0)
        )
        slider = ipywidgets.FloatSlider(
            value=shown,
            min=shown - reach,
            max=shown + reach,
            step=reach / 200.0,
            description=f"{path} [{unit['label']}]",
            readout=False,
            style={"description_width": "initial"},
            layout={"width": "36em"},
        )
        box = ipywidgets.FloatText(value=shown, step=reach / 200.0, layout={"width": "8em"})
        row = Row(slider, box, ipywidgets.Label(), unit)
        slider.observe(lambda change: self._moved(path, change["new"], path), "value")
        box.observe(lambda change: self._moved(path, change["new"]), "value")
        return row

    def undo(self) -> None:
        """Take the last change back; first of all one that the job refused."""
        if self._made and not self._refused:
            self._made.pop()
        self._set(self._made[-1].values if self._made else {})
        self._ask()

    def _set(self, values: dict[str, float]) -> None:
        """Put the sliders and boxes where a change left them, without asking the job."""
        self._setting = True
        try:
            for path, row in self._rows.items():
                unit = row.unit
                row.set(
                    values.get(path, float(self._start[path]) * unit["factor"] + unit["offset"])
                )
        finally:
            self._setting = False

    def _moved(self, path: str, value: float, dragged: str = "") -> None:
        if self._setting:
            return
        now = {other: row.box.value for other, row in self._rows.items()} | {path: value}
        self._set(now)
        if self._ask():
            if dragged and self._made and self._made[-1].dragged == dragged:
                self._made.pop()
            self._made.append(Change(dragged, now))
            self._undo.disabled = False

    def _ask(self) -> bool:
        """The job as set, or why it is none."""
        moved = {path: row.in_si() for path, row in self._rows.items() if self._is_moved(path)}
        try:
            job = self._start.replace(moved) if moved else self._start
            findings = evaluate(job)
        except InputError as error:
            self._refused, self._undo.disabled = True, False
            self._note.value = f"<pre style='color:#a11'>{escape(str(error))}</pre>"
            return False
        self.job, self._refused = job, False
        self._undo.disabled = not self._made
        self._note.value = ""
        self._show(findings)
        return True

    def _is_moved(self, path: str) -> bool:
        row = self._rows[path]
        started = float(self._start[path]) * row.unit["factor"] + row.unit["offset"]
        return bool(row.box.value != started)

    def _written(self) -> None:
        from fitwright.job.save import save_job

        try:
            path = save_job(self.job, self._file.value)
        except (InputError, OSError) as error:
            self._note.value = f"<pre style='color:#a11'>{escape(str(error))}</pre>"
        else:
            self._note.value = f"written: {escape(str(path))}"

    def _show(self, findings: Findings) -> None:
        digest = findings.digest(self._system, self._tightest, paths=False)
        self._digest.value = digest._repr_html_()
        before = {(f.state, f.path): f for f in self._before.all}
        rows, marks = [], []
        for _, found in digest.sections():
            for f in found:
                old = before[f.state, f.path]
                if float(old.value) != float(f.value):
                    part, what, where, now, limit, *_ = digest.row(f)
                    rows.append([part, what, where, old.value.shown(self._system), now, limit])
                    marks.append(f.mark)
        head = ["part", "what", "where least", "before", "now", "limit"]
        changed = Table(head, rows, f"before: {self._before.digest().headline}", marks)
        self._changes.value = changed._repr_html_() if rows else ""

    def _ipython_display_(self) -> None:
        from IPython.display import display

        display(self.widget)  # type: ignore[no-untyped-call]
