"""The order of work: what the fitter does, made of the steps that were calculated, one by one."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

from fitwright.fields.errors import InputError
from fitwright.job.history import step_titles
from fitwright.job.rings import soak
from fitwright.job.slices import slice_paths

if TYPE_CHECKING:
    from fitwright.job.value import Job
    from fitwright.sheet.digits import BenchWriter

__all__ = ["order_of_work", "split_service", "took_off"]


class Step(NamedTuple):
    """A step of the job as the core took it, with what its file says of it."""

    name: str
    kind: str
    against: str
    state: str
    parts: list[str]
    row: dict[str, Any]


def steps_of(job: Job) -> list[Step]:
    rows = {str(row["name"]): row for row in job.file.rows("step")}
    return [
        Step(name, kind, against, state, list(parts), rows.get(name, {}))
        for name, kind, against, state, parts in job.core.steps()
    ]


def split_service(job: Job) -> tuple[list[Step], list[Step]]:
    """Steps up to the last that builds, and those after it that take apart.

    What takes apart begins with the last loosening after which nothing is tightened.
    """
    steps = steps_of(job)
    tightened = max((k for k, step in enumerate(steps) if step.kind == "tighten"), default=-1)
    for k, step in enumerate(steps):
        if step.kind == "loosen" and k > tightened:
            return steps[:k], steps[k:]
    return steps, []


def took_off(job: Job) -> dict[str, str]:
    """The step that pulls a part off, by part."""
    on: list[str] = []
    found: dict[str, str] = {}
    for step in steps_of(job):
        if step.kind == "slip_on":
            on += step.parts
        elif step.kind == "pull" and on:
            first = on.index(step.parts[0]) if step.parts and step.parts[0] in on else len(on) - 1
            found.update(dict.fromkeys(on[first:], step.name))
            del on[first:]
    return found


def order_of_work(write: BenchWriter, rings: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Lines of the order of work: a kind each, and what its words need (templates/order)."""
    return _Order(write, rings).lines()


class _Order:
    def __init__(self, write: BenchWriter, rings: list[dict[str, Any]]) -> None:
        self.write, self.job = write, write.job
        self.rings = {ring["name"]: ring for ring in rings}
        self.lock = str((self.job.file.table("lock") or {}).get("kind", "lock"))
        self.on: list[str] = []
        self.clamped = False
        self.made: list[dict[str, Any]] = []
        self.torque = write.input("nut.torque")

    def lines(self) -> list[dict[str, Any]]:
        building, _ = split_service(self.job)
        done = [k for k, step in enumerate(building) if step.kind not in ("state", "repeat")]
        k = 0
        while done and k <= done[-1]:
            k += self._line(building, k)
        tightened = [line for line in self.made if line["kind"] == "tighten"]
        for line in tightened:
            line["last"] = line is tightened[-1]
        return self.made

    def _add(self, kind: str, step: Step, **more: Any) -> None:
        told = {"kind": kind, "name": step.name, "said": str(step.row.get("title", ""))}
        self.made.append({**told, **more})

    def _line(self, steps: list[Step], k: int) -> int:
        """One line, of one step or of several that are one piece of work; how many it took."""
        step = steps[k]
        if step.kind == "slip_on":
            self._slip_on(step)
        elif step.kind == "press":
            return self._press(steps, k)
        elif step.kind == "state":
            self._add("state", step, cold=step.state == self.write.built, state=self._state(step))
        elif step.kind == "tighten":
            self._tighten(step)
        elif step.kind == "pull":
            force = self.write.output("stack.pull_force", step.name)
            self._add("pull", step, parts=self._titles(self._pulled(step)), force=force)
        elif step.kind == "repeat":
            times = int(step.row.get("times", 1))
            titles = step_titles(self.job)
            first, last = (titles.get(str(step.row.get(k)), "") for k in ("from", "to"))
            self._add("repeat", step, first=first, last=last, times=times)
        else:
            self._add(step.kind, step, torque=self.torque)
        return 1

    def _state(self, step: Step) -> str:
        rows = self.job.file.rows("state")
        return next(str(r.get("title", r["name"])) for r in rows if r["name"] == step.state)

    def _against(self) -> str:
        return self._titles(self.on[-1:])[0] if self.on else "the shoulder"

    def _titles(self, parts: list[str]) -> list[str]:
        return [self.lock if p == "lock" else self.rings[p]["title"] for p in parts]

    def _pulled(self, step: Step) -> list[str]:
        first = step.parts[0] if step.parts else self.on[-1]
        parts = self.on[self.on.index(first) :]
        del self.on[self.on.index(first) :]
        return parts

    def _slip_on(self, step: Step) -> None:
        against = self._against()
        rings = [self.rings[part] for part in step.parts if part != "lock"]
        hot = [ring for ring in rings if ring["grips"]]
        loose = [ring for ring in rings if not ring["grips"]]
        if hot:
            self._add("heat", step, rings=hot)
        if hot:
            first = min(
                (ring for ring in hot if ring["hot"]),
                key=lambda ring: self._out(f"rings.{ring['name']}.slip_on.window_low"),
                default=hot[0],
            )
            self._add("fit", step, rings=hot, against=against, first=first)
        if loose:
            after = hot[-1]["title"] if hot else against
            self._add("slide", step, rings=loose, against=after)
        self.on += step.parts
        if "lock" in step.parts:
            before = self._titles(self.on[-2:-1])
            self._add("washer", step, against=before[0] if before else "the shoulder")

    def _out(self, path: str) -> float:
        return float(self.write.found[self.write.built, path])

    def _press(self, steps: list[Step], k: int) -> int:
        """A press, how long it is held, and its release where they follow each other."""
        step = steps[k]
        ring = next((part for part in reversed(self.on) if part != "lock"), None)
        told = self.write.given(f"steps.{step.name}.force")
        if told is None and ring is not None:
            told = self.job[f"rings.{ring}.press"]
        following = [s.kind for s in steps[k + 1 : k + 3]]
        cools = following[:1] == ["state"] and steps[k + 1].state == self.write.built
        released = cools and following[1:] == ["release"]
        self._add(
            "press",
            step,
            part=self._titles([ring])[0] if ring else "",
            force="" if told is None or told <= 0.0 else self.write.shown(told),
            shaft=step.against == "shaft",
            hold=self._hold() if cools else "",
            cools=cools,
            released=released,
            after=self._titles(self.on[-2:-1])[0] if len(self.on) > 1 else "the shoulder",
        )
        return 3 if released else 2 if cools else 1

    def _hold(self) -> str:
        """Until the last hot part that went on is as cold as the room."""
        for part in reversed(self.on):
            path = f"rings.{part}.slip_on.time_to_room"
            if part != "lock" and self.rings[part]["hot"]:
                return self.write.output(path)
        return ""

    def _tighten(self, step: Step) -> None:
        told = self.write.given(f"steps.{step.name}.torque")
        self.torque = self.write.shown(self.job["nut.torque"] if told is None else told)
        self._add(
            "tighten",
            step,
            torque=self.torque,
            again=self.clamped,
            clamp=self.write.output("nut.clamp", step.name),
            clamp_low=self.write.output("nut.preload_low"),
            clamp_high=self.write.output("nut.preload_high"),
        )
        self.clamped = True


def soak_time(write: BenchWriter, ring: str, row: dict[str, Any]) -> str:
    """How long a ring must lie in the oven until it is hot to its core; nothing where unknown."""
    if slice_paths(row):
        return ""  # a ring with steps warms unevenly
    try:
        soaked = soak(write.job, ring, None, {})
    except InputError:
        return ""
    return write.value(float(soaked.soak_time_high), "time")
