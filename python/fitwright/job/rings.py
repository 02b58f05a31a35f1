"""One ring of a job in a model of its own, with the numbers of the job."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any

from fitwright.fields.errors import InputError
from fitwright.fields.units import Number
from fitwright.heat import formulas
from fitwright.job.findings import evaluate
from fitwright.job.slices import slice_paths
from fitwright.rings import formulas as ring_formulas

if TYPE_CHECKING:
    from fitwright.heat import ChillResult, LoosenResult, SeatingResult, SlipOnResult, SoakResult
    from fitwright.job.value import Job
    from fitwright.models.parts import Ring, Shaft
    from fitwright.rings import ElasticPlasticFitResult

__all__ = ["chill", "loosen", "seating", "slip_on", "soak", "yielding"]

AIR = (
    "room",
    "air_film",
    "air_film_low",
    "air_film_high",
    "emissivity",
    "gas_conductivity",
    "standing_gap",
    "standing_gap_low",
    "standing_gap_high",
    "asperity_height",
    "asperity_slope",
    "contact_hardness",
    "contact_factor",
    "contact_factor_low",
    "contact_factor_high",
    "shaft_goes_on",
)
RING = ("roughness", "smoothing", "friction", "modulus_factor", "expansion_factor")


def yielding(
    job: Job, ring: str, state: str | None, slice: int | None, more: Mapping[str, Any]
) -> ElasticPlasticFitResult:
    """See `Job.yielding`."""
    state = _known(job, state)
    built = job.states[0]
    shaft = job[f"states.{built}.shaft_temperature"]
    return ring_formulas.elastic_plastic_fit(
        **_parts(job, ring, slice),
        shaft_temperature=shaft,
        ring_temperature=shaft + job[f"states.{built}.lags.{ring}"],
        speed=float(job[f"states.{state}.speed"]),
        **more,
    )


def chill(job: Job, ring: str, shaft_lowest: Number) -> ChillResult:
    """See `Job.chill`."""
    slices = slice_paths(_row(job, ring))
    return formulas.chill(
        **_parts(job, ring, 1 if slices else None),  # only the bore counts
        shaft_temperature=_shaft_temperature(job),
        slip_clearance=_given(job, f"rings.{ring}.slip_clearance"),
        heating_limit=_given(job, f"rings.{ring}.heating_limit"),
        shaft_lowest=shaft_lowest,
    )


def slip_on(job: Job, ring: str, slice: int | None) -> SlipOnResult:
    """See `Job.slip_on`."""
    here = f"rings.{ring}"
    return formulas.slip_on(
        **_parts(job, ring, slice),
        shaft_temperature=_shaft_temperature(job),
        slip_clearance=_given(job, f"{here}.slip_clearance"),
        oven=_given(job, f"{here}.oven"),
        heating_limit=_given(job, f"{here}.heating_limit"),
        carry_time=float(job[f"{here}.carry_time"]),
        slide_time=float(job[f"{here}.slide_time"]),
        **_workshop(job, AIR),
    )


def seating(job: Job, ring: str, slice: int | None) -> SeatingResult:
    """See `Job.seating`."""
    reacted = str(_row(job, ring).get("press_against", "shaft"))
    return formulas.seating(
        **_parts(job, ring, slice),
        press_force=float(job[f"rings.{ring}.press"]),
        reacted="outside" if reacted == "outside" else "shaft",
        allowed_gap=float(job[f"rings.{ring}.allowed_gap"]),
        **_workshop(job, ("gauge_uncertainty", "thinnest_leaf")),
    )


def soak(job: Job, ring: str, slice: int | None, oven: Mapping[str, Any]) -> SoakResult:
    """See `Job.soak`."""
    setting = _given(job, f"rings.{ring}.oven")
    if setting is None:
        setting = float(evaluate(job, "quick")[job.states[0], f"rings.{ring}.oven_needed"])
    given = {"oven": setting, "start": float(job["workshop.room"])}
    return formulas.soak(ring=_parts(job, ring, slice)["ring"], **{**given, **oven})


def loosen(job: Job, ring: str, slice: int | None, heat: Mapping[str, Any]) -> LoosenResult:
    """See `Job.loosen`."""
    given = {
        "loose_clearance": _given(job, f"rings.{ring}.slip_clearance"),
        "heating_limit": _given(job, f"rings.{ring}.heating_limit"),
        "shaft_temperature": _shaft_temperature(job),
        **_workshop(job, AIR),
    }
    return formulas.loosen(**_parts(job, ring, slice), **{**given, **heat})


def _workshop(job: Job, names: Iterable[str]) -> dict[str, Any]:
    return {name: float(job[f"workshop.{name}"]) for name in names}


def _shaft_temperature(job: Job) -> float:
    return float(job[f"states.{job.states[0]}.shaft_temperature"])


def _parts(job: Job, ring: str, slice: int | None) -> dict[str, Any]:
    """Shaft and ring; of a ring with steps the slice that was asked for."""
    row = _row(job, ring)
    paths = slice_paths(row)
    if not paths and slice is not None:
        raise InputError([("slice", f"{ring} has no slices")])
    if paths and slice is None:
        told = f"{ring} has steps: name one of its slices, 1 to {len(paths)}, from the shoulder"
        raise InputError([("slice", told)])
    if slice is not None and not 1 <= slice <= len(paths):
        raise InputError([("slice", f"must be 1 to {len(paths)}, from the shoulder")])
    here = f"rings.{ring}" if slice is None else paths[slice - 1]
    return {"shaft": _shaft(job, row), "ring": _ring(job, row, here)}


def _row(job: Job, ring: str) -> dict[str, Any]:
    for row in job.file.rows("ring"):
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
    from fitwright.models.parts import Shaft

    seat = f"seats.{row['seat']}"
    table = job.file.table("shaft") or {}
    return Shaft(
        material=job.file.material("shaft.material", table["material"]),
        bore=float(job["shaft.bore"]),
        seat=float(job[f"{seat}.diameter"]),
        roughness=float(job[f"{seat}.roughness"]),
        modulus_factor=float(job["shaft.modulus_factor"]),
        expansion_factor=float(job["shaft.expansion_factor"]),
    )


def _ring(job: Job, row: dict[str, Any], here: str) -> Ring:
    """The ring with outside and lengths as told at `here`: its own, or those of a slice."""
    from fitwright.models.parts import Ring

    path = f"rings.{row['name']}"
    return Ring(
        material=job.file.material(f"{path}.material", row["material"]),
        bore=float(job[f"{path}.bore"]),
        outside=float(job[f"{here}.outside"]),
        length=float(job[f"{here}.length"]),
        contact_length=_given(job, f"{here}.contact_length"),
        friction_low=float(job[f"{path}.friction_low"]),
        friction_high=float(job[f"{path}.friction_high"]),
        **{name: float(job[f"{path}.{name}"]) for name in RING},
    )
