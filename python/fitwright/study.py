"""The study front end: blocks through the core, a progress bar, and what came out."""

from __future__ import annotations

import os
import pickle
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from fitwright import _core, units
from fitwright.blocks import BLOCK_CHUNKS, Checkpoint, ParquetParts, Plan, blocks, make_run
from fitwright.errors import InputError
from fitwright.findings import Value
from fitwright.tables import Table
from fitwright.units import shown

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from fitwright.indices import SobolIndices
    from fitwright.job import Job

DESIGNS = ("plain", "latin_hypercube", "sobol")


@dataclass(frozen=True)
class StudyFinding:
    """How often one output keeps its limit, and how it scatters."""

    state: str
    path: str
    quantity: str
    at_least: float
    at_most: float
    pass_rate: float
    interval: tuple[float, float]
    statistics: _core.Statistics

    def row(self, system: str) -> list[str]:
        step = "difference" if self.quantity == "temperature" else self.quantity
        s = self.statistics
        limits = [
            f"{sign} {units.shown(bound, self.quantity, system)}"
            for sign, bound in ((">=", self.at_least), ("<=", self.at_most))
            if bound == bound
        ]
        return [
            self.path,
            self.state,
            units.shown(s.mean, self.quantity, system),
            units.shown(s.deviation, step, system),
            units.shown(s.least, self.quantity, system),
            units.shown(s.greatest, self.quantity, system),
            " and ".join(limits),
            f"{self.pass_rate:.4%}" if limits else "",
        ]


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

    def problems(self) -> list[tuple[str, str]]:
        found = []
        if not isinstance(self.samples, int) or self.samples < 1:
            found.append(("samples", f"{self.samples!r} must be a whole number above 0"))
        if not isinstance(self.seed, int) or not 0 <= self.seed < 1 << 64:
            found.append(("seed", f"{self.seed!r} must be a whole number from 0 to below 2^64"))
        if self.threads is not None and (not isinstance(self.threads, int) or self.threads < 1):
            found.append(("threads", f"{self.threads!r} must be a whole number above 0"))
        if self.design not in DESIGNS:
            found.append(("design", f"{self.design!r} must be one of {', '.join(DESIGNS)}"))
        if self.executor is not None and not hasattr(self.executor, "submit"):
            found.append(("executor", f"{type(self.executor).__name__} has no submit"))
        if self.until_width is not None and not 0.0 < self.until_width < 1.0:
            found.append(("until_width", f"{self.until_width!r} must lie between 0 and 1"))
        return found


def check_run(job: Job, problems: list[tuple[str, str]]) -> None:
    """What every study needs before it starts."""
    if not job.spreads:
        problems = [*problems, ("job", "has no input that scatters; give one a spread")]
    if problems:
        raise InputError(problems)
    job._core.evaluate()  # a job that cannot be evaluated is told as such, not as lost samples


def run_study(job: Job, options: StudyOptions) -> Study:
    check_run(job, options.problems())
    tracked = list(job._core.limits())
    known = {(state, path): i for i, (state, path, *_) in enumerate(job._outputs)}
    limited = {row[0] for row in tracked}
    keep = [options.keep] if isinstance(options.keep, str) else list(options.keep)
    wanted = [options.outputs] if isinstance(options.outputs, str) else list(options.outputs or ())
    for path in dict.fromkeys([*wanted, *keep]):
        found = [i for (_, p), i in known.items() if p == path]
        if not found:
            job._core.output(job.states[0], path)  # raises, with the nearest paths
        tracked += [(i, float("nan"), float("nan")) for i in found if i not in limited]
    kept = tuple(n for n, row in enumerate(tracked) if job._outputs[row[0]][1] in keep)
    plan = Plan(
        pickle.dumps(job, 5), tuple(tracked), kept, options.seed, options.samples, options.design
    )
    run = make_run(job, plan)
    checkpoint = None if options.checkpoint is None else Checkpoint(options.checkpoint, plan)
    workers = options.threads or os.cpu_count() or 1
    show = sys.stderr.isatty() if options.progress is None else options.progress
    bar = _progress(options.samples, show)
    stopped = ""
    columns: list[list[NDArray[np.float64]]] = [[] for _ in kept]
    named = [job._outputs[tracked[number][0]][:2] for number in kept]
    parts = None
    if options.columns_to is not None:
        parts = ParquetParts(options.columns_to, [f"{state}/{path}" for state, path in named])
    try:
        for block in blocks(plan, run, options.executor, workers, checkpoint):
            before = run.done
            run.merge(block)
            bar.update(run.done - before)
            found_columns = _parts(block, len(kept))
            if parts is not None:
                parts.write(block.first_chunk // BLOCK_CHUNKS, found_columns)
            else:
                for column, part in zip(columns, found_columns, strict=True):
                    column.append(part)
            low, high = _core.interval_of_share(run.all_passed, run.done)
            if options.until_width is not None and high - low <= options.until_width:
                stopped = "" if run.done == options.samples else "interval narrow enough"
                break
    except KeyboardInterrupt:
        if run.done == 0:
            raise
        stopped = "stopped by hand"  # what is done is kept
    finally:
        bar.close()
    if run.out_of_domain == run.done:
        fault = run.fault_of(job._core)
        raise InputError([("job", f"no sample can be evaluated; the first: {fault}")])
    study = Study(job, run, tracked, options.seed, stopped)
    if parts is None:
        for key, column in zip(named, columns, strict=True):
            study.columns[key] = np.concatenate(column)
    return study


def _parts(block: _core.Block, kept: int) -> list[NDArray[np.float64]]:
    flat: NDArray[np.float64] = block.columns
    return [] if kept == 0 else list(flat.reshape(kept, -1))


def _progress(samples: int, show: bool) -> Any:
    from tqdm import tqdm

    return tqdm(total=samples, unit=" samples", unit_scale=True, disable=not show, leave=False)


class Study:
    """What a study found; `.pass_rate`, `.quantiles()`, `.sensitivity()`, `.plot()`."""

    def __init__(
        self,
        job: Job,
        run: _core.StudyRun,
        tracked: list[tuple[int, float, float]],
        seed: int,
        stopped: str,
    ) -> None:
        self.job, self.seed = job, seed
        #: why it ended before its last sample, else empty
        self.stopped = stopped
        #: samples of the outputs named in `keep`, by (state, path)
        self.columns: dict[tuple[str, str], NDArray[np.float64]] = {}
        self._run = run
        self.samples: int = run.done
        self.out_of_domain: int = run.out_of_domain
        #: share of all samples in which every limit of every state holds
        self.pass_rate: float = run.all_passed / run.done if run.done else float("nan")
        #: its 95 % interval
        self.interval: tuple[float, float] = _core.interval_of_share(run.all_passed, run.done)
        self._findings: list[StudyFinding] = []
        for number, (output, at_least, at_most) in enumerate(tracked):
            state, path, quantity, _ = job._outputs[output]
            statistics = run.statistics(number)
            self._findings.append(
                StudyFinding(
                    state,
                    path,
                    quantity,
                    at_least,
                    at_most,
                    statistics.passed / run.done if run.done else float("nan"),
                    _core.interval_of_share(statistics.passed, run.done),
                    statistics,
                )
            )
        self._contributions: tuple[NDArray[np.float64], list[float], bool] | None = None

    def __iter__(self) -> Iterator[StudyFinding]:
        return iter(self._findings)

    def __getitem__(self, key: tuple[str, str]) -> StudyFinding:
        """One output by state and path."""
        for finding in self._findings:
            if (finding.state, finding.path) == key:
                return finding
        self.job._core.output(*key)
        raise InputError([(key[1], f'was not tracked; pass outputs=["{key[1]}"] to study()')])

    @property
    def at_risk(self) -> list[StudyFinding]:
        """Findings that some samples miss, the most often missed first."""
        limited = [
            f for f in self._findings if f.statistics.passed < self.samples and _has_limit(f)
        ]
        return sorted(limited, key=lambda f: f.pass_rate)

    def sample(self, index: int) -> dict[str, Value]:
        """The inputs of one sample that scatter, as the study drew them."""
        if not 0 <= index < self.samples:
            raise InputError([("index", f"{index} must be from 0 to {self.samples - 1}")])
        drawn = self._run.sample(index)
        quantities = {path: quantity for path, quantity, *_ in self.job._inputs}
        return {
            path: Value(drawn[spread.leaf], quantities[path])
            for path, spread in self.job.spreads.items()
        }

    def table(self, units: str = "metric", all_states: bool = False) -> Table:
        """Per output the state that is missed most often, or every state."""
        rows = self._findings
        if not all_states:
            # Where several states are kept equally often, the one with the least nominal reserve.
            reserve = {(f.state, f.path): f.reserve for f in self.job.evaluate()}

            def risk(finding: StudyFinding) -> tuple[float, float]:
                return finding.pass_rate, reserve.get((finding.state, finding.path), 0.0)

            worst: dict[str, StudyFinding] = {}
            for finding in rows:
                held = worst.get(finding.path)
                if held is None or risk(finding) < risk(held):
                    worst[finding.path] = finding
            rows = sorted(worst.values(), key=risk)
        head = ["finding", "state", "mean", "deviation", "least", "greatest", "limit", "passes"]
        low, high = self.interval
        title = (
            f"{self.samples} samples, seed {self.seed}: every limit holds in "
            f"{self.pass_rate:.3%} (95 % interval {low:.3%} to {high:.3%})"
        )
        if self.stopped:
            title += f"; {self.stopped}"
        if self.out_of_domain:
            title += (
                f"; {self.out_of_domain} out of domain, first sample {self._run.first_fault}: "
                f"{self._run.fault_of(self.job._core)}"
            )
        return Table(head, [f.row(units) for f in rows], title, [_mark(f) for f in rows])

    def quantiles(
        self,
        shares: Sequence[float] = (0.001, 0.01, 0.05, 0.5, 0.95, 0.99, 0.999),
        units: str = "metric",
    ) -> Table:
        """Values below which the given shares of the samples lie."""
        wrong = [s for s in shares if not 0.0 <= s <= 1.0]
        if wrong:
            raise InputError([("shares", f"{wrong[0]} must be from 0 to 1")])
        rows = [
            [f.path, f.state]
            + [shown(f.statistics.quantile(share).value, f.quantity, units) for share in shares]
            for f in self._findings
        ]
        return Table(["output", "state", *(f"{share:.1%}" for share in shares)], rows)

    def _linear(self) -> tuple[NDArray[np.float64], list[float], bool]:
        if self._contributions is None:
            spreads = list(self.job.spreads.values())
            self._contributions = _core.contributions(self.job._core, spreads)
        return self._contributions

    def contributions(self, state: str, path: str) -> dict[str, float]:
        """Exact derivative times standard deviation of each input (SI), the largest first."""
        matrix, _, _ = self._linear()
        row = matrix[self.job._core.output(state, path)]
        pairs = zip(self.job.spreads, (float(v) for v in row), strict=True)
        return dict(sorted(pairs, key=lambda pair: -abs(pair[1])))

    def sensitivity(
        self, state: str | None = None, path: str | None = None, units: str = "metric"
    ) -> Table:
        """Which input matters, by exact derivative times spread; by default for what is most at
        risk. Linear: the last column of the head compares it with the samples."""
        if state is None or path is None:
            first = self.at_risk[0] if self.at_risk else self._findings[0]
            state, path = first.state, first.path
        finding = self[state, path]
        _, linear, one_sided = self._linear()
        budget = linear[self.job._core.output(state, path)]
        step = "difference" if finding.quantity == "temperature" else finding.quantity
        rows = [
            [source, shown(value, step, units), f"{_share(value, budget):.0%}"]
            for source, value in self.contributions(state, path).items()
            if value != 0.0
        ]
        sampled = shown(finding.statistics.deviation, step, units)
        title = (
            f"{path} in {state}: one deviation of each input moves it by; linear budget "
            f"{shown(budget, step, units)}, samples {sampled}"
        )
        if abs(budget - finding.statistics.deviation) > 0.1 * finding.statistics.deviation:
            title += "; THEY DISAGREE: the output is not linear here, trust the samples"
        if one_sided:
            title += " (some derivatives of this job hold on one side only)"
        return Table(["input", "effect", "share of variance"], rows, title)

    def indices(
        self,
        state: str | None = None,
        path: str | None = None,
        samples: int = 65_536,
        *,
        threads: int | None = None,
        progress: bool | None = None,
    ) -> SobolIndices:
        """Which input matters, without taking anything as linear: Sobol' indices of one output
        under the seed of this study; by default of what is most at risk."""
        from fitwright.indices import run_indices

        if state is None or path is None:
            first = self.at_risk[0] if self.at_risk else self._findings[0]
            state, path = first.state, first.path
        return run_indices(self.job, samples, self.seed, [(state, path)], threads, progress)

    def plot(self, state: str | None = None, path: str | None = None) -> Axes:
        """Histogram with limits of one output; by default of what is most at risk."""
        from fitwright.plots.figures import histogram as draw
        from fitwright.plots.figures import new_axes

        if state is None or path is None:
            first = self.at_risk[0] if self.at_risk else self._findings[0]
            state, path = first.state, first.path
        finding = self[state, path]
        unit = units.shop_unit(finding.quantity)
        axes = new_axes()
        draw(
            axes,
            finding.statistics,
            finding.at_least,
            finding.at_most,
            unit["label"],
            unit["factor"],
            unit["offset"],
        )
        axes.set_title(f"{path} in {state}")
        return axes

    def cumulative(self, state: str, path: str) -> Axes:
        """Share of samples below each value of one output, with its limits."""
        from fitwright.plots.figures import cumulative as draw
        from fitwright.plots.figures import new_axes

        finding = self[state, path]
        unit = units.shop_unit(finding.quantity)
        axes = new_axes()
        shop = (unit["label"], unit["factor"], unit["offset"])
        draw(axes, finding.statistics, finding.at_least, finding.at_most, *shop)
        axes.set_title(f"{path} in {state}")
        return axes

    def worst_samples(
        self, state: str, path: str, *, inputs: int = 4, samples: int = 4000, share: float = 0.02
    ) -> Figure:
        """A scatter matrix of the inputs that matter most: the worst share of the samples marked.

        Worst is nearest to the limit of the output (the least where it has none).
        """
        from fitwright.plots.worst import scatter_matrix

        count = min(samples, self.samples)
        again = self.job.study(count, seed=self.seed, keep=[path], progress=False)
        column = again.columns[state, path]
        finding = self[state, path]
        high_is_bad = finding.at_most == finding.at_most and finding.at_least != finding.at_least
        names = list(self.contributions(state, path))[:inputs]
        quantities = {p: q for p, q, *_ in self.job._inputs}
        spreads = self.job.spreads
        leaves = [spreads[name].leaf for name in names]
        rows = [again._run.sample(number) for number in range(count)]
        shop = [units.shop_unit(quantities[name]) for name in names]
        columns = {
            f"{name}\n[{unit['label'] or '-'}]": [
                row[leaf] * unit["factor"] + unit["offset"] for row in rows
            ]
            for name, unit, leaf in zip(names, shop, leaves, strict=True)
        }
        return scatter_matrix(columns, column, high_is_bad, share)

    def tornado(self, state: str, path: str, most: int = 12) -> Axes:
        """The inputs that move an output most, one deviation each."""
        from fitwright.plots.figures import new_axes
        from fitwright.plots.figures import tornado as draw

        finding = self[state, path]
        unit = units.shop_unit(
            "difference" if finding.quantity == "temperature" else finding.quantity
        )
        parts = list(self.contributions(state, path).items())[:most]
        axes = new_axes()
        draw(axes, [name for name, _ in parts], [value * unit["factor"] for _, value in parts])
        axes.set_title(f"{path} in {state}")
        axes.set_xlabel(unit["label"])
        return axes

    def __repr__(self) -> str:
        return str(self.table())

    def _repr_html_(self) -> str:
        return self.table()._repr_html_()


def _share(value: float, budget: float) -> float:
    return (value / budget) * (value / budget) if budget else 0.0


def _has_limit(finding: StudyFinding) -> bool:
    return finding.at_least == finding.at_least or finding.at_most == finding.at_most


def _mark(finding: StudyFinding) -> str:
    if not _has_limit(finding):
        return ""
    return "good" if finding.pass_rate >= 0.999 else "near" if finding.pass_rate >= 0.99 else "bad"
