"""One ring of a job in a model the job does not run: a fit that yields, a chilled shaft."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from fitwright.errors import InputError
from fitwright.ringslices import slice_paths
from fitwright.units import Number

if TYPE_CHECKING:
    from fitwright.heat import ChillResult
    from fitwright.job import Job
    from fitwright.parts import Ring, Shaft
    from fitwright.rings import ElasticPlasticFitResult

__all__ = ["chill", "yielding"]

RING = ("roughness", "smoothing", "friction", "modulus_factor", "expansion_factor")


def yielding(
    job: Job, ring: str, state: str | None, slice: int | None, more: Mapping[str, Any]
) -> ElasticPlasticFitResult:
    """See `Job.yielding`."""
    from fitwright import rings

    row = _row(job, ring)
    state = _known(job, state)
    built = job.states[0]
    shaft = job[f"states.{built}.shaft_temperature"]
    paths = slice_paths(row)
    here = f"rings.{ring}"
    if paths:
        if slice is None:
            told = f"{ring} has steps: name one of its slices, 1 to {len(paths)}, from the shoulder"
            raise InputError([("slice", told)])
        if not 1 <= slice <= len(paths):
            raise InputError([("slice", f"must be 1 to {len(paths)}, from the shoulder")])
        here = paths[slice - 1]
    elif slice is not None:
        raise InputError([("slice", f"{ring} has no slices")])
    return rings.elastic_plastic_fit(
        shaft=_shaft(job, row),
        ring=_ring(job, row, here),
        shaft_temperature=shaft,
        ring_temperature=shaft + job[f"states.{built}.lags.{ring}"],
        speed=float(job[f"states.{state}.speed"]),
        **more,
    )


def chill(job: Job, ring: str, shaft_lowest: Number) -> ChillResult:
    """See `Job.chill`."""
    from fitwright import heat

    row = _row(job, ring)
    if slice_paths(row):
        largest = max(slice_paths(row), key=lambda path: job[f"{path}.outside"])
    else:
        largest = f"rings.{ring}"
    return heat.chill(
        shaft=_shaft(job, row),
        ring=_ring(job, row, largest),
        shaft_temperature=float(job[f"states.{job.states[0]}.shaft_temperature"]),
        slip_clearance=_given(job, f"rings.{ring}.slip_clearance"),
        heating_limit=_given(job, f"rings.{ring}.heating_limit"),
        shaft_lowest=shaft_lowest,
    )


def _row(job: Job, ring: str) -> dict[str, Any]:
    for row in job._file.rows("ring"):
        if row["name"] == ring:
            return row
    raise InputError([("ring", f'"{ring}" is not a ring of this job: {", ".join(job.rings)}')])


def _known(job: Job, state: str | None) -> str:
    state = job.states[0] if state is None else state
    if state not in job.states:
        raise InputError(
            [("state", f'"{state}" is not a state of this job: {", ".join(job.states)}')]
        )
    return state


def _given(job: Job, path: str) -> float | None:
    value = float(job[path])
    return value if value < float("inf") else None


def _shaft(job: Job, row: dict[str, Any]) -> Shaft:
    from fitwright.parts import Shaft

    seat = f"seats.{row['seat']}"
    table = job._file.table("shaft") or {}
    return Shaft(
        material=job._file._material("shaft.material", table["material"]),
        bore=float(job["shaft.bore"]),
        seat=float(job[f"{seat}.diameter"]),
        roughness=float(job[f"{seat}.roughness"]),
        modulus_factor=float(job["shaft.modulus_factor"]),
        expansion_factor=float(job["shaft.expansion_factor"]),
    )


def _ring(job: Job, row: dict[str, Any], here: str) -> Ring:
    """The ring with outside and lengths as told at `here`: its own, or those of a slice."""
    from fitwright.parts import Ring

    path = f"rings.{row['name']}"
    return Ring(
        material=job._file._material(f"{path}.material", row["material"]),
        bore=float(job[f"{path}.bore"]),
        outside=float(job[f"{here}.outside"]),
        length=float(job[f"{here}.length"]),
        contact_length=_given(job, f"{here}.contact_length"),
        friction_low=float(job[f"{path}.friction_low"]),
        friction_high=float(job[f"{path}.friction_high"]),
        **{name: float(job[f"{path}.{name}"]) for name in RING},
    )
