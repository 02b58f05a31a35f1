"""What follows when a job's inputs change: solving, sweeps, studies, worst cases, reuse."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any, Self

from fitwright.fields.arguments import checked
from fitwright.fields.units import Number
from fitwright.job.value import Job

if TYPE_CHECKING:
    from fitwright.studies.assign import Allocation, Match
    from fitwright.studies.indices import SobolIndices
    from fitwright.studies.inverse import Best
    from fitwright.studies.levels import StudyTime
    from fitwright.studies.result import Study
    from fitwright.studies.reuse import ReuseLimits
    from fitwright.studies.solve import Solution
    from fitwright.studies.sweep import Sweep, YieldCurve
    from fitwright.studies.worst_case import WorstCases


@checked
class Variations(Job):
    """Methods of `fw.Job`: what follows when its inputs change."""

    def solve(
        self,
        *,
        vary: str,
        output: str,
        target: Number,
        state: str | None = None,
        between: tuple[Number | None, Number | None] | None = None,
        level: str | None = None,
    ) -> Solution[Self]:
        """The value of one input at which an output reaches its target. `.value`, `.job`."""
        from fitwright.studies.solve import solve

        return solve(self, vary, output, target, state=state, between=between, level=level)

    def sweep(
        self,
        ranges: Mapping[str, tuple[Number, Number, int] | Sequence[Number]],
        outputs: str | Sequence[str] | None = None,
        level: str | None = None,
    ) -> Sweep:
        """One or several inputs over (from, to, how many) or a list; several are paired up.

        Outputs are those with a limit, in every state, or the paths given.
        """
        from fitwright.studies.sweep import run_sweep

        return run_sweep(self if level is None else self.at_level(level), ranges, outputs)

    def study(
        self,
        samples: int = 100_000,
        *,
        seed: int = 1,
        outputs: str | Sequence[str] | None = None,
        threads: int | None = None,
        progress: bool | None = None,
        design: str = "plain",
        executor: Any = None,
        checkpoint: str | os.PathLike[str] | None = None,
        keep: str | Sequence[str] = (),
        until_width: float | None = None,
        columns_to: str | os.PathLike[str] | None = None,
        level: str | None = None,
        levels: Mapping[str, int | float] | None = None,
    ) -> Study:
        """A Monte Carlo study of every finding that `evaluate` lists, over all that scatters.

        `samples` are those of the quick level. The history gets a hundredth of them and the ovens
        a five-hundredth (at least 400 and 200), and all are joined into one pass rate with its
        interval: share that passes at the quick level, times share of those that the history
        passes as well, times share of those that the ovens do (docs/theory.md, 6). `levels` tells
        other numbers, `{"quick": 10**6, "history": 10**4, "heating": 2000}`; a level left out is
        not counted, and a number below 1 is a share of the time. `level` counts all samples at one
        level and the findings up to it. `study_time` says beforehand how long it takes, and so
        does the line above the progress bar.

        `design` lays out the samples: "plain", "latin_hypercube", or "sobol" (scrambled; best
        with a power of two). The same seed gives the same bits on any threads and any processor.

        `executor` is anything with `submit` (a process pool, a cluster's client); None runs on
        threads in the core. `checkpoint` names a folder that keeps finished blocks: the same
        call carries on from there after an interruption. `keep` names outputs whose samples are
        wanted as arrays (`study.columns`, as many as their level has), or as Parquet files by
        parts in the folder `columns_to` (memory then stays constant). `until_width` stops as soon
        as the 95 % interval of the pass rate is that narrow.
        """
        from fitwright.studies.options import StudyOptions
        from fitwright.studies.run import run_study

        options = StudyOptions(
            samples,
            seed,
            outputs,
            threads,
            progress,
            design,
            executor,
            checkpoint,
            keep,
            until_width,
            columns_to,
            level,
            levels,
        )
        return run_study(self, options)

    def study_time(
        self,
        samples: int = 100_000,
        *,
        threads: int | None = None,
        level: str | None = None,
        levels: Mapping[str, int | float] | None = None,
    ) -> StudyTime:
        """How long a study with these arguments takes here: `.seconds`, `.by_level`, `.levels`.

        From the first samples of each level: 4096 of the quick one, 64 of the others.

        >>> print(job.study_time(1_000_000))
        """
        from fitwright.studies.options import StudyOptions
        from fitwright.studies.run import study_time

        options = StudyOptions(samples, 1, None, threads, False, level=level, levels=levels)
        return study_time(self, options)

    def reuse_limits(
        self,
        paths: str | Sequence[str] | None = None,
        at: str | float = "nominal",
        *,
        seed: int = 1,
        samples: int = 20_000,
        progress: bool | None = None,
    ) -> ReuseLimits:
        """How far may each dimension go, both ways, before a limit fails, and which one does.

        The dimension itself is taken as measured. Others stand "nominal", at their worst ends
        ("worst_case"), or scatter and every limit must hold in a share of samples (0.99, say).
        At a rate a dimension takes some seconds; a bar tells how far it is, and Ctrl-C keeps the
        dimensions that are done.
        """
        from fitwright.studies.reuse import reuse_limits

        return reuse_limits(self, paths, at, seed, samples, progress)

    def worst_case(
        self,
        state: str | None = None,
        path: str | None = None,
        *,
        budget: int = 20_000,
        boxes: int = 300,
    ) -> WorstCases:
        """Least and greatest value of an output, or of all findings, over all ends of the scatter.

        With proof: bounds over the whole box, of at most `boxes` parts of it for each value.
        `budget`: evaluations one search may take where the signs of derivatives do not settle it.
        """
        from fitwright.studies.worst_case import worst_case

        return worst_case(self, state, path, budget, boxes)

    def solve_for(
        self,
        bounds: Mapping[str, tuple[Number, Number]],
        at: str | float = "nominal",
        *,
        seed: int = 1,
        samples: int = 20_000,
    ) -> Best:
        """Values of some inputs within bounds that leave the greatest least reserve, or that reach
        a pass rate; and what binds there."""
        from fitwright.studies.inverse import solve_for

        return solve_for(self, bounds, at, seed, samples)

    def match(self, seats: Any, rings: Mapping[str, Any], *, rounds: int = 4) -> Match:
        """Measured rings to measured shafts: the assignment with most good sets and, of those, most
        reserve. Needs SciPy (the extra `study`).

        `seats`: measured diameters of one seat; `rings`: measured bores by name of ring. Several
        kinds of ring are assigned one after the other, at most `rounds` times.
        """
        from fitwright.studies.assign import match

        return match(self, seats, rings, rounds)

    def allocate(
        self,
        paths: str | Sequence[str],
        rate: float = 0.99,
        *,
        costs: Mapping[int, float] | Mapping[str, Mapping[int, float]] | None = None,
        seed: int = 1,
        samples: int = 100_000,
    ) -> Allocation:
        """The cheapest ISO 286 grades of some sizes that keep a pass rate, checked by a study.

        Each size is taken as normal about its value, six deviations wide. `costs`: cost of each
        grade, {6: 1.8, 7: 1.0}, or one such table per path; a plain one is built in.
        """
        from fitwright.studies.assign import allocate

        return allocate(self, paths, rate, costs, seed, samples)

    def sobol_indices(
        self,
        samples: int = 16_384,
        *,
        seed: int = 1,
        outputs: str | Sequence[tuple[str, str]] | Sequence[str] | None = None,
        threads: int | None = None,
        progress: bool | None = None,
    ) -> SobolIndices:
        """Share of the variance of outputs that each scattering input makes, alone and in all.

        Outputs are those with a limit, in every state; else paths (every state) or pairs of state
        and path. Each sample is evaluated once per input that scatters, and twice more.
        """
        from fitwright.studies.indices import run_indices

        return run_indices(self, samples, seed, outputs, threads, progress)

    def yield_against(
        self, path: str, values: Sequence[Number], *, samples: int = 50_000, seed: int = 1
    ) -> YieldCurve:
        """Pass rate of the whole job against one design value (the same draws at each)."""
        from fitwright.studies.sweep import run_yield_against

        return run_yield_against(self, path, values, samples, seed)
