"""A job's rings and faces out of square: the stack of a state, for clocking and unbalance."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from fitwright.fields.errors import InputError
from fitwright.fields.units import Number
from fitwright.job.findings import evaluate
from fitwright.job.slices import length_of, outside_of
from fitwright.stack.squareness import SquareStack

if TYPE_CHECKING:
    from fitwright.job.value import Job

__all__ = ["least_clamp", "square_stack"]

#: Numbers a ring of the job and of the square stack have alike.
RING = (
    "bore",
    "outside",
    "length",
    "wedge",
    "wedge_angle",
    "runout",
    "runout_angle",
    "modulus_factor",
    "expansion_factor",
)


def least_clamp(job: Job, state: str) -> tuple[float, str]:
    """Least force through the stack in a state by the history, and where: over every face, with
    nut and shoulder at both ends of friction."""
    found = evaluate(job, level="history")
    steps = [name for name, kind, _, to, _ in job.core.steps() if kind == "state" and to == state]
    if not steps and state == job.states[0]:
        steps = [name for name, kind, *_ in job.core.steps() if kind == "lock"]
    if not steps:
        raise InputError([("state", f'no step of the job goes to the state "{state}"')])
    step = steps[-1]
    places = {"the nut": "nut.clamp_least", "the shoulder": "shoulder.clamp_least"}
    places |= {f"the face of {ring}": f"rings.{ring}.face_force" for ring in job.rings}
    forces = {where: float(found[step, path]) for where, path in places.items()}
    where = min(forces, key=lambda place: forces[place])
    return forces[where], where


def square_stack(
    job: Job,
    state: str | None,
    rotor_mass: Number,
    clamp: Number = None,
    speed: Number = None,
    masses: Mapping[str, Number] | None = None,
    **whole: Number,
) -> SquareStack:
    """See `Job.squareness`."""
    from fitwright.models.parts import SquareRing, SquareShaft

    if state is None:
        state = max(job.states, key=lambda name: job[f"states.{name}.speed"])
    if state not in job.states:
        raise InputError([("state", f'"{state}" is not a state of this job')])
    if speed is None:
        speed = float(job[f"states.{state}.speed"])
        if speed == 0.0:
            told = f'the shaft stands still in "{state}": name a state that turns, or a speed'
            raise InputError([("speed", told)])
    if clamp is None:
        clamp, where = least_clamp(job, state)
        if clamp <= 0.0:
            told = f"is 0 at {where} in {state} by the history: an open face bends nothing"
            raise InputError([("clamp", told)])
    given = {} if masses is None else dict(masses)
    strangers = [(f"masses.{name}", "is not a ring") for name in given if name not in job.rings]
    if strangers:
        raise InputError(strangers)
    rings: dict[str, Any] = {}
    for row in job.file.rows("ring"):
        name = str(row["name"])
        numbers = {key: float(job[f"rings.{name}.{key}"]) for key in RING}
        numbers |= {"outside": float(outside_of(job, row)), "length": float(length_of(job, row))}
        rings[name] = SquareRing(
            **numbers, mass=given.get(name), material=_metal(job, f"rings.{name}", row)
        )
    lock = job.file.table("lock")
    if lock is not None:
        rings["lock"] = SquareRing(
            bore=float(job["lock.bore"]),
            outside=float(job["lock.outside"]),
            length=float(job["lock.thickness"]),
            material=_metal(job, "lock", lock),
        )
    table = job.file.table("shaft") or {}
    first = job.file.rows("ring")[0]
    # Both runouts of the ends are told at one diameter there.
    shaft = SquareShaft(
        bore=float(job["shaft.bore"]),
        shoulder_runout=float(job["shaft.shoulder_runout"]),
        shoulder_angle=float(job["shaft.shoulder_angle"]),
        nut_runout=float(job["nut.face_runout"])
        * float(outside_of(job, first))
        / float(job["nut.face_outside"]),
        nut_angle=float(job["nut.face_angle"]),
        modulus_factor=float(job["shaft.modulus_factor"]),
        material=_metal(job, "shaft", table),
    )
    return SquareStack(
        shaft=shaft,
        rings=rings,
        clamp=clamp,
        rotor_mass=rotor_mass,
        speed=speed,
        temperature=float(job[f"states.{state}.shaft_temperature"]),
        **whole,
    )


def _metal(job: Job, path: str, table: Mapping[str, Any]) -> Any:
    return job.file.material(f"{path}.material", table.get("material"))
