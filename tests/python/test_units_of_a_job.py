"""Units told once per job: inch and metric say the same; and a thread as a drawing names it."""

from __future__ import annotations

import re
import threading

import fitwright as fw
import pytest
from fitwright import units
from fitwright.fields.units import UnitProblem
from fitwright.job.thread_name import thread_name
from fitwright.threads.words import read_thread

METRIC = re.compile(r"\d (mm|um|kN|N m|MPa|degC|K)\b")


@pytest.fixture(scope="module")
def inch(demo_text):
    return fw.Job.loads('units = "inch"\n' + demo_text)


def shown_of(job):
    """What a job shows where nothing is asked for."""
    solved = job.solve(vary="nut.torque", output="nut.preload", target="70 kN")
    swept = job.sweep({"nut.torque": ("700 N m", "900 N m", 3)}, outputs=["nut.preload"])
    return {
        "findings": repr(job.evaluate()),
        "table": str(job.evaluate().table()),
        "inputs": repr([row[:3] for row in job.inputs().rows]),
        "input": repr(job["seats.main.diameter"]),
        "solve": repr(solved),
        "sweep": repr(swept),
        "history": repr(job.history()),
        "assembly": str(job.assembly()),
        "bearing": str(job.bearing.table()),
        "reuse": repr(job.reuse_limits(["nut.torque", "rings.sleeve.bore"])),
        "worst": repr(job.worst_case("cold_build", "nut.preload")),
        "measured": str(job.measured({"seats.main.diameter": "80.034 mm"}).table()),
        "by state": repr(job.evaluate()["shoulder.clamp_low"]),
    }


def test_an_inch_job_shows_inches_everywhere(inch):
    assert inch.units == "inch"
    for name, text in shown_of(inch).items():
        assert not METRIC.search(text), f"{name}: {METRIC.search(text)}"


def test_what_a_call_asks_for_comes_first(inch, demo):
    assert "kN" in str(inch.evaluate().table("metric"))
    assert str(inch.evaluate().table("metric")) == str(demo.evaluate().table())
    assert str(inch.evaluate().table()) == str(demo.evaluate().table("inch"))


def test_inch_and_metric_jobs_have_the_same_numbers(inch, demo):
    assert [float(f.value) for f in inch.evaluate()] == [float(f.value) for f in demo.evaluate()]
    assert inch.hash == demo.hash


def test_the_setting_holds_where_no_job_says(demo):
    seen = {}

    def in_inches():
        units.use("inch")
        seen["fit"] = repr(
            fw.rings.thick_ring(bore=0.02, outside=0.1, inner_pressure=1e8, material="4340")
        )
        seen["job"] = repr(demo["nut.torque"])

    thread = threading.Thread(target=in_inches)  # a setting is of its thread alone
    thread.start()
    thread.join()
    assert "ksi" in seen["fit"]
    assert "lbf ft" in seen["job"]
    assert "N m" in repr(demo["nut.torque"])
    with pytest.raises(ValueError, match='units: \'ell\' must be "metric" or "inch"'):
        units.use("ell")


def test_a_job_file_with_other_units_is_refused(demo_text):
    for wrong in ('"imperial"', "1", '["inch"]'):
        with pytest.raises(fw.InputError, match=r"units: .* must be metric or inch"):
            fw.Job.loads(f"units = {wrong}\n{demo_text}")


def test_sheet_and_picture_follow_the_job(inch, tmp_path):
    text = inch.sheet(tmp_path / "s.html", documents="bench").read_text(encoding="utf-8")
    assert "lbf" in text
    assert inch.draw(tmp_path / "d.svg") is not None
    shown = " ".join(t.get_text() for t in inch.draw().texts)
    assert "lbf" in shown
    assert not METRIC.search(shown.replace("M75 × 2", ""))


def test_units_survive_replace_and_a_saved_file(inch, tmp_path):
    changed = inch.replace({"nut.torque": "600 ft-lb"})
    assert changed.units == "inch"
    again = fw.Job.load(changed.save(tmp_path / "j.toml"))
    assert again.units == "inch"
    assert again.hash == changed.hash


@pytest.mark.parametrize(
    ("text", "diameter", "pitch", "form", "hand"),
    [
        ("M75x2 LH", 0.075, 0.002, "iso_metric", "left"),
        ("M 75 × 2", 0.075, 0.002, "iso_metric", "right"),
        ("m60X1.5 left-hand", 0.060, 0.0015, "iso_metric", "left"),
        ("Tr 60x9", 0.060, 0.009, "trapezoidal", "right"),
        ("2 1/4-12 UN", 2.25 * 0.0254, 0.0254 / 12, "unified", "right"),
        ("2-1/4 - 12 UN LH", 2.25 * 0.0254, 0.0254 / 12, "unified", "left"),
        ("1.5-6 UNC", 1.5 * 0.0254, 0.0254 / 6, "unified", "right"),
        ("3-2 Acme", 3 * 0.0254, 0.0254 / 2, "acme", "right"),
    ],
)
def test_threads_are_read_as_a_drawing_names_them(text, diameter, pitch, form, hand):
    words = read_thread(text)
    assert units.parse(words.diameter, "size") == pytest.approx(diameter, rel=1e-14)
    assert units.parse(words.pitch, "size") == pytest.approx(pitch, rel=1e-14)
    assert (words.form, words.hand) == (form, hand)


@pytest.mark.parametrize("text", ["M75", "75x2", "M75x", "2 1/4 UN", "2 1/0-12 UN", "M75x2 up"])
def test_other_words_are_no_thread(text):
    with pytest.raises(UnitProblem, match=r"not read as a thread|not a number with a unit"):
        read_thread(text)


FOUR = 'hand = "left"\ndiameter = "75 mm"\npitch = "2 mm"\n'


@pytest.mark.parametrize(
    ("told", "named"),
    [
        ('thread = "M75x2 LH"\n', "M75 × 2"),
        ('thread = "2 3/4-12 UN"\n', "2 3/4-12 UN"),
        ('thread = "Tr 72x6"\n', "Tr 72 × 6"),
        (FOUR, "M75 × 2"),
    ],
)
def test_sheets_and_pictures_name_the_thread_that_was_told(demo_text, told, named, tmp_path):
    assert FOUR in demo_text
    job = fw.Job.loads(demo_text.replace(FOUR, told))
    assert thread_name(job) == named
    page = job.sheet(tmp_path / "s.html", documents="bench").read_text(encoding="utf-8")
    assert f"thread {named}</h2>" in page
    assert any(named in " ".join(t.get_text().split()) for t in job.draw().texts)


def test_the_same_thread_in_words_or_numbers_is_the_same_job(demo, demo_text, tmp_path):
    job = fw.Job.loads(demo_text.replace(FOUR, 'thread = "M75x2 LH"\n'))
    assert job.hash == demo.hash
    wider = job.replace({"nut.pitch": "1.5 mm"})
    assert fw.Job.load(wider.save(tmp_path / "w.toml")).hash == wider.hash


def test_a_thread_told_twice_is_refused(demo_text):
    both = demo_text.replace(FOUR, FOUR + 'thread = "M75x2 LH"\n')
    with pytest.raises(fw.InputError, match=r"nut\.thread: tells diameter, pitch, hand already"):
        fw.Job.loads(both)
    wrong = demo_text.replace(FOUR, 'thread = "M75"\n')
    with pytest.raises(fw.InputError, match=r'nut\.thread: "M75" is not read as a thread'):
        fw.Job.loads(wrong)
    wrong = demo_text.replace(FOUR, "thread = 75\n")
    with pytest.raises(fw.InputError, match=r"nut\.thread: must be text"):
        fw.Job.loads(wrong)
