"""A ring whose outside has steps, told by slices in a job file."""

from __future__ import annotations

import json
import tomllib
from importlib import resources

import fitwright as fw
import jsonschema
import pytest

SLICES = """slices = [
    { outside = "100 mm", length = "12 mm" },
    { outside = { value = "120 mm", spread = "normal", deviation = "20 um" }, length = "8 mm" },
    { outside = "108 mm", length = "12 mm", contact_length = "10 mm" },
]"""


@pytest.fixture(scope="module")
def text(demo_text):
    """The demo with a stepped sleeve, without its own limits."""
    head, sleeve = demo_text[: demo_text.index("[[limit]]")].split('name = "sleeve"', 1)
    own, rest = sleeve.split("[[ring]]", 1)
    told = ("outside", "length", "contact_length")
    kept = [line for line in own.splitlines() if line.partition(" ")[0] not in told]
    return f'{head}name = "sleeve"\n{SLICES}\n' + "\n".join(kept) + "\n[[ring]]" + rest


def problems(text):
    with pytest.raises(fw.InputError) as caught:
        fw.Job.loads(text)
    return dict(caught.value.problems)


def test_slices_are_inputs_and_outputs(text):
    job = fw.Job.loads(text)
    assert job["rings.sleeve.slice2.outside"] == pytest.approx(0.120)
    assert "rings.sleeve.slice2.outside" in job.spreads
    found = job.evaluate()
    state = job.states[0]
    holding = [found[state, f"rings.sleeve.slice{k}.holding_force"] for k in (1, 2, 3)]
    assert found[state, "rings.sleeve.holding_force"] == pytest.approx(sum(holding))
    assert all(force > 0.0 for force in holding)
    for level in ("history", "heating"):
        assert job.at_level(level).evaluate()[state, "nut.preload"] > 0.0
    assert job.history() is not None


def test_a_study_draws_the_slices(text):
    job = fw.Job.loads(text)
    path = "rings.sleeve.slice2.ring_hoop"
    study = job.study(2000, seed=3, level="quick", outputs=[path], progress=False)
    found = study[job.states[0], path].statistics
    assert found.mean == pytest.approx(job.evaluate()[job.states[0], path], rel=0.02)
    assert found.deviation > 0.0


def test_drawn_and_on_the_sheet(text, tmp_path):
    from fitwright.pictures.geometry import read_drawing

    job = fw.Job.loads(text)
    sleeve = read_drawing(job).pieces[1]
    assert {y for _, y in sleeve.outline} >= {50.0, 60.0, 54.0}
    assert max(x for x, _ in sleeve.outline) == pytest.approx(32.0)
    html = job.sheet(tmp_path / "sheet.html").read_text(encoding="utf-8")
    assert "has steps; from the shoulder on" in html
    for told in ("120", "108"):
        assert told in html[html.index("has steps") : html.index("Interference is the least")]


@pytest.mark.parametrize(
    ("old", "new", "path", "told"),
    [
        ('length = "8 mm"', 'length = "8 mm", start = "11 mm"', "slice2.start", "must not overlap"),
        ('length = "8 mm"', 'length = "8 mm", start = "13 mm"', "slice2.start", "leave no gap"),
        ("slices = [", 'length = "33 mm"\nslices = [', "length", "not the sum of the lengths"),
        ("slices = [", 'outside = "99 mm"\nslices = [', "outside", "told by the slices"),
        ('outside = "108 mm"', 'outside = "70 mm"', "slice3.outside", "larger than the seat"),
        ('outside = "108 mm", ', "", "slice3.outside", "must be given"),
        ('length = "8 mm"', 'length = "0 mm"', "slice2.length", ""),
        ('length = "8 mm"', 'lenght = "8 mm"', "slice2.lenght", "did you mean length"),
        ('length = "8 mm"', 'length = "8"', "slice2.length", "unit"),
        (SLICES, "slices = []", "slices", "at least one slice"),
        (SLICES, 'slices = "three"', "slices", "must be a list of tables"),
    ],
)
def test_slices_that_make_no_ring(text, old, new, path, told):
    assert old in text
    found = problems(text.replace(old, new, 1))
    assert told in found[f"rings.sleeve.{path}"]


def test_the_schema_takes_slices(text):
    schema = json.loads(
        (resources.files("fitwright") / "job.schema.json").read_text(encoding="utf-8")
    )
    check = jsonschema.Draft202012Validator(schema)
    assert list(check.iter_errors(tomllib.loads(text))) == []
    assert list(check.iter_errors(tomllib.loads(text.replace(SLICES, "", 1))))
    wrong = text.replace('length = "8 mm"', 'length = "8 mm", width = "1 mm"', 1)
    assert list(check.iter_errors(tomllib.loads(wrong)))
