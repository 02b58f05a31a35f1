"""What a job answers as it is told: findings, history, plate, tools, derivatives."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from fitwright.fields.arguments import checked
from fitwright.fields.tables import Table
from fitwright.fields.units import Number
from fitwright.job.findings import evaluate
from fitwright.job.value import Job

if TYPE_CHECKING:
    from fitwright.bodies.found import SectionHistory
    from fitwright.job.history import History
    from fitwright.job.section import FidelityComparison
    from fitwright.models.explanation import Explanation
    from fitwright.models.results import Result
    from fitwright.stack.squareness import SquareStack
    from fitwright.studies.joint_diagram import JointDiagram
    from fitwright.threads import LockTabsResult
    from fitwright.tooling.choice import Trials


@checked
class Questions(Job):
    """Methods of `fw.Job`: what it answers as it is told."""

    def explain(self, output: str, state: str | None = None) -> Explanation:
        """How an output came about, line by line from the job file: formula in symbols, with
        numbers and units, result, and why it went one way and not another. `state`: the first one
        when left out. Outputs that are followed in steps of time say so, and what they hang on.

        >>> print(job.explain("shoulder.clamp_low", state="full_load"))
        >>> job.explain("rings.sleeve.pressure").save("pressure.html")
        """
        from fitwright.job.explain import explain

        return explain(self, output, state)

    def calculation_note(self) -> Explanation:
        """The calculation of the whole job as one document: contents, findings, assumptions, the
        limits of validity that apply and those it comes near, version and hash of the job, where
        each input came from, and every line that a finding hangs on, once.

        Of the quick level: what is followed in steps of time has no formula to show.

        >>> job.calculation_note().save("note.html")
        """
        from fitwright.job.calculation_note import calculation_note

        return calculation_note(self)

    def assembly(self, units: str | None = None) -> Table:
        """Can it be put together: each part, what it has to pass on and off, both sizes.

        `units` of the table is "metric" or "inch".

        >>> import fitwright as fw
        >>> job = fw.demo("blower")
        >>> answer = job.assembly()
        """
        from fitwright.job.assembly import assembly_table

        return assembly_table(self, units or self.units)

    def shoulder(self, units: str | None = None) -> Table:
        """How far the shoulder gives way (`[shoulder]`), and whether its sizes lie where that is
        known; without it, what it may cost that the shoulder is taken as rigid.

        `units` of the table is "metric" or "inch".

        >>> job.shoulder()
        """
        from fitwright.job.shoulder import shoulder_table

        return shoulder_table(self, evaluate(self, "quick"), units or self.units)

    def section(self) -> SectionHistory:
        """Its steps on parts in section, with pressure along each seat, growth, roll, stresses.

        >>> found = job.section()
        >>> found["full_load"].mean_pressure, found.field("full_load", "shaft").von_mises
        """
        from fitwright.job.section import section_of

        return section_of(self)

    def compare_fidelity(self, share: float = 0.1) -> FidelityComparison:
        """Closed and bar answers beside those of parts in section, state by state: clamp at
        shoulder and nut, mean pressure and growth of each ring. What differs by more than `share`
        (of the nut's force, of the section's value) is marked, and `.warning` says so.

        >>> job.compare_fidelity().table()
        """
        from fitwright.job.section import FidelityComparison

        return FidelityComparison(self, share)

    def plate(self, state: str | None = None) -> Result:
        """The plate over the outer ring in a state, the first one when left out: the result of
        `joints.ring_plate` with the job's thrust, moment and temperatures.

        >>> job.plate("full_load").shoulder_clamp
        """
        from fitwright.job.tools import plate_of

        return plate_of(self, state)

    def tool(self, name: str, ring: str | None = None) -> Result:
        """A tool at its work, with its cautions: the result of its model in `fw.tooling`, load and
        sizes of the rings taken from the job. `ring`: which of those it serves.

        `name` is that of the tool.

        >>> job.tool("puller", "sleeve").design_factor
        """
        from fitwright.job.tools import tool_of

        return tool_of(self, name, ring)

    def tooling(self, units: str | None = None) -> Table:
        """Every tool for every ring it serves: load, capacity, factor, weakest element.

        `units` of the table is "metric" or "inch".

        >>> import fitwright as fw
        >>> answer = fw.demo("pump").tooling()
        """
        from fitwright.job.tools import tooling_table

        return tooling_table(self, units or self.units)

    def choose(self, series: Iterable[Mapping[str, Any]], of: str) -> Trials:
        """The first of a series of sizes with which all findings of the plate or of a tool are met.

        `series` tells what each try changes, by path, from small to large; `of` is "plate" or
        "tools.NAME". The answer shows every try; `.best` passes (`.best.job`), or is None.

        >>> rods = fw.tooling.rod_sizes("tools.holder.rod", "20 mm", "60 mm")
        >>> job.choose(rods, "tools.holder").best.changes
        >>> job.choose([{"plate.bolts": n} for n in (6, 8, 10, 12)], "plate")
        """
        from fitwright.job.tools import choose

        return choose(self, series, of)

    def history(self) -> History:
        """The steps of assembly and service one after the other, friction as it is.

        Forces at every face, pressure, friction and slip along every seat, after each step.

        >>> import fitwright as fw
        >>> job = fw.demo("blower")
        >>> answer = job.history()["tighten"].faces
        """
        from fitwright.job.history import History

        return History(self)

    def joint_diagram(
        self, state: str, thrust: tuple[Number, Number, int] | Sequence[Number] | None = None
    ) -> JointDiagram:
        """Force at nut and shoulder against the thrust of a state, by the history.

        `thrust` is (from, to, how many) or a list; to where a face opens when left out.

        >>> import fitwright as fw
        >>> job = fw.demo("blower")
        >>> answer = job.joint_diagram("full_load")
        """
        from fitwright.studies.joint_diagram import JointDiagram

        return JointDiagram(self, state, thrust)

    def lock_tabs(
        self,
        *,
        tabs: Number = None,
        slots: Number = None,
        torque_low: Number = None,
        torque_high: Number = None,
        torque_limit: Number = None,
        miss: Number = None,
    ) -> LockTabsResult:
        """`fw.threads.lock_tabs` for the nut of the job, with the compliance of its whole joint.

        Tabs, slots, torque window and miss are those of the job where they are left out.

        The compliance is that of the first state, all soft parts included, at the force of the
        job's own torque and with every seat sliding; seats that grip make the joint stiffer and the
        steps greater.

        So `tabs`, `slots`, `torque_low` and `torque_high` [N m] and `miss` [rad]; `torque_limit`
        is that of `fw.threads.lock_tabs`.

        >>> print(fw.threads.lock_ways_out(job.lock_tabs()))
        """
        from fitwright.job.lock_tabs import lock_tabs_of

        return lock_tabs_of(
            self,
            tabs=tabs,
            slots=slots,
            torque_low=torque_low,
            torque_high=torque_high,
            torque_limit=torque_limit,
            miss=miss,
        )

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
        from fitwright.job.square import square_stack

        return square_stack(self, state, rotor_mass, clamp, speed, masses, **whole)
