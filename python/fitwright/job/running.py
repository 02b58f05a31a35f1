"""The bearing of a job from state to state: tables, and pictures of where the clearance went."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fitwright.bearings.balls import Balls
from fitwright.fields.errors import InputError
from fitwright.fields.tables import Table
from fitwright.job.findings import Findings, evaluate

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from fitwright.job.value import Job

#: Head and output of each column; further groups are there with a radial load or a moment in a
#: state, with a [service], with a [pocket].
RUNNING = (
    ("clearance", "clearance"),
    ("angle, inner", "inner_angle"),
    ("angle, outer", "outer_angle"),
    ("peak stress, inner", "inner_peak"),
    ("peak stress, outer", "outer_peak"),
    ("left to the edge, inner", "inner_edge"),
    ("left to the edge, outer", "outer_edge"),
    ("gap to the other half", "arch_gap"),
)
COMBINED = (
    ("greatest ball load", "combined.greatest_outer_load"),
    ("peak stress of the worst ball, inner", "combined.inner_peak"),
    ("peak stress of the worst ball, outer", "combined.outer_peak"),
    ("safety of the worst contact", "combined.contact_safety"),
    ("radial displacement", "combined.radial_displacement"),
    ("radial displacement across", "combined.radial_displacement_across"),
    ("tilt", "combined.tilt"),
    ("tilt across", "combined.tilt_across"),
)
SERVICE = (
    ("static safety", "static_safety"),
    ("film", "viscosity_ratio"),
    ("life", "modified_life"),
    ("running time", "running_time"),
    ("drag", "friction_torque"),
    ("creep margin, inner", "inner_margin"),
)
POCKET = (("creep margin, outer", "outer_margin"),)
HEARD = (
    ("cage", "cage", "cage_ratio"),
    ("ball about itself", "ball_spin", "ball_ratio"),
    ("over a spot of the inner raceway", "inner_pass", "inner_pass_ratio"),
    ("over a spot of the outer raceway", "outer_pass", "outer_pass_ratio"),
)
#: What the core gives for a life that has no end: 1e12 s.
ENDLESS = 0.999e12


def require_bearing(job: Job) -> None:
    if job.file.table("bearing") is None:
        raise InputError([("bearing", "is not in this job")])


def state_title(job: Job, state: str) -> str:
    if state not in job.states:
        raise InputError([("state", f'"{state}" is not one of {", ".join(job.states)}')])
    row = next(r for r in job.file.rows("state") if r["name"] == state)
    return str(row.get("title", state))


def bearing_columns(job: Job) -> tuple[tuple[str, str], ...]:
    """Heads and outputs that this job has."""
    told = job.file
    return (
        *RUNNING,
        *(COMBINED if told.has_ring_loads else ()),
        *(SERVICE if told.table("service") is not None else ()),
        *(POCKET if told.has_held_pocket else ()),
    )


def written(found: Findings, state: str, name: str, system: str) -> str:
    """An output of the bearing; a life that has no end is a dash."""
    value = found[state, f"bearing.{name}"]
    if name in ("modified_life", "running_time"):
        if found[state, "bearing.running_time"] > ENDLESS:
            return "-"
    elif name == "duty_time":
        if value > ENDLESS:
            return "-"
    elif name in ("static_safety", "combined.contact_safety") and value > 1e5:
        return "-"
    return value.shown(system)


def bearing_table(job: Job, system: str) -> Table:
    require_bearing(job)
    found = evaluate(job, "quick")
    columns = bearing_columns(job)
    rows = [
        [title, *(written(found, state, name, system) for state in job.states)]
        for title, name in columns
    ]
    return Table(["bearing", *job.states], rows, title=job.title)


def frequencies_table(job: Job, system: str) -> Table:
    require_bearing(job)
    found = evaluate(job, "quick")
    rows = []
    for state in job.states:
        if job[f"states.{state}.speed"] <= 0.0:
            continue
        for title, hertz, ratio in HEARD:
            rows.append(
                [
                    state,
                    title,
                    found[state, f"bearing.{hertz}"].shown(system),
                    f"{float(found[state, f'bearing.{ratio}']):.3f}",
                ]
            )
    return Table(["state", "balls", "frequency", "in a turn of the shaft"], rows, title=job.title)


def clearance_steps(job: Job, state: str) -> dict[str, float]:
    """Clearance on the bench and what each cause adds until the state [m]; their sum is what is
    left. Speed: the same state at rest is what it is told from."""
    require_bearing(job)
    state_title(job, state)
    found = evaluate(job, "quick")
    built = job.states[0]
    resting = evaluate(job.replace({f"states.{state}.speed": 0.0}), "quick")
    fitted = float(found[built, "bearing.raceway_growth"])
    warm = float(resting[state, "bearing.raceway_growth"])
    running = float(found[state, "bearing.raceway_growth"])
    return {
        "on the bench": float(job["bearing.clearance"]),
        "fit and clamp of the inner ring": -fitted,
        "its heat, and the shaft's": fitted - warm,
        "its speed": warm - running,
        "heat of the outer ring": float(found[state, "bearing.outer_growth"]),
        "heat of the balls": -float(found[state, "bearing.balls_growth"]),
    }


def draw_waterfall(job: Job, state: str | None) -> Axes:
    from fitwright.charts.bearing import clearance_waterfall

    chosen = job.states[-1] if state is None else state
    axes = clearance_waterfall(clearance_steps(job, chosen))
    axes.set_title(f"{job.title}: {state_title(job, chosen)}", fontsize=10)
    return axes


def balls_in(job: Job, state: str | None) -> Balls:
    require_bearing(job)
    chosen = job.states[-1] if state is None else state
    state_title(job, chosen)
    return Balls(job.core.balls(chosen))


def draw_loads(job: Job, state: str | None) -> Axes:
    chosen = job.states[-1] if state is None else state
    axes = balls_in(job, chosen).draw()
    axes.set_title(f"{job.title}: {state_title(job, chosen)}", fontsize=10, y=0.93)
    return axes
