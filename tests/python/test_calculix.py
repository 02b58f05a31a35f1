"""A live cross-check: CalculiX on decks written from the library's own meshes (cases A, B, C and E
of the finite-element checks; shapes invented). One mesh; two element codes, two contacts, two ways
to solve.

CalculiX starts with every contact just closed, and the ring cools from there by what its
interference is worth: where the library's hot ring first touches.
"""

from __future__ import annotations

import math

import fitwright as fw
import pytest
from calculix_deck import CCX, Deck

pytestmark = pytest.mark.skipif(
    CCX is None, reason="CalculiX is not installed: apt-get install calculix-ccx"
)

BORE, SEAT, INTERFERENCE = 40.0, 80.0, 0.060  # mm
MODULUS, POISSON, EXPANSION, DENSITY = 206e9, 0.3, 11.5e-6, 7850.0
#: Half as fine as usual.
FINENESS = 0.5


def stack_of(slices, shaft_length):
    """A ring in the middle of a shaft."""
    metal = fw.materials.own(
        "check steel", modulus=MODULUS, expansion=EXPANSION, yield_strength=900e6, poisson=POISSON,
        density=DENSITY, heating_limit=200, lowest=-100, highest=200, source="invented",
    )  # fmt: skip
    length = sum(row[0] for row in slices)
    return fw.bodies.Sections(
        shaft=fw.bodies.ShaftSection(
            slices=[(f"{shaft_length} mm", f"{BORE} mm", f"{SEAT} mm")], material=metal,
            free_end=True,
        ),
        rings={
            "ring": fw.bodies.RingSection(
                slices=[(f"{z} mm", f"{SEAT} mm", f"{outside} mm") for z, outside in slices],
                material=metal,
            )
        },
        start=f"{(shaft_length - length) / 2} mm",
        fineness=FINENESS,
    )  # fmt: skip


def deck_of(stack):
    deck = Deck(MODULUS * 1e-6, POISSON, EXPANSION, DENSITY * 1e-12)
    for part in ("shaft", "ring"):
        r, z, elements = stack.mesh(part)
        deck.add(part.upper(), r * 1e3, z * 1e3, elements)

    def on_seat(r, z):
        return abs(r - SEAT / 2) < 1e-4

    deck.surface("BORE", "RING", on_seat)
    deck.surface("SEAT", "SHAFT", on_seat)
    deck.contact("BORE", "SEAT")
    deck.fix([deck.where("SHAFT", on_seat)[0], deck.where("RING", on_seat)[0]])
    return deck


@pytest.mark.parametrize(
    ("slices", "shaft_length", "speed", "checked"),
    [
        ([(40, 120)], 40, 0.0, 36.2105),
        ([(30, 120)], 200, 0.0, 40.31),
        ([(30, 120)], 200, 1000.0, 34.91),
        ([(15, 120), (25, 100)], 40, 0.0, 29.21),
    ],
    ids=["A: equal lengths", "B: overhang", "C: spinning", "E: a flange"],
)
def test_pressure_and_growth_of_a_ring(tmp_path, slices, shaft_length, speed, checked):
    stack = stack_of(slices, shaft_length)
    deck = deck_of(stack)
    deck.step({"RING": -INTERFERENCE / SEAT / EXPANSION}, speed * speed)
    [(moved, pressed)] = deck.run(tmp_path)

    fit = stack.fit({"ring": f"{INTERFERENCE} mm"}, fw.bodies.State(speed=speed))
    pressure = float(fit.pressure["ring"]) * 1e-6
    area = math.pi * SEAT * sum(row[0] for row in slices)
    assert pressure == pytest.approx(pressed["BORE"] / area, rel=2e-3)
    assert pressure == pytest.approx(checked, rel=5e-3)

    z, radius, outwards = fit.found["fit"].growth["ring"]
    assert len(z) > 5
    for place, r, u in zip(z * 1e3, radius * 1e3, outwards * 1e6, strict=True):
        nodes = deck.where("RING", lambda rr, zz, r=r, z=place: math.hypot(rr - r, zz - z) < 1e-4)
        # CalculiX tells movements since first touch, when the ring was larger all over.
        since_touch = 1e3 * INTERFERENCE / SEAT * r
        assert u == pytest.approx(1e3 * moved[nodes[0]][0] + since_touch, abs=0.02, rel=2e-3)
