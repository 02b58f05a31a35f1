"""Questions turned round: how far may a dimension go, what is the worst, which values are best."""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from fitwright import _core, units
from fitwright.errors import InputError
from fitwright.findings import Value
from fitwright.tables import Table
from fitwright.units import Number, UnitProblem, shown

if TYPE_CHECKING:
    from fitwright.job import Job

#: Evaluations the search of one extreme may take where derivatives do not settle it.
BUDGET = 20_000
#: Samples of one judgement at a pass rate.
SAMPLES = 20_000


class _Shown:
    """Shows itself as a table, in a terminal and in a notebook."""

    def table(self, units: str = "metric") -> Table:
        raise NotImplementedError

    def __repr__(self) -> str:
        return str(self.table())

    def _repr_html_(self) -> str:
        return self.table()._repr_html_()


# -- what all questions read ----------------------------------------------------------------------


def _step(quantity: str) -> str:
    return "difference" if quantity == "temperature" else quantity


def _spreads(job: Job) -> list[_core.Spread]:
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
    if at != "nominal" and not job.spreads:
        problems.append(("job", "has no input that scatters; give one a spread"))
    if problems:
        raise InputError(problems)
    workers = threads or os.cpu_count() or 1
    return told, _core.Judgement(kind, rate, seed, samples, workers)


def _paths(paths: str | Sequence[str]) -> list[str]:
    return [paths] if isinstance(paths, str) else list(paths)


@dataclass(frozen=True)
class Binding:
    """One side of a limit: what fails first, or what binds."""

    state: str
    path: str
    limit: Value
    is_least: bool

    def shown(self, system: str = "metric") -> str:
        sign = ">=" if self.is_least else "<="
        return f"{self.path} {sign} {self.limit.shown(system)}"

    def __str__(self) -> str:
        return f"{self.shown()} in {self.state}"


def _binding(job: Job, output: int, limit: float, is_least: bool) -> Binding | None:
    if output < 0:
        return None
    state, path, quantity, _ = job._outputs[output]
    return Binding(state, path, Value(limit, quantity), is_least)


# -- how far a dimension may go -------------------------------------------------------------------


@dataclass(frozen=True)
class End:
    """How far a dimension may go one way, and what stops it there.

    `stop`: "limit" (`fails` does), "domain" (a rule of the model, `problem`), "range" (the end of
    what the input may be) or "already" (`fails` does at the value it has).
    """

    value: Value
    stop: str
    fails: Binding | None
    problem: str
    #: worst case: what stands behind the corner of the finding that fails
    proof: str

    def told(self, system: str) -> tuple[str, str]:
        """What stops it, and in which state."""
        if self.stop == "range":
            return "end of its range", ""
        if self.stop == "domain" or self.fails is None:
            return f"domain ends: {self.problem}", ""
        already = "fails already: " if self.stop == "already" else ""
        return already + self.fails.shown(system), self.fails.state


@dataclass(frozen=True)
class ReuseLimit:
    """One dimension: from `low.value` to `high.value` every limit holds."""

    path: str
    value: Value
    low: End
    high: End


def _with_room(limit: ReuseLimit, end: End, system: str) -> str:
    """The end, and how far off it is: a size is not told finely enough for a fit."""
    text = end.value.shown(system)
    if limit.value.quantity != "size":
        return text
    room = float(end.value) - float(limit.value)
    return f"{text} ({'+' if room > 0.0 else ''}{shown(room, 'fine', system)})"


class ReuseLimits(_Shown):
    """How far each dimension may go, both ways, before a limit fails; by path."""

    def __init__(self, told: str, limits: Sequence[ReuseLimit]) -> None:
        self.at, self.all = told, list(limits)

    def __iter__(self) -> Iterator[ReuseLimit]:
        return iter(self.all)

    def __len__(self) -> int:
        return len(self.all)

    def __getitem__(self, path: str) -> ReuseLimit:
        for found in self.all:
            if found.path == path:
                return found
        raise InputError([(path, "is not in these limits; pass it in paths")])

    def table(self, units: str = "metric") -> Table:
        head = ["dimension", "from", "value", "to", "fails below", "in", "fails above", "in"]
        rows, marks = [], []
        for r in self.all:
            already = r.low.stop == "already"
            ends = (
                ["none", "none"] if already else [_with_room(r, e, units) for e in (r.low, r.high)]
            )
            told = [*r.low.told(units), *r.high.told(units)]
            rows.append([r.path, ends[0], r.value.shown(units), ends[1], *told])
            proofs = sorted({e.proof for e in (r.low, r.high) if e.proof})
            if self.at == "worst_case":
                rows[-1].append("; ".join(proofs))
            marks.append("bad" if already else "")
        if self.at == "worst_case":
            head.append("proof")
        return Table(head, rows, f"how far each dimension may go, at {self.at}", marks)


def _dimensions(job: Job) -> list[str]:
    """Inputs of quantity size or fine that have a value of their own, but for ends of scatter."""
    known = {path for path, *_ in job._inputs}
    ends = {f"{path}_{end}" for path in known for end in ("low", "high")}
    values = job._core.values()
    return [
        path
        for (path, quantity, *_), value in zip(job._inputs, values, strict=True)
        if quantity in ("size", "fine") and path not in ends and abs(value) < float("inf")
    ]


def _proof(job: Job, output: int, checked: bool, monotonic: bool, worst: float) -> str:
    if not checked:
        return ""
    if monotonic:
        return "derivative signs agree at 4 points"
    return f"signs differ; a search finds {shown(worst, job._outputs[output][2])}"


def reuse_limits(
    job: Job, paths: str | Sequence[str] | None, at: str | float, seed: int, samples: int
) -> ReuseLimits:
    told, how = read_at(job, at, seed, samples)
    wanted = _dimensions(job) if paths is None else _paths(paths)
    leaves = [job._core.leaf(path) for path in wanted]
    rows = _core.reuse_limits(job._core, _spreads(job), how, leaves)
    values = job._core.values()
    found = []
    for path, leaf, row in zip(wanted, leaves, rows, strict=True):
        quantity = job._inputs[leaf][1]
        ends = [
            End(
                Value(value, quantity),
                stop,
                _binding(job, output, limit, is_least),
                problem,
                _proof(job, output, *looked_at),
            )
            for value, stop, output, limit, is_least, problem, *looked_at in row
        ]
        found.append(ReuseLimit(path, Value(values[leaf], quantity), ends[0], ends[1]))
    return ReuseLimits(told, found)


# -- the worst case -------------------------------------------------------------------------------


@dataclass(frozen=True)
class Worst:
    """The least or the greatest value of an output over all ends of the scatter."""

    value: Value
    at: dict[str, Value]
    monotonic: bool
    one_sided: bool
    points: int
    evaluations: int
    out_of_domain: int

    @property
    def proof(self) -> str:
        """What stands behind the value."""
        if self.monotonic:
            text = f"derivative signs agree at {self.points} points"
        else:
            text = f"searched, {self.evaluations} evaluations"
        if self.out_of_domain:
            text += f", {self.out_of_domain} of them out of domain"
        return text


@dataclass(frozen=True)
class WorstCase:
    """An output between its extremes."""

    state: str
    path: str
    nominal: Value
    least: Worst
    greatest: Worst
    at_least: Value | None
    at_most: Value | None

    @property
    def passed(self) -> bool:
        """Whether the limits, where there are any, hold at both extremes."""
        below = self.at_least is not None and not self.least.value >= self.at_least
        above = self.at_most is not None and not self.greatest.value <= self.at_most
        return not below and not above


class WorstCases(_Shown):
    """Least and greatest values over the box of all ends; by state and path.

    "monotonic along the path checked" is said where every derivative keeps its sign at the middle,
    half way, at the corner and at the opposite corner, and no corner that differs in one input is
    worse. It is no proof between these points.
    """

    def __init__(self, cases: Sequence[WorstCase]) -> None:
        self.all = list(cases)

    def __iter__(self) -> Iterator[WorstCase]:
        return iter(self.all)

    def __len__(self) -> int:
        return len(self.all)

    def __getitem__(self, key: tuple[str, str]) -> WorstCase:
        for case in self.all:
            if (case.state, case.path) == key:
                return case
        raise InputError([(key[1], f"is not in these worst cases for state {key[0]}")])

    @property
    def passed(self) -> bool:
        return all(case.passed for case in self.all)

    def table(self, units: str = "metric") -> Table:
        head = ["output", "state", "least", "nominal", "greatest", "limit", "", "proof"]
        rows, marks = [], []
        for c in self.all:
            limits = [
                f"{sign} {bound.shown(units)}"
                for sign, bound in ((">=", c.at_least), ("<=", c.at_most))
                if bound is not None
            ]
            word = "" if not limits else "ok" if c.passed else "NOT MET"
            if c.least.monotonic and c.greatest.monotonic:
                proof = f"monotonic along the path checked: {c.least.proof}"
            else:
                proof = f"least: {c.least.proof}; greatest: {c.greatest.proof}"
            rows.append(
                [
                    c.path,
                    c.state,
                    *(v.shown(units) for v in (c.least.value, c.nominal, c.greatest.value)),
                    " and ".join(limits),
                    word,
                    proof,
                ]
            )
            marks.append({"": "", "ok": "good", "NOT MET": "bad"}[word])
        title = "least and greatest over all ends of the scatter"
        if any(c.least.one_sided or c.greatest.one_sided for c in self.all):
            title += " (some derivatives of this job hold on one side only)"
        return Table(head, rows, title, marks)


def worst_case(job: Job, state: str | None, path: str | None, budget: int) -> WorstCases:
    problems = []
    if not isinstance(budget, int) or isinstance(budget, bool) or budget < 1:
        problems.append(("budget", f"{budget!r} must be a whole number above 0"))
    if not job.spreads:
        problems.append(("job", "has no input that scatters; give one a spread"))
    if state is not None and path is None and state not in job.states:
        problems.append(("state", f'"{state}" is not a state; there is {", ".join(job.states)}'))
    if problems:
        raise InputError(problems)
    limits = {number: (low, high) for number, low, high in job._core.limits()}
    if path is None:
        outputs = [n for n in limits if state is None or job._outputs[n][0] == state]
    else:
        states = job.states if state is None else [state]
        outputs = [job._core.output(each, path) for each in states]
    values = job._core.evaluate()
    spreads = _spreads(job)
    rows = []
    for number in outputs:  # one by one, so that Ctrl-C is heard between them
        rows += _core.extremes(job._core, spreads, [(number, True), (number, False)], budget)

    def made(row: Any, quantity: str) -> Worst:
        value, ends, monotonic, one_sided, points, evaluations, outside = row
        where = {
            spread.path: Value(end, job._inputs[spread.leaf][1])
            for spread, end in zip(spreads, ends, strict=True)
        }
        found = Value(value, quantity)
        return Worst(found, where, monotonic, one_sided, points, evaluations, outside)

    cases = []
    for i, number in enumerate(outputs):
        name, output, quantity, _ = job._outputs[number]
        bounds = [
            Value(bound, quantity) if bound == bound else None
            for bound in limits.get(number, (float("nan"), float("nan")))
        ]
        least, greatest = (made(rows[k], quantity) for k in (2 * i, 2 * i + 1))
        nominal = Value(values[number], quantity)
        cases.append(WorstCase(name, output, nominal, least, greatest, bounds[0], bounds[1]))
    return WorstCases(cases)


# -- the best values ------------------------------------------------------------------------------


class Best(_Shown):
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

    def table(self, units: str = "metric") -> Table:
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
        leaf = job._core.leaf(path)
        quantity = job._inputs[leaf][1]
        if isinstance(pair, str) or not isinstance(pair, Sequence) or len(pair) != 2:
            problems.append((path, f"{units.told(pair)} must be a pair: from, to"))
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
    found = _core.solve_for(job._core, _spreads(job), how, leaves, low, high)
    values, evaluated, passed, reserve, rate, output, limit, is_least, told_why, judged = found
    if not evaluated:
        raise InputError([("bounds", f"no values between them can be evaluated; {told_why}")])
    named = {
        path: Value(value, job._inputs[leaf][1])
        for path, leaf, value in zip(bounds, leaves, values, strict=True)
    }
    return Best(
        job.replace({path: float(value) for path, value in named.items()}),
        told,
        named,
        reserve,
        None if isinstance(at, str) else rate,
        passed,
        _binding(job, output, limit, is_least),
        judged,
    )
