"""Job files: what is refused, with every problem in one report, and what is not."""

from __future__ import annotations

import json
import math
import os
import tomllib
from importlib import resources

import fitwright as fw
import jsonschema
import pytest
from counted import steps_of


def problems(text):
    with pytest.raises(fw.InputError) as caught:
        fw.Job.loads(text)
    return caught.value.problems


LIMITS = """
[[limit]]
output = "shoulder.clamp_low"
states = ["start", "full_load"]
at_least = "8 kN"

[[limit]]
output = "nut.force"
at_least = "8 kN"

[[limit]]
output = "bearing.end_play"
states = ["cold_build"]
at_least = "0.25 mm"
at_most = "0.45 mm"
"""


@pytest.fixture(scope="module")
def edit(demo_text):
    """The demo, its limits apart, with pieces of text replaced; each must be there."""

    def edited(*pairs):
        text = demo_text[: demo_text.index("[[limit]]")] + LIMITS
        for old, new in pairs:
            assert old in text, old
            text = text.replace(old, new, 1)
        return text

    return edited


SEAT = 'diameter = { value = "80.036 mm", spread = "normal", deviation = "1.5 um" }'
SLEEVE_BORE = 'bore = { value = "79.999 mm", spread = "normal", deviation = "2 um" }'
SLEEVE_OVEN = 'oven = { value = "110 degC", spread = "normal", deviation = "4 K" }'
TORQUE = 'torque = { value = "840 N m", spread = "normal", deviation = "20 N m" }'
MU = 'friction = { value = "0.15", low = "0.12", high = "0.18", spread = "triangular" }'
INNER = 'inner_rings = ["inner_thrust", "inner_back"]'
CLEARANCE = 'clearance = { value = "150 um", spread = "uniform", low = "140 um", high = "160 um" }'

# (what is written, with what instead, path of the problem, what is said)
ONE = [
    # keys
    ("[shaft]\n", '[shaft]\nboar = "30 mm"\n', "shaft.boar", "not a known key; did you mean bore"),
    ("[[ring]]\n", '[[ring]]\nouside = "1 mm"\n', "rings.sleeve.ouside", "did you mean outside"),
    ("[nut]\n", "[nuts]\n", "nuts", "did you mean nut"),
    (SEAT, SEAT.replace("value", "valeu"), "seats.main.diameter", "unknown key valeu"),
    # missing
    (TORQUE, "", "nut.torque", "must be given (tightening torque; ends left out are the value)"),
    (SEAT, "", "seats.main.diameter", "must be given"),
    ('material = "4340"', "", "shaft.material", "must be given, as text"),
    ('name = "sleeve"', "", "ring[0].name", "must be given, as text"),
    ('seat = "main"', "", "rings.sleeve.seat", "must be given, as text"),
    ("balls = 15\n", "", "bearing.balls", "must be given (number of balls)"),
    # dimensions and units
    (TORQUE, 'torque = "600 J"', "nut.torque", "a unit of energy"),
    ('thrust = "4 kN"', 'thrust = "900 lb"', "states.start.thrust", "force are lbf"),
    (TORQUE, "torque = 820", "nut.torque", "820 has no unit"),
    ('thrust = "4 kN"', 'thrust = "600 Nm"', "states.start.thrust", "not a unit of force"),
    ('speed = "11000 rpm"', "speed = 11000", "states.full_load.speed", "11000 has no unit"),
    ('speed = "11000 rpm"', 'speed = "183 Hz"', "states.full_load.speed", "Hz counts cycles"),
    ('speed = "11000 rpm"', 'speed = "11000 rad/s"', "states.full_load.speed",
     'did you mean "11000 rpm"?'),
    ('"76 degC"', '"349 K"', "states.trip.shaft_temperature", "reads as a temperature difference"),
    ('"76 degC"', '"349 degC"', "states.trip.shaft_temperature", "outside the temperature range"),
    ('wheel = "5 K"', 'wheel = "5 degC"', "states.start.lags.wheel", "reads as a temperature;"),
    (MU, 'friction = "15 %"', "rings.sleeve.friction", "15 % is 0.15"),
    (SEAT, 'diameter = "80,036 mm"', "seats.main.diameter", "has a comma"),
    # numbers that are none
    (SEAT, 'diameter = "nan mm"', "seats.main.diameter", "is not a number with a unit"),
    ("balls = 15", "balls = nan", "bearing.balls", "must be a finite number"),
    ("balls = 15", "balls = inf", "bearing.balls", "must be a finite number"),
    ("balls = 15", "balls = true", "bearing.balls", "True is not a number"),
    ("balls = 15", "balls = [15, 16]", "bearing.balls", "must be one number"),
    ("balls = 15", "balls = 2026-01-01", "bearing.balls", "is not a number"),
    ("balls = 15", f"balls = {'9' * 400}", "bearing.balls", "must be a mistake"),
    # impossible sizes
    ('bore = "30 mm"', 'bore = "-30 mm"', "shaft.bore", "outside its range: from 0 mm"),
    ('bore = "30 mm"', 'bore = "90 mm"', "shaft.bore", "must be smaller than the seat"),
    ('outside = "100 mm"', 'outside = "60 mm"', "rings.sleeve.outside", "larger than the seat"),
    ('bore = "75.5 mm"', 'bore = "99 mm"', "lock.outside", "must be larger than the bore"),
    ('contact_length = "29 mm"', 'contact_length = "33 mm"', "rings.sleeve.contact_length",
     "33 mm must not exceed the length of the ring"),
    (SLEEVE_BORE, 'bore = "69.995 mm"', "seats.main.diameter less rings.sleeve.bore",
     "below 1 % of the seat diameter"),
    ('thickness = "1.5 mm"', 'thickness = "0 mm"', "lock.thickness", "range: from 0.01 mm"),
    ('face_inside = "77 mm"', 'face_inside = "97 mm"', "nut.face_outside",
     "larger than the inner face"),
    ("balls = 15", "balls = 30", "bearing.balls", "do not fit side by side"),
    ("inner_curvature = 0.515", "inner_curvature = 0.49", "bearing.inner_curvature", "0.501"),
    # ovens
    (SLEEVE_OVEN, 'oven = "350 degC"', "rings.sleeve.oven", "outside the temperature range"),
    (SLEEVE_OVEN, 'oven = "120 degC"\nheating_limit = "115 degC"', "rings.sleeve.oven",
     "120 degC is above the heating limit of the part"),
    # names and structure
    ('name = "slinger"', 'name = "wheel"', "rings.wheel", "is named twice"),
    ('name = "trip"', 'name = "start"', "states.start", "is named twice"),
    ('name = "slinger"', 'name = "nut"', "rings.nut", "is the name of another part"),
    ('name = "slinger"', 'name = "Oil Slinger"', "rings", "must be a lower-case name"),
    ('name = "slinger"', 'name = "a.b"', "rings", "must be a lower-case name"),
    ('seat = "main"', 'seat = "mian"', "rings.sleeve.seat", '"mian" is not a seat'),
    (INNER, 'inner_rings = ["inner_back", "inner_thrust"]', "bearing.inner_rings",
     "must follow each other"),
    (INNER, 'inner_rings = ["sleeve", "none"]', "bearing.inner_rings", '"none" is not a ring'),
    (INNER, "inner_rings = []", "bearing.inner_rings", "name one ring, or the two halves"),
    (INNER, 'inner_rings = "inner_thrust"', "bearing.inner_rings", "must be a list of ring names"),
    ('wheel = "5 K"', 'wheal = "5 K"', "states.start.lags.wheal", "not a part of this job; parts"),
    ("[state.lags]\n", "lags = 3\n[[limit]]\n", "states.start.lags", "must be a table of parts"),
    ('hand = "left"', 'hand = "lefty"', "nut.hand", "'lefty' must be one of right, left"),
    ('joint = "slide"', "joint = 3", "rings.wheel.joint", "3 must be one of grip, slide"),
    ('material = "4340"', 'material = "4430"', "shaft.material", "nearest: 4340"),
    ('material = "4340"', "material = 4340", "shaft.material", "must be text"),
    ("[shaft]", "[[shaft]]", "shaft", "must be given as a table [shaft]"),
    ('title = "Aeration blower, thrust end"', "title = 3", "title", "must be text"),
    ('title = "oil slinger"', "title = []", "rings.slinger.title", "must be text"),
    # scatter
    (SEAT, SEAT.replace("normal", "gauss"), "seats.main.diameter", "'gauss' must be one of normal"),
    (SEAT, SEAT.replace('spread = "normal", ', ""), "seats.main.diameter", "not how it scatters"),
    (SEAT, SEAT.replace('"1.5 um"', '"0 um"'), "seats.main.diameter", "a deviation above zero"),
    (SEAT, SEAT.replace('"1.5 um"', "1.5"), "seats.main.diameter", "1.5 has no unit"),
    (SEAT, SEAT.replace('"1.5 um"', '["1 um"]'), "seats.main.diameter", "must be one number"),
    (SEAT, SEAT.replace(', deviation = "1.5 um"', ""), "seats.main.diameter", "a deviation above"),
    (SLEEVE_OVEN, SLEEVE_OVEN.replace("4 K", "4 degC"), "rings.sleeve.oven", "as a temperature;"),
    (CLEARANCE, CLEARANCE.replace("140", "170"), "bearing.clearance", "low below high"),
    (MU, MU.replace('"0.15"', '"0.2"'), "rings.sleeve.friction", "value between low and high"),
    (MU, 'friction = { value = "0.15", low = "0.18", high = "0.12" }', "rings.sleeve.friction",
     "must lie between its low and its high end"),
    (MU, 'friction = "0.3"', "rings.sleeve.friction", "must lie between its low and its high end"),
    # limits
    ('output = "nut.force"', 'output = "nut.farce"', "limit[1].output", "nearest: nut.force"),
    ('output = "nut.force"', 'output = "rings.*.*"', "limit[1].output", "of several kinds"),
    ('output = "nut.force"\n', "", "limit[1].output", "must be given, as text"),
    ('states = ["cold_build"]', 'states = ["cold_bild"]', "limit[2].states", "nearest: cold_build"),
    ('states = ["cold_build"]', 'states = "cold_build"', "limit[2].states", "must be a list"),
    ('at_least = "8 kN"', "at_least = 8000", "limit[0].at_least", "8000 has no unit"),
    ('at_least = "8 kN"', 'at_least = "8 mm"', "limit[0].at_least", "is not a unit of force"),
    ('at_least = "8 kN"', "", "limit[0]", "needs at_least or at_most"),
    ('at_least = "8 kN"', 'at_lest = "8 kN"', "limit[0].at_lest", "did you mean at_least"),
    ('at_least = "0.25 mm"', 'at_least = "0.55 mm"', "limit[2]", "must not be above at_most"),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "path", "said"), ONE, ids=[f"{r[2]}: {r[3]}" for r in ONE])
def test_one_thing_wrong(edit, old, new, path, said):
    found = problems(edit((old, new)))
    assert any(p == path and said in text for p, text in found), found


def test_everything_wrong_is_told_in_one_report(edit):
    found = problems(
        edit(
            ('bore = "30 mm"', 'boar = "30 mm"'),
            ("[shaft]", '[shaft]\nmodulus_factor = "9"'),
            (SEAT, 'diameter = "80 kN"'),
            ('seat = "main"', 'seat = "mian"'),
            ('outside = "100 mm"', ""),
            ('name = "slinger"', 'name = "wheel"'),
            ('length = "16 mm"', 'length = "-16 mm"'),
            ('hand = "left"', 'hand = "port"'),
            (TORQUE, "torque = 820"),
            ("balls = 15", "balls = nan"),
            ('speed = "11000 rpm"', 'speed = "183 Hz"'),
            ('"76 degC"', '"349 K"'),
            ('output = "nut.force"\nat_least = "8 kN"', 'output = "nut.force"\nat_least = "8 Nm"'),
        )
    )
    assert {path for path, _ in found} == {
        "shaft.boar",
        "shaft.modulus_factor",
        "seats.main.diameter",
        "rings.sleeve.seat",
        "rings.sleeve.outside",
        "rings.wheel",
        "rings.wheel.length",
        "nut.hand",
        "nut.torque",
        "bearing.balls",
        "states.full_load.speed",
        "states.trip.shaft_temperature",
        "limit[1].at_least",
    }
    assert len(found) == 13, "no problem is told twice"


def test_impossible_geometry_is_told_beside_what_cannot_be_read(edit):
    """But not of a part that has a field that cannot be read: it would follow from that."""
    found = problems(
        edit(
            ("[nut]", '[nut]\nheigth = "20 mm"'),
            (TORQUE, "torque = 820"),
            ("balls = 15", "balls = nan"),
            ('outside = "100 mm"', 'outside = "60 mm"'),
            ('bore = "75.5 mm"', 'bore = "99 mm"'),
            ('speed = "11000 rpm"', 'speed = "183 Hz"'),
        )
    )
    assert sorted(path for path, _ in found) == [
        "bearing.balls",
        "lock.outside",
        "nut.heigth",
        "nut.torque",
        "rings.sleeve.outside",
        "states.full_load.speed",
    ]


def test_a_long_report_is_cut(edit):
    text = edit(("[shaft]", "[shaft]\n" + "\n".join(f"k{i} = 1" for i in range(100))))
    with pytest.raises(fw.InputError) as caught:
        fw.Job.loads(text)
    assert len(caught.value.problems) == 100
    assert str(caught.value).startswith("100 problems:")
    assert str(caught.value).endswith("... and 40 more")


# -- a loose fit is a finding ---------------------------------------------------------------------


def test_a_fit_that_is_loose_is_a_finding(edit):
    job = fw.Job.loads(edit((SLEEVE_BORE, 'bore = "80.020 mm"')))
    findings = job.evaluate()
    assert findings["overspeed", "rings.sleeve.gap"] > 0.0
    assert findings["overspeed", "rings.sleeve.pressure"] == 0.0
    assert findings["overspeed", "rings.sleeve.grip_left"] == 0.0
    loose = [f for f in findings.not_met if f.path == "rings.sleeve.grip_left"]
    assert "overspeed" in {f.state for f in loose}
    assert all(f.mark == "bad" for f in loose)
    assert "NOT MET" in repr(findings)


def test_a_fit_loose_from_the_start_is_a_finding_too(edit):
    findings = fw.Job.loads(edit((SLEEVE_BORE, 'bore = "80.100 mm"'))).evaluate()
    assert {f.state for f in findings.not_met if f.path == "rings.sleeve.grip_left"} == {
        "cold_build", "start", "full_load", "overspeed", "trip", "hot_restart",
    }  # fmt: skip
    assert all(math.isfinite(f.reserve) for f in findings)


def test_an_oven_not_hot_enough_is_a_finding(edit):
    findings = fw.Job.loads(edit((SLEEVE_OVEN, 'oven = "60 degC"'))).evaluate()
    assert [f.path for f in findings.not_met] == [
        "rings.sleeve.opening_margin",
        "rings.sleeve.slip_on.time_left",  # no window at all
    ]


# -- seals ----------------------------------------------------------------------------------------

SEAL = """
[[seal]]
name = "labyrinth"
ring = "sleeve"
stator = { value = "OUTSIDE", spread = "normal", deviation = "10 um" }
material = "grey_iron"
offset = "30 um"
"""


def seal(demo_text, clearance):
    """The demo with a labyrinth on its sleeve."""
    outside = fw.Job.loads(demo_text)["rings.sleeve.outside"] * 1e3 + clearance
    return SEAL.replace("OUTSIDE", f"{outside:.4f} mm")


def test_a_seal_adds_its_clearance_to_every_state(edit):
    plain, text = fw.Job.loads(edit()), edit()
    job = fw.Job.loads(text + seal(text, 0.4))
    found, before = job.evaluate(), plain.evaluate()
    for state in job.states:
        grown = before[state, "rings.sleeve.outside_growth"]
        assert found[state, "rings.sleeve.outside_growth"] == grown
        stator = found[state, "seals.labyrinth.stator_growth"]
        clearance = found[state, "seals.labyrinth.clearance"]
        assert clearance == pytest.approx(0.4e-3 + stator - grown, abs=1e-9)
        assert found[state, "seals.labyrinth.least_radial"] == pytest.approx(clearance / 2 - 30e-6)
    assert "seals.labyrinth.stator" in job.spreads
    tight = fw.Job.loads(text + seal(text, 0.05)).evaluate()
    assert "seals.labyrinth.touch_margin" in {f.path for f in tight.not_met}


@pytest.mark.parametrize(
    ("old", "new", "path", "said"),
    [
        ('ring = "sleeve"', 'ring = "slever"', "seals.labyrinth.ring", "is not a ring"),
        ('ring = "sleeve"\n', "", "seals.labyrinth.ring", "must be given, as text"),
        ('name = "labyrinth"', 'name = "sleeve"', "seals.sleeve", "is the name of another part"),
        ('name = "labyrinth"', 'name = "nut"', "seals.nut", "is the name of another part"),
        ('"grey_iron"', '"gray_iron"', "seals.labyrinth.material", "nearest: grey_iron"),
        ("offset", "ofset", "seals.labyrinth.ofset", "did you mean offset"),
        ('"30 um"', '"-30 um"', "seals.labyrinth.offset", "is outside its range"),
        (
            'offset = "30 um"',
            'face = "side"',
            "seals.labyrinth.face",
            "must be one of outside, bore",
        ),
        ('offset = "30 um"', 'surface = "50 mm"', "seals.labyrinth.surface", "within a tenth"),
    ],
)
def test_what_is_wrong_with_a_seal_is_told(demo_text, old, new, path, said):
    told = seal(demo_text, 0.4)
    assert old in told
    found = problems(demo_text + told.replace(old, new, 1))
    assert any(p == path and said in text for p, text in found), found


# -- own materials --------------------------------------------------------------------------------

OWN = """
[[material]]
name = "shop_steel"
modulus = [["20 degC", "205 GPa"], ["200 degC", "195 GPa"]]
expansion = "11.6 um/m/K"
yield_strength = [["20 degC", "600 MPa"], ["200 degC", "540 MPa"]]
poisson = 0.29
density = "7850 kg/m^3"
lowest = "-20 degC"
highest = "300 degC"
heating_limit = "250 degC"
"""


def test_a_material_of_ones_own(edit):
    job = fw.Job.loads(edit(('material = "4140"', 'material = "shop_steel"')) + OWN)
    own, usual = job.evaluate(), fw.Job.loads(edit()).evaluate()
    path = "rings.sleeve.pressure"
    assert own["cold_build", path] != usual["cold_build", path]
    assert own["cold_build", path] == pytest.approx(usual["cold_build", path], rel=0.02)
    # Heating limit less what the oven is set to.
    assert own["cold_build", "rings.sleeve.setting_margin"] == pytest.approx(140.0)


@pytest.mark.parametrize(
    ("old", "new", "path", "said"),
    [
        ("poisson = 0.29\n", "", "shop_steel.poisson", "must be given"),
        ("poisson = 0.29", "poisson = 0.5", "shop_steel.poisson", "must be from 0 to below 0.5"),
        ("poisson = 0.29", "poisson = nan", "shop_steel.poisson", "finite"),
        ("poisson = 0.29", 'poisson = "x"', "shop_steel.poisson", "not a number"),
        ("density", "densty", "shop_steel.densty", "did you mean density"),
        ('"7850 kg/m^3"', '"-1 kg/m^3"', "shop_steel.density", "must be positive"),
        ('"195 GPa"', '"195 kN"', "shop_steel.modulus", "not a unit of elastic modulus"),
        ('["20 degC", "205 GPa"]', '"205 GPa"', "shop_steel.modulus", "(temperature, value)"),
        ('["20 degC", "205 GPa"]', '["220 degC", "205 GPa"]', "shop_steel", "not above point 1"),
        ('"11.6 um/m/K"', "[]", "shop_steel", ""),
        ('"11.6 um/m/K"', "{a = 1}", "shop_steel.expansion", "is not a number"),
        ('lowest = "-20 degC"', 'lowest = "400 degC"', "shop_steel.highest", "not be below lowest"),
        ('"250 degC"', '"350 degC"', "shop_steel.heating_limit", "between lowest and highest"),
        ('name = "shop_steel"', "name = 3", "[0].name", "must be given, as text"),
        ('name = "shop_steel"', 'name = "shop_steel"\nsource = []', "shop_steel.source", "text"),
    ],
)
def test_what_is_wrong_with_it_is_told(demo_text, old, new, path, said):
    assert old in OWN
    found = problems(demo_text + OWN.replace(old, new, 1))
    path = f"material{path}" if path.startswith("[") else f"material.{path}"
    assert any(p.startswith(path) and said in text for p, text in found), found


def test_two_materials_of_one_name(demo_text):
    assert ("material.shop_steel", "is named twice; names must be different") in problems(
        demo_text + OWN + OWN
    )


# -- files ----------------------------------------------------------------------------------------


def refused(path, said):
    with pytest.raises(fw.InputError, match=said) as caught:
        assert steps_of(lambda: fw.Job.load(path)) < 10_000
    return caught.value


def test_files_that_are_no_job_files(tmp_path, demo_text):
    file = tmp_path / "job.toml"
    file.write_text("")
    refused(file, "the job file is empty; it needs shaft, nut, seat, ring and state")
    file.write_text("# nothing but a remark\n")
    refused(file, "the job file is empty")
    file.write_bytes(b"title = '\xff\xfe'\n")
    assert refused(file, "is not UTF-8 text").problems[0][0] == str(file)
    file.write_bytes(bytes(range(256)) * 10)
    refused(file, "is not UTF-8 text")
    file.write_text(demo_text + "[nut\n")
    refused(file, "the job file is not TOML: .*line")
    file.write_text("x = " + "9" * 900 + "\n" + "y = " + "9" * 900)
    refused(file, "x: is not a known key")
    refused(tmp_path / "nothing.toml", "cannot be read: No such file")
    refused(tmp_path, "cannot be read: it is not a file")
    refused("/dev/zero", "it is not a file")
    refused("a\0b", "cannot be read")


def test_a_hundred_megabytes(tmp_path):
    file = tmp_path / "large.toml"
    with file.open("wb") as stream:
        stream.truncate(100 * 1024 * 1024)
    refused(file, "is 104857600 bytes long; a job file has at most 500000")
    with pytest.raises(fw.InputError, match="is longer than"):
        fw.Job.loads("#" * 2_000_000)


@pytest.mark.parametrize(
    "text",
    [
        "a = " + "[" * 900,
        "a = [\n" * 100_000,
        "a = [\n" + "[\n" * 400_000,
        "a = " + "{b = " * 180,
        "a." * 400 + "a = 1\n",
        "[" + "a." * 400 + "a]\n",
        "\n".join("a." * 490 + f"a{i} = 1" for i in range(1000)),
        "a = " + "[" * 12 + "]" * 12,
        "a" * 900_000,
        "a = 1" + "." * 900,
        'a = """\n' + "x\n" * 400_000,
    ],
    ids=lambda text: text[:10].strip(),
)
def test_deeply_nested_or_otherwise_hostile(text):
    refused = "nested too deeply|not TOML|a line has at most|longer than|begin with a bracket"

    def load():
        with pytest.raises(fw.InputError, match=refused):
            fw.Job.loads(text)

    # By the size of the text, and not by its square.
    assert steps_of(load) < 20 * len(text) + 10_000


def test_windows_line_ends_and_byte_order_mark(tmp_path, demo_text, demo):
    file = tmp_path / "job.toml"
    file.write_bytes(b"\xef\xbb\xbf" + demo_text.replace("\n", "\r\n").encode())
    assert fw.Job.load(file).evaluate()._numbers == demo.evaluate()._numbers


def test_a_file_is_data(edit, tmp_path, monkeypatch):
    """Nothing in a job file is evaluated."""
    monkeypatch.chdir(tmp_path)
    problems(edit((SEAT, "diameter = \"__import__('os').mkdir('x') mm\"")))
    problems(edit((SEAT, "diameter = \"1 __import__('os').mkdir('x')\"")))
    problems(edit(('material = "4340"', 'material = "../../etc/passwd"')))
    assert os.listdir(tmp_path) == []


# -- the schema for editors -----------------------------------------------------------------------


@pytest.fixture(scope="module")
def schema():
    text = (resources.files("fitwright") / "job.schema.json").read_text(encoding="utf-8")
    schema = json.loads(text)
    jsonschema.Draft202012Validator.check_schema(schema)
    return jsonschema.Draft202012Validator(schema)


def test_the_schema_takes_the_demo(schema, demo_text):
    assert list(schema.iter_errors(tomllib.loads(demo_text + OWN))) == []


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("boar",), 1),
        (("shaft", "boar"), "30 mm"),
        (("ring", 0, "ouside"), "1 mm"),
        (("ring", 0, "bore", "valeu"), "1 mm"),
        (("ring", 0, "bore"), 0.08),
        (("ring", 0, "name"), "Sleeve One"),
        (("nut", "hand"), "port"),
        (("state", 1, "lags", "wheel"), 5),
        (("limit", 0, "at_lest"), "1 kN"),
        (("bearing", "inner_rings"), []),
        (("nut", "torque"), None),
        (("shaft",), None),
    ],
)
def test_the_schema_refuses(schema, demo_text, path, value):
    document = tomllib.loads(demo_text)
    place = document
    for key in path[:-1]:
        place = place[key]
    if value is None:
        del place[path[-1]]
    else:
        place[path[-1]] = value
    assert list(schema.iter_errors(document)) != []
