"""What stands on the build sheet of the steps: clamp and gaps after each."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from fitwright.job.history import step_titles
from fitwright.sheet.writer import Writer

if TYPE_CHECKING:
    from fitwright.job.value import Job


def step_values(write: Writer) -> list[dict[str, Any]]:
    """One row a step: forces at nut and shoulder with their ends, and the faces that stand open."""
    job = write.job
    names = {str(r["name"]): str(r.get("title", r["name"])) for r in job.file.rows("ring")}
    faces = [("shoulder", "the shoulder")]
    before = "the shoulder"
    for name in job.rings:
        faces.append((f"rings.{name}", f"{before} and {names[name]}"))
        before = names[name]
    lock = job.file.table("lock")
    if lock is not None:
        faces.append(("lock", f"{before} and {lock.get('kind', 'lock')}"))
    titles = step_titles(job)
    service = False
    rows: list[dict[str, Any]] = []
    before_it: list[str] = []
    for name, kind, *_ in job.core.steps():
        service = service or kind == "tighten"
        on = _on(job, name)
        gaps = [
            f"{where}: {write.output(f'{path}.face_gap', name)}"
            for path, where in faces[1:]
            if path.removeprefix("rings.") in on and write.found[name, f"{path}.face_gap"] > 0.0
        ]
        rows.append(
            {
                "title": titles[name],
                "service": service,
                "nut": write.output("nut.clamp", name),
                "nut_least": write.output("nut.clamp_least", name),
                "least": write.output("shoulder.clamp_least", name),
                "clamp": write.output("shoulder.clamp", name),
                "most": write.output("shoulder.clamp_most", name),
                "gaps": _written(gaps, before_it),
            }
        )
        before_it = gaps
    return rows


def _written(gaps: list[str], before_it: list[str]) -> str:
    """The gaps after a step; of those the step before had left alike only how many."""
    same = [gap for gap in gaps if gap in before_it]
    if len(same) < 2:
        return "; ".join(gaps) or "shut"
    new = [gap for gap in gaps if gap not in before_it]
    return "; ".join([*new, f"{len(same)} as before"])


def _on(job: Job, step: str) -> set[str]:
    """The parts that are on after a step."""
    on: set[str] = set()
    for name, kind, _, _, parts in job.core.steps():
        if kind == "slip_on":
            on.update(parts)
        if name == step:
            break
    return on
