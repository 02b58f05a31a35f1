"""A live cross-check: CalculiX on decks written from the library's own meshes (cases A, B, E, F1, G
and H2 of the finite-element checks; shapes invented). One mesh; two element codes, two contacts,
two ways to solve.

CalculiX starts with every contact just closed, and the rings cool from there by what their
interference is worth: where the library's hot rings first touch.
"""

from __future__ import annotations

import fitwright as fw
import pytest
from calculix_deck import CCX, Deck

pytestmark = pytest.mark.skipif(
    CCX is None, reason="CalculiX is not installed: apt-get install calculix-ccx"
)

EXPANSION = 11.5e-6
FRICTION = 0.15
#: Half as fine as usual.
FINENESS = 0.5


def steel():
    return fw.materials.own(
        "check steel", modulus=206e9, expansion=EXPANSION, yield_strength=900e6, poisson=0.3,
        density=7850, heating_limit=200, lowest=-100, highest=200, source="invented",
    )  # fmt: skip


def mm(*rows):
    return [[f"{x} mm" for x in row] for row in rows]


def at(value):
    return lambda x: abs(x - value) < 1e-4


def cooled(hotter=0.0, interference=60.0, seat=80.0):
    """Heat of a ring since its first touch, K."""
    return hotter - 1e-3 * interference / seat / EXPANSION


class Both:
    """A stack of the library, and a deck of its meshes: B bores, S their seats, F and E faces."""

    def __init__(self, shaft, rings, *, seat=80.0, friction=0.0, **more):
        metal = steel()
        start = 1e3 * more.pop("start", 0.0)
        self.stack = fw.bodies.Sections(
            shaft=fw.bodies.ShaftSection(slices=mm(*shaft), material=metal, **more),
            rings={
                f"R{i}": fw.bodies.RingSection(slices=mm(*slices), material=metal)
                for i, slices in enumerate(rings)
            },
            start=1e-3 * start,
            fineness=FINENESS,
        )
        self.deck = deck = Deck()
        self.rings, self.seat = self.stack.names, seat
        for part in ("SHAFT", *self.rings):
            r, z, elements = self.stack.mesh(part if part != "SHAFT" else "shaft")
            deck.add(part, r * 1e3, z * 1e3, elements)
        on_seat = at(seat / 2)
        self.start, self.end = {}, {}
        for name, slices in zip(self.rings, rings, strict=True):
            low, high = start, start + sum(row[0] for row in slices)
            self.start[name], self.end[name], start = low, high, high
            deck.surface(f"B{name}", name, lambda r, z: on_seat(r))
            deck.surface(f"F{name}", name, lambda r, z, low=low: at(low)(z))
            deck.surface(f"E{name}", name, lambda r, z, high=high: at(high)(z))
        top = max(z for _, z in deck.nodes)
        low, high = min(self.start.values()), max(self.end.values())
        low, high = max(low - 8.0, 0.0), min(high + 8.0, top)
        deck.surface("S", "SHAFT", lambda r, z: on_seat(r) and low - 1e-4 < z < high + 8.0)
        for name in self.rings:
            deck.contact(f"B{name}", "S", friction)
        for before, after in zip(self.rings, self.rings[1:], strict=False):
            deck.contact(f"F{after}", f"E{before}", 0.0)

    def stand_on_a_plane(self):
        """A flat rigid shoulder."""
        deck = self.deck
        deck.add_plane("PLANE", self.seat / 2, max(r for r, _ in deck.nodes))
        deck.surface("P", "PLANE", lambda r, z: at(0.0)(z))
        deck.contact(f"F{self.rings[0]}", "P", 0.0)
        self.hold_shaft(0.0)

    def stand_on_a_collar(self, behind, inside, outside):
        land = (inside / 2 - 1e-4, outside / 2 + 1e-4)
        self.deck.surface("P", "SHAFT", lambda r, z: at(0.0)(z) and land[0] < r < land[1])
        self.deck.contact(f"F{self.rings[0]}", "P", 0.0)
        self.hold_shaft(-behind)

    def hold_shaft(self, z):
        self.deck.fix(self.deck.where("SHAFT", lambda r, zz: at(z)(zz)), (2,))

    def hold_rings(self):
        """Nothing else does, along z."""
        for name in self.rings:
            nodes = self.deck.where(name, lambda r, z, name=name: at(self.start[name])(z))
            self.deck.fix(nodes[-1:], (2,))

    def gap(self, moved, name):
        """Mean gap in front of a ring, um."""
        i = self.rings.index(name)
        before = f"E{self.rings[i - 1]}" if i else "P"
        faces = [self.deck.mean(s, moved, 1) for s in (f"F{name}", before)]
        return 1e3 * (faces[0] - faces[1])


def fits(both, interference):
    """Without friction: pressures in MPa and outsides in um by both programs."""
    cold = fw.bodies.State()
    found = both.stack.fit(dict.fromkeys(both.rings, f"{interference} um"), cold)
    return {n: float(p) * 1e-6 for n, p in found.pressure.items()}, found.found["fit"].growth


def same_growth(both, moved, growth, name, interference=60.0):
    """CalculiX tells movements since first touch, when the ring was larger all over."""
    z, radius, outwards = growth[name]
    for place, r, u in zip(z * 1e3, radius * 1e3, outwards * 1e6, strict=True):
        node = min(
            both.deck.where(name, lambda rr, zz: True),
            key=lambda n: abs(both.deck.nodes[n][0] - r) + abs(both.deck.nodes[n][1] - place),
        )
        since_touch = interference / both.seat * r
        assert 1e3 * moved[node][0] + since_touch == pytest.approx(u, abs=0.02, rel=2e-3)


def mean_pressure(both, pressed, name, length):
    return pressed[f"B{name}"][0] / (3.141592653589793 * both.seat * length)


@pytest.mark.parametrize(
    ("case", "pressure"), [("A", 36.2105), ("B", 40.31)], ids=["equal lengths", "overhang"]
)
def test_pressure_and_growth_of_a_ring(tmp_path, case, pressure):
    if case == "A":
        both = Both([(40, 40, 80)], [[(40, 80, 120)]])
        length = 40.0
    else:
        both = Both([(200, 40, 80)], [[(30, 80, 120)]], start=0.085, free_end=True)
        length = 30.0
    both.hold_shaft(0.0)
    both.hold_rings()
    both.deck.step({"R0": cooled()})
    [(moved, pressed)] = both.deck.run(tmp_path)
    ours, growth = fits(both, 60)
    assert mean_pressure(both, pressed, "R0", length) == pytest.approx(ours["R0"], rel=2e-3)
    assert ours["R0"] == pytest.approx(pressure, rel=5e-3)
    same_growth(both, moved, growth, "R0")


def test_growth_of_a_ring_with_a_flange(tmp_path):
    both = Both([(40, 40, 80)], [[(15, 80, 120), (25, 80, 100)]])
    both.hold_shaft(0.0)
    both.hold_rings()
    both.deck.step({"R0": cooled()})
    [(moved, pressed)] = both.deck.run(tmp_path)
    ours, growth = fits(both, 60)
    assert mean_pressure(both, pressed, "R0", 40.0) == pytest.approx(ours["R0"], rel=2e-3)
    assert ours["R0"] == pytest.approx(29.21, rel=5e-3)
    same_growth(both, moved, growth, "R0")


@pytest.mark.parametrize(("press", "held", "off"), [(5.0, 14.13, 14.58), (20.0, 6.54, 8.01)])
def test_seating_gap_under_a_press(tmp_path, press, held, off):
    both = Both([(40, 40, 80)], [[(40, 80, 120)]], friction=FRICTION)
    both.stand_on_a_plane()
    force = [("ER0", -1e3 * press)]
    both.deck.step({"R0": 0.0}, forces=force)
    both.deck.step({"R0": cooled()}, forces=force, increments=20)
    both.deck.step({"R0": cooled()}, increments=4)
    steps = both.deck.run(tmp_path)
    found = both.stack.history(
        interference={"R0": "60 um"}, friction=FRICTION, states={"cold": fw.bodies.State()},
        steps=["slip_on R0", ("press", f"{press} kN"), "state cold", "release"],
    )  # fmt: skip
    for (moved, _), ours, checked in zip(
        steps[1:], (found["cold"], found["release"]), (held, off), strict=True
    ):
        gap = both.gap(moved, "R0")
        assert gap == pytest.approx(checked, abs=0.2, rel=0.02)
        assert 1e6 * float(ours.faces[0].gap) == pytest.approx(gap, abs=0.25, rel=0.02)


def test_clamp_of_two_rings_cooled_together(tmp_path):
    both = Both(
        [(20, 40, 100), (100, 40, 80)], [[(20, 80, 120)], [(20, 80, 120)]], friction=FRICTION,
        behind="20 mm", land=("84 mm", "100 mm"),
    )  # fmt: skip
    both.stand_on_a_collar(20.0, 84.0, 100.0)
    both.deck.surface("T", "SHAFT", lambda r, z: at(100.0)(z))
    cold = {name: cooled() for name in both.rings}
    force = [("ER1", -10e3)]
    both.deck.step(dict.fromkeys(both.rings, 0.0), forces=force)
    both.deck.step(cold, forces=force, increments=20)
    both.deck.step(cold, increments=4)
    nuts = [40.0, 80.0, 120.0]
    for nut in nuts:
        both.deck.step(cold, forces=[("ER1", -1e3 * nut), ("T", 1e3 * nut)], increments=4)
    steps = both.deck.run(tmp_path)
    found = both.stack.history(
        interference=dict.fromkeys(both.rings, "60 um"), friction=FRICTION,
        states={"cold": fw.bodies.State()},
        steps=["slip_on R0 R1", ("press", "10 kN"), "state cold", "release", "nut_on",
               *(("tighten", f"{nut} kN") for nut in nuts)],
    )  # fmt: skip
    for name, face in (("R0", 0), ("R1", 1)):
        gap = both.gap(steps[1][0], name)
        assert 1e6 * float(found["cold"].faces[face].gap) == pytest.approx(gap, abs=0.25)
    for nut, (_, pressed), ours in zip(nuts, steps[3:], found.steps[5:], strict=True):
        for name, face in (("R0", 0), ("R1", 1)):
            force = pressed.get(f"F{name}", (0.0, 0.0))[0] * 1e-3
            assert float(ours.faces[face].force) * 1e-3 == pytest.approx(force, abs=0.02 * nut)


def test_a_locked_nut_through_states(tmp_path):
    """CalculiX gets the nut's force that the library found; its nut must stand still under it."""
    compliance = 1e-7  # mm/N
    both = Both([(80, 40, 80)], [[(40, 80, 120)]], friction=FRICTION, thread=("40 mm", "16 mm"))
    both.stand_on_a_plane()
    both.deck.surface("T", "SHAFT", lambda r, z: at(40.0)(r) and 40.0 - 1e-4 < z < 56.0 + 1e-4)
    states = {"cold": (0.0, 0.0), "hot": (15.0, 0.0), "fast": (10.0, 900.0), "trip": (-8.0, 0.0)}
    found = both.stack.history(
        interference={"R0": "60 um"}, friction=FRICTION,
        states={
            name: fw.bodies.State(
                temperatures={"R0": 20.0 + hotter}, speed=speed, nut_compliance=1e-3 * compliance
            )
            for name, (hotter, speed) in states.items()
        },
        steps=["slip_on R0", ("press", "20 kN"), "state cold", "release", "nut_on",
               ("tighten", "90 kN"), "lock", "state hot", "state fast", "state trip", "state cold"],
    )  # fmt: skip
    ours = [found["tighten"], *found.steps[-4:]]
    deck = both.deck
    deck.step({"R0": 0.0}, forces=[("ER0", -20e3)])
    deck.step({"R0": cooled()}, forces=[("ER0", -20e3)], increments=20)
    deck.step({"R0": cooled()}, increments=4)
    for step, name in zip(ours, ("cold", "hot", "fast", "trip", "cold"), strict=True):
        hotter, speed = states[name]
        nut = float(step.nut)
        forces = [("ER0", -nut), ("T", nut)]
        deck.step({"R0": cooled(hotter)}, spin=speed * speed, forces=forces, increments=6)
    room = []
    for step, (moved, pressed) in zip(ours, deck.run(tmp_path)[3:], strict=True):
        nut = float(step.nut)
        shoulder = pressed["FR0"][0]
        assert float(step.faces[0].force) == pytest.approx(shoulder, abs=0.02 * nut)
        pressure = mean_pressure(both, pressed, "R0", 40.0)
        assert float(step.mean_pressure["R0"]) * 1e-6 == pytest.approx(pressure, rel=5e-3)
        room.append(deck.mean("T", moved, 1) - deck.mean("ER0", moved, 1) + compliance * nut)
    for now in room[1:]:  # um: 0.3 um is 1.2 kN at the nut
        assert 1e3 * (now - room[0]) == pytest.approx(0.0, abs=0.3)
