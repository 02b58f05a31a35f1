"""Which levels a study counts, with how many samples each, and how long that takes."""

from __future__ import annotations

import time
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING

from fitwright.fields.errors import InputError
from fitwright.fields.tables import Shown, Table
from fitwright.fields.user_text import shortened, told
from fitwright.studies.blocks import make_run
from fitwright.studies.plan import Limits, Part, Plan

if TYPE_CHECKING:
    from fitwright import _core
    from fitwright.job.system import System

LEVELS = ("quick", "history", "heating")
#: By themselves the dearer levels get this share of the samples, and at least so many.
USUAL = {"history": (100, 400), "heating": (500, 200)}
#: A level that gets a share of the time has at least so many.
FEWEST = 64


def problems_of_levels(
    levels: Mapping[str, int | float] | None, level: str | None, samples: int
) -> list[tuple[str, str]]:
    """What is wrong with the levels told."""
    if levels is None:
        return []
    if level is not None:
        return [("levels", f'cannot be told together with level = "{level}"')]
    if not isinstance(levels, Mapping) or not levels:
        return [("levels", "must be a table of level and samples, {'quick': 1000000}")]
    found = []
    for name, count in levels.items():
        if name not in LEVELS:
            known = ", ".join(LEVELS)
            found.append(("levels", f'"{shortened(name)}" is not a level; there are {known}'))
        elif isinstance(count, bool) or not isinstance(count, int | float):
            found.append((f"levels.{name}", f"{told(count)} must be a number of samples"))
        elif isinstance(count, float) and not 0.0 < count < 1.0:
            found.append(
                (f"levels.{name}", f"{count!r} must be a whole number, or a share below 1")
            )
        elif isinstance(count, float) and name == "quick":
            found.append(("levels.quick", f"{count!r} must be a whole number of samples"))
        elif isinstance(count, int) and count < 1:
            found.append((f"levels.{name}", f"{count} must be a whole number above 0"))
    if found:
        return found
    if "heating" in levels and "history" not in levels:
        found.append(("levels.heating", 'needs "history" as well, which it is joined to'))
    shares = [count for count in levels.values() if isinstance(count, float)]
    if sum(shares) >= 1.0:
        found.append(("levels", "shares of the time must leave some for the quick level"))
    most, before = samples, "quick"
    for name in LEVELS:
        wanted = levels.get(name)
        if wanted is None and name == "quick":
            wanted = samples
        if not isinstance(wanted, int):
            continue
        if name != "quick" and wanted > most:
            found.append(
                (f"levels.{name}", f"{wanted} must be at most the {most} of level {before}")
            )
        most, before = wanted, name
    return found


@dataclass(frozen=True)
class Wanted:
    """Outputs by the level they belong to: with limits, asked for, and to be kept as columns."""

    limits: dict[str, Limits]
    more: dict[str, Limits]
    keep: frozenset[str]


def wanted_of(job: System, outputs: Sequence[str], keep: Sequence[str], last: str) -> Wanted:
    """What a study up to the level `last` looks at; outputs of one's own were told to be."""
    core = job.asked.at(last)
    rows = core.outputs()
    none = float("nan")
    limits: dict[str, list[tuple[int, float, float]]] = {name: [] for name in LEVELS}
    more: dict[str, list[tuple[int, float, float]]] = {name: [] for name in LEVELS}
    for row in core.limits():
        limits[core.level_of(row[0])].append(row)
    limited = {row[0] for rows_of in limits.values() for row in rows_of}
    own = [path for _, path, *_ in rows if path.startswith("outputs.")]
    for path in dict.fromkeys([*own, *outputs, *keep]):
        found = [i for i, (_, p, *_) in enumerate(rows) if p == path]
        if not found:
            core.output(job.states[0], path)  # raises, with the nearest paths
        for i in found:
            if i not in limited:
                more[core.level_of(i)].append((i, none, none))
    return Wanted(
        {name: tuple(v) for name, v in limits.items()},
        {name: tuple(v) for name, v in more.items()},
        frozenset(keep),
    )


def parts_of(
    job: System,
    samples: int,
    level: str | None,
    levels: Mapping[str, int | float] | None,
    outputs: Sequence[str],
    keep: Sequence[str],
) -> list[tuple[Part, float]]:
    """The parts of a study; beside each the share of the time it is to take, 0 where told."""
    rows = job.asked.at("heating").outputs()

    def part(name: str, count: int, tracked: Limits, held: Limits) -> Part:
        kept = tuple(n for n, row in enumerate(tracked) if rows[row[0]][1] in wanted.keep)
        return Part(name, count, tracked, held, kept)

    if level is not None:
        wanted = wanted_of(job, outputs, keep, level)
        mine = LEVELS[: LEVELS.index(level) + 1]
        tracked = tuple(row for name in mine for row in wanted.limits[name])
        tracked += tuple(row for name in mine for row in wanted.more[name])
        return [(part(level, samples, tracked, ()), 0.0)]
    wanted = wanted_of(job, outputs, keep, "heating")
    made = []
    held: Limits = ()
    for name in LEVELS:
        tracked = wanted.limits[name] + wanted.more[name]
        if levels is not None and name != "quick" and name not in levels:
            break
        if levels is not None:
            told = levels.get(name, samples)
        elif name == "quick":
            told = samples
        else:
            share, least = USUAL[name]
            told = min(samples, max(least, samples // share))
        if tracked or name == "quick":
            by_share = isinstance(told, float)
            count = FEWEST if by_share else int(told)
            made.append((part(name, count, tracked, held), float(told) if by_share else 0.0))
        held += wanted.limits[name]
    return made


@dataclass(frozen=True)
class Prepared:
    """A study that is ready to run: its runs, and how long each part takes [s]."""

    plan: Plan
    runs: list[_core.StudyRun]
    seconds: list[float]


def prepare(
    job: System, plan: Plan, shares: Sequence[float], threads: int, fixed: bool
) -> Prepared:
    """Makes the runs, which look at their first samples, and times them. `fixed`: no share may be
    asked for, since the samples it gives depend on the clock."""
    runs, per_sample, parts = [], [], []
    for part in plan.parts:
        begun = time.perf_counter()
        run = make_run(job, plan, part, threads)
        took = time.perf_counter() - begun
        # The first samples fill few threads: at most one to a chunk.
        busy = max(1, min(threads, -(-run.first_samples // run.chunk_samples)))
        per_sample.append(took / max(1, run.first_samples) * busy / threads)
        runs.append(run)
        parts.append(replace(part, chunk=run.chunk_samples, scales=tuple(run.scales)))
    told = sum(p.samples * t for p, t, s in zip(parts, per_sample, shares, strict=True) if not s)
    whole = told / (1.0 - sum(shares))
    for place, share in enumerate(shares):
        if not share:
            continue
        most = parts[place - 1].samples
        count = min(most, max(FEWEST, _two_digits(share * whole / per_sample[place])))
        if fixed:
            name = parts[place].level
            raise InputError(
                [
                    (
                        f"levels.{name}",
                        "a share of the time gives another number of samples each time; with a "
                        f"checkpoint tell the number (about {count} here)",
                    )
                ]
            )
        parts[place] = replace(parts[place], samples=count, scales=())
        runs[place] = make_run(job, plan, parts[place], threads)
        parts[place] = replace(parts[place], scales=tuple(runs[place].scales))
    for before, part in pairwise(parts):
        if part.samples > before.samples:
            text = f"{part.samples} must be at most the {before.samples} of level {before.level}"
            raise InputError([(f"levels.{part.level}", text)])
    seconds = [part.samples * t for part, t in zip(parts, per_sample, strict=True)]
    return Prepared(replace(plan, parts=tuple(parts)), runs, seconds)


def _two_digits(count: float) -> int:
    """Rounded down, so that it can be told again."""
    whole = int(count)
    digits = max(0, len(str(whole)) - 2)
    step = int("1" + "0" * digits)
    return whole // step * step


class StudyTime(Shown):
    """How long a study will take: samples of each level, and about so many seconds of `threads`."""

    def __init__(self, prepared: Prepared, threads: int) -> None:
        self.threads = threads
        #: samples of each level
        self.levels = {part.level: part.samples for part in prepared.plan.parts}
        #: seconds of each level, measured on its first samples
        self.by_level = dict(zip(self.levels, prepared.seconds, strict=True))

    @property
    def seconds(self) -> float:
        return sum(self.by_level.values())

    def __str__(self) -> str:
        parts = [f"{samples} samples at {level} level" for level, samples in self.levels.items()]
        return f"{', '.join(parts)}: about {_duration(self.seconds)} on {self.threads} threads"

    def table(self) -> Table:
        rows = [
            [level, str(samples), f"{self.by_level[level]:.1f} s"]
            for level, samples in self.levels.items()
        ]
        return Table(["level", "samples", "time"], rows, str(self))


def _duration(seconds: float) -> str:
    if seconds < 90.0:
        return f"{max(seconds, 0.1):.2g} s" if seconds < 10.0 else f"{seconds:.0f} s"
    return f"{seconds / 60.0:.0f} min" if seconds < 5400.0 else f"{seconds / 3600.0:.1f} h"
