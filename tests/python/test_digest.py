"""Findings that fit on a screen: what is wrong first, in words, reserves that mean something."""

from __future__ import annotations

import pickle
import re

import fitwright as fw
import pytest
from fitwright.job.titles import plain_words


@pytest.fixture(scope="module")
def weak(demo):
    """The demo with a nut that is hardly tightened."""
    return demo.replace({"nut.torque": "100 N m"})


def test_the_demo_fits_on_a_screen(demo):
    shown = repr(demo.evaluate())
    assert len(shown.splitlines()) <= 24
    assert shown.startswith("all 85 limits met")
    first = demo.evaluate().worst
    row = next(line for line in shown.splitlines() if line.endswith(first.path))
    assert "tab washer" in row
    assert "as built, cold" in row


def test_what_is_not_met_comes_first_then_what_is_near(weak):
    found = weak.evaluate()
    bad = [f.path for f in found.governing() if not f.passed]
    digest = found.digest()
    assert [f.path for f in digest.not_met] == bad
    assert digest.headline.startswith(f"{len(bad)} of ")
    lines = str(digest).splitlines()
    assert lines[3].startswith("NOT MET")
    assert all(0.0 <= f.reserve < 0.1 for f in digest.near)
    told = [*digest.not_met, *digest.near, *digest.tightest, *digest.rest]
    assert sorted(f.path for f in told) == sorted(f.path for f in found.governing())


def test_the_rest_is_a_line_per_part_and_counts_all(demo):
    digest = demo.evaluate().digest(tightest=0)
    parts = dict(digest.by_part())
    assert sum(int(told.split(" ")[0]) for told in parts.values()) == len(digest.rest)
    assert parts["whole stack"] == "1 more, far"
    sleeve = [f for f in demo.evaluate().governing() if f.path.startswith("rings.sleeve.")]
    least = min(f.reserve for f in sleeve)
    assert parts["labyrinth sleeve"].startswith(f"{len(sleeve)} more, least {least:.0%}")


def test_a_reserve_says_what_it_is_a_share_of(demo):
    found = {(f.state, f.path): f for f in demo.evaluate()}
    against_a_limit = found["cold_build", "shoulder.clamp_low"]
    share = (float(against_a_limit.value) - 8000.0) / 8000.0
    assert against_a_limit.reserve_text() == f"{share:.0%}"
    assert float(against_a_limit.scale) == 8000.0
    against_nothing = found["cold_build", "rings.sleeve.slip_on.time_left"]
    assert against_nothing.limit == 0.0
    assert against_nothing.reserve_text() == "78% of 10.0 s"
    for finding in found.values():
        assert finding.reserve == pytest.approx(finding.margin / finding.scale, rel=1e-12)
        assert finding.is_far == (finding.reserve > 2.0)
        assert finding.reserve_text() == "far" if finding.is_far else "%" in finding.reserve_text()


def test_no_table_prints_a_reserve_of_thousands_of_percent(demo):
    for units in ("metric", "inch"):
        assert not re.search(r"\d{4,}%", str(demo.evaluate().table(units, all_states=True)))


def test_the_worst_is_the_first_line_of_the_digest(weak):
    found = weak.evaluate()
    assert found.digest().not_met[0].path == found.worst.path


def test_a_path_alone_asks_for_every_state(demo):
    found = demo.evaluate()
    clamp = found["shoulder.clamp_low"]
    assert list(clamp) == demo.states
    assert all(clamp[state] == found[state, "shoulder.clamp_low"] for state in demo.states)
    assert clamp["cold_build"].shown() in repr(clamp)
    by_step = found["shoulder.clamp"]
    assert "tighten" in by_step
    with pytest.raises(fw.InputError, match=r"shoulder\.clamp_lo"):
        found["shoulder.clamp_lo"]


def test_paths_are_a_column_of_their_own_or_left_out(demo):
    findings = demo.evaluate()
    assert findings.digest().table().head[-1] == "path"
    without = str(findings.digest(paths=False))
    assert "rings.sleeve" not in without
    assert "labyrinth sleeve" in without


def test_units_of_a_digest(demo):
    shown = str(demo.evaluate().digest(units="inch"))
    assert "thou" in shown
    assert " um" not in shown


def test_a_digest_in_a_notebook_escapes_titles(demo_text):
    job = fw.Job.loads(demo_text.replace("labyrinth sleeve", "<b>x</b>"))
    assert "<b>x</b>" not in job.evaluate()._repr_html_()


def test_findings_pickle(demo):
    again = pickle.loads(pickle.dumps(demo.evaluate("quick")))
    assert again.level == "quick"
    assert repr(again) == repr(demo.evaluate("quick"))


def test_every_limit_has_plain_words(demo_text):
    """Of the fullest job: seals, steps of a ring, loads across the shaft."""
    text = demo_text.replace(
        'outside = "118 mm"\nlength = "14 mm"',
        'slices = [{ outside = "118 mm", length = "7 mm" }, '
        '{ outside = "110 mm", length = "7 mm" }]',
    ).replace('thrust = { value = "9 kN"', 'radial_load = "1 kN"\nthrust = { value = "9 kN"')
    text += '\n[[seal]]\nname = "lab"\nring = "sleeve"\nstator = "100.3 mm"\nmaterial = "1045"\n'
    for finding in fw.Job.loads(text).evaluate():
        words = plain_words(finding.path)
        own = finding.path.split(".", 1)[1].replace("_", " ").replace(".", ", ")
        assert words != own, f"{finding.path} has no words in data/plain_words.toml"
        assert len(words) <= 60, finding.path
        assert "slice" not in words
