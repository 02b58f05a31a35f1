"""The worst case: least and greatest values over all ends of the scatter."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from fitwright import _core
from fitwright.fields.arguments import checked
from fitwright.fields.errors import InputError
from fitwright.fields.records import Records
from fitwright.fields.tables import Shown, Table
from fitwright.fields.units import QUANTITIES
from fitwright.fields.value import Value
from fitwright.studies.inverse import spreads_of

if TYPE_CHECKING:
    from fitwright.job.system import System


@dataclass(frozen=True)
class Worst:
    """The least or the greatest value of an output over all ends of the scatter.

    `bound`: nothing in the box goes beyond it. `proven`: it is the value, to a millionth of that or
    of the output's scale. `corner`: because the output runs one way along every input.
    """

    value: Value
    at: dict[str, Value]
    bound: Value
    proven: bool
    corner: bool
    boxes: int
    evaluations: int
    out_of_domain: int

    @property
    def gap(self) -> float:
        """What may be missing: from the value to the bound (SI)."""
        return 0.0 if self.proven else abs(float(self.bound) - float(self.value))

    def proof(self, units: str | None = None) -> str:
        """What stands behind the value."""
        if self.proven and self.corner:
            text = "proven: a corner"
        elif self.proven:
            text = f"proven: {self.boxes} boxes"
        elif abs(self.bound) == float("inf"):
            text = "not proven: found by search; single models, balls at speed, plate and tools "
            text += "have no bounds"
        else:
            text = f"not proven: found; bound {self.bound.shown(units)}, {self.boxes} boxes"
        if self.out_of_domain:
            text += f", {self.out_of_domain} points out of domain"
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


@checked
class WorstCases(Records, Shown):
    """Least and greatest values over the box of all ends; by state and path.

    Each comes with what proves it: bounds of the output and of its derivatives over the whole box,
    halved where that does not do. Where the work told was spent first, the bound says how much may
    be missing.
    """

    def __init__(self, cases: Sequence[WorstCase], tied: bool, stopped: str = "") -> None:
        #: whether some inputs are correlated, which a box of ends cannot know
        self.all, self.tied = list(cases), tied
        #: why it ended before its last output, else empty
        self.stopped = stopped

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
    def proven(self) -> bool:
        """Whether every least and every greatest value is."""
        return all(case.least.proven and case.greatest.proven for case in self.all)

    @property
    def passed(self) -> bool:
        return all(case.passed for case in self.all)

    def to_dict(self) -> list[dict[str, Any]]:
        """One output a line; numbers in SI, temperatures in degC."""
        return [
            {
                "path": c.path,
                "state": c.state,
                "least": float(c.least.value),
                "nominal": float(c.nominal),
                "greatest": float(c.greatest.value),
                "at_least": None if c.at_least is None else float(c.at_least),
                "at_most": None if c.at_most is None else float(c.at_most),
                "passed": c.passed,
                "proven": c.least.proven and c.greatest.proven,
                "unit": QUANTITIES[c.nominal.quantity]["si"],
            }
            for c in self.all
        ]

    def table(self, units: str | None = None) -> Table:
        head = ["output", "state", "least", "nominal", "greatest", "limit", "", "proof"]
        rows, marks = [], []
        for c in self.all:
            limits = [
                f"{sign} {bound.shown(units)}"
                for sign, bound in ((">=", c.at_least), ("<=", c.at_most))
                if bound is not None
            ]
            word = "" if not limits else "ok" if c.passed else "NOT MET"
            least, greatest = c.least.proof(units), c.greatest.proof(units)
            proof = least if least == greatest else f"least {least}; greatest {greatest}"
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
        if self.tied:
            title += "; correlated inputs are taken as free of each other"
        if self.stopped:
            title += f"; {self.stopped}"
        return Table(head, rows, title, marks)


def worst_case(
    job: System, state: str | None, path: str | None, budget: int, boxes: int
) -> WorstCases:
    problems = []
    for name, most in (("budget", budget), ("boxes", boxes)):
        if not isinstance(most, int) or isinstance(most, bool) or most < 1:
            problems.append((name, f"{most!r} must be a whole number above 0"))
    job.check_scatter(problems)
    if state is not None and path is None and state not in job.states:
        problems.append(("state", f'"{state}" is not a state; there is {", ".join(job.states)}'))
    if problems:
        raise InputError(problems)
    limits = {number: (low, high) for number, low, high in job.asked.limits()}
    if path is None:
        outputs = [n for n in limits if state is None or job.output_rows[n][0] == state]
    else:
        states = job.states if state is None else [state]
        outputs = [job.asked.output(each, path) for each in states]
    values = job.asked.evaluate()
    spreads = spreads_of(job)
    rows = []
    stopped = ""
    try:
        for number in outputs:
            both = [(number, True), (number, False)]
            rows += _core.extremes(job.asked, spreads, both, budget, boxes)
    except KeyboardInterrupt:
        if not rows:
            raise
        stopped = f"stopped by hand after {len(rows) // 2} of {len(outputs)} outputs"
        outputs = outputs[: len(rows) // 2]

    def made(row: Any, quantity: str) -> Worst:
        value, ends, bound, proven, corner, cut, evaluations, outside = row
        where = {
            spread.path: Value(end, job.input_rows[spread.leaf][1], job.units)
            for spread, end in zip(spreads, ends, strict=True)
        }
        found, limit = Value(value, quantity, job.units), Value(bound, quantity, job.units)
        return Worst(found, where, limit, proven, corner, cut, evaluations, outside)

    cases = []
    for i, number in enumerate(outputs):
        name, output, quantity, _ = job.output_rows[number]
        bounds = [
            Value(bound, quantity, job.units) if bound == bound else None
            for bound in limits.get(number, (float("nan"), float("nan")))
        ]
        least, greatest = (made(rows[k], quantity) for k in (2 * i, 2 * i + 1))
        nominal = Value(values[number], quantity, job.units)
        cases.append(WorstCase(name, output, nominal, least, greatest, bounds[0], bounds[1]))
    return WorstCases(cases, bool(job.correlations), stopped)
