"""Lock tabs against every angle, ways out, tables of friction and tools, scatter by samples, forms
in a job file."""

from __future__ import annotations

import re
from fractions import Fraction
from math import lcm, pi

import fitwright as fw
import numpy as np
import pytest

NUT = {
    "diameter": "75 mm",
    "pitch": "2 mm",
    "height": "20 mm",
    "outside": "105 mm",
    "face_inside": "76 mm",
    "face_outside": "98 mm",
    "material": "1045",
}


def tabs(n=17, m=4, **more):
    given = {
        "torque_low": "550 N m",
        "torque_high": "650 N m",
        "compliance": "0.5 um/kN",
        "nut": fw.Nut(**NUT),
    }
    return fw.threads.lock_tabs(tabs=n, slots=m, **{**given, **more})


# -- lock tabs ------------------------------------------------------------------------------------


def meetings(n, m):
    """All parts of a turn at which one of n tabs stands over one of m slots, by all pairs."""
    return sorted({(Fraction(i, n) - Fraction(j, m)) % 1 for i in range(n) for j in range(m)})


@pytest.mark.parametrize("m", range(1, 13))
def test_every_pair_of_tabs_and_slots_by_trying_all(m):
    counts = np.arange(1, 41)
    answer = tabs(counts, m)
    for n, per_turn, angle in zip(
        counts, answer.meetings_per_turn, answer.meeting_angle, strict=True
    ):
        found = meetings(int(n), m)
        assert len(found) == per_turn == lcm(int(n), m)
        gaps = {b - a for a, b in zip(found, [*found[1:], found[0] + 1], strict=True)}
        assert gaps == {Fraction(1, len(found))}
        assert angle == pytest.approx(2 * pi / len(found), rel=1e-14)


@pytest.mark.parametrize(("n", "m"), [(17, 4), (5, 4), (12, 8), (3, 3), (19, 6)])
def test_chance_and_force_by_brute_force_over_phases(n, m):
    answer = tabs(n, m)
    per_angle = (answer.window_high - answer.window_low) / answer.window_angle
    turns = np.array([float(x) for x in meetings(n, m)]) * 2 * pi
    phases = (np.arange(100_000) + 0.5) / 100_000 * 2 * pi
    first = np.full_like(phases, np.inf)
    for turn in turns:  # angle from the least torque to this meeting, turning on only
        first = np.minimum(first, (turn - phases) % (2 * pi))
    hit = first <= answer.window_angle
    assert hit.mean() == pytest.approx(answer.chance, abs=2e-3)
    force = answer.window_low + first[hit] * per_angle
    assert force.mean() == pytest.approx(answer.preload_mean, rel=1e-3)
    assert force.max() == pytest.approx(answer.preload_greatest, rel=1e-3)
    assert (answer.window_low + first.max() * per_angle) == pytest.approx(
        answer.next_preload, rel=1e-3
    )  # no miss told: the worst there is
    count = [np.sum((turns - p) % (2 * pi) <= answer.window_angle) for p in phases[::7]]
    assert np.mean(count) == pytest.approx(answer.meetings_in_window, rel=0.02)


def test_friction_widens_or_narrows_the_window():
    answer = tabs(5, 4)
    assert answer.chance_low < answer.chance < answer.chance_high < 1.0
    assert answer.step_over_preload > 0.2  # common practice: on a stiff stack a step is much


def test_a_soft_joint_needs_no_luck():
    answer = tabs(17, 4, compliance="5 um/kN")
    assert answer.chance == 1.0
    assert answer.meetings_in_window > 1.0


def test_lock_tabs_of_a_job_take_its_joint(demo):
    answer = demo.lock_tabs(tabs=17, slots=4, torque_low="780 N m", torque_high="860 N m")
    compliance = demo.evaluate()["cold_build", "stack.compliance"]
    lead = float(demo["nut.pitch"])
    assert answer.preload_step == pytest.approx(lead / 68 / compliance, rel=1e-12)
    nut_force = demo.evaluate()["cold_build", "nut.preload"]
    assert answer.window_low < nut_force < answer.window_high  # 840 N m lies between


# -- ways out -------------------------------------------------------------------------------------


def test_ways_out_are_ranked_and_told():
    missed = tabs(5, 4, miss="8 deg", torque_limit="800 N m")
    assert missed.window_margin < 0.0
    ways = fw.threads.lock_ways_out(missed, others={"washer with 17 tabs": (17, 4)})
    assert [way.kind for way in ways] == [
        "washer with 17 tabs",
        "other or turned washer, other nut",
        "take off",
        "next meeting",
    ] or not ways.all[-1].possible
    assert ways.best is ways.all[0]
    assert ways.all[0].chance > ways.all[1].chance == missed.chance
    assert ways.all[0].chance == tabs(17, 4).chance
    possible = [way.possible for way in ways]
    assert possible == sorted(possible, reverse=True)
    depth = next(way for way in ways if way.kind == "take off").depth
    assert depth == pytest.approx(missed.stone_middle)
    text = str(ways)
    assert "Never back off" in text
    assert "never used again" in text
    assert "5.6 um a degree" in text


def test_ways_out_when_nothing_is_allowed():
    missed = tabs(1, 1, miss="200 deg")
    ways = fw.threads.lock_ways_out(missed, stone_limit="10 um")
    kinds = {way.kind: way for way in ways}
    assert not kinds["take off"].possible
    assert "more than the 10.0 um allowed" in kinds["take off"].text
    assert not kinds["next meeting"].possible
    assert "beyond the limit too" in kinds["next meeting"].text


def test_a_meeting_inside_needs_no_way_out():
    met = tabs(17, 4, miss="0.5 deg")
    best = fw.threads.lock_ways_out(met).best
    assert best.kind == "as it is"
    assert best.torque == met.next_torque


def test_bad_questions_about_ways_out():
    with pytest.raises(fw.InputError, match=r"'tabs' must be an answer of a model"):
        fw.threads.lock_ways_out("tabs")
    with pytest.raises(fw.InputError, match="must be one answer, not an array"):
        fw.threads.lock_ways_out(tabs(np.array([4, 5])))
    with pytest.raises(fw.InputError, match=r"others.short: .* two whole numbers"):
        fw.threads.lock_ways_out(tabs(), others={"short": (3,)})
    with pytest.raises(fw.InputError, match="stone_limit"):
        fw.threads.lock_ways_out(tabs(), stone_limit="5 kg")
    with pytest.raises(fw.InputError, match=r"tabs: .* must be a whole number"):
        tabs(4.5)


# -- tables ---------------------------------------------------------------------------------------


def test_friction_table_tells_its_sources():
    table = fw.threads.friction_table()
    assert len(table) >= 5
    for row in table:
        assert 0.0 < row.low < row.usual < row.high < 1.0
        assert row.status in ("published", "common practice", "from memory")
        assert row.source
        assert row.surface
        assert row.lubricant
        fw.threads.tighten(nut=fw.Nut(**NUT, **row.for_nut()), torque=600.0, material="4340")
    standard = fw.Nut(**NUT)
    assert table["oiled"].for_nut()["thread_friction"] == standard.thread_friction
    assert "oiled" in str(table)
    assert "<table>" in table._repr_html_()
    with pytest.raises(fw.InputError, match="is not in the table; it has oiled"):
        table["greasy"]


def test_tool_table_tells_its_sources():
    for row in fw.threads.tool_table():
        assert 0.0 < row.scatter < 1.0
        assert 1.0 <= row.factor_low <= row.factor_high
        assert row.status in ("published", "common practice", "from memory")
        answer = fw.threads.scatter(nut=fw.Nut(**NUT), torque=600.0, tool_scatter=row.scatter)
        assert answer.scatter > row.scatter
    assert "impact" in str(fw.threads.tool_table())


# -- scatter by samples ---------------------------------------------------------------------------


def test_root_of_squares_agrees_with_samples():
    """JCGM 101: half ranges taken as sqrt(3) deviations of uniform causes; small enough that the
    force is nearly linear in them."""
    count = 200_000
    scatter = np.random.default_rng(5)
    ends = {"thread_friction_low": 0.115, "thread_friction_high": 0.135}
    ends |= {"face_friction_low": 0.115, "face_friction_high": 0.135}
    answer = fw.threads.scatter(nut=fw.Nut(**NUT, **ends), torque=600.0, tool_scatter=0.05)
    thread, face = (scatter.uniform(0.115, 0.135, count) for _ in range(2))
    sampled = fw.threads.tighten(
        nut=fw.Nut(**NUT, **ends, thread_friction=thread, face_friction=face),
        torque=600.0 * scatter.uniform(0.95, 1.05, count),
        material="4340",
    ).preload
    relative = np.std(sampled) / answer.preload * np.sqrt(3.0)
    assert relative == pytest.approx(answer.scatter, rel=0.01)
    assert answer.preload_least <= sampled.min()
    assert sampled.max() <= answer.preload_greatest


# -- forms in a job file --------------------------------------------------------------------------


def with_nut(demo_text, lines):
    return demo_text.replace("[nut]\n", f"[nut]\n{lines}\n", 1)


def test_the_form_of_a_job_is_that_of_the_model(demo_text):
    plain = fw.Job.loads(demo_text)
    metric = fw.Job.loads(with_nut(demo_text, 'form = "iso_metric"'))
    other = fw.Job.loads(with_nut(demo_text, 'form = "trapezoidal"\nface_law = "mean"'))

    def preload(job):
        return next(f for f in job.core.evaluate() if f)  # first number, unchanged by the form

    assert plain.core.evaluate() == metric.core.evaluate()
    assert plain.core.evaluate() != other.core.evaluate()
    assert preload(plain) != preload(other)


def test_a_wrong_form_is_told(demo_text):
    with pytest.raises(fw.InputError, match=r"nut.form: 'whitworth' must be one of iso_metric"):
        fw.Job.loads(with_nut(demo_text, 'form = "whitworth"'))
    with pytest.raises(fw.InputError, match=r"nut.lead: 5 mm must be a whole number of pitches"):
        fw.Job.loads(with_nut(demo_text, 'lead = "5 mm"')).evaluate()


# -- laws -----------------------------------------------------------------------------------------


def test_torque_friction_and_force_go_round():
    for form in ("iso_metric", "unified", "trapezoidal", "acme", "square"):
        nut = fw.Nut(**NUT, form=form, lead="6 mm")
        tight = fw.threads.tighten(nut=nut, torque=600.0, material="4340")
        back = fw.threads.friction(nut=nut, torque=600.0, preload=tight.preload)
        assert back.thread_friction == pytest.approx(0.125, rel=1e-12)
        pair = fw.threads.breakaway(
            nut=fw.Nut(**NUT, form=form, lead="6 mm"),
            torque=600.0,
            loosening_torque=fw.threads.torque(
                nut=fw.Nut(
                    **NUT,
                    form=form,
                    lead="6 mm",
                    thread_friction_low=0.125,
                    face_friction_low=0.125,
                ),
                preload=tight.preload,
                material="4340",
            ).loosening_torque,
        )
        assert pair.preload == pytest.approx(tight.preload, rel=1e-9)


def test_scatter_agrees_with_a_study_of_a_job(demo_text):
    """The same three causes, uniform, in a job: deviation times sqrt(3) is the half range."""
    still = re.sub(r'\{ value = ("[^"]*"),[^}]*spread[^}]*\}', r"\1", demo_text)
    lines = [
        'torque = { value = "650 N m", spread = "uniform", low = "617.5 N m", high = "682.5 N m" }',
        *(
            f'{place}_friction = {{ value = "0.125", low = "0.115", high = "0.135", '
            'spread = "uniform" }'
            for place in ("thread", "face")
        ),
    ]
    for line in lines:
        still, changed = re.subn(rf"^{line.split()[0]} = .*$", line, still, flags=re.MULTILINE)
        assert changed == 1
    still += '\n[[limit]]\noutput = "nut.preload"\nat_least = "1 kN"\n'
    # The closed form takes both frictions as independent, a study by itself as of one tin.
    still += (
        '\n[[correlation]]\nbetween = ["nut.thread_friction", "nut.face_friction"]\nvalue = 0\n'
    )
    job = fw.Job.loads(still)
    study = job.study(100_000, seed=3, level="quick", progress=False)
    found = study["cold_build", "nut.preload"].statistics
    ends = {f"{p}_friction_{e}": v for p in ("thread", "face") for e, v in
            (("low", 0.115), ("high", 0.135))}  # fmt: skip
    nut = fw.Nut(
        diameter="75 mm",
        pitch="2 mm",
        height="20 mm",
        outside="104 mm",
        face_inside="77 mm",
        face_outside="96 mm",
        material="4140",
        **ends,
    )
    answer = fw.threads.scatter(nut=nut, torque="650 N m", tool_scatter=0.05)
    assert found.deviation / answer.preload * 3.0**0.5 == pytest.approx(answer.scatter, rel=0.02)
    assert found.mean == pytest.approx(answer.preload, rel=0.01)
