"""Stacks in section: rings, shaft and collar as axisymmetric finite elements, condensed to where
they touch and run step by step.

>>> import fitwright as fw
>>> stack = fw.bodies.Sections(
...     shaft=fw.bodies.ShaftSection(
...         slices=[("20 mm", "30 mm", "96 mm"), ("125 mm", "30 mm", "80 mm")],
...         behind="20 mm", land=("84 mm", "96 mm"), thread=("65 mm", "16 mm"), material="4340"),
...     rings={
...         "sleeve": fw.bodies.RingSection(slices=[("30 mm", "80 mm", "100 mm")], material="4340"),
...         "wheel": fw.bodies.RingSection(slices=[("35 mm", "80 mm", "105 mm")], material="4340")})
>>> found = stack.history(
...     interference={"sleeve": "45 um", "wheel": "45 um"}, friction=0.15,
...     states={"cold": fw.bodies.State(),
...             "hot": fw.bodies.State(temperatures={"sleeve": "32 degC", "wheel": "28 degC"})},
...     steps=["slip_on sleeve wheel", ("press", "12 kN"), "state cold", "release", "nut_on",
...            ("tighten", "70 kN"), "lock", "state hot"])
>>> float(found["hot"].faces[0].force) > 0.0
True
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from fitwright import _core
from fitwright.bodies.found import SectionField, SectionHistory, SectionRefinement
from fitwright.bodies.parts import CHAMFERS, Reader, RingSection, ShaftSection, State
from fitwright.fields.errors import InputError
from fitwright.fields.tables import Table
from fitwright.fields.units import Number
from fitwright.fields.value import Value
from fitwright.materials import material

__all__ = [
    "Cache",
    "Fit",
    "RingSection",
    "SectionField",
    "SectionHistory",
    "SectionRefinement",
    "Sections",
    "ShaftSection",
    "State",
]

#: Kinds of steps, in the order of the core.
KINDS = (
    "slip_on",
    "press",
    "release",
    "nut_on",
    "tighten",
    "lock",
    "state",
    "loosen",
    "pull",
    "repeat",
)


class Cache:
    """Condensed parts, kept in memory and, where a folder is named, on disk.

    >>> cache = fw.bodies.Cache("build/parts")      # the second run finds its parts there
    """

    def __init__(self, folder: str | Path = "") -> None:
        self._core = _core.SectionCache(str(folder))

    @property
    def made(self) -> int:
        """Parts condensed anew."""
        return int(self._core.counts()[0])

    @property
    def found(self) -> int:
        """Parts found in memory or on disk."""
        counts = self._core.counts()
        return int(counts[1] + counts[2])

    @property
    def refused(self) -> list[str]:
        """Files that bore the name of a part and were foreign or damaged; they were made anew."""
        return list(self._core.refused())


class Fit(NamedTuple):
    """Rings on the shaft without friction: pressure and growth. `found` holds the rest."""

    pressure: dict[str, Value]
    found: SectionHistory

    def table(self, units: str | None = None) -> Table:
        rows = [[name, p.shown(units)] for name, p in self.pressure.items()]
        return Table(["ring", "mean pressure"], rows, title="fit in section")


class Sections:
    """A stack in section: meshed and condensed once, then run through as many histories as wanted.

    Parameters
    ----------
    shaft : ShaftSection
    rings : name to RingSection, in order from the shoulder
    nut : (inside, outside) [m] of the nut's face; all of the last ring's face when left out
    start : [m] of the first ring from the shoulder; above 0 it stands against nothing
    temperature : [degC] at which the moduli are taken, for all states
    fineness : elements along every edge times this, 0.1 to 20
    most_unknowns : more than this is refused before anything is built
    cache : Cache, for parts already condensed

    Equation
    --------
    K u = f of each part (axisymmetric elasticity, eight-node quadrilaterals), condensed to its
    contact points: u_c = G f_c + heat + speed; contacts by complementarity, friction by Coulomb's
    law.

    Raises
    ------
    fitwright.InputError
        naming each size that cannot be meshed, its value and the rule.

    Source
    ------
    docs/theory-bodies.md (equations, limits, checks)
    """

    def __init__(
        self,
        *,
        shaft: ShaftSection,
        rings: Mapping[str, RingSection],
        nut: Sequence[Number] | None = None,
        start: Number = 0.0,
        temperature: Number = 20.0,
        fineness: float = 1.0,
        most_unknowns: int = 400_000,
        cache: Cache | None = None,
    ) -> None:
        read = Reader()
        if not isinstance(rings, Mapping) or not rings:
            raise InputError([("rings", "name at least one ring, in order from the shoulder")])
        self._names = [str(name) for name in rings]
        if "shaft" in self._names:
            raise InputError([("rings.shaft", "a ring cannot be called shaft")])
        shaft_numbers = [
            read.number("shaft.behind", shaft.behind, "size"),
            *read.pair("shaft.land", shaft.land, ("inside", "outside")),
            read.number("shaft.fillet", shaft.fillet, "size"),
            *read.pair("shaft.thread", shaft.thread, ("start", "length")),
        ]
        rows = []
        for name, ring in rings.items():
            path = f"rings.{name}"
            rows.append(
                (
                    read.slices(path, ring.slices),
                    [
                        *self._chamfers(read, path, ring.chamfers),
                        *read.pair(f"{path}.thrust", ring.thrust, ("start", "length")),
                    ],
                )
            )
        whole = [
            *read.pair("nut", nut, ("inside", "outside")),
            read.number("start", start, "size"),
            read.number("temperature", temperature, "temperature"),
        ]
        shaft_rows = read.slices("shaft", shaft.slices)
        read.done()
        metals = [material(shaft.material), *(material(r.material) for r in rings.values())]
        with self._named():
            self._core = _core.Sections(
                shaft_rows,
                shaft_numbers,
                shaft.free_end,
                rows,
                metals,
                whole,
                float(fineness),
                1,
                int(most_unknowns),
                (cache or Cache())._core,
            )
        self._slices = [len(row[0]) for row in rows]

    @staticmethod
    def _chamfers(read: Reader, path: str, told: Mapping[str, Number] | Number) -> list[float]:
        if not isinstance(told, Mapping):
            return [read.number(f"{path}.chamfers", told, "size")] * 4
        for name in told:
            if name not in CHAMFERS:
                known = ", ".join(CHAMFERS)
                read.problems.append((f"{path}.chamfers.{name}", f"there is {known}"))
        return [
            read.number(f"{path}.chamfers.{name}", told.get(name, 0.0), "size") for name in CHAMFERS
        ]

    def _named(self, states: Sequence[str] = ()) -> _Named:
        return _Named(self._names, states)

    @property
    def names(self) -> list[str]:
        """The rings, from the shoulder on."""
        return list(self._names)

    @property
    def unknowns(self) -> int:
        """Of all meshes together."""
        return int(self._core.unknowns())

    def mesh(self, part: str) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.int32]]:
        """Radius and z [m] of a part's nodes, and its elements: eight nodes each, corners first."""
        r, z, elements = self._core.mesh(self._part(part))
        return r, z, elements

    def _part(self, name: str) -> int:
        parts = ["shaft", *self._names]
        if name not in parts:
            raise InputError([("part", f'"{name}" is not a part; there is {", ".join(parts)}')])
        return parts.index(name)

    # -- histories --------------------------------------------------------------------------------

    def fit(
        self, interference: Mapping[str, Any], state: State | None = None, **keywords: Any
    ) -> Fit:
        """Pressure and growth without friction, in one state (cold and at rest when left out).

        >>> stack.fit({"sleeve": "45 um", "wheel": "45 um"}).pressure["sleeve"]
        """
        found = self.history(
            interference=interference,
            friction=0.0,
            states={"fit": state or State()},
            steps=[f"slip_on {' '.join(self._names)}", "state fit"],
            **keywords,
        )
        return Fit(found["fit"].mean_pressure, found)

    def history(
        self,
        *,
        interference: Mapping[str, Any],
        states: Mapping[str, State],
        steps: Sequence[Any],
        friction: Mapping[str, Number] | Number = 0.15,
        face_softness: Mapping[str, Number] | Number = 0.0,
        settling: Mapping[str, Number] | Number = 0.0,
        touch_force: Number = 60.0,
        thrust_inner: str | None = None,
        thrust_outer: str | None = None,
        refinement: int = 1,
    ) -> SectionHistory:
        """The stack step by step.

        Parameters
        ----------
        interference : [m] on diameter at 20 degC by ring (one for each slice if a list); 0 where
            left out
        states : name to State; the first is where everything begins
        steps : in order: "slip_on NAME ...", ("press", force) or ("press", force, "shaft"),
            "release", "nut_on", ("tighten", force), "lock", "state NAME", "loosen", "pull",
            ("repeat", first, last, times) of earlier steps by number
        friction : of the seats, by ring or one for all
        face_softness : [m] u0 of the faces: they close as u0 ln(1 + force/touch_force); of each
            ring's face towards the shoulder, and "nut"
        settling : [m] embedding of these faces
        touch_force : [N] of a face whose peaks just touch
        thrust_inner, thrust_outer : rings that thrust enters at, towards the shoulder and away from
            it
        refinement : sub-steps times this

        Raises
        ------
        fitwright.InputError
            naming the step that cannot be done, and what found no equilibrium.
        """
        names, arguments = self._history(
            interference, states, steps, friction, face_softness, settling, touch_force,
            thrust_inner, thrust_outer, refinement,
        )  # fmt: skip
        with self._named(list(states)):
            found = self._core.history(*arguments)
        return SectionHistory(self._core, found, names, self._names)

    def refinement(self, *, at: str, **history: Any) -> SectionRefinement:
        """The same history on three meshes, each halving the one before: the error of each result.

        `at` names the step whose seats and peaks are looked at; the rest is that of `history`.

        >>> stack.refinement(at="hot", interference=..., states=..., steps=...).table()
        """
        defaults: dict[str, Any] = {
            "friction": 0.15,
            "face_softness": 0.0,
            "settling": 0.0,
            "touch_force": 60.0,
            "thrust_inner": None,
            "thrust_outer": None,
            "refinement": 1,
        }
        told = {**defaults, **history}
        order = ["interference", "states", "steps", *defaults]
        names, arguments = self._history(*(told[key] for key in order))
        if at not in names:
            raise InputError([("at", f'"{at}" is not a step; there is {", ".join(names)}')])
        with self._named(list(told["states"])):
            study = self._core.refinement(*arguments, names.index(at))
        return SectionRefinement(study, names, self._names, at)

    def _history(
        self,
        interference: Mapping[str, Any],
        states: Mapping[str, State],
        steps: Sequence[Any],
        friction: Mapping[str, Number] | Number,
        face_softness: Mapping[str, Number] | Number,
        settling: Mapping[str, Number] | Number,
        touch_force: Number,
        thrust_inner: str | None,
        thrust_outer: str | None,
        refinement: int,
    ) -> tuple[list[str], tuple[Any, Any, Any, Any, Any]]:
        read = Reader()
        for name in interference:
            self._known(read, "interference", name)
        fits = []
        for name, slices in zip(self._names, self._slices, strict=True):
            told = interference.get(name, 0.0)
            each = told if isinstance(told, list | tuple) else [told] * slices
            if len(each) != slices:
                read.problems.append((f"interference.{name}", f"one, or one for each of {slices}"))
            fits.append([read.number(f"interference.{name}", x, "fine") for x in each])
        by_ring = [
            [
                self._of(read, "friction", friction, name, "ratio"),
                self._of(read, "face_softness", face_softness, name, "fine"),
                self._of(read, "settling", settling, name, "fine"),
            ]
            for name in self._names
        ]
        whole = [
            self._of(read, "face_softness", face_softness, "nut", "fine"),
            self._of(read, "settling", settling, "nut", "fine"),
            read.number("touch_force", touch_force, "force"),
            float(self._thrust(read, "thrust_inner", thrust_inner)),
            float(self._thrust(read, "thrust_outer", thrust_outer)),
            float(refinement),
        ]
        rows = [self._state(read, f"states.{name}", state) for name, state in states.items()]
        names, step_rows = self._steps(read, steps, list(states))
        read.done()
        return names, (fits, by_ring, whole, rows, step_rows)

    def _known(self, read: Reader, path: str, name: str, more: Sequence[str] = ()) -> None:
        if name not in (*self._names, *more):
            told = ", ".join((*more, *self._names))
            read.problems.append((f"{path}.{name}", f"is not a part; there is {told}"))

    def _of(self, read: Reader, path: str, told: Any, name: str, quantity: str) -> float:
        if not isinstance(told, Mapping):
            return read.number(path, told, quantity)
        for key in told:
            self._known(read, path, key, ("nut",))
        return read.number(f"{path}.{name}", told.get(name, 0.0), quantity)

    def _thrust(self, read: Reader, path: str, name: str | None) -> int:
        if name is None:
            return -1
        self._known(read, path, name)
        return self._names.index(name) if name in self._names else -1

    def _state(
        self, read: Reader, path: str, state: State
    ) -> tuple[list[float], list[float], list[float]]:
        for name in state.temperatures:
            self._known(read, f"{path}.temperatures", name, ("shaft",))
        inside: list[float] = []
        outside: list[float] = []
        for name in ("shaft", *self._names):
            told = state.temperatures.get(name, 20.0)
            pair = told if isinstance(told, list | tuple) else (told, told)
            where = f"{path}.temperatures.{name}"
            if len(pair) != 2:
                read.problems.append((where, "one, or a pair at the bore and at the outside"))
                pair = (20.0, 20.0)
            for one, row in zip(pair, (inside, outside), strict=True):
                row.append(read.number(where, one, "temperature"))
        numbers = [
            read.number(f"{path}.speed", state.speed, "speed"),
            read.number(f"{path}.nut_compliance", state.nut_compliance, "ratio"),
            read.number(f"{path}.nut_free", state.nut_free, "fine"),
            read.number(f"{path}.thrust", state.thrust, "force"),
            read.number(f"{path}.settled", state.settled, "ratio"),
        ]
        return inside, outside, numbers

    def _steps(
        self, read: Reader, steps: Sequence[Any], states: list[str]
    ) -> tuple[list[str], list[tuple[int, int, int, int, int, float, bool]]]:
        names: list[str] = []
        rows = []
        for i, told in enumerate(steps):
            path = f"steps[{i}]"
            words = told.split() if isinstance(told, str) else list(told)
            kind = str(words[0]) if words else ""
            if kind not in KINDS:
                read.problems.append((path, f'"{kind}" is not a step; there is {", ".join(KINDS)}'))
                continue
            state = first = last = 0
            times, force, on_shaft, name = 1, 0.0, False, kind
            if kind == "slip_on":
                for ring in words[1:]:
                    self._known(read, path, ring)
                on = [self._names.index(ring) for ring in words[1:] if ring in self._names]
                if not on:
                    read.problems.append((path, "name the rings that go on"))
                    continue
                first, last = on[0], on[-1]
                name = f"slip_on {' '.join(words[1:])}"
            elif kind == "state":
                if len(words) != 2 or words[1] not in states:
                    read.problems.append((path, f"name a state: {', '.join(states)}"))
                    continue
                state, name = states.index(words[1]), words[1]
            elif kind in ("press", "tighten"):
                force = read.number(f"{path}.force", words[1] if len(words) > 1 else None, "force")
                on_shaft = kind == "press" and words[2:] == ["shaft"]
            elif kind == "repeat":
                first, last, times = (int(w) for w in words[1:4])
            names.append(_again(name, names))
            rows.append((KINDS.index(kind), state, first, last, times, force, on_shaft))
        return names, rows


def _again(name: str, names: list[str]) -> str:
    """A name not used yet: the second "cold" is "cold 2"."""
    same = sum(1 for other in names if other == name or other.rpartition(" ")[0] == name)
    return f"{name} {same + 1}" if same else name


class _Named:
    """Rings and states of a problem by their names, where the core counts them."""

    def __init__(self, rings: Sequence[str], states: Sequence[str]) -> None:
        self._rings, self._states = rings, states

    def __enter__(self) -> None:
        return None

    def __exit__(self, kind: Any, error: BaseException | None, trace: Any) -> None:
        if isinstance(error, InputError):
            raise InputError((self._path(path), text) for path, text in error.problems) from None

    def _path(self, path: str) -> str:
        for i, name in enumerate(self._rings):
            path = path.replace(f"rings[{i}]", f"rings.{name}")
            path = path.replace(f"part {i})", f"{name})")
            path = path.replace(f"temperatures[{i + 1}]", f"temperatures.{name}")
        return path.replace("temperatures[0]", "temperatures.shaft")
