"""A job: the whole stack as a value. Nothing changes in place."""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping, Sequence
from functools import cached_property
from importlib import resources
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from fitwright import _core, units
from fitwright.arguments import checked
from fitwright.errors import InputError
from fitwright.files import path_of
from fitwright.findings import Findings, Value
from fitwright.jobfile import JobFile
from fitwright.jobnumbers import Inputs, read_number
from fitwright.jobtext import read_text
from fitwright.tables import Table
from fitwright.units import Number
from fitwright.usertext import told

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from fitwright.assign import Allocation, Match
    from fitwright.balls import Balls
    from fitwright.derivatives import Derivatives
    from fitwright.heat import ChillResult, LoosenResult, SeatingResult, SlipOnResult, SoakResult
    from fitwright.history import History, JointDiagram
    from fitwright.indices import SobolIndices
    from fitwright.inverse import Best
    from fitwright.jobsection import FidelityComparison
    from fitwright.measured_job import MeasuredJob
    from fitwright.models import Result
    from fitwright.panel import Panel
    from fitwright.reuse import ReuseLimits
    from fitwright.rings import ElasticPlasticFitResult
    from fitwright.sectionfound import SectionHistory
    from fitwright.squareness import SquareStack
    from fitwright.study import Study
    from fitwright.study_levels import StudyTime
    from fitwright.sweep import Sweep, YieldCurve
    from fitwright.tool_choice import Trials
    from fitwright.worst import WorstCases

__all__ = ["Job", "demo"]


@checked
def demo(name: str = "blower") -> Job:
    """One of the demo jobs that come with the library."""
    folder = resources.files("fitwright") / "demos"
    known = sorted(p.name[:-5] for p in folder.iterdir() if p.name.endswith(".toml"))
    if name not in known:
        raise InputError([("name", f'"{name}" is not a demo; there is {", ".join(known)}')])
    return Job.loads((folder / f"{name}.toml").read_text(encoding="utf-8"))


@checked
class Job:
    """Parts, states and limits; made by `Job.load`, `Job.loads` or `fw.demo`."""

    def __init__(self, core: _core.Job, file: JobFile, spreads: Mapping[str, _core.Spread]) -> None:
        self._core, self._file, self._spreads = core, file, dict(spreads)
        self._chosen: str | None = None  # a level that was asked for

    # Rows of text, some thousand: made when something is asked by name.
    @cached_property
    def _inputs(self) -> list[tuple[str, str, str, float]]:
        return self._core.inputs()

    @cached_property
    def _by_path(self) -> Inputs:
        return Inputs(self._inputs)

    @cached_property
    def _outputs(self) -> list[tuple[str, str, str, str]]:
        return self._core.outputs()

    # -- made from a file -------------------------------------------------------------------

    @classmethod
    def load(cls, path: str | os.PathLike[str]) -> Job:
        """From a TOML job file. Everything wrong with it is told in one report."""
        return cls.loads(read_text(path_of(path, "path")))

    @classmethod
    def loads(cls, text: str) -> Job:
        """From the text of a job file."""
        file = JobFile(text)
        core, spreads = file.build()
        return cls(core, file, spreads)

    def __reduce__(self) -> tuple[Any, ...]:
        spreads = {
            path: (
                s.shape,
                s.middle,
                s.deviation,
                s.low,
                s.high,
                list(s.measured),
                s.of,
                s.repeatability,
            )
            for path, s in self._spreads.items()
        }
        told = (self._file.text, list(self._core.values()), spreads, self._chosen)
        if self.fidelity != self._file.document.get("fidelity", "bars"):
            return _remade, (*told, self.fidelity)
        return _remade, told

    # -- what it holds ----------------------------------------------------------------------

    @property
    def title(self) -> str:
        return self._file.title

    @property
    def units(self) -> str:
        """How the job is shown where nothing else is asked for: `units` of its file, "metric" or
        "inch", else the setting (`fw.units.use`)."""
        return units.in_system(None, str(self._file.document.get("units", "")))

    @property
    def states(self) -> list[str]:
        """Names of the states; the first is as built."""
        return self._file.names("state")

    @property
    def rings(self) -> list[str]:
        """Names of the rings, from the shoulder."""
        return self._file.names("ring")

    @property
    def spreads(self) -> dict[str, _core.Spread]:
        """The inputs that scatter, by path; those that do so without being told come last."""
        return dict(self._spreads)

    @property
    def standard_spreads(self) -> list[str]:
        """Paths of the inputs that scatter by the standard of a job, not because they were told:
        expansion over the table's value, with the deviation of the material."""
        return [
            s.path
            for s in _core.standard_spreads(self._core)
            if s.path not in self._file.told and self._is_standard(s)
        ]

    def _is_standard(self, standard: _core.Spread) -> bool:
        mine = self._spreads.get(standard.path)
        return (
            mine is not None
            and (mine.shape, mine.middle) == (standard.shape, standard.middle)
            and mine.standard_deviation == standard.standard_deviation
        )

    @property
    def correlations(self) -> dict[tuple[str, str], float]:
        """Inputs that scatter together: correlation of their normal scores, by pair of paths.

        As `[[correlation]]` tells, and by standard: thread and face friction of the nut (one tin),
        friction of seats (one assembly), expansion of parts of one metal.
        """
        names = list(self._spreads)
        return {(names[a], names[b]): value for a, b, value in self._tied()}

    def _tied(self) -> list[tuple[int, int, float]]:
        return self._file.correlations_of(self._core, self._spreads)

    def _check_scatter(self, problems: list[tuple[str, str]]) -> None:
        """Adds what a question about scatter needs to hear when nothing was told to scatter."""
        if set(self._spreads) <= set(self.standard_spreads):
            beside = (
                " but the expansion of its metals, which needs no telling" if self._spreads else ""
            )
            problems.append(("job", f"has no input that scatters{beside}; give one a spread"))

    def __getitem__(self, path: str) -> Value:
        """An input by path, in SI; shows itself in shop units."""
        leaf = self._core.leaf(path)
        return Value(self._core.value(leaf), self._inputs[leaf][1], self.units)

    def inputs(self, units: str | None = None) -> Table:
        """All inputs that were given or have a standard value, and how they scatter."""
        return _inputs_table(self, units or self.units)

    def __repr__(self) -> str:
        return (
            f"<Job {self.title!r}: {len(self.rings)} rings, {len(self.states)} states, "
            f"{len(self._spreads)} inputs that scatter>"
        )

    # -- what it answers --------------------------------------------------------------------

    @property
    def level(self) -> str:
        """Which outputs the job answers with: "quick", "history" or "heating"."""
        return self._core.level()

    def at_level(self, level: str) -> Job:
        """The same job asked at another level.

        "quick": closed forms and bounds, on every number type. "history": the steps of assembly and
        service one after the other as well, which takes milliseconds. "heating": each hot ring from
        the oven until it is cold as well, which takes tens of them.
        """
        there = Job(self._core.at(level), self._file, self._spreads)
        there._chosen = level
        return there

    @property
    def fidelity(self) -> str:
        """What the steps of the history run on: "bars" along the shaft, or parts in "section"."""
        return "section" if self._core.is_in_section() else "bars"

    def at_fidelity(self, fidelity: str) -> Job:
        """The same job with its history on "bars", or on parts in "section": axisymmetric finite
        elements meshed from its sizes (to 0.05 %; microns are interference), condensed once and
        kept for every job that is made from this one. `fidelity = "section"` in a file does it too.

        Findings, studies, derivatives and sweeps of the history level then come from there; a
        history takes some tenths of a second in place of milliseconds. Raises
        fitwright.InputError naming what cannot be meshed.

        >>> job.at_fidelity("section").evaluate("history")
        """
        from fitwright.jobsection import core_of

        there = Job(core_of(self, fidelity), self._file, self._spreads)
        there._chosen = self._chosen
        return there

    def section(self) -> SectionHistory:
        """Its steps on parts in section, with pressure along each seat, growth, roll, stresses.

        >>> found = job.section()
        >>> found["full_load"].mean_pressure, found.field("full_load", "shaft").von_mises
        """
        from fitwright.jobsection import section_of

        return section_of(self)

    def compare_fidelity(self, share: float = 0.1) -> FidelityComparison:
        """Closed and bar answers beside those of parts in section, state by state: clamp at
        shoulder and nut, mean pressure and growth of each ring. What differs by more than `share`
        (of the nut's force, of the section's value) is marked.

        >>> job.compare_fidelity().table()
        """
        from fitwright.jobsection import FidelityComparison

        return FidelityComparison(self, share)

    def evaluate(self, level: str | None = None) -> Findings:
        """All outputs of all states, and the findings: values held against their limits.

        At every level when none is named (see `at_level`); each finding tells its own.
        """
        return Findings(self, self.at_level(level or self._chosen or "heating")._core)

    def assembly(self, units: str | None = None) -> Table:
        """Can it be put together: each part, what it has to pass on and off, both sizes."""
        from fitwright.assembly import assembly_table

        return assembly_table(self, units or self.units)

    def shoulder(self, units: str | None = None) -> Table:
        """How far the shoulder gives way (`[shoulder]`), and whether its sizes lie where that is
        known; without it, what it may cost that the shoulder is taken as rigid.

        >>> job.shoulder()
        """
        from fitwright.jobshoulder import shoulder_table

        return shoulder_table(self, units or self.units)

    def plate(self, state: str | None = None) -> Result:
        """The plate over the outer ring in a state, the first one when left out: the result of
        `joints.ring_plate` with the job's thrust, moment and temperatures.

        >>> job.plate("full_load").shoulder_clamp
        """
        from fitwright.jobtools import plate_of

        return plate_of(self, state)

    @property
    def tools(self) -> list[str]:
        """Names of the shop-made tools."""
        return self._file.names("tool")

    def tool(self, name: str, ring: str | None = None) -> Result:
        """A tool at its work, with its cautions: the result of its model in `fw.tooling`, load and
        sizes of the rings taken from the job. `ring`: which of those it serves.

        >>> job.tool("puller", "sleeve").design_factor
        """
        from fitwright.jobtools import tool_of

        return tool_of(self, name, ring)

    def draw_tool(
        self,
        name: str,
        ring: str | None = None,
        path: str | os.PathLike[str] | None = None,
        units: str | None = None,
    ) -> Axes:
        """A tool at its work, to scale; written as .svg, .pdf or .png where a path is given."""
        from fitwright.plots.tools import draw_tool

        return draw_tool(self, name, ring, path, units or self.units)

    def tooling(self, units: str | None = None) -> Table:
        """Every tool for every ring it serves: load, capacity, factor, weakest element."""
        from fitwright.jobtools import tooling_table

        return tooling_table(self, units or self.units)

    def choose(self, series: Iterable[Mapping[str, Any]], of: str) -> Trials:
        """The first of a series of sizes with which all findings of the plate or of a tool are met.

        `series` tells what each try changes, by path, from small to large; `of` is "plate" or
        "tools.NAME". The answer shows every try; `.best` passes (`.best.job`), or is None.

        >>> rods = fw.tooling.rod_sizes("tools.holder.rod", "20 mm", "60 mm")
        >>> job.choose(rods, "tools.holder").best.changes
        >>> job.choose([{"plate.bolts": n} for n in (6, 8, 10, 12)], "plate")
        """
        from fitwright.jobtools import choose

        return choose(self, series, of)

    def history(self) -> History:
        """The steps of assembly and service one after the other, friction as it is.

        Forces at every face, pressure, friction and slip along every seat, after each step.
        """
        from fitwright.history import History

        return History(self)

    def joint_diagram(
        self, state: str, thrust: tuple[Number, Number, int] | Sequence[Number] | None = None
    ) -> JointDiagram:
        """Force at nut and shoulder against the thrust of a state, by the history.

        `thrust` is (from, to, how many) or a list; to where a face opens when left out.
        """
        from fitwright.history import JointDiagram

        return JointDiagram(self, state, thrust)

    def squareness(
        self,
        state: str | None = None,
        *,
        rotor_mass: Number,
        clamp: Number = None,
        speed: Number = None,
        masses: Mapping[str, Number] | None = None,
        **whole: Number,
    ) -> SquareStack:
        """The rings with their wedges and runouts in a state: bend, tilt, runout, unbalance.

        Parameters
        ----------
        state : the fastest one when left out
        rotor_mass : of the whole rotor, which balance grades go by
        clamp : least force through the stack; that of the history in the state when left out
        speed : that of the state when left out
        masses : of rings that are no plain rings, by name
        whole : grade, planes and second journal as for fw.stack.SquareStack

        >>> square = job.squareness("full_load", rotor_mass="180 kg", grade="2.5 mm/s")
        >>> square.evaluate().table(), square.clock("runout", slots=12).table()
        """
        from fitwright.jobsquare import square_stack

        return square_stack(self, state, rotor_mass, clamp, speed, masses, **whole)

    def yielding(
        self, ring: str, state: str | None = None, *, slice: int | None = None, **more: Any
    ) -> ElasticPlasticFitResult:
        """What a ring holds that yields when it is put on, and what that leaves for ever.

        A job counts every ring as elastic: where `ring_yield_use` is above 1 its pressure and grip
        are too high. This is `rings.elastic_plastic_fit` with the job's numbers: joined at rest at
        the temperatures of the first state, no clamp and no end effect, then at the speed of
        `state`. Where the whole wall yields it is refused, and the message tells the ways out.

        Parameters
        ----------
        state : whose speed is asked for; the first one (at rest) when left out
        slice : of a ring with steps, 1 nearest to the shoulder
        more : ring_yield, ring_tangent_modulus and so on as for fw.rings.elastic_plastic_fit

        >>> found = job.yielding("sleeve", "overspeed")
        >>> found.pressure, found.plastic_share, found.permanent_bore_growth
        """
        from fitwright.jobrings import yielding

        return yielding(self, ring, state, slice, more)

    def chill(self, ring: str, *, shaft_lowest: Number = None) -> ChillResult:
        """How cold the shaft must be where a ring, at its heating limit, does not slip on.

        `heat.chill` with the job's numbers, the shaft as in the first state. `shaft_lowest`: the
        lowest temperature the shaft may see; the end of its material's data when left out.

        >>> plan = job.chill("sleeve")
        >>> plan.ring_temperature, plan.shaft_needed, plan.chill_margin
        """
        from fitwright.jobrings import chill

        return chill(self, ring, shaft_lowest)

    def slip_on(self, ring: str, *, slice: int | None = None) -> SlipOnResult:
        """A ring from the oven until it is cold: `heat.slip_on` with the job's numbers.

        The job's own `slip_on.` outputs are of this run, of a ring with steps of one of its even
        section; `slice` names one of its steps (1 nearest to the shoulder) as if it went on alone.
        `fw.heating.draw` of the result draws sizes against temperature with window and grab.

        >>> fw.heating.draw(job.slip_on("sleeve"))
        """
        from fitwright.jobrings import slip_on

        return slip_on(self, ring, slice)

    def seating(self, ring: str, *, slice: int | None = None) -> SeatingResult:
        """The gap a ring leaves as it cools: `heat.seating` with the job's numbers.

        `fw.heating.draw` of the result draws the gap against the press force.

        >>> fw.heating.draw(job.seating("sleeve"))
        """
        from fitwright.jobrings import seating

        return seating(self, ring, slice)

    def soak(self, ring: str, *, slice: int | None = None, **oven: Any) -> SoakResult:
        """How long a ring must lie in the oven until it is hot to its core: `heat.soak` with the
        job's numbers. `oven`: oven, oven_film, emissivity and so on as for fw.heat.soak.

        >>> job.soak("sleeve", oven_film=15.0).soak_time
        """
        from fitwright.jobrings import soak

        return soak(self, ring, slice, oven)

    def loosen(self, ring: str, *, slice: int | None = None, **heat: Any) -> LoosenResult:
        """How long heating frees a ring, and how long it stays free: `heat.loosen` with the job's
        numbers. `heat`: heater, heat_flux, skin_depth, bath and so on as for fw.heat.loosen.

        >>> job.loosen("sleeve", heat_flux="300 kW/m^2").time_free
        """
        from fitwright.jobrings import loosen

        return loosen(self, ring, slice, heat)

    def replace(self, changes: Mapping[str, Number | Mapping[str, Any]]) -> Job:
        """A new job with other values; the scatter of an input moves along with it."""
        core, spreads = self._core.copy(), dict(self._spreads)
        problems: list[tuple[str, str]] = []
        for path, given in changes.items():
            try:
                core.leaf(path)  # an unknown path is told with the nearest ones
                read_number(core, spreads, self._by_path, path, given)
            except units.UnitProblem as problem:
                problems.append((path, str(problem)))
            except InputError as error:
                problems += error.problems
        problems = problems or core.problems()
        if problems:
            raise InputError(problems)
        there = Job(core, self._file, spreads)
        there._chosen = self._chosen
        return there

    def solve(
        self,
        *,
        vary: str,
        output: str,
        target: Number,
        state: str | None = None,
        between: tuple[Number | None, Number | None] | None = None,
        level: str | None = None,
    ) -> Solution:
        """The value of one input at which an output reaches its target. `.value`, `.job`."""
        if level is not None and level != self.level:
            there = self.at_level(level).solve(
                vary=vary, output=output, target=target, state=state, between=between
            )
            return Solution(vary, there.value, self.replace({vary: float(there.value)}))
        state = self.states[0] if state is None else state
        leaf, wanted = self._core.leaf(vary), self._core.output(state, output)
        quantity = self._inputs[leaf][1]
        if between is not None and not (isinstance(between, list | tuple) and len(between) == 2):
            raise InputError([("between", f"{told(between)} must be a pair: from, to")])
        low, high = (None, None) if between is None else between
        problems: list[tuple[str, str]] = []
        read = units.collect(
            {
                "target": (target, self._outputs[wanted][2]),
                **({} if low is None else {"between[0]": (low, quantity)}),
                **({} if high is None else {"between[1]": (high, quantity)}),
            },
            problems,
        )
        problems += [(path, "must be one number") for path, v in read.items() if np.ndim(v)]
        if problems:
            raise InputError(problems)
        goal, bottom, top = (
            float(read.get(path, float("nan"))) for path in ("target", "between[0]", "between[1]")
        )
        found = self._core.solve(leaf, wanted, goal, bottom, top)
        return Solution(vary, Value(found, quantity, self.units), self.replace({vary: found}))

    def sweep(
        self,
        ranges: Mapping[str, tuple[Number, Number, int] | Sequence[Number]],
        outputs: str | Sequence[str] | None = None,
        level: str | None = None,
    ) -> Sweep:
        """One or several inputs over (from, to, how many) or a list; several are paired up.

        Outputs are those with a limit, in every state, or the paths given.
        """
        from fitwright.sweep import run_sweep

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
        from fitwright.study_run import StudyOptions, run_study

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
        from fitwright.study_run import StudyOptions, study_time

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
        from fitwright.reuse import reuse_limits

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
        from fitwright.worst import worst_case

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
        from fitwright.inverse import solve_for

        return solve_for(self, bounds, at, seed, samples)

    def match(self, seats: Any, rings: Mapping[str, Any], *, rounds: int = 4) -> Match:
        """Measured rings to measured shafts: the assignment with most good sets and, of those, most
        reserve. Needs SciPy (the extra `study`).

        `seats`: measured diameters of one seat; `rings`: measured bores by name of ring. Several
        kinds of ring are assigned one after the other, at most `rounds` times.
        """
        from fitwright.assign import match

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
        from fitwright.assign import allocate

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
        from fitwright.indices import run_indices

        return run_indices(self, samples, seed, outputs, threads, progress)

    def derivatives(self, level: str | None = None) -> Derivatives:
        """Exact derivative of every output to every input (SI): (state, output, input) -> value.

        `.one_sided` holds those that hold on one side only, where the output has a kink: contact
        opening, slip, a knot of a material table (20 degC is one).
        """
        from fitwright.derivatives import MOST, Derivatives

        if level is not None and level != self.level:
            return self.at_level(level).derivatives()
        count = len(self._outputs) * len(self._inputs)
        if count > MOST:
            told = (
                f"{count} derivatives: at most {MOST}; a study's contributions() tell of one output"
            )
            raise InputError([("job", told)])
        _, matrix, _ = self._core.jacobian()
        flags = self._core.one_sided()
        for (state, path, *_), row in zip(self._outputs, matrix, strict=True):
            if not np.all(np.isfinite(row)):
                raise InputError([(path, f"has a derivative in state {state} that is not finite")])
        return Derivatives(self, matrix, flags)

    def yield_against(
        self, path: str, values: Sequence[Number], *, samples: int = 50_000, seed: int = 1
    ) -> YieldCurve:
        """Pass rate of the whole job against one design value (the same draws at each)."""
        from fitwright.sweep import run_yield_against

        return run_yield_against(self, path, values, samples, seed)

    def panel(
        self, inputs: Sequence[str], *, span: float = 0.1, rows: int = 12, units: str | None = None
    ) -> Panel:
        """A what-if panel for the notebook: a slider per input, the findings below."""
        from fitwright.panel import Panel

        return Panel(self, inputs, span, rows, units or self.units)

    # -- what it shows ----------------------------------------------------------------------

    def draw(self, path: str | os.PathLike[str] | None = None, units: str | None = None) -> Axes:
        """A half-section of the stack to scale, as SVG, PDF or PNG by the name of the file."""
        from fitwright.plots.section import draw_section

        return draw_section(self, path, units or self.units)

    def bearing_table(self, units: str | None = None) -> Table:
        """The bearing in every state: angles, stresses and edges at speed; with a table [service]
        film, lives and creep as well. A life is a statistic, not a promise."""
        from fitwright.running import bearing_table

        return bearing_table(self, units or self.units)

    def frequencies(self, units: str | None = None) -> Table:
        """What a probe at the casing hears of the bearing, in each state that turns."""
        from fitwright.running import frequencies_table

        return frequencies_table(self, units or self.units)

    def bearing_waterfall(self, state: str | None = None) -> Axes:
        """Where the clearance went, from the bench to a state (the last one when left out)."""
        from fitwright.running import draw_waterfall

        return draw_waterfall(self, state)

    def bearing_angles(
        self, state: str, speed: tuple[Number, Number, int] | Sequence[Number] | None = None
    ) -> Axes:
        """Contact angles at both rings against the speed, from rest to that of the state when left
        out, all else as in that state."""
        from fitwright.running import draw_angles

        return draw_angles(self, state, speed)

    def bearing_balls(self, state: str | None = None) -> Balls:
        """Every ball of the bearing in a state (the last one when left out): loads, angles,
        stresses as arrays, and the stiffness of the bearing. The first ball stands where
        `radial_load` points; without loads across the shaft all balls are alike."""
        from fitwright.running import balls_in

        return balls_in(self, state)

    def bearing_loads(self, state: str | None = None) -> Axes:
        """Picture of the ball loads and contact angles round the ring in a state (the last one
        when left out); a load towards the first ball is drawn downwards."""
        from fitwright.running import draw_loads

        return draw_loads(self, state)

    def sheet(
        self,
        path: str | os.PathLike[str],
        units: str | None = None,
        *,
        documents: Sequence[str] | str = ("bench", "strip_down", "annex"),
        paper: str = "A4",
        serial: str = "",
        work_order: str = "",
        note: str = "",
        revision: str = "",
        date: str = "",
        study: Study | None = None,
    ) -> Path:
        """The sheets of the job, as one self-contained HTML file or, by the name, as PDF.

        `documents`: "bench" (measure, heat and press, order of work, checks), "strip_down" (what
        comes off in which order, with heat and pull of each) and "annex" (states, findings, study,
        sources), or some of them. `paper`: "A4" or "letter". What is told of serial number, work
        order, revision and date (today when left out) stands on every page, with a hash of the job;
        `note` under the title; a `study` of the job in the annex. PDF needs the extra `pdf`.
        """
        from fitwright.sheet import write_sheet

        told = {
            "serial": serial,
            "work_order": work_order,
            "note": note,
            "revision": revision,
            "date": date,
        }
        return write_sheet(
            self, path_of(path, "path"), units or self.units, documents, paper, study, **told
        )

    def measured(
        self,
        readings: Mapping[str, Number] | str | os.PathLike[str],
        *,
        gauge: Mapping[str, Number] | Number = None,
    ) -> MeasuredJob:
        """The job with readings in place of what was expected; its sheet shows both.

        `readings` by path of the input, or a CSV file or spreadsheet (.xlsx, the extra
        `spreadsheet`) with the columns `path` and `reading`. What was measured no longer scatters,
        but for the standard uncertainty of the `gauge` (one for all, or by path). A size that is
        more than 2 % off what was expected is refused as a slip of the pen or of the unit.

        >>> as_built = job.measured({"seats.main.diameter": "80.034 mm"}, gauge="1 um")
        >>> as_built.sheet("bench.html", serial="R-0042"); as_built.save("as_built.toml")
        """
        from fitwright.measured_job import measured

        return measured(self, readings, gauge)

    def save(self, path: str | os.PathLike[str]) -> Path:
        """The job as a file that loads as the same job; comments of its own file are kept."""
        from fitwright.jobsave import save_job

        return save_job(self, path)

    @property
    def hash(self) -> str:
        """SHA-256 of all a job holds but its titles and comments, as on its sheets."""
        from fitwright.jobsave import job_hash

        return job_hash(self)


def _remade(
    text: str,
    values: list[float],
    spreads: Mapping[str, tuple[str, float, float, float, float, list[float], str, float]],
    level: str | None,
    fidelity: str | None = None,
) -> Job:
    """A job from the text of its file and what `replace` has changed since."""
    job = Job.loads(text)
    job = job if fidelity is None else job.at_fidelity(fidelity)
    for leaf, value in enumerate(values):
        job._core.set(leaf, value)
    leaves = {row[0]: number for number, row in enumerate(job._inputs)}
    made = {
        path: _core.Spread(
            path,
            leaves[path],
            leaves.get(f"{path}_low", -1),
            leaves.get(f"{path}_high", -1),
            *told,
        )
        for path, told in spreads.items()
    }
    whole = Job(job._core, job._file, made)
    return whole if level is None else whole.at_level(level)


class Solution:
    """What `Job.solve` found: the value of the input, and the job that has it."""

    def __init__(self, vary: str, value: Value, job: Job) -> None:
        self.vary, self.value, self.job = vary, value, job

    def __repr__(self) -> str:
        return f"{self.vary} = {self.value!r}"


def _inputs_table(job: Job, system: str) -> Table:
    rows = []
    values = job._core.values()
    standard = set(job.standard_spreads)
    for (path, quantity, meaning, _), value in zip(job._inputs, values, strict=True):
        text = Value(value, quantity).shown(system)
        spread = job._spreads.get(path)
        scatter = ""
        if spread is not None:
            deviation = spread.standard_deviation
            kind = "difference" if quantity == "temperature" else quantity
            scatter = f"{spread.shape}, deviation {units.shown(deviation, kind, system)}"
            scatter += ", standard" if path in standard else ""
        rows.append([path, text, scatter, meaning])
    return Table(["input", "value", "scatter", "meaning"], rows, title=job.title)
