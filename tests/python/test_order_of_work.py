"""The order of work is that of the steps that were calculated, with their own numbers."""

from __future__ import annotations

import html
import re

import fitwright as fw
import pytest

STEPS = """
[[step]]
name = "halves_on"
kind = "slip_on"
parts = ["sleeve", "inner_thrust"]
[[step]]
name = "press_both"
kind = "press"
force = "26.7 kN"
against = "outside"
[[step]]
name = "cold"
kind = "state"
state = "cold_build"
[[step]]
name = "let_go"
kind = "release"
[[step]]
name = "rest_on"
title = "with the long bar"
kind = "slip_on"
parts = ["inner_back", "wheel", "slinger", "lock"]
[[step]]
name = "nut"
kind = "nut_on"
[[step]]
name = "first_torque"
kind = "tighten"
torque = "410 N m"
[[step]]
name = "second_torque"
kind = "tighten"
torque = "790 N m"
[[step]]
name = "locked"
kind = "lock"
[[step]]
name = "running"
kind = "state"
state = "full_load"
[[step]]
name = "stopped"
kind = "state"
state = "cold_build"
[[step]]
name = "undone"
kind = "loosen"
[[step]]
name = "back_off"
kind = "pull"
parts = ["inner_back"]
"""


@pytest.fixture(scope="module")
def told(demo_text):
    return fw.Job.loads(
        demo_text.replace('hand = "left"', 'hand = "left"\nlubricant = "moly paste"') + STEPS
    )


@pytest.fixture(scope="module")
def bench(told, tmp_path_factory):
    return words(told, tmp_path_factory.mktemp("bench"), "bench")


def words(job, folder, document, **more):
    page = job.sheet(folder / "sheet.html", documents=document, **more).read_text(encoding="utf-8")
    page = re.sub(r"<(svg|style)\b.*?</\1>", " ", page, flags=re.DOTALL)
    return html.unescape(" ".join(re.sub(r"<[^>]*>", " ", page).split()))


def order(text):
    return text[text.index("3. Order of work") : text.index("4. Check")]


def test_parts_go_on_together_as_told(bench):
    assert "Heat together: labyrinth sleeve and bearing inner ring, loaded half." in bench
    assert "Slide on: toothed speed wheel and oil slinger." in bench


def test_forces_and_torques_are_those_of_the_steps(told, bench):
    steps = order(bench)
    assert "at once with 26.7 kN" in steps
    assert "18.0 kN" not in steps  # the rings' own presses
    assert "Torque: 410 N m" in steps
    assert "Torque again: 790 N m" in steps
    assert "820 N m" not in steps
    nut = told.evaluate()["first_torque", "nut.clamp"]
    assert f"The nut then carries {float(nut) / 1e3:.1f} kN" in steps


def test_a_press_from_outside_does_not_pull_on_the_shaft(bench):
    assert "pushed from outside, held on the far side of the shoulder" in order(bench)
    assert "pulling on the shaft itself" not in order(bench)


def test_the_order_follows_the_steps_and_ends_with_the_lock(bench):
    steps = order(bench)
    told = [
        "Clean and measure", "Heat together", "Fit: labyrinth sleeve and", "Press bearing inner",
        "Heat: bearing inner ring, back half", "Slide on", "Tab washer", "Nut on", "Torque: 410",
        "Torque again: 790", "Check the torque again, cold: 790 N m", "Checks", "Bend ONE tab",
    ]  # fmt: skip
    places = [steps.index(words) for words in told]
    assert places == sorted(places)
    assert "Pull off" not in steps  # that is of the strip-down sheet
    assert "with the long bar" in steps


def test_the_lubricant_is_named(bench):
    assert "moly paste on thread and face" in bench


def test_window_soak_and_hold_are_those_of_the_models(told, bench):
    found = told.evaluate()["cold_build", "rings.sleeve.slip_on.window_low"]
    assert f"Home within {int(float(found))} s of the oven" in bench or "Home within" in bench
    soak = float(told.ring("sleeve").soak().soak_time_high) / 60.0
    assert f"{soak:.0f} min in it" in bench
    hold = told.evaluate()["cold_build", "rings.inner_thrust.slip_on.time_to_room"] / 60.0
    assert f"as cold as the room after {hold:.0f} min" in bench


def test_a_pull_names_the_part_and_takes_what_stands_before_it(told):
    forces = told.evaluate()["stack.pull_force"]
    assert float(forces["back_off"]) > 5e3
    history = told.history()["back_off"]
    on = {seat.part for seat in history.seats if float(abs(seat.force)) > 0.0}
    assert "inner_back" not in on
    assert "sleeve" in on


def test_a_pull_of_what_is_off_is_refused(demo_text):
    twice = STEPS + '[[step]]\nname = "again"\nkind = "pull"\nparts = ["wheel"]\n'
    with pytest.raises(fw.InputError, match=r"steps\.again.*not on the shaft"):
        fw.Job.loads(demo_text + twice).evaluate()
    wrong = STEPS.replace('parts = ["inner_back"]', 'parts = ["inner_bak"]')
    with pytest.raises(fw.InputError, match=r'steps\.back_off\.parts: "inner_bak" is not a ring'):
        fw.Job.loads(demo_text + wrong)


def test_the_strip_down_sheet_tells_the_pull_that_was_calculated(told, tmp_path):
    text = words(told, tmp_path, "strip_down")
    force = told.evaluate()["back_off", "stack.pull_force"] / 1e3
    assert f"bearing inner ring, back half {force:.1f} kN" in text


def test_what_comes_off_is_the_order_of_the_parts_backwards(demo, tmp_path):
    text = words(demo, tmp_path, "strip_down")
    found = demo.evaluate()
    table = text[text.index("2. What comes off") : text.index("Cautions")]
    parts = [
        "tab washer", "oil slinger", "toothed speed wheel", "bearing inner ring, back half",
        "bearing inner ring, loaded half", "labyrinth sleeve",
    ]  # fmt: skip
    places = [table.index(part) for part in parts]
    assert places == sorted(places)
    pull = found["cold_build", "rings.sleeve.take_off.cold_pull_high"] / 1e3
    free = found["cold_build", "rings.sleeve.take_off.difference_free"]
    assert f"{free:.0f} K" in table
    assert f"{pull:.1f} kN" in table
    assert "Rotor held by" in text
    assert "leave it on by a few threads" in text
    assert "CLOCKWISE" in text
