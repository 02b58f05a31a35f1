"""Readings in place of expected values: what they change, what is refused, and many rows."""

from __future__ import annotations

import html
import pickle
import re

import fitwright as fw
import openpyxl
import pytest
from fitwright import batch
from fitwright.face.job import Job

SEAT, BORE = "seats.main.diameter", "rings.sleeve.bore"
READINGS = {SEAT: "80.034 mm", BORE: "79.9985 mm", "bearing.clearance": "0.152 mm"}


def page_of(path):
    page = re.sub(r"<(svg|style)\b.*?</\1>", " ", path.read_text(encoding="utf-8"), flags=re.DOTALL)
    return html.unescape(" ".join(re.sub(r"<[^>]*>", " ", page).split()))


@pytest.fixture(scope="module")
def as_built(demo):
    return demo.measured(READINGS)


def test_a_measured_job_is_the_job_with_those_values(demo, as_built):
    by_hand = demo.replace({path: {"value": text} for path, text in READINGS.items()})
    assert as_built[SEAT] == pytest.approx(0.080034)
    assert repr(as_built.evaluate()) == repr(by_hand.evaluate())
    assert isinstance(as_built, Job)
    assert as_built.expected is demo


def test_what_was_measured_no_longer_scatters_but_for_its_gauge(demo, as_built):
    assert SEAT in demo.spreads
    assert SEAT not in as_built.spreads
    with_gauge = demo.measured(READINGS, gauge={SEAT: "1 um"})
    assert with_gauge.spreads[SEAT].standard_deviation == pytest.approx(1e-6)
    assert BORE not in with_gauge.spreads


def test_readings_are_told_with_how_far_off_they_are(as_built):
    reading = as_built.readings[SEAT]
    assert reading.deviation == pytest.approx(-2e-6)
    assert reading.outside is False  # 1.3 deviations
    far = as_built.expected.measured({BORE: "80.015 mm"}).readings[BORE]
    assert far.outside is True  # 8 of them
    shown = str(as_built.table())
    assert "-2.0 um" in shown
    assert "labyrinth sleeve" in shown


def test_what_they_changed_is_before_and_after(demo, as_built):
    found = {path: (before, after) for _, path, before, after in as_built.changed()}
    before, after = found["rings.sleeve.interference_left"]
    assert after - before == pytest.approx(-1.5e-6, abs=0.2e-6)  # seat -2 um, bore -0.5 um
    assert "rings.sleeve.oven_needed" in found
    assert demo.measured({SEAT: "80.036 mm"}).changed() == []


def test_the_sheet_shows_readings_beside_what_was_expected(as_built, tmp_path):
    words = page_of(as_built.sheet(tmp_path / "s.html", serial="R-0042", documents="bench"))
    assert "80.034 mm -0.0020 mm" in words
    assert "80.036 mm deviation 0.0015 mm" in words
    assert "79.999 mm" in words  # expected, though the reading prints alike in whole microns
    assert "what the measured sizes change" in words
    outside = as_built.expected.measured({BORE: "80.015 mm"})
    assert "+0.016 mm outside" in page_of(outside.sheet(tmp_path / "o.html", documents="bench"))


def test_a_measured_job_saves_pickles_and_studies(as_built, tmp_path):
    again = Job.load(as_built.save(tmp_path / "as_built.toml"))
    assert again.hash == as_built.hash
    assert again.evaluate().worst.reserve == as_built.evaluate().worst.reserve
    assert pickle.loads(pickle.dumps(as_built))[SEAT] == as_built[SEAT]
    assert as_built.study(2000, seed=1, level="quick", progress=False).samples == 2000


@pytest.mark.parametrize(
    ("path", "reading", "said"),
    [
        (SEAT, "3.151 mm", r"3\.151 mm is more than 2% off the 80\.036 mm expected"),
        (SEAT, "80.034 in", r"more than 2% off .*another unit"),
        (SEAT, "80,034 mm", "comma"),
        (SEAT, "80.034", "has no unit"),
        (SEAT, "wide", "is not a number with a unit"),
        ("rings.sleve.bore", "80 mm", "rings.sleve.bore"),
        ("nut.torque", "600 J", "unit of energy"),
        (SEAT, float("nan"), "must be a finite number"),
    ],
)
def test_a_reading_outside_any_sense_is_refused(demo, path, reading, said):
    with pytest.raises(fw.InputError, match=said):
        demo.measured({path: reading})


def test_all_problems_are_told_at_once(demo):
    with pytest.raises(fw.InputError) as told:
        demo.measured({SEAT: "1 mm", BORE: "79,9 mm", "nut.torque": "820 N m"})
    assert [path for path, _ in told.value.problems] == [SEAT, BORE]


def test_readings_of_a_file(demo, tmp_path):
    (tmp_path / "r.csv").write_text(f"path,reading\n{SEAT},80.034 mm\n\n{BORE},79.9985 mm\n")
    assert demo.measured(tmp_path / "r.csv")[BORE] == pytest.approx(0.0799985)
    book = openpyxl.Workbook()
    book.active.append(["path", "reading"])
    book.active.append([SEAT, "80.034 mm"])
    book.save(tmp_path / "r.xlsx")
    assert demo.measured(tmp_path / "r.xlsx")[SEAT] == pytest.approx(0.080034)
    for text, said in (
        ("path,value\nx,1\n", "has no column reading"),
        ("", "is empty"),
        (f"path,reading\n{SEAT},80.034 mm\n{SEAT},80.035 mm\n", "row 3: .* twice"),
        ("path,path,reading\na,b,c\n", "has the column path twice"),
    ):
        (tmp_path / "w.csv").write_text(text)
        with pytest.raises(fw.InputError, match=said):
            demo.measured(tmp_path / "w.csv")
    (tmp_path / "no.xlsx").write_text("no workbook")
    with pytest.raises(fw.InputError, match="cannot be read as a spreadsheet"):
        demo.measured(tmp_path / "no.xlsx")
    with pytest.raises(fw.InputError, match="cannot be read"):
        demo.measured(tmp_path / "nowhere.csv")


# -- many serial numbers ---------------------------------------------------------------------------


def csv_of(tmp_path, rows, head=f"serial,work_order,{SEAT} [mm],{BORE}"):
    path = tmp_path / "readings.csv"
    path.write_text("\n".join([head, *rows]) + "\n", encoding="utf-8")
    return path


def test_fifty_serial_numbers(demo, tmp_path):
    rows = [f"R-{n:03},W{n},{80.030 + 0.0002 * n:.4f},79.9985 mm" for n in range(50)]
    done: list[int] = []
    found = batch.run(
        demo, csv_of(tmp_path, rows), progress=lambda k, n: done.append(k) if n == 50 else None
    )
    assert done == list(range(1, 51))
    assert len(found) == 50
    assert not found.refused
    for n in (0, 17, 49):
        alone = demo.measured({SEAT: f"{80.030 + 0.0002 * n:.4f} mm", BORE: "79.9985 mm"})
        worst = alone.evaluate().worst
        row = found[f"R-{n:03}"]
        assert (row.worst.path, row.worst.reserve) == (worst.path, worst.reserve)
    table = str(found)
    assert table.count("\n") == 52
    assert "50 of 50" in table or " of 50 as measured keep every limit" in table
    assert [row["serial"] for row in found.to_dict()] == [f"R-{n:03}" for n in range(50)]


def test_a_bad_row_is_told_and_the_others_go_on(demo, tmp_path):
    rows = [
        "A,1,80.034,79.9985 mm",
        "B,1,3.151,79.9985 mm",
        "C,1,80.034,79.9985 in",
        ",1,80.034,79.9985 mm",
        "A,2,80.034,79.9985 mm",
        'D,1,"80,034",79.9985 mm',
        "E,1,,",
    ]
    found = batch.run(demo, csv_of(tmp_path, rows))
    assert [one.verdict for one in found] == ["ok", *["REFUSED"] * 5, "ok"]
    told = {one.row: one.problems for one in found.refused}
    assert told[3] == [(f"{SEAT} [mm]", told[3][0][1])]
    assert "more than 2%" in told[3][0][1]
    assert told[4][0][0] == BORE
    assert told[5] == [("serial", "must be given")]
    assert told[6] == [("serial", '"A" stands there twice')]
    assert "comma" in told[7][0][1]
    assert "4 of" not in str(found.table()).splitlines()[0]
    assert "2 of 7 as measured keep every limit, 5 refused" in str(found)


def test_a_batch_that_is_stopped_by_hand_keeps_what_is_done(demo, tmp_path):
    rows = [f"R-{n},,80.034,79.9985 mm" for n in range(5)]

    def stop(done, of):
        if done == 2:
            raise KeyboardInterrupt

    found = batch.run(demo, csv_of(tmp_path, rows), progress=stop)
    assert [one.serial for one in found] == ["R-0", "R-1"]
    assert "stopped by hand after 2 of 5 rows" in str(found)
    assert not found.passed


@pytest.mark.parametrize(
    ("head", "said"),
    [
        (f"number,{SEAT} [mm]", "has no column serial"),
        ("serial,seats.mian.diameter [mm]", r"column seats\.mian\.diameter \[mm\]"),
        ("serial,note", "has no column with readings"),
        (f"serial,{SEAT},{SEAT}", "twice"),
    ],
)
def test_a_wrong_head_is_wrong_for_all(demo, tmp_path, head, said):
    with pytest.raises(fw.InputError, match=said):
        batch.run(demo, csv_of(tmp_path, ["A,80.034 mm"], head))


def test_serial_numbers_with_slashes_and_markup(demo, tmp_path):
    serials = ["12/34", "12-34", "<script>alert(1)</script>", "..", "CON"]
    path = csv_of(tmp_path, [f"{s},,80.034,79.9985 mm" for s in serials])
    found = batch.run(demo, path, out=tmp_path / "sheets")
    names = [one.sheet.name for one in found]
    assert names == [
        "serial-12-34.html", "serial-12-34-2.html", "serial-script-alert-1-script.html",
        "row-5.html", "serial-CON.html",
    ]  # fmt: skip
    assert sorted(p.name for p in (tmp_path / "sheets").iterdir()) == sorted(names)
    page = found[serials[2]].sheet.read_text(encoding="utf-8")
    assert "<script" not in page
    assert "&lt;script&gt;alert(1)" in page
    assert "Serial no. 12/34" in page_of(found["12/34"].sheet)


def test_what_fits_no_head_of_a_page_is_refused(demo, tmp_path):
    found = batch.run(
        demo, csv_of(tmp_path, [f"{'9' * 80},,80.034,79.9985 mm"]), out=tmp_path / "sheets"
    )
    assert "at most 60 are shown" in found.refused[0].problems[0][1]
    with pytest.raises(fw.InputError, match="serial: holds a character that cannot be shown"):
        demo.sheet(tmp_path / "x.html", serial="a\nb")


def test_the_loop_of_the_docs_does_the_same(demo, tmp_path):
    """Ten lines by hand, for those who want their own loop."""
    import csv

    path = csv_of(tmp_path, ["A,1,80.034 mm,79.9985 mm"], f"serial,work_order,{SEAT},{BORE}")
    with open(path, newline="") as file:
        for row in csv.DictReader(file):
            serial, order = row.pop("serial"), row.pop("work_order")
            measured = demo.measured(row)
            sheet = measured.sheet(tmp_path / f"{serial}.html", serial=serial, work_order=order)
    assert "Work order 1" in page_of(sheet)
