"""What can be asked of anything with inputs and outputs: a job, or one model that is told whole."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any, Self

from fitwright.fields.arguments import checked
from fitwright.fields.units import Number
from fitwright.job.findings import Findings, evaluate
from fitwright.job.system import System

if TYPE_CHECKING:
    from fitwright.job.derivatives import Derivatives
    from fitwright.studies.function import Function
    from fitwright.studies.indices import SobolIndices
    from fitwright.studies.inverse import Best
    from fitwright.studies.levels import StudyTime
    from fitwright.studies.rare import RareFailures
    from fitwright.studies.result import Study
    from fitwright.studies.reuse import ReuseLimits
    from fitwright.studies.solve import Solution
    from fitwright.studies.sweep import Sweep, YieldCurve
    from fitwright.studies.worst_case import WorstCases


@checked
class Verbs(System):
    """Methods of a job and of a single model."""

    def evaluate(self, level: str | None = None) -> Findings:
        """All outputs of all states, and the findings: values held against their limits.

        At every level when none is named (see `at_level`); each finding tells its own.

        >>> import fitwright as fw
        >>> job = fw.demo("blower")
        >>> answer = job.evaluate(level="quick")["full_load", "shoulder.clamp_low"]
        """
        return evaluate(self, level)

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
        """The value of one input at which an output reaches its target. `.value`, `.job`.

        `vary` and `output` are paths, `state` the state it is asked in (the first when left out),
        `target` what the output is to be, `between` bounds the search; `level` is that of
        `at_level`.

        >>> import fitwright as fw
        >>> job = fw.demo("blower")
        >>> found = job.solve(vary="nut.torque", output="shoulder.clamp_low", target="12 kN")
        >>> answer = found.value
        """
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

        `ranges` are by path, `outputs` what is looked at; `level` is that of `at_level`.

        >>> import fitwright as fw
        >>> job = fw.demo("blower")
        >>> torques = {"nut.torque": ("500 N m", "900 N m", 5)}
        >>> answer = job.sweep(torques, ["shoulder.clamp_low"], level="quick")
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

        `outputs` are those that are counted (all with a limit when left out), `seed` and
        `threads` how samples are drawn; `progress` shows or hides the bar.

        >>> import fitwright as fw
        >>> job = fw.demo("blower")
        >>> answer = job.study(2000, level="quick", progress=False).pass_rate
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

        `samples`, `level`, `levels` and `threads` are those of `study`.

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

        `paths` are those looked at, all sizes when left out; `samples` are drawn with `seed`, and
        `progress` shows or hides the bar.

        >>> import fitwright as fw
        >>> job = fw.demo("blower")
        >>> answer = job.reuse_limits(["seats.main.diameter", "rings.sleeve.bore"])
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

        `state` and `path` name the output; left out, it is all findings.

        >>> import fitwright as fw
        >>> job = fw.demo("blower")
        >>> answer = job.worst_case("cold_build", "shoulder.clamp_low")
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
        a pass rate; and what binds there.

        `bounds` are by path. The other inputs stand as `at` says, as for `reuse_limits`;
        `samples` with `seed` are those of a rate.

        >>> import fitwright as fw
        >>> job = fw.demo("blower")
        >>> answer = job.solve_for({"nut.torque": ("500 N m", "900 N m")})
        """
        from fitwright.studies.inverse import solve_for

        return solve_for(self, bounds, at, seed, samples)

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

        `samples` are drawn with `seed` on `threads`, with or without a bar of `progress`.

        >>> import fitwright as fw
        >>> job = fw.demo("blower")
        >>> answer = job.sobol_indices(512, outputs=["shoulder.clamp_low"], progress=False)
        """
        from fitwright.studies.indices import run_indices

        return run_indices(self, samples, seed, outputs, threads, progress)

    def yield_against(
        self, path: str, values: Sequence[Number], *, samples: int = 50_000, seed: int = 1
    ) -> YieldCurve:
        """Pass rate of the whole job against one design value (the same draws at each).

        `path` is that of the design value, `values` what it is set to; `samples` are drawn with
        `seed`.

        >>> import fitwright as fw
        >>> job = fw.demo("blower")
        >>> bores = ["79.995 mm", "79.999 mm"]
        >>> answer = job.yield_against("rings.sleeve.bore", bores, samples=2000)
        """
        from fitwright.studies.sweep import run_yield_against

        return run_yield_against(self, path, values, samples, seed)

    def derivatives(self, level: str | None = None) -> Derivatives:
        """Exact derivative of every output to every input (SI): (state, output, input) -> value.

        `.one_sided` holds those that hold on one side only, where the output has a kink: contact
        opening, slip, a knot of a material table (20 degC is one).

        `level` is that of `at_level`.

        >>> import fitwright as fw
        >>> job = fw.demo("blower")
        >>> answer = job.derivatives(level="quick").table("full_load", "shoulder.clamp_low")
        """
        from fitwright.job.derivatives import derivatives

        return derivatives(self, level)

    def rare_failures(
        self,
        samples: int = 200_000,
        *,
        seed: int = 1,
        until: float | None = 0.1,
        starts: int = 4,
        threads: int | None = None,
    ) -> RareFailures:
        """How often any limit fails, however rarely, and where each fails first.

        The inputs stand as normal scores. Where a limit fails first is the point nearest to their
        middle at which it does: found on the exact derivatives from several `starts`, with the
        probability of first order, Phi(-beta), and of second order. Then samples are drawn about
        those points, each weighed by how likely it is, and all limits counted together, until half
        the 95 % interval is `until` of the answer (None: all `samples`). `.trusted` is False, and
        `.doubts` says why, where that cannot be told. At the level the job stands at (the quick
        one, where none was asked for); the number is that of the spreads, which are seldom known
        so far out.

        The same `seed` gives the same answer on any `threads`.

        >>> rare = job.rare_failures()
        >>> rare.probability, rare.interval, rare.points[0].words()
        """
        from fitwright.studies.rare import rare_failures

        return rare_failures(self, samples, seed, until, starts, threads)

    def function(
        self,
        inputs: Sequence[str],
        outputs: Sequence[str] | Sequence[tuple[str, str]],
        *,
        outside: str = "raise",
        threads: int | None = None,
    ) -> Function:
        """A function of arrays, `f(X) -> Y`, with `f.jacobian(X)`: for other libraries.

        X holds one point a row, in the order of `inputs` (SI, temperatures in degC), Y the outputs
        alike: paths in the first state, or pairs of state and path. It pickles, and runs without
        the interpreter's lock. `outside`: what a point without an answer does, "raise" or "nan".

        Points are shared out to `threads`.

        >>> f = job.function(["nut.torque"], [("full_load", "shoulder.clamp_low")])
        >>> f(f.nominal), f.jacobian(f.nominal)
        """
        from fitwright.studies.function import Function

        return Function(self, inputs, outputs, outside, threads)
