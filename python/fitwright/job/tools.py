"""What a job says of its plate and its tools: results of their models, and a table of all tools."""

from __future__ import annotations

import importlib
from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any

from fitwright.fields import units as shop
from fitwright.fields.errors import InputError
from fitwright.fields.tables import Table
from fitwright.fields.user_text import told
from fitwright.job.attached import model_of
from fitwright.job.findings import evaluate
from fitwright.models.results import Result, flat_fields
from fitwright.tooling.choice import Trial, Trials, told_changes, weakest

if TYPE_CHECKING:
    from fitwright.job.findings import Findings
    from fitwright.job.value import Job

__all__ = ["choose", "plate_of", "tool_of", "tool_rows", "tooling_table"]


def _result(found: Findings, model: str, state: str, prefix: str) -> Result:
    """The model's own result, of outputs the job has already."""
    room, _, name = model.partition(".")
    words = "".join(word.capitalize() for word in name.split("_"))
    kind = getattr(importlib.import_module(f"fitwright.{room}"), f"{words}Result")
    names = [field["name"] for field in flat_fields(model, "outputs")]
    result: Result = kind({}, {n: float(found[state, f"{prefix}.{n}"]) for n in names})
    return result


def plate_of(job: Job, state: str | None) -> Result:
    if job.file.table("plate") is None:
        raise InputError([("plate", "is not in this job; tell it as a table [plate]")])
    name = job.states[0] if state is None else state
    return _result(evaluate(job, level="quick"), model_of("plate"), name, "plate")


def tool_rows(job: Job) -> list[tuple[dict[str, Any], str]]:
    """Each tool as told, once for every ring it serves ("" where it serves none)."""
    return [(row, ring) for row in job.file.rows("tool") for ring in row.get("rings", []) or [""]]


def tool_of(job: Job, name: str, ring: str | None, found: Findings | None = None) -> Result:
    tools = tool_rows(job)
    mine = {r: row for row, r in tools if row["name"] == name}
    if not mine:
        known = ", ".join(dict.fromkeys(str(row["name"]) for row, _ in tools)) or "none"
        raise InputError([("name", f'"{name}" is not a tool of this job; it has {known}')])
    serves = next(iter(mine)) if ring is None and len(mine) == 1 else ring or ""
    if serves not in mine:
        told = ", ".join(r for r in mine if r) or "no ring: leave it out"
        raise InputError([("ring", f"{name} serves {told}")])
    row = mine[serves]
    prefix = f"tools.{name}.{serves}" if serves else f"tools.{name}"
    found = evaluate(job, level="quick") if found is None else found
    return _result(found, model_of(str(row["kind"])), job.states[0], prefix)


class JobTrial(Trial):
    """One try in a job: the job with the change, or why it was refused, and what is not met."""

    def __init__(self, changes: Mapping[str, Any], job: Job | None, of: str, why: str) -> None:
        super().__init__(told_changes(changes), changes, None, why)
        self.job = job
        if job is not None:
            found = evaluate(job, level="quick")
            mine = [f for f in found.all if f.path.startswith(f"{of}.")]
            if not mine:
                raise InputError([("of", f'"{of}" has no findings; tell "plate" or "tools.NAME"')])
            self.not_met = list(dict.fromkeys(f.path for f in mine if not f.passed))

    @property
    def passed(self) -> bool:
        return self.job is not None and not self.not_met

    def row(self) -> list[str]:
        if self.job is None:
            return [self.name, "", "", self.refused]
        return [self.name, "", "", ", ".join(self.not_met) or "meets all limits"]


def choose(job: Job, series: Iterable[Mapping[str, Any]], of: str) -> Trials:
    trials: list[Trial] = []
    if not isinstance(series, Iterable) or isinstance(series, str | Mapping):
        raise InputError([("series", f"{told(series)} must be a list of tables path = value")])
    for changes in series:
        if not isinstance(changes, Mapping):
            raise InputError([("series", f"{told(changes)} must be a table path = value")])
        # The form of a thread is structure: a series is of the form the job has.
        numbers = {path: value for path, value in changes.items() if not path.endswith(".form")}
        try:
            trials.append(JobTrial(numbers, job.replace(numbers), of, ""))
        except InputError as error:
            if any(path == "of" for path, _ in error.problems):
                raise
            trials.append(JobTrial(numbers, None, of, str(error)))
        if trials[-1].passed:
            break
    if not trials:
        raise InputError([("series", "holds nothing to try")])
    return Trials(f"{of}: sizes tried", trials)


def tooling_table(job: Job, units: str) -> Table:
    """Every tool, for every ring it serves: load, capacity, factor, weakest element, what gives."""
    found = evaluate(job, level="quick")
    rows, marks = [], []
    for row, ring in tool_rows(job):
        result = tool_of(job, str(row["name"]), ring, found)
        outputs = result._outputs
        fields = {field["name"]: field for field in result._fields()}

        def told(name: str, here: Result = result, known: dict[str, Any] = fields) -> str:
            if name not in known:
                return ""
            value = float(here._outputs[name])
            return shop.shown(value, known[name]["quantity"], units)

        judged = "design_factor" in outputs
        least = weakest(result) if judged else ""
        rows.append(
            [
                str(row.get("title", row["name"])),
                ring,
                told("working_load"),
                told("capacity"),
                told("design_factor"),
                told("factor_margin"),
                str(least),
                told("deflection"),
            ]
        )
        met = not judged or float(outputs["factor_margin"]) >= 0.0
        marks.append("" if not judged else "good" if met else "bad")
    head = ["tool", "for", "working load", "capacity", "factor", "over the least", "weakest"]
    return Table([*head, "gives"], rows, f"{job.title}: tooling", marks)
