"""A job back into its file: the same job again, with its comments; and what its hash counts."""

from __future__ import annotations

import fitwright as fw
import pytest
from fitwright.face.job import Job
from hypothesis import given, settings
from hypothesis import strategies as st


def round_trip(job, tmp_path):
    again = Job.load(job.save(tmp_path / "again.toml"))
    assert list(again.core.values()) == list(job.core.values()) or all(
        a == b or (a != a and b != b)
        for a, b in zip(again.core.values(), job.core.values(), strict=True)
    )
    assert again.hash == job.hash
    return again


def test_a_job_that_was_not_changed_is_its_file_to_the_letter(demo, demo_text, tmp_path):
    assert demo.save(tmp_path / "s.toml").read_text(encoding="utf-8") == demo_text


def test_comments_stay_and_only_what_changed_is_written(demo, demo_text, tmp_path):
    job = demo.replace({"nut.torque": {"value": "790 N m"}, "rings.wheel.outside": "117.5 mm"})
    text = job.save(tmp_path / "s.toml").read_text(encoding="utf-8")
    assert "# Overhung aeration blower" in text
    before, after = demo_text.splitlines(), text.splitlines()
    changed = [new for old, new in zip(before, after, strict=True) if old != new]
    assert len(changed) == 2
    assert 'outside = "117.5 mm"' in changed
    round_trip(job, tmp_path)


CHANGES = [
    {"seats.main.diameter": "80.0337 mm"},
    {"states.full_load.lags.sleeve": "4.25 K"},
    {"states.cold_build.lags.wheel": "1 K"},  # had none
    {"rings.sleeve.friction": {"value": 0.14, "low": 0.11, "high": 0.17}},
    {"rings.sleeve.friction_low": 0.1},
    {"rings.sleeve.friction_high": 0.2, "rings.sleeve.friction_low": 0.16,
     "rings.sleeve.friction": 0.17},
    {"rings.sleeve.bore": {"value": "79.998 mm", "spread": "uniform", "low": "79.99 mm",
                           "high": "80.005 mm"}},
    {"rings.sleeve.bore": {"measured": ["79.998 mm", "79.999 mm", "79.9985 mm", "79.9988 mm"],
                           "of": "one_part", "gauge": "1 um"}},
    {"bearing.clearance": {"value": "150 um"}},
    {"rings.sleeve.length": {"value": "32 mm", "spread": "truncated_normal", "deviation": "0.1 mm",
                             "low": "31.8 mm", "high": "32.2 mm"}},
    {"states.full_load.shaft_temperature": {"value": "71 degC", "spread": "normal",
                                            "deviation": "3 K"}},
    {"states.start.speed": "7100 rpm"},
    {"nut.torque_window_low": "700 N m"},
]  # fmt: skip


@pytest.mark.parametrize("changes", CHANGES, ids=lambda c: next(iter(c)))
def test_what_was_replaced_loads_again(demo, changes, tmp_path):
    job = demo.replace(changes)
    again = round_trip(job, tmp_path)
    path = next(iter(changes))
    one, other = job.spreads.get(path), again.spreads.get(path)
    assert (one is None) == (other is None)
    if one is not None:
        assert other.standard_deviation == one.standard_deviation


@settings(max_examples=25)
@given(
    st.floats(0.0799, 0.0801), st.floats(100.0, 900.0), st.floats(-20.0, 200.0),
)  # fmt: skip
def test_any_number_comes_back_to_the_bit(demo, bore, torque, oven):
    from fitwright.job.save import job_text

    job = demo.replace(
        {"rings.wheel.bore": bore, "nut.torque": torque, "states.trip.shaft_temperature": oven}
    )
    again = Job.loads(job_text(job))
    for path in ("rings.wheel.bore", "nut.torque", "states.trip.shaft_temperature"):
        assert float(again[path]) == float(job[path])


def test_the_hash_is_of_the_job_and_not_of_its_words(demo, demo_text):
    same = demo_text.replace('title = "labyrinth sleeve"', 'title = "sleeve"')
    same = same.replace('"30 mm"', '"0.030 m"', 1) + "\n# a comment\n"
    assert fw.Job.loads(same).hash == demo.hash
    for old, new in (
        ('material = "4140"\nbore', 'material = "4340"\nbore'),
        ('at_least = "8 kN"', 'at_least = "7 kN"'),
        ('hand = "left"', 'hand = "right"'),
        ('deviation = "1.5 um" }\nroughness', 'deviation = "1.6 um" }\nroughness'),
    ):
        assert old in demo_text
        assert fw.Job.loads(demo_text.replace(old, new, 1)).hash != demo.hash


@pytest.mark.parametrize(
    "changes",
    [
        {"plate.thickness": "21 mm"},
        {"tools.puller.leg_thickness": "13 mm"},
        {"tools.holder.rod.diameter": "40 mm", "tools.holder.rod.pitch": "7 mm"},
    ],
    ids=lambda c: next(iter(c)),
)
def test_plate_and_tools_load_again(changes, tmp_path):
    pump = fw.demo("pump")
    again = round_trip(pump.replace(changes), tmp_path)
    assert again.hash != pump.hash
    for path in changes:
        assert float(again[path]) == float(pump.replace(changes)[path])


def test_what_a_tool_is_made_of_is_in_the_hash():
    pump = fw.demo("pump")
    text = pump._file.text
    for old, new in (
        ('loading = "suspended"', 'loading = "steady"'),
        ('"inner_ring"]\nmaterial = "1045"', '"inner_ring"]\nmaterial = "4140"'),
        ('rings = ["sleeve", "inner_ring"]', 'rings = ["sleeve"]'),
    ):
        assert old in text
        assert fw.Job.loads(text.replace(old, new, 1)).hash != pump.hash
    assert fw.Job.loads(text.replace('title = "bearing plate"', 'title = "lid"')).hash == pump.hash


def test_nothing_is_left_half_written(demo, tmp_path):
    with pytest.raises(fw.InputError, match="cannot be written: No such file"):
        demo.save(tmp_path / "nowhere" / "s.toml")
    assert not list(tmp_path.iterdir())
