"""What stands on the build sheet of lock tabs, of the hand of the thread, and of squareness."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from fitwright.fields.units import to_si
from fitwright.job.square import square_stack
from fitwright.sheet.writer import Writer

if TYPE_CHECKING:
    from fitwright.job.value import Job
    from fitwright.stack.squareness import Clocked

#: Positions a ring may take for the sheet's clocking, the finest that leaves few enough ways.
POSITIONS = (24, 12, 8, 6, 4, 2)
MOST_WAYS = 400_000
#: Less than this a dial indicator does not tell from its own repeatability [m] (common practice).
TOLD_BY_A_DIAL = 2e-6


def tabs_values(write: Writer) -> dict[str, Any] | None:
    """Meetings of tabs and slots, and the ways out when none falls inside the window."""
    table = write.job.file.table("lock") or {}
    if "tabs" not in table:
        return None
    named = ("meetings_per_turn", "meeting_angle", "preload_step", "preload_next", "torque_next")
    told: dict[str, Any] = {name: write.output(f"lock.{name}") for name in named}
    told |= {"tabs": str(table["tabs"]), "slots": str(table["slots"]), "window": None}
    if not write.job.file.has_window:
        return told
    from fitwright.job.lock_tabs import lock_tabs_of
    from fitwright.threads.locking import lock_ways_out

    ways = lock_ways_out(lock_tabs_of(write.job), units=write.system)
    window = {
        name: write.output(f"lock.{name}")
        for name in ("window_low", "window_high", "preload_mean", "preload_greatest")
    }
    chances = {
        name: f"{write.found[write.built, f'lock.{name}']:.0%}"
        for name in ("chance", "chance_low", "chance_high")
    }
    window |= chances
    window["torque_low"] = write.input("nut.torque_window_low")
    window["torque_high"] = write.input("nut.torque_window_high")
    rows = [
        {
            "text": way.text.replace(" um", " µm"),
            "possible": way.possible,
            "chance": f"{way.chance:.0%}",
        }
        for way in ways
    ]
    return {**told, "window": {**window, "ways": rows}}


def state_titles(write: Writer) -> dict[str, str]:
    return {str(r["name"]): str(r.get("title", r["name"])) for r in write.job.file.rows("state")}


def drive_values(write: Writer) -> dict[str, Any] | None:
    """Which way the running shaft drives the nut, in words, and the margins."""
    table = write.job.file.table("shaft") or {}
    way = str(table.get("rotation", "not_told"))
    if way == "not_told":
        return None
    hand = str((write.job.file.table("nut") or {}).get("hand", "right"))
    tightens = write.found[write.built, "nut.sense"] > 0.0
    states = state_titles(write)
    rows = []
    for name, what in (
        ("drag_margin", "drag on the rings, held by the thread"),
        ("start_margin", "the nut's inertia running up, held by thread and face"),
        ("trip_margin", "its inertia in the hardest stop, held by thread and face"),
        ("creep_margin", "rings creeping against the rotation, held by the thread"),
    ):
        worst = min(write.job.states, key=lambda state: write.found[state, f"nut.{name}"])
        left = write.found[worst, f"nut.{name}"]
        rows.append(
            {
                "what": what,
                "margin": write.shown(left),
                "state": states[worst],
                "bad": left < 0.0,
            }
        )
    return {"way": way, "hand": hand, "tightens": tightens, "rows": rows}


def square_values(write: Writer) -> dict[str, Any] | None:
    """Runouts to expect ring by ring, and marks of the best clocking."""
    job = write.job
    if not job.file.has_runouts:
        return None
    best = _best(write)
    no_gain = best is not None and best.as_given - best.best <= TOLD_BY_A_DIAL
    best = None if no_gain else best
    titles = state_titles(write)
    tightest = min(job.states, key=lambda state: write.found[state, "stack.opening_margin"])
    rows = []
    for row in job.file.rows("ring"):
        name = str(row["name"])
        here = f"rings.{name}"
        rows.append(
            {
                "title": str(row.get("title", name)),
                "wedge": _at_angle(write, f"{here}.wedge", f"{here}.wedge_angle"),
                "own": _at_angle(write, f"{here}.runout", f"{here}.runout_angle"),
                "runout": write.output(f"{here}.runout"),
                "face": write.output(f"{here}.face_runout"),
                "turn": "" if best is None else _turn(write, best, name),
                "best": ""
                if best is None
                else write.value(best.stack.evaluate().rings[name].ring_runout, "fine"),
            }
        )
    return {
        "rows": rows,
        "moment": write.output("stack.bend_moment"),
        "opening": write.output("stack.opening_force"),
        "end": write.output("stack.end_runout"),
        "margin": write.output("stack.opening_margin", tightest),
        "tightest": titles[tightest],
        "as_given": "" if best is None else write.value(best.as_given, "fine"),
        "best": "" if best is None else write.value(best.best, "fine"),
        "no_gain": no_gain,
    }


def halves(job: Job) -> list[str]:
    """Inner rings that are parts of one bearing: they keep to their match marks."""
    named = [str(name) for name in (job.file.table("bearing") or {}).get("inner_rings", [])]
    return named if len(named) > 1 else []


def _turned_alone(job: Job) -> list[str]:
    """Rings out of square that may be turned against the others."""
    return [
        name
        for name in job.rings
        if name not in halves(job)
        and (job[f"rings.{name}.wedge"] > 0.0 or job[f"rings.{name}.runout"] > 0.0)
    ]


def _at_angle(write: Writer, amount: str, angle: str) -> str:
    if write.job[amount] == 0.0:
        return write.input(amount)
    return f"{write.input(amount)} at {write.input(angle)}"


def _best(write: Writer) -> Clocked | None:
    """Every way to turn the rings that are out of square, where those are few enough."""
    job = write.job
    moving = _turned_alone(job)
    for positions in POSITIONS:
        ways = 1
        for _ in moving:
            ways = min(ways * positions, MOST_WAYS + 1)
        if moving and ways <= MOST_WAYS:
            # Runout as built depends neither on speed nor on clamp, and unbalance is not shown.
            stack = square_stack(
                job,
                job.states[0],
                rotor_mass=1.0,
                clamp=float(write.found[write.built, "nut.preload"]),
                speed=1.0,
            )
            return stack.clock("runout", slots=dict.fromkeys(moving, positions))
    return None


def _turn(write: Writer, best: Clocked, ring: str) -> str:
    if ring in halves(write.job):
        return "match marks"
    count = best.slots[ring]
    place = int(best.positions[ring])
    if count == 1 or place == 0:
        return "as told"
    turn = to_si(f"{place / count!r} turn", "angle")
    return f"on by {write.value(float(turn), 'angle')}"
