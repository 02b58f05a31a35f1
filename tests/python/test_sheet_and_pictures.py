"""The half-section, figures and build sheet: all parts named, nothing on top of another."""

from __future__ import annotations

import copy
import html
import itertools
import re
import xml.etree.ElementTree as ET
from collections.abc import Callable
from importlib import resources
from pathlib import Path
from typing import Any

import fitwright as fw
import numpy as np
import pytest
from fitwright import _core
from fitwright.charts import figures
from fitwright.charts.picture import save
from fitwright.face.job import Job
from fitwright.job.file import JobFile
from fitwright.pictures.section import draw_section
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.path import Path as Outline

DEMO = (resources.files("fitwright") / "demos" / "blower.toml").read_text(encoding="utf-8")
NASTY = "<script>alert('x')</script> & $x^2$ --> 100 % \\frac"


def edited(edit: Callable[[dict[str, Any]], None]) -> Job:
    """The demo with its document changed."""
    file = JobFile(DEMO)
    edit(file.document)
    core, spreads = file.build()
    return Job(core, file, spreads)


def without_bearing_and_lock(document: dict[str, Any]) -> None:
    del document["bearing"], document["service"], document["pocket"], document["lock"]
    document["limit"] = [r for r in document["limit"] if not r["output"].startswith("bearing")]
    for state in document["state"]:
        for key in ("thrust", "share", "oil_temperature"):  # nothing passes them on
            state.pop(key, None)
        for part in ("lock", "outer_ring", "balls"):
            state.get("lags", {}).pop(part, None)
    document["nut"]["hand"] = "right"
    document["shaft"]["bore"] = "0 mm"


def nasty(document: dict[str, Any]) -> None:
    document["title"] = NASTY
    document["note"] = NASTY
    document["lock"]["kind"] = NASTY
    for row in (*document["ring"], *document["state"]):
        row["title"] = NASTY


def many_rings(document: dict[str, Any]) -> None:
    slide = copy.deepcopy(document["ring"][-1])
    for number in range(48 - len(document["ring"])):
        ring = {**copy.deepcopy(slide), "name": f"spacer_{number}", "title": f"spacer {number}"}
        document["ring"].append({**ring, "length": f"{3 + 5 * (number % 3)} mm"})


def two_seats(document: dict[str, Any]) -> None:
    document["seat"].append({"name": "small", "diameter": "78 mm"})
    document["ring"][-1].update(seat="small", bore="78.05 mm")


def one_ring(document: dict[str, Any]) -> None:
    without_bearing_and_lock(document)
    gone = {row["name"] for row in document["ring"][1:]}
    document["ring"] = document["ring"][:1]
    document["limit"] = [r for r in document["limit"] if r["output"].split(".")[1] not in gone]
    for state in document["state"]:
        state["lags"] = {k: v for k, v in state.get("lags", {}).items() if k not in gone}


def as_it_is(document: dict[str, Any]) -> None:
    del document


JOBS = [as_it_is, without_bearing_and_lock, nasty, many_rings, two_seats, one_ring]


def texts(axes: Axes) -> list[Any]:
    return [text for text in axes.texts if text.get_text().strip()]


# -- the half-section ---------------------------------------------------------------------------


@pytest.mark.parametrize("edit", JOBS)
@pytest.mark.parametrize("units", ["metric", "inch"])
def test_no_text_and_no_leader_meets_another(
    edit: Callable[[dict[str, Any]], None], units: str
) -> None:
    axes = draw_section(edited(edit), units=units)
    canvas = axes.figure.canvas
    assert isinstance(canvas, FigureCanvasAgg)
    canvas.draw()
    boxes = [(t, t.get_window_extent(canvas.get_renderer())) for t in texts(axes)]
    assert len(boxes) >= 8
    paper = axes.figure.bbox
    for text, box in boxes:
        across = paper.x0 <= box.x0 and box.x1 <= paper.x1
        along = paper.y0 <= box.y0 and box.y1 <= paper.y1
        inside = across and along
        assert inside, f"{text.get_text()!r} leaves the paper"
    for (one, a), (other, b) in itertools.combinations(boxes, 2):
        apart = a.x1 <= b.x0 or b.x1 <= a.x0 or a.y1 <= b.y0 or b.y1 <= a.y0
        assert apart, f"{one.get_text()!r} on {other.get_text()!r}"
    # Leaders: from a name straight, over, straight to its part.
    leaders = [axes.transData.transform(ln.get_xydata()) for ln in axes.lines if ln.zorder == 7]
    leaders = [points for points in leaders if len(points) == 4]
    for points in leaders:
        for text, box in boxes:
            assert not Outline(points).intersects_bbox(box.shrunk(0.98, 0.98), filled=False), text
    for p, q in itertools.combinations(leaders, 2):
        assert not Outline(p).intersects_path(Outline(q), filled=False)


@pytest.mark.parametrize("kind", ["svg", "png"])
def test_picture_is_written_by_the_ending_of_its_name(tmp_path: Path, kind: str) -> None:
    path = tmp_path / f"blower.{kind}"
    fw.demo("blower").draw(path)
    data = path.read_bytes()
    if kind == "png":
        assert data.startswith(b"\x89PNG")
    else:
        assert ET.fromstring(data).tag.endswith("svg")
        fw.demo("blower").draw(path)
        assert path.read_bytes() == data, "the same picture gives the same file"


def test_other_endings_are_refused(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match=r"\.svg or \.png"):
        fw.demo("blower").draw(tmp_path / "blower.jpeg")


def test_picture_names_every_part_and_tells_the_clamp() -> None:
    job = fw.demo("blower")
    axes = job.draw()
    shown = " | ".join(" ".join(t.get_text().split()) for t in texts(axes))
    for row in job.file.rows("ring"):
        assert row["title"] in shown
    for part in ("shaft", "tab washer", "nut M75 × 2, left-hand", "15 balls", "outer ring"):
        assert part in shown
    found = job.evaluate()
    for path in ("nut.preload", "shoulder.clamp_low", "shoulder.clamp_high"):
        assert found["cold_build", path].shown() in shown
    assert f"seat ⌀ {job['seats.main.diameter'].shown()}" in shown
    assert "LEFT-HAND" in shown
    assert "anticlockwise" in shown
    assert axes._repr_png_().startswith(b"\x89PNG")  # type: ignore[attr-defined]


def test_a_right_hand_nut_is_tightened_clockwise() -> None:
    shown = " ".join(t.get_text() for t in texts(edited(without_bearing_and_lock).draw()))
    assert "RIGHT-HAND" in shown
    assert "anticlockwise" not in shown
    assert "balls" not in shown


def test_parts_stand_where_their_lengths_put_them() -> None:
    """Drawn to scale: shoulder to nut face is the sum of the lengths in the job file."""
    axes = fw.demo("blower").draw()
    shown = " ".join(t.get_text() for t in texts(axes))
    assert "stack 102.500 mm" in shown  # 32 + 19.5 + 19.5 + 14 + 16 + 1.5


# -- figures ------------------------------------------------------------------------------------


def demo_statistics() -> _core.Statistics:
    job = fw.demo("blower")
    output = job.core.output("cold_build", "bearing.end_play")
    tracked = [(output, 0.35e-3, float("nan"))]
    run = _core.StudyRun(job.core, list(job.spreads.values()), tracked, 1, 8192)
    while run.done < run.count:
        run.advance(4096, 1)
    return run.statistics(0)


def test_histogram_shows_all_samples_and_counts_those_outside() -> None:
    statistics = demo_statistics()
    axes = figures.histogram(figures.new_axes(), statistics, 0.35e-3, None, "um", 1e6, 0.0)
    assert sum(bar.get_height() for bar in axes.patches) == pytest.approx(100.0)
    failed = statistics.count - statistics.passed
    assert failed > 0
    assert f"({failed} of {statistics.count})" in axes.get_xlabel()
    assert "350" in " ".join(t.get_text() for t in axes.texts)


def test_cumulative_rises_from_none_to_all(tmp_path: Path) -> None:
    axes = figures.cumulative(figures.new_axes(), demo_statistics(), 0.35e-3, None, "um", 1e6)
    share = axes.lines[0].get_ydata()
    assert np.all(np.diff(share) >= 0.0)
    assert 0.0 < share[0] < 0.01
    assert 0.99 < share[-1] < 1.0
    save(axes, tmp_path / "cumulative.png")


def test_tornado_has_the_largest_on_top() -> None:
    axes = figures.tornado(figures.new_axes(), ["a", "b", "$c", "d"], [1.0, -3.0, 2.0, 0.5], most=3)
    assert [t.get_text() for t in axes.get_yticklabels()] == ["b", "$c", "a"]
    assert axes.get_ylim()[0] > axes.get_ylim()[1]
    assert "and 1 that matter less" in [t.get_text() for t in axes.texts]


def test_sweep_plot_draws_limits_where_they_are(tmp_path: Path) -> None:
    x = [1.0, 2.0, 3.0]
    limits = {"a": (1.5, None), "b": 7.0}
    axes = figures.sweep_plot(
        figures.new_axes(), x, {"a": x, "b": [9.0, 8.0, 6.0]}, limits, ("x", "y")
    )
    levels = {float(ln.get_ydata()[0]) for ln in axes.lines if len(ln.get_ydata()) == 2}
    assert levels == {1.5, 7.0}
    save(axes, tmp_path / "sweep.svg")


# -- the sheet ----------------------------------------------------------------------------------


def sheet_of(job: Job, tmp_path: Path, units: str = "metric") -> str:
    path = job.sheet(tmp_path / "sheet.html", units=units)
    assert list(tmp_path.iterdir()) == [path], "nothing else is left behind"
    return path.read_text(encoding="utf-8")


def without_sources(words: str) -> str:
    """What the program says itself: sources of metals are quoted in units of their own."""
    return words[: words.index("Metals and their sources")]


def words_of(page: str) -> str:
    """What is to be read, without picture and style."""
    page = re.sub(r"<(svg|style)\b.*?</\1>", " ", page, flags=re.DOTALL)
    return html.unescape(" ".join(re.sub(r"<[^>]*>", " ", page).split()))


@pytest.mark.parametrize("edit", JOBS)
def test_sheet_is_one_file_without_references(
    edit: Callable[[dict[str, Any]], None], tmp_path: Path
) -> None:
    page = sheet_of(edited(edit), tmp_path)
    assert page.count("<svg") == 2  # the stack, and the force along it step by step
    assert not re.search(r"https?:|<script|<link|<img|@import|url\((?!#)", page)
    for target in re.findall(r"""\b(?:src|href)\s*=\s*["']([^"']*)""", page):
        assert target.startswith("#")


def test_user_text_is_escaped(tmp_path: Path) -> None:
    page = sheet_of(edited(nasty), tmp_path)
    assert "<script" not in page.lower()
    assert words_of(page).count(NASTY) > 20


def test_sheet_holds_findings_sizes_and_orders(tmp_path: Path) -> None:
    job = fw.demo("blower")
    found = job.evaluate()
    words = words_of(sheet_of(job, tmp_path))
    for finding in found.governing():
        row = rf"{re.escape(finding.path)} .{{1,60}}? {number(finding.value)}.{{1,25}}"
        row += rf"{number(finding.limit)}.{{1,12}}{number(finding.margin)}"
        assert re.search(row, words), finding.path
    for name in job.rings:
        for output in ("interference_left", "pressure", "holding_force", "oven_needed"):
            if found["cold_build", f"rings.{name}.pressure"] > 0.0:
                assert re.search(number(found["cold_build", f"rings.{name}.{output}"]), words)
        for size in ("bore", "length"):
            assert job[f"rings.{name}.{size}"].shown() in words
    for output in ("nut.preload_low", "nut.preload_high", "shoulder.clamp_free", "nut.force"):
        assert found["cold_build", output].shown() in words
    assert "LEFT-HAND THREAD: TIGHTEN ANTICLOCKWISE" in words
    assert "never above 120 °C" in words
    assert "a leaf that does not enter says nothing" in words
    assert "0.250 mm to 0.450 mm" in words  # what the end play may be, from the job file
    order = [f"{step}: {row['title']}" for row in job.file.rows("ring") for step in ("Heat", "Fit")]
    places = [words.find(step) for step in order if step in words]
    assert len(places) == 6
    assert places == sorted(places)
    assert words.find("Check the torque again, cold") < words.find("Bend ONE tab")
    assert "level “heating”" in words


def number(value: Any) -> str:
    return rf"(?<![\d.]){re.escape(value.shown().split(' ')[0])}(?![\d.])"


def test_inch_sheet_is_in_inches_throughout(tmp_path: Path) -> None:
    job = fw.demo("blower")
    words = words_of(sheet_of(job, tmp_path, "inch"))
    for unit in ("in", "thou", "lbf", "lbf ft", "ksi", "°F"):
        assert re.search(rf"\d {unit}\b", words), unit
    words = without_sources(words)
    for unit in ("mm", "µm", "um", "kN", "N m", "MPa", "°C", "degC", "K"):
        assert not re.search(rf"\d {unit}\b", words), unit
    assert job["nut.torque"].shown("inch") in words


def test_units_must_be_known(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="metric"):
        fw.demo("blower").sheet(tmp_path / "sheet.html", units="furlong")
    assert not list(tmp_path.iterdir())


def test_what_a_job_lacks_is_not_on_its_sheet(tmp_path: Path) -> None:
    words = without_sources(words_of(sheet_of(edited(without_bearing_and_lock), tmp_path)))
    assert "RIGHT-HAND THREAD: TIGHTEN CLOCKWISE" in words
    for gone in ("end play", "contact angle", "tab washer", "one tab", "thrust bearing", "Balls"):
        assert gone.lower() not in words.lower(), gone
    assert "this job names no lock" in words


def test_a_seal_stands_on_the_sheet_with_its_tightest_state(tmp_path: Path) -> None:
    def add(document: dict[str, Any]) -> None:
        document["seal"] = [
            {"name": "labyrinth", "ring": "sleeve", "stator": "100.05 mm", "material": "grey_iron"}
        ]

    job = edited(add)
    found = job.evaluate()
    least = min(found[state, "seals.labyrinth.clearance"] for state in job.states)
    text = words_of(job.sheet(tmp_path / "sheet.html").read_text(encoding="utf-8"))
    assert "labyrinth" in text
    assert "touches" in text
    assert f"{least * 1e6:.1f} µm" in text
    plain = edited(lambda document: None).sheet(tmp_path / "plain.html").read_text(encoding="utf-8")
    assert "least on one side" not in plain


def test_a_limit_that_is_not_met_stops_the_job(tmp_path: Path) -> None:
    job = fw.demo("blower")
    assert "Do not build" not in words_of(sheet_of(job, tmp_path)) or not job.evaluate().passed
    weak = job.replace({"nut.torque": "100 N m"})
    assert not weak.evaluate().passed
    words = words_of(sheet_of(weak, tmp_path))
    count = len([f for f in weak.evaluate().governing() if not f.passed])
    assert f"Do not build: {count} limit" in words
    assert words.count("NOT MET") == count


def test_a_ring_that_cannot_be_heated_enough_is_not_heated(tmp_path: Path) -> None:
    def too_tight(document: dict[str, Any]) -> None:
        ring = document["ring"][1]
        ring.pop("oven")
        ring["bore"] = "79.95 mm"

    words = words_of(sheet_of(edited(too_tight), tmp_path))
    assert "STOP: this setting is above the limit of bearing inner ring, loaded half" in words
