"""How an output of a job came about, from the job file on."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from fitwright import _core
from fitwright.fields.units import shown
from fitwright.job.file import JobFile
from fitwright.materials import material
from fitwright.models.explanation import Explanation, Line, lines_of
from fitwright.models.results import MODELS

if TYPE_CHECKING:
    from fitwright.job.value import Job

__all__ = ["calculated", "explain", "sources_of"]

#: Whose formulas the outputs of a block come from, by the first word of their paths.
MODELS_OF = {
    "rings": ("rings.fit", "heat.oven"),
    "seals": ("rings.seal",),
    "nut": ("threads.tighten", "threads.nut_growth"),
    "assembly": ("threads.tighten",),
    "bearing": ("bearings.mounted", "bearings.thrust_equilibrium", "bearings.service"),
    "pocket": ("bearings.housing_fit",),
    "plate": ("joints.ring_plate",),
}
STACK = "the loop of forces through shaft and rings, derived in docs/theory.md"
STEPPED = (
    "an output of level {level}: followed in steps, with contact and friction as the step before "
    "left them (docs/theory-history.md, docs/theory-heat.md). No one formula gives it; named are "
    "the inputs it changes with where the job stands."
)


def explain(job: Job, output: str, state: str | None) -> Explanation:
    """See `Job.explain`."""
    state = state or job.states[0]
    core = job.core.at("heating")
    number = core.output(state, output)  # an unknown one is told with the nearest
    quick = core.at("quick")
    title = f"{output} in {state}: {job.title}"
    if number >= len(quick.outputs()):
        lines = _stepped(job, core, number)
        how = STEPPED.format(level=core.level_of(number))
        return Explanation(title, lines, [("how it is found", how)])
    lines = calculated(job, _core.JobCalculation(quick).lines([number]))
    return Explanation(title, lines, sources_of(lines))


def calculated(job: Job, rows: list[dict[str, Any]]) -> list[Line]:
    """Lines as the core tells them, with where inputs and properties came from."""
    origins = _origins(job, {row["leaf"] for row in rows if row["kind"] == "input"})
    own = job.file.own_metals
    named = {row["meaning"] for row in rows if row["kind"] == "property" and row["meaning"]}
    metals = {name: own[name] if name in own else material(name) for name in named}
    return lines_of(rows, origins, metals)


def _origins(job: Job, leaves: set[int]) -> dict[int, str]:
    """Where each input came from: a reading, a change, the job file, or its standard value."""
    as_read = JobFile(job.file.text).build()[0].values()

    def of(leaf: int) -> str:
        path = job.input_rows[leaf][0]
        if path in job.readings:
            return "measured"
        if job.core.value(leaf) != as_read[leaf]:
            return "changed since the job file was read"
        return "told in the job file" if path in job.file.told else "standard value"

    return {leaf: of(leaf) for leaf in leaves}


def sources_of(lines: list[Line]) -> list[tuple[str, str]]:
    """Sources of the formulas that were used, and what they hold for."""
    outputs = [line.name.split(" ")[0] for line in lines if line.leaf >= 0 and line.kind != "input"]
    told: list[tuple[str, str]] = []
    for block, names in MODELS_OF.items():
        asked = {path.rpartition(".")[2] for path in outputs if path.startswith(f"{block}.")}
        for name in names:
            if asked & {field["name"] for field in MODELS[name]["outputs"]["fields"]}:
                told.append((f"source of {name}", MODELS[name]["source"]))
                told.append((f"{name} holds for", MODELS[name]["validity"]))
    if any(path.startswith(("shoulder.", "stack.", "nut.")) for path in outputs):
        told.append(("source of clamp and nut force", STACK))
    return list(dict.fromkeys(told))


def _stepped(job: Job, core: _core.Job, number: int) -> list[Line]:
    """What is followed through time: its value, and what it hangs on."""
    state, path, quantity, meaning = core.outputs()[number]
    leaves = _core.hangs_on(core, number)
    origins = _origins(job, set(leaves))
    inputs = []
    for leaf in leaves:
        name, kind, means, _ = job.input_rows[leaf]
        line = _plain("input", name, means, job.core.value(leaf), kind)
        inputs.append(replace(line, leaf=leaf, origin=origins[leaf]))
    answer = _plain("stepped", path, meaning, core.evaluate()[number], quantity)
    names = ", ".join(line.symbol for line in inputs)
    return [*inputs, replace(answer, formula=names, where=state)]


def _plain(kind: str, path: str, meaning: str, value: float, quantity: str) -> Line:
    text = shown(value, quantity, "metric")
    result, _, unit = text.partition(" ")
    return Line(
        kind,
        path,
        path,
        meaning,
        "",
        "",
        "",
        "",
        value,
        result,
        unit,
        f"\\text{{{text}}}",
        (),
        -1,
        "",
    )
