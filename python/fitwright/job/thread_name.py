"""A screw thread as a drawing names it: M75 × 2, 2 1/4-12 UN, Tr 75 × 10."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fitwright.fields.units import QUANTITIES

if TYPE_CHECKING:
    from fitwright.job.value import Job

__all__ = ["thread_name"]

#: Letters before the size, by the form told in the job file; after it for threads in inches.
METRIC = {"iso_metric": "M", "trapezoidal": "Tr ", "square": "square "}
INCH = {"unified": "UN", "acme": "Acme"}
#: A size is told as a fraction of an inch where it is one to within this [m].
NEAR = 2e-6


def thread_name(job: Job) -> str:
    """The nut's thread with its form as told; its hand is told apart."""
    table = job.file.table("nut") or {}
    form = str(table.get("form", "iso_metric"))
    size, pitch = float(job["nut.diameter"]), float(job["nut.pitch"])
    if form in INCH:
        per_inch = 1.0 / (pitch * _factor("inch"))
        return f"{_inches(size)}-{per_inch:.4g} {INCH[form]}"
    mm = _factor("metric")
    return f"{METRIC[form]}{size * mm:g} × {pitch * mm:g}"


def _factor(system: str) -> float:
    return float(QUANTITIES["size"][system]["factor"])


def _inches(size: float) -> str:
    """2 1/4 where it is a sixty-fourth, else a decimal."""
    inches = size * _factor("inch")
    parts, of = round(inches * 64.0), 64
    if abs(parts / of - inches) > NEAR * _factor("inch"):
        return f"{inches:.4f}".rstrip("0")
    while parts % 2 == 0 and of > 1:
        parts, of = parts // 2, of // 2
    whole, rest = divmod(parts, of)
    return " ".join([*([str(whole)] if whole else []), *([f"{rest}/{of}"] if rest else [])])
