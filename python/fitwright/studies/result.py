"""What came out of a study."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from fitwright import _core
from fitwright.fields import units
from fitwright.fields.arguments import checked
from fitwright.fields.errors import InputError
from fitwright.fields.records import Records
from fitwright.fields.tables import Table
from fitwright.fields.units import in_system, shown
from fitwright.fields.value import Value
from fitwright.job.derivatives import ONE_SIDED
from fitwright.job.findings import evaluate
from fitwright.studies.finding import (
    BrokenRule,
    StudyFinding,
    StudyLevel,
    has_limit,
    joined,
    mark_of,
)

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from fitwright.job.system import System
    from fitwright.studies.columns import ColumnFinding
    from fitwright.studies.indices import SobolIndices


class Linear(NamedTuple):
    """What each input does to one output, its share, the linear budget, which are one-sided."""

    effects: list[float]
    shares: list[float]
    budget: float
    one_sided: list[bool]


#: Places at which the shortest interval is looked for.
SHORTEST_STEPS = 100


@checked
class Study(Records):
    """What a study found; `.pass_rate`, `.quantiles()`, `.sensitivity()`, `.plot()`."""

    def __init__(
        self,
        job: System,
        levels: Sequence[StudyLevel],
        seed: int,
        stopped: str,
        again: Callable[[int, str, str], Study],
    ) -> None:
        self._again = again
        self.job, self.seed = job, seed
        #: why it ended before its last sample, else empty
        self.stopped = stopped
        #: samples of the outputs named in `keep`, by (state, path)
        self.columns: dict[tuple[str, str], NDArray[np.float64]] = {}
        self._levels = list(levels)
        self._run = levels[0].run
        #: samples of each level that was counted
        self.levels: dict[str, int] = {level.part.level: level.run.done for level in levels}
        #: samples of the first of them
        self.samples: int = self._run.done
        #: samples of the first level that could not be evaluated; they count as failed
        self.out_of_domain: int = self._run.out_of_domain
        #: share in which every limit that was counted holds in every state, all levels joined, and
        #: its 95 % interval
        self.pass_rate, self.interval = joined(
            [level.part for level in levels], [level.run for level in levels]
        )
        self._rows = job.asked.at("heating").outputs()
        core = job.asked.at("heating")
        self._findings: list[StudyFinding] = []
        for part, run in levels:
            for number, (output, at_least, at_most) in enumerate(part.tracked):
                state, path, quantity, _ = self._rows[output]
                statistics = run.statistics(number)
                self._findings.append(
                    StudyFinding(
                        state,
                        path,
                        quantity,
                        core.level_of(output),
                        at_least,
                        at_most,
                        run.done,
                        statistics.passed / run.done if run.done else float("nan"),
                        _core.interval_of_share(statistics.passed, run.done),
                        statistics,
                    )
                )
        self._contributions: dict[int, Linear] = {}
        counted = {row[0] for level in levels for row in level.part.tracked}
        #: (level, state, path) of the findings that `evaluate` lists and this study does not count
        self.not_counted: list[tuple[str, str, str]] = [
            (core.level_of(row[0]), *self._rows[row[0]][:2])
            for row in core.limits()
            if row[0] not in counted
        ]

    def __iter__(self) -> Iterator[StudyFinding]:
        return iter(self._findings)

    def __getitem__(self, key: tuple[str, str] | str) -> StudyFinding:
        """One output by state and path; by path alone in the first state."""
        if isinstance(key, str):
            key = (self.job.states[0], key)
        for finding in self._findings:
            if (finding.state, finding.path) == key:
                return finding
        number = self.job.asked.at("heating").output(*key)
        level = self.job.asked.at("heating").level_of(number)
        if level not in self.levels:
            text = f'is of level "{level}", which was not counted'
        else:
            text = f'was not tracked; pass outputs=["{key[1]}"] to study()'
        raise InputError([(key[1], text)])

    @property
    def at_risk(self) -> list[StudyFinding]:
        """Findings that some samples miss, the most often missed first."""
        limited = [f for f in self._findings if f.statistics.passed < f.samples and has_limit(f)]
        return sorted(limited, key=lambda f: f.pass_rate)

    def sample(self, index: int) -> dict[str, Value]:
        """The inputs of one sample that scatter, as the study drew them."""
        if not 0 <= index < self.samples:
            raise InputError([("index", f"{index} must be from 0 to {self.samples - 1}")])
        drawn = self._run.sample(index)
        quantities = {path: quantity for path, quantity, *_ in self.job.input_rows}
        return {
            path: Value(drawn[spread.leaf], quantities[path], self.job.units)
            for path, spread in self.job.spreads.items()
        }

    @cached_property
    def broken_rules(self) -> list[BrokenRule]:
        """Rules that samples break, by level, the most often broken first: path and sentence with
        the value of the first such sample. Those samples count as failed."""
        return [
            BrokenRule(part.level, *row)
            for part, run in self._levels
            for row in run.faults_of(self.job.asked.at(part.level))
        ]

    @cached_property
    def standing(self) -> list[str]:
        """Inputs that do not scatter here though no shop holds them exactly."""
        from fitwright.studies.standing import standing

        return standing(self.job)

    @property
    def title(self) -> str:
        """What was counted, how often all of it holds, and what does not count in that."""
        from fitwright.studies.standing import grouped

        parts = [f"{samples} samples at {level} level" for level, samples in self.levels.items()]
        low, high = self.interval
        every = "every limit" if not self.not_counted else "every limit that was counted"
        lines = [
            f"{', '.join(parts)}, seed {self.seed}: {every} holds in "
            f"{self.pass_rate:.3%} (95 % interval {low:.3%} to {high:.3%})"
        ]
        if self.stopped:
            lines[0] += f"; {self.stopped}"
        for part, run in self._levels:
            if run.out_of_domain:
                lines.append(f"out of domain: {run.out_of_domain} at {part.level} level")
                lines += [
                    f"  {broken.count} break a rule, first sample {broken.first}: {broken.rule}"
                    for broken in self.broken_rules
                    if broken.level == part.level
                ]
        for level in dict.fromkeys(level for level, *_ in self.not_counted):
            own = [path for at, _, path in self.not_counted if at == level]
            lines.append(
                f"not counted: {len(own)} findings of {level} level: "
                f"{grouped(list(dict.fromkeys(own)))}"
            )
        if self.standing:
            lines.append(f"no spread: {grouped(self.standing)}")
        return "\n".join(lines)

    def table(self, units: str | None = None, all_states: bool = False) -> Table:
        """Per output the state that is missed most often, or every state."""
        units = in_system(units, self.job.units)
        rows = self._findings
        if not all_states:
            # Where several states are kept equally often, the one with the least nominal reserve.
            last = self._levels[-1].part.level
            reserve = {(f.state, f.path): f.reserve for f in evaluate(self.job, level=last)}

            def risk(finding: StudyFinding) -> tuple[float, float]:
                return finding.pass_rate, reserve.get((finding.state, finding.path), 0.0)

            worst: dict[str, StudyFinding] = {}
            for finding in rows:
                held = worst.get(finding.path)
                if held is None or risk(finding) < risk(held):
                    worst[finding.path] = finding
            rows = sorted(worst.values(), key=risk)
        head = ["finding", "state", "mean", "deviation", "least", "greatest", "limit", "passes"]
        head += ["level", "n"]
        return Table(head, [f.row(units) for f in rows], self.title, [mark_of(f) for f in rows])

    def to_dict(self) -> list[dict[str, Any]]:
        """Every output that was counted, in every state; numbers in SI, temperatures in degC."""
        return [
            {
                "path": f.path,
                "state": f.state,
                "mean": f.statistics.mean,
                "deviation": f.statistics.deviation,
                "least": f.statistics.least,
                "greatest": f.statistics.greatest,
                "at_least": _told(f.at_least),
                "at_most": _told(f.at_most),
                "pass_rate": f.pass_rate,
                "interval_low": f.interval[0],
                "interval_high": f.interval[1],
                "level": f.level,
                "samples": f.samples,
                "unit": units.QUANTITIES[f.quantity]["si"],
            }
            for f in self._findings
        ]

    def quantile(self, state: str, path: str, share: float) -> Value:
        """The value below which a share of the samples of one output lies."""
        if not 0.0 <= share <= 1.0:
            raise InputError([("share", f"{share} must be from 0 to 1")])
        finding = self[state, path]
        value = finding.statistics.quantile(share).value
        return Value(value, finding.quantity, self.job.units)

    def shortest_interval(self, state: str, path: str, share: float = 0.95) -> tuple[Value, Value]:
        """The narrowest interval of values that holds a share of the samples of one output, to
        about a hundredth of what is left out at the ends (by quantiles of the kept statistics)."""
        if not 0.0 < share < 1.0:
            raise InputError([("share", f"{share} must be between 0 and 1")])
        left = 1.0 - share
        ends = [
            (
                self.quantile(state, path, left * step / SHORTEST_STEPS),
                self.quantile(state, path, min(1.0, share + left * step / SHORTEST_STEPS)),
            )
            for step in range(SHORTEST_STEPS + 1)
        ]
        return min(ends, key=lambda pair: float(pair[1]) - float(pair[0]))

    def of_columns(
        self,
        function: Callable[..., NDArray[np.float64]],
        outputs: str | Sequence[str],
        state: str | None = None,
        *,
        quantity: str = "ratio",
        at_least: str | float | None = None,
        at_most: str | float | None = None,
    ) -> ColumnFinding:
        """A Python function of one's own on columns that the study kept, held against limits.

        `.mean`, `.deviation`, `.quantile(share)`, `.pass_rate` and `.interval`, `.shares` of the
        inputs (squares of the correlation). What can be written as an expression is better told as
        an output (`with_outputs`): it has exact derivatives and counts in the study's own rate.

        Parameters
        ----------
        function : takes a column of each output (SI, one array a path) and gives one as long;
            called with 65 536 samples at a time
        outputs : paths that `study(keep=[...])` named
        state : of the outputs; left out, the first
        quantity : what its numbers are (SI), to show them and to read limits with units
        at_least, at_most : limits; a sample that is no number does not pass

        Raises
        ------
        InputError : where a column was not kept; naming the function and the samples where it
            raises or gives an array of another shape

        >>> study = job.study(100_000, keep=["rings.sleeve.holding_force"])
        >>> study.of_columns(
        ...     lambda force: force / 2.0, "rings.sleeve.holding_force", "full_load",
        ...     quantity="force", at_least="15 kN",
        ... ).pass_rate
        """
        from fitwright.studies.columns import Kept, column_finding

        paths = [outputs] if isinstance(outputs, str) else outputs
        kept = Kept(self.columns, self.job.states, self.job.spreads, self._run, self.job.units)
        return column_finding(kept, function, paths, state, quantity, at_least, at_most)

    def quantiles(
        self,
        shares: Sequence[float] = (0.001, 0.01, 0.05, 0.5, 0.95, 0.99, 0.999),
        units: str | None = None,
    ) -> Table:
        """Values below which the given shares of the samples lie."""
        units = in_system(units, self.job.units)
        wrong = [s for s in shares if not 0.0 <= s <= 1.0]
        if wrong:
            raise InputError([("shares", f"{wrong[0]} must be from 0 to 1")])
        rows = [
            [f.path, f.state]
            + [shown(f.statistics.quantile(share).value, f.quantity, units) for share in shares]
            for f in self._findings
        ]
        return Table(["output", "state", *(f"{share:.1%}" for share in shares)], rows)

    def _linear(self, state: str, path: str) -> Linear:
        """Contributions of every input to one output, worked out once."""
        core = self.job.asked.at("heating")
        output = core.output(state, path)
        if output not in self._contributions:
            spreads = list(self.job.spreads.values())
            core = self.job.asked.at(core.level_of(output))
            effects, shares, budget, one_sided = _core.contributions(
                core, spreads, [output], self.job.tied()
            )
            self._contributions[output] = Linear(
                effects[0].tolist(), shares[0].tolist(), budget[0], one_sided[0].tolist()
            )
        return self._contributions[output]

    def contributions(self, state: str, path: str) -> dict[str, float]:
        """Exact derivative times standard deviation of each input (SI), the largest first."""
        pairs = zip(self.job.spreads, self._linear(state, path).effects, strict=True)
        return dict(sorted(pairs, key=lambda pair: -abs(pair[1])))

    def sensitivity(
        self, state: str | None = None, path: str | None = None, units: str | None = None
    ) -> Table:
        """Which input matters, by exact derivative times spread; by default for what is most at
        risk. Linear: the last column of the head compares it with the samples."""
        if state is None or path is None:
            first = self.at_risk[0] if self.at_risk else self._findings[0]
            state, path = first.state, first.path
        units = in_system(units, self.job.units)
        finding = self[state, path]
        linear = self._linear(state, path)
        budget = linear.budget
        share = dict(zip(self.job.spreads, linear.shares, strict=True))
        sided = {s for s, flag in zip(self.job.spreads, linear.one_sided, strict=True) if flag}
        step = "difference" if finding.quantity == "temperature" else finding.quantity
        rows = [
            [
                source + ("*" if source in sided else ""),
                shown(value, step, units),
                f"{share[source]:.0%}",
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
        from fitwright.studies.indices import run_indices

        if state is None or path is None:
            first = self.at_risk[0] if self.at_risk else self._findings[0]
            state, path = first.state, first.path
        job = self.job.at_level(self[state, path].level)
        return run_indices(job, samples, self.seed, [(state, path)], threads, progress)

    def plot(self, state: str | None = None, path: str | None = None) -> Axes:
        """Histogram with limits of one output; by default of what is most at risk."""
        from fitwright.charts.figures import histogram as draw
        from fitwright.charts.figures import new_axes

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
        from fitwright.charts.figures import cumulative as draw
        from fitwright.charts.figures import new_axes

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
        from fitwright.charts.worst import scatter_matrix

        finding = self[state, path]
        count = min(samples, finding.samples)
        again = self._again(count, path, finding.level)
        column = again.columns[state, path]
        high_is_bad = finding.at_most == finding.at_most and finding.at_least != finding.at_least
        names = list(self.contributions(state, path))[:inputs]
        quantities = {p: q for p, q, *_ in self.job.input_rows}
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
        from fitwright.charts.figures import new_axes
        from fitwright.charts.figures import tornado as draw

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


def _told(bound: float) -> float | None:
    return bound if bound == bound else None
