"""Failures too rare for counting: where each limit fails first, and how often any fails."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from fitwright import _core
from fitwright.fields.arguments import checked
from fitwright.fields.errors import InputError
from fitwright.fields.tables import Shown, Table
from fitwright.fields.units import in_system
from fitwright.fields.value import Value
from fitwright.job.system import System
from fitwright.studies.options import MOST_THREADS, check_run

__all__ = ["DesignPoint", "RareFailures", "rare_failures"]

#: Samples between two looks at how wide the interval is.
ROUND = 16_384
#: Fewer samples of equal weight than this, or one that is more than this share, tell nothing sure.
ENOUGH, TOO_MUCH = 100.0, 0.1


@dataclass(frozen=True)
class DesignPoint:
    """Where one limit fails first: the likeliest values of the inputs at which it does."""

    state: str
    path: str
    limit: Value
    #: ">=" or "<="
    sign: str
    #: distance from the middle in normal scores; below 0 it fails in the middle already
    beta: float
    #: the inputs there, those that matter most first
    values: dict[str, Value]
    #: share of each in the square of beta, in the same order
    shares: dict[str, float]
    #: probability by the plane that touches there, and by its curvature too (None: it has no such)
    first_order: float
    second_order: float | None

    def words(self, units: str | None = None, most: int = 3) -> str:
        """In shop words: which values it takes."""
        told = [
            f"{path} is {value.shown(units)}"
            for path, value in list(self.values.items())[:most]
            if self.shares[path] >= 0.01
        ]
        told = told or [f"{p} is {v.shown(units)}" for p, v in list(self.values.items())[:1]]
        listed = told[0] if len(told) == 1 else ", ".join(told[:-1]) + " and " + told[-1]
        first = f"fails first when {listed}"
        if self.beta < 0.0:
            first = "fails in the middle already"
        place = self.path if self.state == "as_given" else f"{self.path} in {self.state}"
        return f"{place} {first}"


@checked
class RareFailures(Shown):
    """How often any limit fails, however rarely; by sampling round where each fails first.

    `.probability` with its 95 % `.interval`, `.points` likeliest first, `.trusted` and `.doubts`.
    """

    def __init__(
        self,
        system: System,
        points: Sequence[DesignPoint],
        unfound: Sequence[str],
        estimate: _core.RareEstimate,
        by_limit: Sequence[tuple[str, str, str, float, float]],
        seed: int,
        stopped: str,
    ) -> None:
        self.system, self.points, self.seed, self.stopped = system, list(points), seed, stopped
        #: (state, path, sign, probability, half of its interval) of each limit that failed
        self.by_limit = [row for row in by_limit if row[3] > 0.0]
        self.samples: int = estimate.samples
        self.failed: int = estimate.failed
        #: samples of equal weight that would tell as much
        self.effective: float = estimate.effective
        #: share of all in which a sample cannot be evaluated; it counts as failed
        self.out_of_domain: float = estimate.out_of_domain
        self.probability: float = estimate.probability
        self.interval: tuple[float, float] = (estimate.low, estimate.high)
        #: what speaks against the answer, in words
        self.doubts: list[str] = list(unfound)
        if estimate.failed == 0:
            self.doubts.append(
                f"none of {estimate.samples} samples failed: no more is told than that it is "
                f"below {estimate.high:.1e}"
            )
        elif estimate.effective < ENOUGH:
            self.doubts.append(
                f"rests on {estimate.effective:.0f} samples' worth of failures: take more samples"
            )
        if estimate.failed > 0 and estimate.greatest_share > TOO_MUCH:
            self.doubts.append(
                f"one sample makes {estimate.greatest_share:.0%} of it: a way to fail was not "
                "looked for"
            )

    @property
    def trusted(self) -> bool:
        """Whether nothing speaks against it."""
        return not self.doubts

    def __iter__(self) -> Iterator[DesignPoint]:
        return iter(self.points)

    def __getitem__(self, key: tuple[str, str] | str) -> DesignPoint:
        """Where an output fails first: by state and path, or by path in the likeliest state."""
        for point in self.points:
            if key in (point.path, (point.state, point.path)):
                return point
        raise InputError([(str(key), "was not found to fail")])

    @property
    def title(self) -> str:
        low, high = self.interval
        lines = [
            f"{self.samples} samples, seed {self.seed}: some limit fails in "
            f"{_small(self.probability)} "
            f"(95 % interval {_small(low)} to {_small(high)})"
        ]
        if self.stopped:
            lines[0] += f"; {self.stopped}"
        if self.points:
            lines.append(self.points[0].words(self.system.units))
        if self.out_of_domain > 0.0:
            lines.append(f"of that, {_small(self.out_of_domain)} cannot be evaluated")
        lines += [f"DO NOT TRUST IT BLINDLY: {doubt}" for doubt in self.doubts]
        return "\n".join(lines)

    def table(self, units: str | None = None, most: int = 12) -> Table:
        """Where each limit fails first, likeliest first; at most so many."""
        units = in_system(units, self.system.units)
        rows = [
            [
                p.path,
                p.state,
                f"{p.sign} {p.limit.shown(units)}",
                f"{p.beta:.2f}",
                _small(p.first_order),
                "" if p.second_order is None else _small(p.second_order),
                ", ".join(
                    f"{path} {value.shown(units)} ({p.shares[path]:.0%})"
                    for path, value in list(p.values.items())[:3]
                    if p.shares[path] >= 0.005
                ),
            ]
            for p in self.points[:most]
        ]
        head = [
            "finding",
            "state",
            "limit",
            "beta",
            "first order",
            "second order",
            "fails first at",
        ]
        return Table(head, rows, self.title)


def _small(share: float) -> str:
    return f"{share:.3%}" if share >= 1e-3 or share == 0.0 else f"{share:.2e}"


def rare_failures(
    system: System,
    samples: int,
    seed: int,
    until: float | None,
    starts: int,
    threads: int | None,
) -> RareFailures:
    """See `Job.rare_failures`."""
    problems = []
    for name, value, most in (("samples", samples, 1 << 40), ("starts", starts, 1000)):
        if isinstance(value, bool) or not isinstance(value, int) or not 1 <= value <= most:
            problems.append((name, f"{value!r} must be a whole number above 0, at most {most}"))
    if not isinstance(seed, int) or not 0 <= seed < 1 << 64:
        problems.append(("seed", f"{seed!r} must be a whole number from 0 to below 2^64"))
    if until is not None and not 0.0 < until < 1.0:
        problems.append(("until", f"{until!r} must lie between 0 and 1"))
    if threads is not None and not 1 <= threads <= MOST_THREADS:
        problems.append(("threads", f"{threads!r} must be a whole number from 1 to {MOST_THREADS}"))
    core = system.asked
    sides = _core.sides(core)
    if not sides:
        problems.append(("limits", "there are none, so nothing can fail"))
    spreads = list(system.spreads.values())
    wrong = _core.rare_problem(spreads) if spreads else ""
    if wrong:
        problems.append((system.kind_of_system, wrong))
    check_run(system, problems, system.level)
    tied = system.tied()
    rows, unfound = _core.design_points(core, spreads, tied, starts)
    outputs = system.output_rows
    points = []
    for side, beta, _, values, shares, first, second, _ in rows:
        output, limit, is_least, _ = sides[side]
        state, path, quantity, _ = outputs[output]
        order = sorted(range(len(spreads)), key=lambda i: -shares[i])
        points.append(
            DesignPoint(
                state,
                path,
                Value(limit, quantity, system.units),
                ">=" if is_least else "<=",
                beta,
                {
                    spreads[i].path: Value(
                        values[i], system.input_rows[spreads[i].leaf][1], system.units
                    )
                    for i in order
                },
                {spreads[i].path: shares[i] for i in order},
                first,
                second if second == second else None,
            )
        )
    lost = dict.fromkeys(outputs[sides[side][0]][1] for side, why in unfound if why == "unsettled")
    unsettled = (
        [f"where these fail was looked for and not found: {', '.join(lost)}"] if lost else []
    )
    run = _core.RareRun(core, spreads, tied, rows, seed)
    workers = threads or os.cpu_count() or 1
    stopped = ""
    try:
        while run.estimate().samples < samples:
            run.advance(min(ROUND, samples - run.estimate().samples), workers)
            now = run.estimate()
            if (
                until is not None
                and now.failed > 0
                and now.half <= until * now.probability
                and now.effective >= ENOUGH
            ):
                break
    except KeyboardInterrupt:
        if run.estimate().samples == 0:
            raise
        stopped = "stopped by hand"
    by_limit = []
    for number, (output, _, is_least, _) in enumerate(sides):
        own = run.estimate_of(number)
        by_limit.append(
            (*outputs[output][:2], ">=" if is_least else "<=", own.probability, own.half)
        )
    by_limit.sort(key=lambda row: -row[3])
    return RareFailures(system, points, unsettled, run.estimate(), by_limit, seed, stopped)
