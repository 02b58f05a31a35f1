"""The arguments of a study, what is asked of them before it starts, and its progress bar."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from fitwright.fields.errors import InputError
from fitwright.studies.levels import problems_of_levels

if TYPE_CHECKING:
    from fitwright.job.value import Job

__all__ = ["StudyOptions", "check_run", "progress_bar"]

#: What the core starts at most.
MOST_THREADS = 1024
DESIGNS = ("plain", "latin_hypercube", "sobol")


@dataclass(frozen=True)
class StudyOptions:
    """The arguments of `Job.study`."""

    samples: int
    seed: int
    outputs: Sequence[str] | str | None
    threads: int | None
    progress: bool | None
    design: str = "plain"
    executor: Any = None
    checkpoint: str | os.PathLike[str] | None = None
    keep: Sequence[str] | str = ()
    until_width: float | None = None
    columns_to: str | os.PathLike[str] | None = None
    level: str | None = None
    levels: Mapping[str, int | float] | None = None

    @property
    def workers(self) -> int:
        return self.threads or os.cpu_count() or 1

    def problems(self) -> list[tuple[str, str]]:
        found = []
        counted = isinstance(self.samples, int) and not isinstance(self.samples, bool)
        if not counted or self.samples < 1:
            found.append(("samples", f"{self.samples!r} must be a whole number above 0"))
        if not isinstance(self.seed, int) or not 0 <= self.seed < 1 << 64:
            found.append(("seed", f"{self.seed!r} must be a whole number from 0 to below 2^64"))
        if self.threads is not None and not 1 <= self.threads <= MOST_THREADS:
            told = f"{self.threads!r} must be a whole number from 1 to {MOST_THREADS}"
            found.append(("threads", told))
        if self.design not in DESIGNS:
            found.append(("design", f"{self.design!r} must be one of {', '.join(DESIGNS)}"))
        if self.executor is not None and not hasattr(self.executor, "submit"):
            found.append(("executor", f"{type(self.executor).__name__} has no submit"))
        if self.until_width is not None and not 0.0 < self.until_width < 1.0:
            found.append(("until_width", f"{self.until_width!r} must lie between 0 and 1"))
        if counted and self.samples > 0:
            found += problems_of_levels(self.levels, self.level, self.samples)
        return found


def check_run(job: Job, problems: list[tuple[str, str]], level: str) -> None:
    """What every study needs before it starts."""
    job.check_scatter(problems)
    if problems:
        raise InputError(problems)
    # A job that cannot be evaluated is told as such, not as lost samples.
    job.core.at(level).evaluate()


def progress_bar(work: float, show: bool) -> Any:
    """In seconds of work, as the first samples told it, or in anything else that takes its time."""
    from tqdm import tqdm

    form = "{l_bar}{bar}| {elapsed} gone, {remaining} to go"
    return tqdm(total=work, bar_format=form, disable=not show, leave=False)
