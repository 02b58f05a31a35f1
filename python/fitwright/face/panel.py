"""A what-if panel for the notebook: sliders in, findings out (needs ipywidgets)."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from typing import TYPE_CHECKING, Any

from fitwright.fields import units
from fitwright.fields.arguments import checked
from fitwright.fields.errors import InputError
from fitwright.job.findings import Findings, evaluate

if TYPE_CHECKING:
    from fitwright.job.value import Job


@checked
class Panel:
    """Sliders for some inputs of a job; the findings follow. `.job` is the job as set."""

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
        self._rows, self._system = rows, system
        self._sliders: dict[str, tuple[Any, dict[str, Any]]] = {}
        for path in inputs:
            value = job[path]
            unit = units.shop_unit(value.quantity, system)
            shown = float(value) * unit["factor"] + unit["offset"]
            spread = job.spreads.get(path)
            # Six deviations each way where the input scatters, else a share of its value.
            reach = (
                6.0 * spread.standard_deviation * unit["factor"]
                if spread is not None
                else span * (abs(shown) or 1.0)
            )
            slider = ipywidgets.FloatSlider(
                value=shown,
                min=shown - reach,
                max=shown + reach,
                step=reach / 200.0,
                description=f"{path} [{unit['label']}]",
                readout_format=f".{unit['decimals']}f",
                continuous_update=False,
                style={"description_width": "initial"},
                layout={"width": "36em"},
            )
            slider.observe(self._moved, "value")
            self._sliders[path] = (slider, unit)
        self._table = ipywidgets.HTML()
        self._note = ipywidgets.HTML()
        boxes = [slider for slider, _ in self._sliders.values()]
        self.widget = ipywidgets.VBox([*boxes, self._note, self._table])
        self._show(evaluate(job))

    def _moved(self, _change: Any) -> None:
        values = {
            path: (slider.value - unit["offset"]) / unit["factor"]
            for path, (slider, unit) in self._sliders.items()
        }
        try:
            self.job = self._start.replace(values)
            findings = evaluate(self.job)
        except InputError as error:
            self._note.value = f"<pre style='color:#a11'>{escape(str(error))}</pre>"
            return
        self._note.value = ""
        self._show(findings)

    def _show(self, findings: Findings) -> None:
        table = findings.table(units=self._system)
        table.rows, table.marks = table.rows[: self._rows], table.marks[: self._rows]
        self._table.value = table._repr_html_()

    def _ipython_display_(self) -> None:
        from IPython.display import display

        display(self.widget)  # type: ignore[no-untyped-call]
