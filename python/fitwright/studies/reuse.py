"""How far each dimension may go before a limit fails."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from fitwright import _core
from fitwright.fields.arguments import checked
from fitwright.fields.errors import InputError
from fitwright.fields.records import Records
from fitwright.fields.tables import Shown, Table
from fitwright.fields.units import QUANTITIES, shown
from fitwright.fields.value import Value
from fitwright.studies.inverse import Binding, binding_of, paths_of, read_at, spreads_of
from fitwright.studies.options import progress_bar

if TYPE_CHECKING:
    from fitwright.job.system import System


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

    def told(self, system: str | None) -> tuple[str, str]:
        """What stops it, and in which state."""
        if self.stop == "range":
            return "end of its range", ""
        if self.stop == "domain" or self.fails is None:
            return f"domain ends: {self.problem}", ""
        already = "fails already: " if self.stop == "already" else ""
        return already + self.fails.shown(system), self.fails.state


@dataclass(frozen=True)
class ReuseLimit:
    """One dimension: from `low.value` to `high.value` every limit holds, but for those that fail
    where it is now, whatever holds them (`aside`). Of these `moved` hang on this dimension."""

    path: str
    value: Value
    low: End
    high: End
    aside: tuple[Binding, ...] = ()
    moved: tuple[Binding, ...] = ()

    def __repr__(self) -> str:
        return f"<{self.path}: {self.low.value} to {self.high.value}, now {self.value}>"


def _with_room(limit: ReuseLimit, end: End, system: str | None) -> str:
    """The end, and how far off it is: a size is not told finely enough for a fit."""
    text = end.value.shown(system)
    if limit.value.quantity != "size":
        return text
    room = float(end.value) - float(limit.value)
    told = Value(room, "fine", limit.value.system).shown(system)
    return f"{text} ({'+' if room > 0.0 else ''}{told})"


@checked
class ReuseLimits(Records, Shown):
    """How far each dimension may go, both ways, before a limit fails; by path."""

    def __init__(self, told: str, limits: Sequence[ReuseLimit], stopped: str = "") -> None:
        self.at, self.all = told, list(limits)
        #: why it ended before its last dimension, else empty
        self.stopped = stopped

    def __iter__(self) -> Iterator[ReuseLimit]:
        return iter(self.all)

    def __len__(self) -> int:
        return len(self.all)

    @property
    def aside(self) -> list[Binding]:
        """Limits that fail already; the ends are told without them."""
        return list(dict.fromkeys(side for found in self.all for side in found.aside))

    def to(self, path: str, unit: str) -> tuple[float, float, float]:
        """From, value and to of a dimension in any unit of its kind."""
        found = self[path]
        return found.low.value.to(unit), found.value.to(unit), found.high.value.to(unit)

    def __getitem__(self, path: str) -> ReuseLimit:
        for found in self.all:
            if found.path == path:
                return found
        raise InputError([(path, "is not in these limits; pass it in paths")])

    def to_dict(self) -> list[dict[str, Any]]:
        """One dimension a line; numbers in SI."""
        return [
            {
                "path": r.path,
                "value": float(r.value),
                "from": float(r.low.value),
                "to": float(r.high.value),
                "fails_below": " ".join(r.low.told(None)).strip(),
                "fails_above": " ".join(r.high.told(None)).strip(),
                "fails_already": "; ".join(str(side) for side in r.aside),
                "moved_by_it": "; ".join(str(side) for side in r.moved),
                "unit": QUANTITIES[r.value.quantity]["si"],
            }
            for r in self.all
        ]

    def table(self, units: str | None = None) -> Table:
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
            if r.moved:
                names = ", ".join(dict.fromkeys(side.path for side in r.moved))
                rows[-1][0] += f" (moves {names}, which fails)"
            marks.append("bad" if already else "near" if r.moved else "")
        if self.at == "worst_case":
            head.append("proof")
        title = f"how far each dimension may go, at {self.at}"
        if self.aside:
            failing = "; ".join(f"{side.shown(units)} in {side.state}" for side in self.aside)
            title += f"; set aside, as they fail already: {failing}"
        return Table(head, rows, f"{title}; {self.stopped}" if self.stopped else title, marks)


def _dimensions(job: System) -> list[str]:
    """Inputs of quantity size or fine that have a value of their own, but for ends of scatter."""
    known = {path for path, *_ in job.input_rows}
    ends = {f"{path}_{end}" for path in known for end in ("low", "high")}
    values = job.asked.values()
    return [
        path
        for (path, quantity, *_), value in zip(job.input_rows, values, strict=True)
        if quantity in ("size", "fine") and path not in ends and abs(value) < float("inf")
    ]


def _proof(
    job: System, output: int, checked: bool, proven: bool, worst: float, bound: float
) -> str:
    if not checked:
        return ""
    value, most = (shown(x, job.output_rows[output][2], job.units) for x in (worst, bound))
    return f"proven: {value}" if proven else f"not proven: found {value}, bound {most}"


def reuse_limits(
    job: System,
    paths: str | Sequence[str] | None,
    at: str | float,
    seed: int,
    samples: int,
    progress: bool | None = None,
) -> ReuseLimits:
    told, how = read_at(job, at, seed, samples)
    wanted = _dimensions(job) if paths is None else paths_of(paths)
    leaves = [job.asked.leaf(path) for path in wanted]
    values = job.asked.values()
    rows = []
    show = sys.stderr.isatty() if progress is None else progress
    bar = progress_bar(len(leaves), show)  # tells how long the rest will take
    stopped = ""
    try:
        for leaf in leaves:
            rows += _core.reuse_limits(job.asked, spreads_of(job), how, [leaf])
            bar.update(1)
    except KeyboardInterrupt:
        if not rows:
            raise
        stopped = f"stopped by hand after {len(rows)} of {len(leaves)} dimensions"
    finally:
        bar.close()
    found = []
    for path, leaf, (down, up, aside, moved) in zip(wanted, leaves, rows, strict=False):
        quantity = job.input_rows[leaf][1]
        ends = [
            End(
                Value(value, quantity, job.units),
                stop,
                binding_of(job, output, limit, is_least),
                problem,
                _proof(job, output, *looked_at),
            )
            for value, stop, output, limit, is_least, problem, *looked_at in (down, up)
        ]
        sides = [
            tuple(made for side in rest if (made := binding_of(job, *side)) is not None)
            for rest in (aside, moved)
        ]
        here = Value(values[leaf], quantity, job.units)
        found.append(ReuseLimit(path, here, ends[0], ends[1], *sides))
    return ReuseLimits(told, found, stopped)
