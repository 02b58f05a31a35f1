"""Heating, seating and taking off through the Python face: curves, pictures, what is refused."""

from __future__ import annotations

import fitwright as fw
import numpy as np
import pytest
from fitwright.charts import picture
from scipy.integrate import solve_ivp

SHAFT = {"bore": "30 mm", "seat": "80 mm", "material": "4340"}
RING = {"bore": "80 mm", "outside": "105 mm", "length": "30 mm", "material": "52100"}


def plan(**changed):
    given = {"shaft": fw.Shaft(**SHAFT), "ring": fw.Ring(**RING), "interference": "38 um"}
    return {**given, **changed}


def slip_on(**changed):
    return fw.heat.slip_on(**plan(oven="115 degC", **changed))


def test_the_curve_passes_through_the_results():
    result = slip_on()
    curve = fw.heat.cooling(result)
    assert np.all(np.diff(curve.time) >= 0.0)
    clearance = curve.bore - curve.seat
    assert clearance[0] == pytest.approx(result.start_clearance, rel=1e-9)
    assert np.interp(result.grab, curve.time, clearance) == pytest.approx(0.0, abs=1e-12)
    assert np.interp(result.grab, curve.time, curve.ring_mean) == pytest.approx(
        result.ring_at_touch
    )
    assert curve.time[-1] == result.time_to_room
    # A joint that is cold has its interference back.
    assert clearance[-1] == pytest.approx(-38e-6, abs=2e-6)


def test_a_batch_of_windows():
    ovens = np.linspace(100.0, 125.0, 11)
    many = fw.heat.slip_on(**plan(oven=ovens))
    assert np.all(np.diff(many.window) > 0.0)
    alone = fw.heat.slip_on(**plan(oven=float(ovens[4])))
    assert many.window[4] == alone.window
    with pytest.raises(fw.InputError, match=r"oven\[0\]: .* the working window is zero seconds"):
        fw.heat.slip_on(**plan(oven=[60.0, 120.0]))


def test_a_ring_in_the_oven_against_scipy():
    # The same wall by the method of lines and a general integrator, with the property tables.
    metal = fw.materials.material("52100")
    inner, outer, film, hot = 0.020, 0.060, 200.0, 118.0
    cells = 60
    faces = np.linspace(inner, outer, cells + 1)
    middle = 0.5 * (faces[1:] + faces[:-1])
    volume = faces[1:] ** 2 - faces[:-1] ** 2
    width = (outer - inner) / cells

    grid = np.linspace(metal.lowest, metal.highest, 2001)
    tables = {
        name: np.array([metal.at(name, float(x)) for x in grid])
        for name in ("conductivity", "heat_capacity")
    }

    def rates(_, t):
        k = np.interp(t, grid, tables["conductivity"])
        between = 2.0 * faces[1:-1] * 0.5 * (k[1:] + k[:-1]) * np.diff(t) / width
        series = 1.0 / (1.0 / film + 0.5 * width / k[-1])
        into = np.zeros(cells)
        into[:-1] += between
        into[1:] -= between
        into[-1] += 2.0 * outer * series * (hot - t[-1])
        capacity = np.interp(t, grid, tables["heat_capacity"])
        return into / (volume * metal.density * capacity)

    wanted = solve_ivp(
        rates, (0.0, 150.0), np.full(cells, 20.0), method="LSODA", rtol=1e-8, lband=1, uband=1
    )
    found = fw.heat.body(
        inside=2.0 * inner,
        outside=2.0 * outer,
        start=20.0,
        ambient=hot,
        outer_film=film,
        duration="150 s",
        place=2.0 * float(middle[40]),
        cells=cells,
        tolerance=1e-6,
        material="52100",
    )
    assert found.temperature == pytest.approx(wanted.y[40, -1], abs=0.02)


def test_rings_that_cool_together_take_units():
    seat = fw.heat.seating(**plan())
    grip = seat.capacity / 0.030
    slices = [fw.heat.GripSlice(n, "15 mm", grip, seat.parting) for n in (0, 1)]
    gaps = fw.heat.seating_together(slices, "5 kN")
    assert gaps == fw.heat.seating_together(
        [fw.heat.GripSlice(n, 0.015, grip, seat.parting) for n in (0, 1)], 5e3
    )
    assert gaps[0] > 0.0
    assert gaps[1] > 0.0
    with pytest.raises(fw.InputError, match="press_force"):
        fw.heat.seating_together(slices, "5 mm")
    with pytest.raises(fw.InputError, match="there must be at least one"):
        fw.heat.seating_together([])


@pytest.mark.parametrize("units", ["metric", "inch"])
def test_every_picture_is_drawn(tmp_path, units):
    pictures = {
        "temperature": fw.heat.draw(slip_on(), units=units),
        "time": fw.heat.draw(slip_on(), against="time", units=units),
        "gap": fw.heat.draw(fw.heat.seating(**plan(press_force="15 kN")), units=units),
        "pulled": fw.heat.draw(
            fw.heat.seating(**plan(press_force="15 kN", reacted="shaft")), units=units
        ),
        "chill": fw.heat.draw(fw.heat.chill(**plan(interference="90 um")), units=units),
        "oven": fw.heat.draw(fw.heat.oven(**plan()), units=units),
    }
    for name, axes in pictures.items():
        path = tmp_path / f"{name}.svg"
        picture.save(axes, path)
        assert path.stat().st_size > 5000
        unit = "thou" if units == "inch" else "um"
        if name not in ("chill", "oven"):
            assert unit in axes.get_ylabel()


def test_pictures_are_of_one_result():
    with pytest.raises(fw.InputError, match="one result of heat"):
        fw.heat.draw(fw.heat.slip_on(**plan(oven=[110.0, 120.0])))
    with pytest.raises(fw.InputError, match="one result of heat"):
        fw.heat.draw(fw.heat.seating(**plan(press_force=[0.0, 1e4])))
    with pytest.raises(fw.InputError, match="there is no picture of heat"):
        fw.heat.draw(fw.heat.take_off(**plan()))
