"""Which measured ring on which measured shaft, and the cheapest grades that keep a pass rate."""

from __future__ import annotations

import importlib
import itertools
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from fitwright import _core
from fitwright.fields import units
from fitwright.fields.arguments import checked
from fitwright.fields.errors import InputError
from fitwright.fields.tables import Shown, Table
from fitwright.fields.units import UnitProblem
from fitwright.fields.value import Value
from fitwright.job.findings import evaluate
from fitwright.studies.inverse import read_at, spreads_of
from fitwright.studies.options import StudyOptions
from fitwright.studies.run import run_study

if TYPE_CHECKING:
    from fitwright.job.value import Job

#: Cost of a seat or bore made to an ISO 286 grade, IT7 taken as 1: a plain rising table to start
#: from, common practice, from memory. A shop has its own figures: pass them as `costs`.
COST_OF_GRADE: dict[int, float] = {4: 6.0, 5: 3.5, 6: 1.8, 7: 1.0, 8: 0.7, 9: 0.5, 10: 0.4}
#: More reserves than this (shafts times sets of rings) are not worked out to prove a match.
MOST_RESERVES = 20_000
#: Steps the proof may take.
MOST_STEPS = 5_000_000
#: More sets of grades than this are not looked through.
MOST_SETS = 200_000
#: Sets that a study looks at before the search gives up.
MOST_STUDIES = 24


def _numbers(path: str, given: Any, quantity: str) -> NDArray[np.float64]:
    """A list of measured values."""
    if isinstance(given, str) or not isinstance(given, Sequence | np.ndarray) or len(given) == 0:
        raise InputError([(path, "must be a list of measured values")])
    try:
        read = np.atleast_1d(np.asarray(units.to_si(given, quantity), dtype=np.float64))
    except UnitProblem as problem:
        raise InputError([(path, str(problem))]) from problem
    if read.ndim != 1 or not np.all(np.isfinite(read)):
        raise InputError([(path, "must be a list of finite values")])
    return read


# -- measured rings on measured shafts ------------------------------------------------------------


@dataclass(frozen=True)
class Pairing:
    """One shaft and the rings it gets, each by its place in the list given."""

    shaft: int
    seat: Value
    rings: dict[str, tuple[int, Value]]
    reserve: float
    binding: str
    problem: str

    @property
    def good(self) -> bool:
        return self.reserve >= 0.0


@checked
class Match(Shown):
    """The best assignment; `.good` sets of `len(match)`, `.least_reserve`.

    `.proven`: no other assignment has more good sets, or as many and more reserve. One kind of ring
    always is; several kinds are where the search through all assignments comes to its end.
    """

    def __init__(
        self, sets: Sequence[Pairing], left_over: dict[str, list[int]], proven: bool
    ) -> None:
        self.all, self.left_over, self.proven = list(sets), left_over, proven
        self.good = len([s for s in sets if s.good])
        self.least_reserve = min(s.reserve for s in sets)

    def __iter__(self) -> Iterator[Pairing]:
        return iter(self.all)

    def __len__(self) -> int:
        return len(self.all)

    def table(self, units: str | None = None) -> Table:
        rings = list(self.all[0].rings)
        rows = [
            [f"{s.shaft}: {s.seat.shown(units)}"]
            + [f"{s.rings[r][0]}: {s.rings[r][1].shown(units)}" for r in rings]
            + ["" if s.problem else f"{s.reserve:.0%}", s.problem or s.binding]
            for s in self.all
        ]
        marks = ["good" if s.good else "bad" for s in self.all]
        title = f"{self.good} good sets of {len(self.all)}; numbers are places in the lists given"
        title += "; proven best" if self.proven else "; not proven best"
        return Table(["seat", *rings, "least reserve", "what binds"], rows, title, marks)


def _assignment() -> Any:
    """SciPy's solver of the linear assignment, an optional extra: a look-up, no formula."""
    try:
        return importlib.import_module("scipy.optimize").linear_sum_assignment
    except ImportError as problem:
        raise InputError(
            [("match", "needs SciPy, which is not installed: pip install 'fitwright[study]'")]
        ) from problem


def match(job: Job, seats: Any, rings: Mapping[str, Any], rounds: int) -> Match:
    if not isinstance(rounds, int) or isinstance(rounds, bool) or rounds < 1:
        raise InputError([("rounds", f"{rounds!r} must be a whole number above 0")])
    if not rings:
        raise InputError([("rings", "name at least one ring and its measured bores")])
    plans = {ring["name"]: ring["seat"] for ring in job.file.rows("ring")}
    there = ", ".join(plans)
    unknown = [
        (f"rings.{name}", f"is not a ring; there is {there}") for name in rings if name not in plans
    ]
    if unknown:
        raise InputError(unknown)
    on = {plans[name] for name in rings}
    if len(on) > 1:
        raise InputError(
            [("rings", f"sit on several seats ({', '.join(sorted(on))}): one at a time")]
        )
    seat_path = f"seats.{on.pop()}.diameter"
    seat_leaf = job.core.leaf(seat_path)
    sizes = _numbers("seats", seats, "size")
    bores = {name: _numbers(f"rings.{name}", given, "size") for name, given in rings.items()}
    short = [
        (f"rings.{name}", f"{len(column)} bores for {len(sizes)} seats: each needs one")
        for name, column in bores.items()
        if len(column) < len(sizes)
    ]
    if short:
        raise InputError(short)
    solver = _assignment()
    leaves = {name: job.core.leaf(f"rings.{name}.bore") for name in bores}
    chosen: dict[str, list[int]] = {}
    # One kind of ring after the other, the rest as assigned so far, until nothing moves.
    for _ in range(rounds):
        before = dict(chosen)
        for name, column in bores.items():
            others = [n for n in chosen if n != name]
            matrix = _core.reserve_matrix(
                job.core,
                seat_leaf,
                sizes.tolist(),
                leaves[name],
                column.tolist(),
                [leaves[n] for n in others],
                [[float(bores[n][k]) for k in chosen[n]] for n in others],
            )
            _, found = solver(_core.assignment_costs(matrix))
            chosen[name] = [int(k) for k in found]
        if chosen == before or len(bores) == 1:
            break
    proven = len(bores) == 1
    if not proven and len(sizes) * np.prod([len(b) for b in bores.values()]) <= MOST_RESERVES:
        chosen, proven = _through_all(job, seat_leaf, sizes, leaves, bores, chosen)
    sets = []
    for i, size in enumerate(sizes):
        given = {name: (chosen[name][i], float(bores[name][chosen[name][i]])) for name in bores}
        sets.append(_pairing(job, seat_path, i, float(size), given))
    left = {n: [k for k in range(len(b)) if k not in chosen[n]] for n, b in bores.items()}
    return Match(sets, left, proven)


def _through_all(
    job: Job,
    seat_leaf: int,
    sizes: NDArray[np.float64],
    leaves: dict[str, int],
    bores: dict[str, NDArray[np.float64]],
    start: dict[str, list[int]],
) -> tuple[dict[str, list[int]], bool]:
    """Every set of rings on every shaft, and the best of all assignments of them."""
    *others, last = bores
    counts = [len(column) for column in bores.values()]
    parts = []
    for picked in itertools.product(*(bores[name].tolist() for name in others)):
        fixed = [[value] * len(sizes) for value in picked]
        parts.append(
            _core.reserve_matrix(
                job.core,
                seat_leaf,
                sizes.tolist(),
                leaves[last],
                bores[last].tolist(),
                [leaves[name] for name in others],
                fixed,
            )
        )
    reserves = np.ascontiguousarray(np.concatenate(parts, axis=1))
    begin = [start[name] for name in bores]
    places, proven = _core.match_sets(reserves, counts, begin, MOST_STEPS)
    return dict(zip(bores, places, strict=True)), proven


def _pairing(
    job: Job, seat_path: str, number: int, size: float, rings: dict[str, tuple[int, float]]
) -> Pairing:
    """The whole set at once, through the job itself."""
    shown = {name: (k, Value(bore, "size", job.units)) for name, (k, bore) in rings.items()}
    changes: dict[str, Any] = {seat_path: size}
    changes |= {f"rings.{name}.bore": bore for name, (_, bore) in rings.items()}
    try:
        worst = evaluate(job.replace(changes), level="quick").worst
    except InputError as error:
        return Pairing(number, Value(size, "size", job.units), shown, float("-inf"), "", str(error))
    sign = ">=" if worst.is_least else "<="
    binding = f"{worst.path} {sign} {worst.limit} in {worst.state}"
    return Pairing(number, Value(size, "size", job.units), shown, worst.reserve, binding, "")


# -- the cheapest grades --------------------------------------------------------------------------


@checked
class Allocation(Shown):
    """The cheapest grades that keep the pass rate; `.grades`, `.cost`, `.job`, `.study`."""

    def __init__(
        self,
        job: Job,
        grades: dict[str, int],
        widths: dict[str, Value],
        cost: float,
        linear_rate: float,
        study: Any,
        rate: float,
        studied: int,
    ) -> None:
        self.job, self.grades, self.widths, self.cost = job, grades, widths, cost
        #: what the linear budget said, a bound from below where findings are normal
        self.linear_rate, self.study = linear_rate, study
        self.rate, self.studied = rate, studied
        self.pass_rate: float = study.pass_rate

    def table(self, units: str | None = None) -> Table:
        rows = [
            [path, f"IT{grade}", self.widths[path].shown(units)]
            for path, grade in self.grades.items()
        ]
        low, high = self.study.interval
        title = (
            f"cheapest grades for a pass rate of {self.rate:.3%}: cost {self.cost:g}, "
            f"{self.pass_rate:.3%} in {self.study.samples} samples "
            f"(95 % interval {low:.3%} to {high:.3%}; set {self.studied} of those in order of cost)"
        )
        return Table(["dimension", "grade", "tolerance"], rows, title)


def allocate(
    job: Job,
    paths: Sequence[str],
    rate: float,
    costs: Mapping[int, float] | Mapping[str, Mapping[int, float]] | None,
    seed: int,
    samples: int,
) -> Allocation:
    if isinstance(rate, bool) or not isinstance(rate, int | float) or not 0.0 < rate < 1.0:
        raise InputError([("rate", f"{rate!r} must be a pass rate above 0 and below 1")])
    wanted = [paths] if isinstance(paths, str) else list(paths)
    problems: list[tuple[str, str]] = []
    if not wanted:
        problems.append(("paths", "name at least one dimension"))
    per_path: dict[str, dict[int, float]] = {}
    for path in wanted:
        leaf = job.core.leaf(path)
        if job.input_rows[leaf][1] != "size":
            problems.append((path, "is not a size: ISO 286 has no grade for it"))
        own: Any = COST_OF_GRADE if costs is None else costs
        if any(isinstance(key, str) for key in own):
            if path not in own:
                problems.append((f"costs.{path}", "is missing"))
                continue
            own = own[path]
        per_path[path] = _cost_table(f"costs.{path}", own, problems)
    sets = 1
    for table in per_path.values():
        sets = sets * max(1, len(table))
    if sets > MOST_SETS:
        problems.append(
            ("paths", f"{sets} sets of grades: at most {MOST_SETS} can be looked through")
        )
    if problems:
        raise InputError(problems)
    leaves = [job.core.leaf(path) for path in wanted]
    values = job.core.values()
    grades = [sorted(per_path[path]) for path in wanted]
    others = [s for s in spreads_of(job) if s.path not in wanted]
    widths = [
        [_core.standard_tolerance(grade, values[leaf]) for grade in own]
        for leaf, own in zip(leaves, grades, strict=True)
    ]
    prices = [[per_path[p][g] for g in own] for p, own in zip(wanted, grades, strict=True)]
    finest = dict(zip(wanted, (own[0] for own in grades), strict=True))
    candidates = _core.allocations(job.core, others, leaves, widths, prices, rate, MOST_STUDIES)
    options = StudyOptions(samples, seed, None, None, False, level=job.level)
    reached = 0.0
    for number, (chosen, cost, linear) in enumerate(candidates, 1):
        picked = {p: own[k] for p, own, k in zip(wanted, grades, chosen, strict=True)}
        width = {p: w[k] for p, w, k in zip(wanted, widths, chosen, strict=True)}
        toleranced = _toleranced(job, width)
        read_at(toleranced, rate, seed, samples)
        study = run_study(toleranced, options)
        reached = max(reached, study.pass_rate)
        if study.pass_rate >= rate:
            shown = {p: Value(w, "fine", job.units) for p, w in width.items()}
            return Allocation(toleranced, picked, shown, cost, linear, study, rate, number)
    told = ", ".join(f"{p} IT{g}" for p, g in finest.items())
    if not candidates:
        text = f"no set of grades comes near {rate:.3%}, not even the finest ({told})"
    else:
        text = (
            f"none of the {len(candidates)} cheapest sets the linear budget allows reaches "
            f"{rate:.3%}; the best has {reached:.3%}"
        )
    raise InputError([("rate", text)])


def _toleranced(job: Job, widths: Mapping[str, float]) -> Job:
    """The job with each dimension in the middle of its tolerance, six deviations wide."""
    spreads = dict(job.spreads)
    for path, width in widths.items():
        spreads[path] = _core.tolerance_spread(job.core, path, width)
    return type(job)(job.core, job.file, spreads)


def _cost_table(path: str, own: Any, problems: list[tuple[str, str]]) -> dict[int, float]:
    if not isinstance(own, Mapping) or not own:
        problems.append((path, "must be a table of grade and cost, {6: 1.8, 7: 1.0}"))
        return {}
    found: dict[int, float] = {}
    for grade, cost in own.items():
        if not isinstance(grade, int) or isinstance(grade, bool) or not -1 <= grade <= 18:
            problems.append((path, f"{grade!r} must be a grade from -1 to 18"))
        elif isinstance(cost, bool) or not isinstance(cost, int | float) or not 0.0 <= cost < 1e300:
            problems.append((path, f"cost {cost!r} of IT{grade} must be a finite number from 0"))
        else:
            found[grade] = float(cost)
    return found
