"""Stacks in section from Python: what it answers beside Lame and the checks, and what it refuses.

The models are checked in tests/cpp/section_*.test.cpp and bodies_*.test.cpp.
"""

from __future__ import annotations

import doctest

import fitwright as fw
import numpy as np
import pytest
from fitwright import bodies


def steel():
    return fw.materials.own(
        "check steel", modulus=206e9, expansion=11.5e-6, yield_strength=900e6, poisson=0.3,
        density=7850, heating_limit=200, lowest=-100, highest=200, source="invented",
    )  # fmt: skip


def sections(shaft=None, ring=None, **more):
    """One ring 80/120 x 40 on a shaft 40/80 of the same length, against a rigid plane."""
    told = {"slices": [("40 mm", "40 mm", "80 mm")], "material": steel(), **(shaft or {})}
    held = {"slices": [("40 mm", "80 mm", "120 mm")], "material": steel(), **(ring or {})}
    rings = {"sleeve": bodies.RingSection(**held)}
    return bodies.Sections(shaft=bodies.ShaftSection(**told), rings=rings, **more)


@pytest.fixture(scope="module")
def stack():
    return sections()


STATES = {"cold": bodies.State(), "hot": bodies.State(temperatures={"sleeve": 35.0})}
STEPS = [
    "slip_on sleeve", ("press", "20 kN"), "state cold", "release", "nut_on", ("tighten", "90 kN"),
    "lock", "state hot", "state cold",
]  # fmt: skip


def history(stack, **more):
    told = {"interference": {"sleeve": "60 um"}, "states": STATES, "steps": STEPS, **more}
    return stack.history(**told)


def test_a_ring_as_long_as_its_shaft_is_a_lame_ring(stack):
    # Lame: 36.211 MPa, outside +33.75 um and bore of the shaft -18.75 um on diameter (case A).
    fit = stack.fit({"sleeve": "60 um"})
    assert float(fit.pressure["sleeve"]) == pytest.approx(36.211e6, rel=1e-3)
    growth = fit.found["fit"].growth["sleeve"]
    assert growth.radius == pytest.approx(0.060)
    assert 2.0 * growth.movement == pytest.approx(33.75e-6, rel=1e-3)
    assert "36.2 MPa" in str(fit.table())


def test_stress_at_the_bore_is_that_of_a_thick_ring(stack):
    fit = stack.fit({"sleeve": "60 um"})
    field = fit.found.field("fit", "sleeve")
    pressure = 36.211e6
    bore = np.abs(field.r - 0.040) < 1e-6
    assert bore.sum() > 10
    hoop = pressure * (0.060**2 + 0.040**2) / (0.060**2 - 0.040**2)
    assert field.hoop[bore] == pytest.approx(hoop, rel=0.01)
    assert field.radial[bore] == pytest.approx(-pressure, rel=0.03)
    plane = np.sqrt(hoop**2 + pressure**2 + hoop * pressure)
    assert field.von_mises[bore] == pytest.approx(plane, rel=0.01)
    assert field.elements.shape[1] == 8
    assert field.elements.max() < len(field.r)


def test_steps_are_asked_by_name_and_number(stack):
    found = history(stack)
    assert len(found) == len(STEPS)
    assert [step.name for step in found][-2:] == ["hot", "cold 2"]
    assert found["hot"].name == found[-2].name
    assert float(found["tighten"].nut) == pytest.approx(90e3)
    # The shoulder carries what nut and seat push that way.
    step = found["hot"]
    seat = float(step.seats[0].force)
    assert float(step.faces[0].force) == pytest.approx(float(step.faces[1].force) + seat, rel=1e-6)
    assert step.faces[0].name == "shoulder-sleeve"
    areas = np.diff(step.faces[0].radius)
    assert (areas > 0.0).all()
    table = str(found.table())
    assert "shoulder-sleeve" in table
    assert "gap" in table


def test_a_hot_ring_pushes_and_lets_go(stack):
    found = history(stack)
    assert float(found["hot"].nut) > float(found["tighten"].nut)
    hot, cold = found["hot"].mean_pressure["sleeve"], found["cold"].mean_pressure["sleeve"]
    assert float(hot) < float(cold)


def test_interference_of_each_slice():
    steps = [("20 mm", "80 mm", "120 mm"), ("20 mm", "80 mm", "120 mm")]
    two = sections(ring={"slices": steps})
    even = two.fit({"sleeve": ["60 um", "60 um"]}).pressure["sleeve"]
    assert float(even) == pytest.approx(36.211e6, rel=2e-3)
    loose = two.fit({"sleeve": ["60 um", "40 um"]}).pressure["sleeve"]
    assert 0.8 * float(even) < float(loose) < 0.9 * float(even)


def test_condensed_parts_are_found_again(tmp_path):
    cache = bodies.Cache(tmp_path / "parts")
    first = sections(cache=cache).fit({"sleeve": "60 um"}).pressure["sleeve"]
    assert (cache.made, cache.found) == (2, 0)
    again = sections(cache=cache).fit({"sleeve": "60 um"}).pressure["sleeve"]
    assert (cache.made, cache.found) == (2, 2)
    other = bodies.Cache(tmp_path / "parts")
    from_disk = sections(cache=other).fit({"sleeve": "60 um"}).pressure["sleeve"]
    assert (other.made, other.found, other.refused) == (0, 2, [])
    assert float(first) == float(again) == float(from_disk)


def test_what_the_mesh_costs(stack):
    told = stack.refinement(
        at="cold", interference={"sleeve": "60 um"}, states=STATES, steps=STEPS[:4]
    )
    coarse, usual, fine = told.unknowns
    assert coarse < usual < fine
    pressure = told.steps["cold"]["mean_pressure"][0]
    assert pressure.error < 0.005 * pressure.value
    assert "pressure sleeve" in str(told.table())
    assert {peak.part for peak in told.peaks} == {"shaft", "sleeve"}


@pytest.mark.parametrize(
    ("shaft", "ring", "more", "text"),
    [
        ({}, {"slices": [("40 mm", "80 mm", "70 mm")]}, {}, r"rings\.sleeve"),
        ({}, {"slices": [("0 mm", "80 mm", "120 mm")]}, {}, r"rings\.sleeve\.slices\[0\]"),
        ({}, {"chamfers": "30 mm"}, {}, r"rings\.sleeve\.chamfers"),
        ({}, {"chamfers": {"left": "1 mm"}}, {}, "there is shoulder_bore"),
        ({}, {"slices": ["40 mm"]}, {}, r"rings\.sleeve\.slices\[0\]: must be length, bore"),
        ({"land": "84 mm"}, {}, {}, "land: must be a pair: inside, outside"),
        ({"slices": [("40 bananas", "40 mm", "80 mm")]}, {}, {}, r"shaft\.slices\[0\]\.length"),
        ({}, {}, {"most_unknowns": 100}, "most_unknowns"),
        ({}, {}, {"fineness": 100.0}, "fineness"),
        ({"material": "cheese"}, {}, {}, "cheese"),
    ],
)
def test_sizes_that_cannot_be_meshed(shaft, ring, more, text):
    with pytest.raises(fw.InputError, match=text):
        sections(shaft, ring, **more)


@pytest.mark.parametrize(
    ("told", "text"),
    [
        ({"interference": {"wheel": "60 um"}}, r"interference\.wheel: is not a part"),
        ({"interference": {"sleeve": ["1 um", "2 um"]}}, r"interference\.sleeve: one, or one for"),
        ({"steps": ["hammer"]}, r'steps\[0\]: "hammer" is not a step'),
        ({"steps": ["slip_on"]}, "name the rings that go on"),
        ({"steps": ["state warm"]}, "name a state: cold, hot"),
        ({"steps": ["nut_on"]}, r"steps\[0\] \(nut_on, sleeve\)"),
        ({"steps": ["slip_on sleeve", ("tighten", "5 kN")]}, r"steps\[1\] \(tighten, the nut\)"),
        ({"steps": [("press", "5 kN")]}, r"steps\[0\] \(press, sleeve\)"),
        ({"friction": {"bolt": 0.1}}, r"friction\.bolt: is not a part"),
        ({"states": {"cold": bodies.State(temperatures={"sleeve": 900.0})}, "steps": []},
         r"temperatures\.sleeve"),
        ({"states": {"cold": bodies.State(temperatures={"sleeve": (1, 2, 3)})}, "steps": []},
         "at the bore and at the outside"),
        ({"thrust_inner": "bolt"}, "thrust_inner"),
    ],
)  # fmt: skip
def test_histories_that_cannot_be_run(stack, told, text):
    with pytest.raises(fw.InputError, match=text):
        history(stack, **told)


def test_what_is_asked_by_a_wrong_name(stack):
    found = history(stack, steps=STEPS[:3])
    for ask in (
        lambda: found["warm"],
        lambda: found.field("cold", "wheel"),
        lambda: stack.mesh("wheel"),
    ):
        with pytest.raises(fw.InputError, match="is not a"):
            ask()
    with pytest.raises(fw.InputError, match="name at least one ring"):
        bodies.Sections(shaft=bodies.ShaftSection(slices=[], material=steel()), rings={})


def test_the_example_runs():
    test = doctest.DocTestParser().get_doctest(bodies.__doc__, {}, "bodies", None, 0)
    assert doctest.DocTestRunner().run(test).failed == 0
