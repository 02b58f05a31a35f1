"""Rare failures: against what is known, against plain counting, and in shop words."""

import fitwright as fw
import pytest
from fitwright import _core
from test_single import parts


def test_a_linear_margin_is_the_normal_tail():
    # interference left = seat - bore, 40 um and 2.5 um: 4 deviations above 30 um (textbook)
    rare = fw.rare_failures(fw.rings.fit, limits={"interference_left": (">=", "30 um")}, **parts())
    tail = 3.167124183311998e-05  # Phi(-4), published in any table of the normal distribution
    assert rare.points[0].beta == pytest.approx(4.0, rel=1e-6)
    assert rare.points[0].first_order == pytest.approx(tail, rel=1e-5)
    low, high = rare.interval
    assert low < tail < high
    assert high - low < 0.25 * tail
    assert rare.trusted
    assert rare.points[0].shares["shaft.seat"] == pytest.approx(0.64, rel=1e-6)
    # the point: both give way as their variances go, 10 um in all
    assert float(rare.points[0].values["shaft.seat"]) == pytest.approx(0.08004 - 6.4e-6, abs=1e-10)
    words = rare.points[0].words()
    assert words.startswith("interference_left fails first when shaft.seat is 80.034 mm")
    assert "interference_left" in str(rare.table())
    assert rare["interference_left"].path == "interference_left"


def test_the_clamp_of_a_job_against_plain_counting():
    job = fw.demo("blower")
    study = job.study(400_000, level="quick", progress=False)
    rare = job.rare_failures(until=0.05)
    failed = 1.0 - study.pass_rate
    low, high = study.interval
    half = 0.5 * (rare.interval[1] - rare.interval[0])
    assert abs(rare.probability - failed) < 2.0 * half + 2.0 * (high - low)
    assert {(p.state, p.path) for p in rare.points[:1]} <= {
        (f.state, f.path) for f in study.at_risk
    }
    again = job.rare_failures(until=0.05)
    assert again.probability == rare.probability


def test_what_cannot_be_trusted_says_so():
    never = fw.rare_failures(
        fw.rings.fit, 20_000, limits={"interference_left": (">=", "-90 um")}, **parts()
    )
    if not never.failed:
        assert not never.trusted
        assert any("none of" in doubt for doubt in never.doubts)
        assert never.interval[1] > 0.0
    few = fw.rare_failures(
        fw.rings.fit, 1, limits={"interference_left": (">=", "30 um")}, **parts()
    )
    assert few.samples >= 1
    already = fw.rare_failures(
        fw.rings.fit, 20_000, limits={"interference_left": (">=", "45 um")}, **parts()
    )
    assert already.points[0].beta < 0.0
    assert "fails in the middle already" in already.points[0].words()
    assert already.probability == pytest.approx(0.97725, abs=0.01)  # Phi(2)


def test_wrong_questions_are_named():
    told = parts()
    cases = [
        (lambda: fw.rare_failures(fw.rings.fit, 0, **told), "samples: 0 must be a whole number"),
        (lambda: fw.rare_failures(fw.rings.fit, until=2.0, **told), "until: 2.0 must lie between"),
        (lambda: fw.rare_failures(fw.rings.fit, starts=0, **told), "starts: 0 must be a whole"),
        (lambda: fw.rare_failures(fw.rings.fit, seed=-1, **told), "seed: -1 must be"),
        (
            lambda: fw.rare_failures(
                fw.rings.fit,
                **parts(
                    speed={"spread": "measured", "measured": ["100 rpm", "120 rpm"],
                           "of": "these_parts"}
                ),
            ),
            "model: speed scatters in steps (readings of these_parts)",
        ),
    ]  # fmt: skip
    for call, message in cases:
        with pytest.raises(fw.InputError) as error:
            call()
        assert message in str(error.value)


def test_the_normal_tail_of_the_core():
    assert _core.rare_problem([]) == "nothing scatters"
