"""What came out of a study."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from fitwright import _core, units
from fitwright.arguments import checked
from fitwright.derivatives import ONE_SIDED
from fitwright.errors import InputError
from fitwright.findings import Value
from fitwright.tables import Table
from fitwright.units import shown

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from fitwright.indices import SobolIndices
    from fitwright.job import Job


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


@checked
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
        self._contributions: dict[int, tuple[list[float], float, list[bool]]] = {}

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
            reserve = {
                (f.state, f.path): f.reserve for f in self.job.evaluate(level=self.job.level)
            }

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

    def _linear(self, output: int) -> tuple[list[float], float, list[bool]]:
        """Effect of each input on one output, the linear budget, and which hold on one side."""
        if output not in self._contributions:
            spreads = list(self.job.spreads.values())
            matrix, linear, sided = _core.contributions(self.job._core, spreads, [output])
            self._contributions[output] = (matrix[0].tolist(), linear[0], sided[0].tolist())
        return self._contributions[output]

    def contributions(self, state: str, path: str) -> dict[str, float]:
        """Exact derivative times standard deviation of each input (SI), the largest first."""
        row, _, _ = self._linear(self.job._core.output(state, path))
        pairs = zip(self.job.spreads, row, strict=True)
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
        _, budget, one_sided = self._linear(self.job._core.output(state, path))
        sided = {s for s, flag in zip(self.job.spreads, one_sided, strict=True) if flag}
        step = "difference" if finding.quantity == "temperature" else finding.quantity
        rows = [
            [
                source + ("*" if source in sided else ""),
                shown(value, step, units),
                f"{_share(value, budget):.0%}",
            ]
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
        if sided & {source for source, value in self.contributions(state, path).items() if value}:
            title += f" ({ONE_SIDED})"
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
