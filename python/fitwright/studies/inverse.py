"""Questions turned round: what all of them read, and which values are best."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from fitwright import _core
from fitwright.fields import units
from fitwright.fields import user_text as usertext
from fitwright.fields.arguments import checked
from fitwright.fields.errors import InputError
from fitwright.fields.tables import Shown, Table
from fitwright.fields.units import Number, UnitProblem, shown
from fitwright.fields.value import Value

if TYPE_CHECKING:
    from fitwright.job.value import Job


# -- what all questions read ----------------------------------------------------------------------


def spreads_of(job: Job) -> list[_core.Spread]:
    return list(job.spreads.values())


def read_at(
    job: Job, at: str | float, seed: int, samples: int, threads: int | None = None
) -> tuple[str, _core.Judgement]:
    """ "nominal", "worst_case" or a pass rate, as the reader and as the core know it."""
    problems = []
    rate = 1.0
    if isinstance(at, str):
        kind = told = at
        if at not in ("nominal", "worst_case"):
            problems.append(("at", f'{at!r} must be "nominal", "worst_case" or a pass rate'))
    elif isinstance(at, bool) or not isinstance(at, int | float) or not 0.0 < at < 1.0:
        problems.append(("at", f"{at!r} must be a pass rate above 0 and below 1"))
    else:
        kind, rate, told = "rate", float(at), f"a pass rate of {at:.4%}"
    if not isinstance(samples, int) or isinstance(samples, bool) or samples < 100:
        problems.append(("samples", f"{samples!r} must be a whole number from 100"))
    if not isinstance(seed, int) or isinstance(seed, bool) or not 0 <= seed < 1 << 64:
        problems.append(("seed", f"{seed!r} must be a whole number from 0 to below 2^64"))
    if at != "nominal":
        job.check_scatter(problems)
    if problems:
        raise InputError(problems)
    workers = threads or os.cpu_count() or 1
    tied = [(a, b, value) for (a, b), value in job.correlations.items()]
    return told, _core.Judgement(kind, rate, seed, samples, workers, tied)


def paths_of(paths: str | Sequence[str]) -> list[str]:
    return [paths] if isinstance(paths, str) else list(paths)


@dataclass(frozen=True)
class Binding:
    """One side of a limit: what fails first, or what binds."""

    state: str
    path: str
    limit: Value
    is_least: bool

    def shown(self, system: str | None = None) -> str:
        sign = ">=" if self.is_least else "<="
        return f"{self.path} {sign} {self.limit.shown(system)}"

    def __str__(self) -> str:
        return f"{self.shown()} in {self.state}"


def binding_of(job: Job, output: int, limit: float, is_least: bool) -> Binding | None:
    if output < 0:
        return None
    state, path, quantity, _ = job.output_rows[output]
    return Binding(state, path, Value(limit, quantity, job.units), is_least)


# -- the best values ------------------------------------------------------------------------------


@checked
class Best(Shown):
    """Values that leave most in reserve; `.values`, `.job`, `.binding`, `.passed`.

    Found by a search of coordinates, diagonals and the last movement: the best about there, not
    proven to be the best of all.
    """

    def __init__(
        self,
        job: Job,
        told: str,
        values: dict[str, Value],
        reserve: float,
        rate: float | None,
        passed: bool,
        binding: Binding | None,
        judged: int,
    ) -> None:
        self.job, self.at, self.values, self.passed = job, told, values, passed
        #: least reserve of all findings; at a pass rate, that of the finding missed most often
        self.reserve = reserve
        #: share of samples in which every limit holds, at a pass rate
        self.pass_rate, self.binding, self.judged = rate, binding, judged

    def table(self, units: str | None = None) -> Table:
        rows = [[path, value.shown(units)] for path, value in self.values.items()]
        rows.append(["least reserve", f"{self.reserve:.1%}"])
        if self.pass_rate is not None:
            rows.append(["pass rate", f"{self.pass_rate:.3%}"])
        if self.binding is not None:
            rows.append(["what binds", f"{self.binding.shown(units)} in {self.binding.state}"])
        word = "every limit holds" if self.passed else "NOT MET"
        if self.pass_rate is not None:
            word = "reached" if self.passed else "NOT REACHED"
        title = f"best values at {self.at}: {word} ({self.judged} judged)"
        return Table(["input", "value"], rows, title)


def solve_for(
    job: Job,
    bounds: Mapping[str, tuple[Number, Number]],
    at: str | float,
    seed: int,
    samples: int,
) -> Best:
    told, how = read_at(job, at, seed, samples)
    if not bounds:
        raise InputError([("bounds", "name at least one input and its bounds")])
    leaves, low, high = [], [], []
    problems: list[tuple[str, str]] = []
    for path, pair in bounds.items():
        leaf = job.core.leaf(path)
        quantity = job.input_rows[leaf][1]
        if isinstance(pair, str) or not isinstance(pair, Sequence) or len(pair) != 2:
            problems.append((path, f"{usertext.told(pair)} must be a pair: from, to"))
            continue
        try:
            ends = [units.to_si(end, quantity) for end in pair]
        except UnitProblem as problem:
            problems.append((path, str(problem)))
            continue
        if not all(isinstance(end, float) for end in ends):
            problems.append((path, "bounds must be one number each"))
        elif not float(ends[0]) < float(ends[1]):
            first, second = (shown(float(end), quantity) for end in ends)
            problems.append((path, f"{first} to {second}: the first must be below the second"))
        else:
            leaves.append(leaf)
            low.append(float(ends[0]))
            high.append(float(ends[1]))
    if problems:
        raise InputError(problems)
    found = _core.solve_for(job.core, spreads_of(job), how, leaves, low, high)
    values, evaluated, passed, reserve, rate, output, limit, is_least, told_why, judged = found
    if not evaluated:
        raise InputError([("bounds", f"no values between them can be evaluated; {told_why}")])
    named = {
        path: Value(value, job.input_rows[leaf][1], job.units)
        for path, leaf, value in zip(bounds, leaves, values, strict=True)
    }
    return Best(
        job.replace({path: float(value) for path, value in named.items()}),
        told,
        named,
        reserve,
        None if isinstance(at, str) else rate,
        passed,
        binding_of(job, output, limit, is_least),
        judged,
    )
