"""Limits of screw threads, ISO metric and unified; part of fw.sizes."""

from __future__ import annotations

from fitwright import _core
from fitwright.fields.arguments import checked
from fitwright.fields.tables import Shown, Table
from fitwright.fields.units import shown

__all__ = ["Thread", "ThreadFit", "metric_pitches", "thread", "thread_fit"]


def _told(size: float, units: str | None = None) -> str:
    return shown(size, "size", units) if 0.0 < size < float("inf") else "not limited"


class Thread(Shown):
    """Limits of one thread [m], each a pair (least, greatest): `major`, `pitch_diameter`, `minor`.

    `minor` of an external thread reaches from the deepest rounded root to the flat one. An end the
    standard leaves open is 0 or infinite. `root` is the diameter at the rounded root of the
    external design profile, `series` says whether ISO 261 lists the pitch as coarse or fine.
    """

    def __init__(self, made: _core.ThreadLimits) -> None:
        self.name: str = made.name
        self.internal: bool = made.internal
        self.series: str = made.series
        self.nominal: float = made.nominal
        self.pitch: float = made.pitch
        self.basic_pitch_diameter: float = made.basic_pitch_diameter
        self.basic_minor: float = made.basic_minor
        self.root: float = made.root
        self.fundamental_deviation: float = made.fundamental_deviation
        self.major: tuple[float, float] = made.major
        self.pitch_diameter: tuple[float, float] = made.pitch_diameter
        self.minor: tuple[float, float] = made.minor

    def table(self) -> Table:
        rows = [
            [name, *(_told(size, units) for units in ("metric", "inch") for size in limits)]
            for name, limits in (
                ("major diameter", self.major),
                ("pitch diameter", self.pitch_diameter),
                ("minor diameter", self.minor),
            )
        ]
        return Table(["", "least", "greatest", "least, inch", "greatest, inch"], rows, self.name)


class ThreadFit(Shown):
    """A nut and a bolt: least and greatest clearance on the pitch diameter [m]."""

    def __init__(self, made: _core.ThreadFit) -> None:
        self.name: str = made.name
        self.internal, self.external = Thread(made.internal()), Thread(made.external())
        self.clearance_least: float = made.clearance_least
        self.clearance_greatest: float = made.clearance_greatest

    def table(self) -> Table:
        rows = [
            [f"clearance, {name}", shown(value, "fine"), shown(value, "fine", "inch")]
            for name, value in (
                ("greatest", self.clearance_greatest),
                ("least", self.clearance_least),
            )
        ]
        return Table(["on the pitch diameter", "metric", "inch"], rows, self.name)


@checked
def thread(text: str, internal: bool = False) -> Thread:
    """Limits of a thread: "M75x2-6g", "M10" (coarse), "1/2-13 UNC-2A", "3-12 UN-2B".

    Without a class an external thread is 6g or 2A, an `internal` one 6H or 2B.

    `text` may have the class; sizes are in mm, or in inch for unified threads.

    >>> import fitwright as fw
    >>> answer = fw.sizes.thread("M75x2-6g").pitch_diameter
    """
    return Thread(_core.thread(text, internal))


@checked
def thread_fit(text: str) -> ThreadFit:
    """Play of a nut on a bolt: "M75x2-6H/6g", "1/2-13 UNC-2B/2A".

    `text` has the class of the nut, then that of the bolt.

    >>> import fitwright as fw
    >>> answer = fw.sizes.thread_fit("M75x2-6H/6g").clearance_least
    """
    return ThreadFit(_core.thread_fit(text))


def metric_pitches() -> Table:
    """Nominal diameters of ISO 261 with their coarse and fine pitches [mm].

    >>> import fitwright as fw
    >>> answer = fw.sizes.metric_pitches()
    """
    rows = []
    for nominal, choice, coarse, fine in _core.metric_series():
        told = [shown(p, "size").split(" ")[0] for p in (nominal, coarse, *fine)]
        rows.append(
            [f"M{told[0]}", str(choice), told[1] if coarse > 0.0 else "", ", ".join(told[2:])]
        )
    return Table(["thread", "choice", "coarse pitch", "fine pitches"], rows)
