"""Stacks of several rings out of square, and their clocking."""

from __future__ import annotations

import importlib
import itertools

import fitwright as fw
import numpy as np
import pytest

SHAFT = fw.SquareShaft(bore="30 mm", material="4340")


def ring(outside="105 mm", length="30 mm", **more):
    given = {"bore": "80 mm", "material": "52100", **more}
    return fw.SquareRing(outside=outside, length=length, **given)


RINGS = {
    "sleeve": ring(wedge="5 um", wedge_angle="20 deg", runout="15 um"),
    "inner": ring("104 mm", "39 mm", wedge="3 um", wedge_angle="-80 deg", runout="8 um"),
    "wheel": ring(
        "118 mm", "14 mm", wedge="4 um", wedge_angle="200 deg", runout="30 um", mass="9 kg"
    ),
}
WHOLE = {"clamp": "40 kN", "rotor_mass": "60 kg", "speed": "11000 rpm"}


def stack(rings=None, **more):
    return fw.stack.SquareStack(shaft=SHAFT, rings=rings or RINGS, **{**WHOLE, **more})


def test_one_ring_is_the_model():
    one = stack({"sleeve": RINGS["sleeve"]}).evaluate()
    model = fw.stack.wedge(shaft=SHAFT, ring=RINGS["sleeve"], **WHOLE)
    for field in fw.models.MODELS["stack.wedge"]["outputs"]["fields"]:
        name = field["name"]
        held = one.rings["sleeve"] if name.startswith(("ring_", "seat_")) else one
        assert getattr(held, name) == getattr(model, name), name


def test_the_answer_shows_itself():
    answer = stack().evaluate()
    text = str(answer)
    assert "rings.wheel.ring_runout" in text
    assert "opening_use" in text
    assert answer.runout == max(r.ring_runout for r in answer.rings.values())
    with pytest.raises(AttributeError):
        answer.nothing  # noqa: B018


def test_an_open_face_is_a_finding():
    square = {"sleeve": ring(wedge="1 um"), "wheel": ring(runout="2 um")}
    assert stack(square).evaluate().not_met == []
    assert stack(square, grade="0.01 mm/s").evaluate().not_met == ["balance_use"]
    short = {"sleeve": ring(wedge="11 um")}
    answer = stack(short).evaluate()
    assert answer.opening_use > 1.0
    assert answer.not_met == ["opening_use", "rings.sleeve.ring_opening_use"]


@pytest.mark.parametrize("aim", ["bend", "tilt", "runout", "unbalance"])
def test_clocking_is_the_best_of_every_way(aim):
    output = {"bend": "moment", "unbalance": "balance_use"}.get(aim, aim)
    given = stack()
    found = given.clock(aim, slots=6)
    values = [
        getattr(given.turned(dict(zip(given.names, turns, strict=True))).evaluate(), output)
        for turns in itertools.product([k / 6 for k in range(6)], repeat=3)
    ]
    assert found.method == "every way"
    assert found.ways == 216
    assert found.best == pytest.approx(min(values), rel=1e-10)
    assert found.best == pytest.approx(found.least, rel=1e-12)
    assert found.greatest == pytest.approx(max(values), rel=1e-10)
    assert found.mean == pytest.approx(np.mean(values), rel=1e-10)
    assert found.as_given == pytest.approx(values[0], rel=1e-12)
    assert found.bound <= found.best
    assert getattr(found.stack.evaluate(), output) == pytest.approx(found.best, rel=1e-10)
    assert "every way" in str(found)


def test_rings_not_named_stay():
    found = stack().clock("runout", slots={"wheel": 8})
    assert found.positions["sleeve"] == found.positions["inner"] == 0.0
    assert found.ways == 8
    assert "stays" in str(found)


def test_tilt_of_one_ring():
    found = stack().clock("tilt", of="inner", slots=4)
    turned = found.stack.evaluate()
    assert turned.rings["inner"].ring_tilt == pytest.approx(found.best, rel=1e-10)
    assert found.best <= stack().clock("tilt", slots=4).stack.evaluate().rings["inner"].ring_tilt


def test_free_angles_close_the_vectors():
    """Three wedges of which none is longer than the others together cancel exactly."""
    found = stack().clock("bend")
    assert found.method == "search"
    assert found.bound == 0.0
    assert found.best < 1e-6 * found.greatest
    # One far longer than the rest: what is left over is their difference.
    rings = {**RINGS, "sleeve": ring(wedge="30 um")}
    left = stack(rings).clock("bend")
    assert left.bound > 0.0
    assert left.best == pytest.approx(left.bound, rel=1e-6)


def test_the_search_finds_what_trying_all_finds():
    rings = {
        f"r{k}": ring(
            length="12 mm",
            wedge=f"{2 + k} um",
            wedge_angle=f"{37 * k} deg",
            runout=f"{5 + 3 * k} um",
            runout_angle=f"{101 * k} deg",
        )
        for k in range(5)
    }
    given = stack(rings)
    every = given.clock("runout", slots=8)
    assert every.method == "every way"
    from fitwright import _core
    from fitwright.stack.clocking import search

    clocking = _core.Clocking(given._core, "runout", -1)
    positions = search(clocking, [8] * 5, 3)
    assert all(p == int(p) and 0 <= p < 8 for p in positions)
    [reached] = clocking.at(np.array([[p / 8 for p in positions]]))
    assert reached == pytest.approx(every.best, rel=0.02)
    # Free angles are never worse than slots.
    assert given.clock("runout").best <= every.best * (1.0 + 1e-9)


def test_many_rings_are_searched_and_repeat():
    rings = {
        f"r{k}": ring(length="8 mm", wedge=f"{2 + k % 4} um", wedge_angle=f"{47 * k} deg")
        for k in range(12)
    }
    given = stack(rings)
    first, again = (given.clock("bend", slots=4, seed=5) for _ in range(2))
    assert first.method == "search"
    assert first.ways == 20_000
    assert first.positions == again.positions
    assert first.best <= first.least
    assert first.best < 0.1 * first.median


def test_without_scipy_it_is_said(monkeypatch):
    real = importlib.import_module

    def without(name, *rest):
        if name == "scipy.optimize":
            raise ImportError(name)
        return real(name, *rest)

    monkeypatch.setattr(importlib, "import_module", without)
    with pytest.raises(fw.InputError, match=r"pip install 'fitwright\[study\]'"):
        stack().clock("bend")


def test_bad_stacks_are_refused():
    with pytest.raises(fw.InputError, match="rings: name at least one ring"):
        fw.stack.SquareStack(shaft=SHAFT, rings={}, **WHOLE)
    with pytest.raises(fw.InputError, match="weight: is not a field; there is clamp"):
        stack(weight="60 kg")
    with pytest.raises(fw.InputError, match=r"rings.sleeve.outside: 79 mm must be larger"):
        stack({"sleeve": ring("79 mm")})
    with pytest.raises(fw.InputError, match="clamp: must be given"):
        fw.stack.SquareStack(shaft=SHAFT, rings=RINGS, rotor_mass="60 kg", speed="11000 rpm")
    with pytest.raises(fw.InputError, match=r"rings.sleeve: must be a fw.SquareRing"):
        stack({"sleeve": SHAFT})
    with pytest.raises(fw.InputError, match="single numbers, not arrays"):
        stack({"sleeve": ring(wedge=np.array([1e-6, 2e-6]))})


def test_bad_questions_about_clocking_are_refused():
    given = stack()
    for aim, more, message in (
        ("weight", {}, "aim: 'weight' must be one of bend"),
        ("bend", {"of": "wheel"}, "of: 'wheel' must be a ring .* for tilt or runout alone"),
        ("tilt", {"of": "lid"}, "of: 'lid' must be a ring"),
        ("bend", {"slots": {"lid": 4}}, "slots.lid: is not a ring; there is sleeve"),
        ("bend", {"slots": -1}, "slots.sleeve: -1 must be a whole number"),
        ("bend", {"ways": 1}, "ways: 1 must be a whole number above 1"),
    ):
        with pytest.raises(fw.InputError, match=message):
            given.clock(aim, **more)
    with pytest.raises(fw.InputError, match=r"turns.lid: is not a ring"):
        given.turned({"lid": 0.5})
