"""A job whose bearing carries a radial load or a tilting moment: against SciPy, shown, refused.

The equations are those of Harris & Kotzalas, Rolling Bearing Analysis, combined load on rigid rings
(from memory), written in displacements of the inner ring; contact constants by SciPy's elliptic
integrals.
"""

from __future__ import annotations

import html
import json
import tomllib
from importlib import resources
from pathlib import Path
from typing import Any

import fitwright as fw
import jsonschema
import numpy as np
import pytest
from fitwright.job.running import COMBINED
from numpy.typing import NDArray
from scipy.optimize import brentq, root
from scipy.special import ellipe, ellipk

LOADS = 'radial_load = "3 kN"\nmoment_across = "40 N m"\n'
SPLIT = 'title = "full load"\n'
NAMES = ("radial_load", "radial_load_across", "moment", "moment_across")


@pytest.fixture(scope="module")
def loaded_text(demo_text: str) -> str:
    """The demo, its full load with a share of the rotor's weight and an overhung moment."""
    assert demo_text.count(SPLIT) == 1
    return demo_text.replace(SPLIT, SPLIT + LOADS)


@pytest.fixture(scope="module")
def loaded(loaded_text: str) -> fw.Job:
    return fw.Job.loads(loaded_text)


def approach_constant(across: float, along: float, flexibility: float) -> float:
    """Approach per load^(2/3) of ball and groove; ellipticity by Harris's equation."""
    difference = (along - across) / (along + across)

    def wrong(k: float) -> float:
        m = 1.0 - 1.0 / k**2
        e = ellipe(m)
        return float(((k**2 + 1) * e - 2 * ellipk(m)) / ((k**2 - 1) * e) - difference)

    k = brentq(wrong, 1 + 1e-6, 300, xtol=1e-15, rtol=1e-14)
    m = 1.0 - 1.0 / k**2
    a = (3 * flexibility * ellipe(m) * k**2 / (np.pi * (across + along))) ** (1 / 3)
    return float(3 * flexibility * ellipk(m) / (2 * np.pi * a))


def flexibility(steel: Any) -> float:
    """2 (1 - nu^2)/E, from the model of a sphere on a flat: K = 4/3 E* sqrt(R)."""
    sphere = fw.bearings.hertz(
        first=fw.Body(curvature_x=1.0, curvature_y=1.0, material=steel),
        second=fw.Body(material=steel),
        load=1.0,
    )
    return float(4.0 / 3.0 / float(sphere.stiffness))


def static_balls(
    job: fw.Job, clearance: float, loads: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Displacements of the ring and ball loads at rest, by SciPy."""

    def of(name: str) -> float:
        return float(job[f"bearing.{name}"])

    z, d, dm = round(of("balls")), of("ball_diameter"), of("pitch_diameter")
    fi, fo = of("inner_curvature"), of("outer_curvature")
    a = (fi + fo - 1.0) * d
    soft = flexibility(fw.materials.material("52100"))
    gamma = d / dm * (1.0 - of("clearance") / 2.0 / a)
    both = sum(
        approach_constant((2 - 1 / f) / d, 2 / (d * (1 + sign * gamma)), soft)
        for f, sign in ((fi, -1.0), (fo, 1.0))
    )
    stiff = both**-1.5
    psi = 2 * np.pi * np.arange(z) / z
    cosine, sine = np.cos(psi), np.sin(psi)
    arm = dm / 2 + (fi - 0.5) * d * (1.0 - clearance / 2.0 / a)

    def balls(move: NDArray[np.float64]) -> tuple[Any, ...]:
        axial = move[0] + arm * (move[3] * sine - move[4] * cosine)
        radial = a - clearance / 2 + move[1] * cosine + move[2] * sine
        apart = np.hypot(axial, radial)
        load = stiff * np.maximum(apart - a, 0.0) ** 1.5
        return load, load * axial / apart, load * radial / apart

    def wrong(scaled: NDArray[np.float64]) -> NDArray[np.float64]:
        _, t, u = balls(scaled * scale)
        sums = np.array([t.sum(), u @ cosine, u @ sine, arm * (t @ sine), -arm * (t @ cosine)])
        return np.asarray((sums - loads) / [1e3, 1e3, 1e3, 1e3 * arm, 1e3 * arm])

    scale = np.array([1e-5, 1e-5, 1e-5, 1e-5 / arm, 1e-5 / arm])
    open_at = np.sqrt(max(a**2 - (a - clearance / 2) ** 2, 0.0))
    start = np.array([open_at * 1.1, 0.0, 0.0, 0.0, 0.0]) / scale
    found = root(wrong, start, tol=1e-13)
    assert np.max(np.abs(wrong(found.x))) < 1e-9, found.message
    return found.x * scale, balls(found.x * scale)[0]


@pytest.mark.parametrize(
    ("thrust", "radial", "across", "moment", "moment_across"),
    [
        (9e3, 3e3, 0.0, 0.0, 40.0),
        (9e3, 0.0, -2e3, 35.0, 0.0),
        (4e3, 4e3, 1e3, -20.0, 50.0),
        (2e3, 3e3, 0.0, 0.0, 0.0),
    ],
)
def test_at_rest_the_ring_is_where_scipy_finds_it(
    loaded: fw.Job,
    thrust: float,
    radial: float,
    across: float,
    moment: float,
    moment_across: float,
) -> None:
    given = dict(zip(NAMES, (radial, across, moment, moment_across), strict=True))
    job = loaded.replace(
        {
            "states.full_load.speed": 0.0,
            "states.full_load.thrust": thrust,
            **{f"states.full_load.{name}": value for name, value in given.items()},
        }
    )
    found = job.evaluate("quick")
    clearance = float(found["full_load", "bearing.clearance"])
    loads = np.array([thrust, radial, across, moment, moment_across])
    move, balls = static_balls(job, clearance, loads)
    told = job.bearing.balls("full_load")
    assert told.inner_load == pytest.approx(balls, rel=1e-6, abs=1e-6 * balls.max())

    def of(name: str) -> float:
        return float(found["full_load", f"bearing.combined.{name}"])

    shim = float(job["bearing.shim"])
    assert of("axial_displacement") == pytest.approx(move[0] - shim / 2, rel=1e-7)
    for name, value in zip(
        ("radial_displacement", "radial_displacement_across", "tilt", "tilt_across"),
        move[1:],
        strict=True,
    ):
        assert of(name) == pytest.approx(value, rel=1e-6, abs=1e-12)
    assert of("greatest_inner_load") == pytest.approx(balls.max(), rel=1e-7)
    assert of("least_inner_load") == pytest.approx(balls.min(), rel=1e-6, abs=1e-6)
    equivalent = np.mean(balls**3) ** (1 / 3)
    assert of("inner_equivalent_load") == pytest.approx(equivalent, rel=1e-6)


def test_a_radial_load_costs_life_and_is_held_against_limits(demo: fw.Job, loaded: fw.Job) -> None:
    before, after = demo.evaluate(), loaded.evaluate()
    for name in ("reference_life", "modified_life", "static_safety"):
        path = f"bearing.{name}"
        assert after["full_load", path] < before["full_load", path]
    assert after["full_load", "bearing.inner_peak"] == before["full_load", "bearing.inner_peak"]
    limited = {(f.state, f.path) for f in after}
    for name in ("inner_edge", "outer_edge", "arch_gap", "contact_safety"):
        assert ("full_load", f"bearing.combined.{name}") in limited
    assert ("full_load", "bearing.arch_margin") in limited
    # Only what was told is there.
    paths = {path for _, path, *_ in demo.output_rows}
    assert not any(path.startswith("bearing.combined.") for path in paths)
    # A load that turns the balls round the ring does nothing to a ring that is alike all round.
    turned = loaded.replace(
        {
            "states.full_load.radial_load": "0 N",
            "states.full_load.radial_load_across": "3 kN",
            "states.full_load.moment": "-40 N m",
            "states.full_load.moment_across": "0 N m",
        }
    )
    there = turned.evaluate()["full_load", "bearing.combined.outer_equivalent_load"]
    here = after["full_load", "bearing.combined.outer_equivalent_load"]
    assert there == pytest.approx(here, rel=1e-2)  # fifteen balls: a quarter turn is no pitch


def test_a_study_runs_over_a_radial_load_that_scatters(loaded_text: str) -> None:
    text = loaded_text.replace(
        'radial_load = "3 kN"',
        'radial_load = { value = "3 kN", spread = "normal", deviation = "0.3 kN" }',
    )
    job = fw.Job.loads(text)
    outputs = ("bearing.combined.greatest_outer_load", "bearing.reference_life")
    study = job.study(400, seed=1, outputs=outputs, keep=outputs, progress=False, level="quick")
    column = study.columns["full_load", outputs[0]]
    assert len(column) == 400
    assert np.std(column) > 10.0


@pytest.mark.parametrize(
    ("old", "new", "path", "said"),
    [
        (LOADS, "radial_load = 3000\n", "states.full_load.radial_load", "has no unit"),
        (LOADS, 'radial_load = "3 mm"\n', "states.full_load.radial_load", "mm"),
        (LOADS, 'radial_load = "3e8 N"\n', "states.full_load.radial_load", "from -1"),
        (LOADS, 'moment = "2e4 kN m"\n', "states.full_load.moment", "from -1"),
        (
            LOADS,
            'radial_lode = "3 kN"\n',
            "states.full_load.radial_lode",
            "did you mean radial_load",
        ),
        (
            LOADS,
            'radial_load = "2e3 kN"\n',
            "states.full_load.thrust with its radial load and moment",
            "more than a twentieth of the ball",
        ),
        (
            'title = "as built, cold"\n',
            'title = "as built, cold"\nmoment = "1 N m"\n',
            "states.cold_build.moment",
            "must be 0: the first state is as built",
        ),
    ],
)
def test_one_thing_wrong(loaded_text: str, old: str, new: str, path: str, said: str) -> None:
    assert old in loaded_text
    with pytest.raises(fw.InputError) as caught:
        fw.Job.loads(loaded_text.replace(old, new, 1))
    told = [problem for wrong, problem in caught.value.problems if wrong == path]
    assert [said in text for text in told] == [True], caught.value.problems


def test_loads_ask_for_a_bearing(loaded_text: str) -> None:
    document = loaded_text
    for table in ("bearing", "service", "pocket"):
        start = document.index(f"[{table}]\n")
        end = min(i for i in (document.find("\n[", start + 1),) if i > 0)
        document = document[:start] + document[end + 1 :]
    with pytest.raises(fw.InputError) as caught:
        fw.Job.loads(document)
    told = dict(caught.value.problems)
    for name in ("radial_load", "moment_across"):
        said = told[f"states.full_load.{name}"]
        assert said == "needs a table [bearing], which carries it"
    assert caught.value.problems.count(("states.full_load.radial_load", said)) == 1


def test_the_schema_knows_the_loads(loaded_text: str) -> None:
    text = (resources.files("fitwright") / "job.schema.json").read_text(encoding="utf-8")
    schema = jsonschema.Draft202012Validator(json.loads(text))
    document = tomllib.loads(loaded_text)
    assert list(schema.iter_errors(document)) == []
    document["state"][2]["radial_load"] = 3000
    assert list(schema.iter_errors(document)) != []


def test_one_call_draws_the_balls(loaded: fw.Job, demo: fw.Job) -> None:
    axes = loaded.bearing.loads("full_load")
    figure = axes.get_figure(root=True)
    assert figure is not None
    polar = [a for a in figure.axes if a.name == "polar"]
    assert [a.get_title() for a in polar] == ["load of each ball [kN]", "contact angle [deg]"]
    inner, outer = polar[0].get_lines()
    balls = loaded.bearing.balls("full_load")
    assert np.asarray(inner.get_ydata())[:-1] == pytest.approx(balls.inner_load / 1e3)
    assert np.asarray(outer.get_ydata())[:-1] == pytest.approx(balls.outer_load / 1e3)
    # The load is drawn downwards, and the first ball carries the most of it.
    assert polar[0].get_theta_offset() % (2.0 * np.pi) == pytest.approx(1.5 * np.pi)
    assert axes.get_title() == f"{loaded.title}: full load"
    # Without loads across the shaft all balls are alike.
    alike = demo.bearing.balls("full_load")
    assert np.ptp(alike.outer_load) < 1e-6 * alike.outer_load[0]
    found = demo.evaluate("quick")["full_load", "bearing.outer_load"]
    assert alike.outer_load[0] == pytest.approx(float(found), rel=1e-8)
    assert len(demo.bearing.balls().outer_load) == 15
    with pytest.raises(fw.InputError, match="is not one of"):
        demo.bearing.loads("nowhere")


def test_the_table_and_the_sheet_tell_of_it_only_where_it_is(
    loaded: fw.Job, demo: fw.Job, tmp_path: Path
) -> None:
    for job, there in ((loaded, True), (demo, False)):
        table = str(job.bearing.table())
        text = html.unescape(job.sheet(tmp_path / "sheet.html").read_text(encoding="utf-8"))
        for title, _ in COMBINED:
            assert (title in table) == there
            assert (title in text) == there


def test_the_sheet_says_which_loads_are_counted(demo_text, tmp_path):
    """A fitter must not take figures of the thrust alone for those of the whole load."""
    loaded = demo_text.replace('title = "full load"', 'title = "full load"\nradial_load = "3 kN"')
    for text, told in ((loaded, "with the radial load and moment"), (demo_text, "no radial load")):
        page = fw.Job.loads(text).sheet(tmp_path / "sheet.html").read_text(encoding="utf-8")
        assert told in page
