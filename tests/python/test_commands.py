"""Each command in an empty folder: what it prints, writes and ends with."""

from __future__ import annotations

import csv
import io
import json
import subprocess
import sys
import tomllib
from importlib import resources
from pathlib import Path

import fitwright as fw
import jsonschema
import pytest
from fitwright.commands import main
from fitwright.commands.parser import parser
from fitwright.commands.start import QUESTIONS, new_text
from fitwright.face.job import Job


@pytest.fixture
def here(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    return tmp_path


def run(capsys, *arguments):
    code = main([str(a) for a in arguments])
    told = capsys.readouterr()
    return code, told.out, told.err


def as_json(capsys, *arguments):
    code, out, _ = run(capsys, *arguments, "--json")
    return code, json.loads(out)


def as_csv(capsys, *arguments):
    _, out, _ = run(capsys, *arguments, "--csv")
    return list(csv.DictReader(io.StringIO(out)))


@pytest.mark.parametrize("units", ["metric", "inch"])
def test_a_new_job_runs_as_it_was_written(capsys, here, units):
    code, out, _ = run(capsys, "new", "mine.toml", "--units", units, "--answers")
    assert code == 0
    assert "fitwright check mine.toml" in out
    text = (here / "mine.toml").read_text(encoding="utf-8")
    assert text.count("#") > 20
    job = Job.load("mine.toml")
    assert job.units == units
    assert job.evaluate().passed, job.evaluate()
    schema = json.loads((resources.files("fitwright") / "job.schema.json").read_text("utf-8"))
    jsonschema.validate(tomllib.loads(text), schema)
    code, out, err = run(capsys, "new", "mine.toml", "--answers")
    assert (code, out) == (2, "")
    assert "mine.toml: is there already" in err


def test_a_new_job_takes_answers(capsys, here):
    told = ["title=Fan 7", "thread=M60x2 LH", "seat=60.05 mm", "ring_name=hub"]
    assert run(capsys, "new", "fan.toml", "--answers", *told)[0] == 0
    job = Job.load("fan.toml")
    assert job.title == "Fan 7"
    assert job.rings == ["hub"]
    assert job["seats.main.diameter"] == pytest.approx(0.06005)
    assert job.file.table("nut")["hand"] == "left"
    code, _, err = run(capsys, "new", "x.toml", "--answers", "colour=red", "seat")
    assert code == 2
    assert '"colour=red" must be KEY=VALUE' in err
    assert '"seat" must be' in err
    code, _, err = run(capsys, "new", "x.toml", "--answers", "seat=50 mm", "thread=M99")
    assert code == 2
    assert 'nut.thread: "M99" is not read as a thread' in err
    assert not (here / "x.toml").exists()


def test_a_new_job_asks(monkeypatch, capsys, here):
    answers = ["Pump 3", *[""] * (len(QUESTIONS) - 1)]
    monkeypatch.setattr(sys, "stdin", io.StringIO("\n".join(answers) + "\n"))
    code, _, asked = run(capsys, "new", "pump.toml", "--ask")
    assert code == 0
    assert asked.count("]:") == len(QUESTIONS)
    assert Job.load("pump.toml").title == "Pump 3"


def test_what_is_typed_stays_text():
    title = 'a" # [shaft] \\ bore = 1'
    assert Job.loads(new_text({"title": title}, "metric")).title == title


def test_check_ends_with_1_when_a_limit_is_not_met(capsys, here, demo_text):
    Path("ok.toml").write_text(demo_text, encoding="utf-8")
    assert run(capsys, "check", "ok.toml", "--no-files", "--no-study")[0] == 0
    weak = demo_text.replace('torque = { value = "', 'torque = { value = "1', 1)
    Path("strong.toml").write_text(weak, encoding="utf-8")
    code, out, _ = run(capsys, "check", "strong.toml", "--no-files", "--no-study")
    assert code == 1
    assert "NOT MET" in out
    assert not (here / "build").exists()


def test_check_as_json_and_csv(capsys, here, demo):
    code, whole = as_json(capsys, "check", "demo", "--no-files", "--no-study")
    assert code == 0
    assert whole["hash"] == demo.hash
    assert whole["passed"] is True
    asked = [f for f in demo.evaluate() if f.asked]
    assert len(whole["records"]) == len(asked)
    rows = as_csv(capsys, "check", "demo", "--no-files", "--no-study")
    assert [row["path"] for row in rows] == [f.path for f in asked]
    assert float(rows[0]["value"]) == float(asked[0].value)


def test_check_in_inches_writes_inch_pictures(capsys, here):
    code, out, _ = run(capsys, "check", "demo", "--units", "inch", "--samples", "2000")
    assert code == 0
    assert "ksi" in out
    svg = (here / "build/check/blower.svg").read_text(encoding="utf-8")
    other = demo_picture("metric")
    assert svg != other
    assert svg == demo_picture("inch")


def demo_picture(units):
    from fitwright.charts.picture import svg_text

    return svg_text(fw.demo("blower").draw(units=units))


def test_sheet_writes_what_is_asked(capsys, here):
    code, out, _ = run(
        capsys, "sheet", "demo", "--out", "b.pdf", "--documents", "bench", "--serial", "R-1",
        "--paper", "letter",
    )  # fmt: skip
    assert code == 0
    assert "Written: b.pdf" in out
    assert Path("b.pdf").read_bytes().startswith(b"%PDF")
    Path("r.csv").write_text("path,reading\nseats.main.diameter,80.034 mm\n")
    code, out, _ = run(capsys, "sheet", "demo", "--readings", "r.csv", "--documents", "bench")
    assert code == 0
    assert "as measured" in Path("blower.html").read_text(encoding="utf-8")
    code, _, err = run(capsys, "sheet", "demo", "--out", "b.doc")
    assert code == 2
    assert "must end in .html or .pdf" in err


def test_draw(capsys, here):
    for kind, start in (("svg", b"<?xml"), ("pdf", b"%PDF"), ("png", b"\x89PNG")):
        assert run(capsys, "draw", "demo", "--out", f"x.{kind}", "--units", "inch")[0] == 0
        assert Path(f"x.{kind}").read_bytes().startswith(start)
    assert run(capsys, "draw", "demo", "--out", "x.gif")[0] == 2


def test_study(capsys, here):
    code, whole = as_json(capsys, "study", "demo", "--samples", "2000", "--level", "quick")
    again = fw.demo("blower").study(2000, seed=1, level="quick", progress=False)
    assert code == 0
    assert whole["pass_rate"] == again.pass_rate
    code, out, _ = run(
        capsys, "study", "demo", "--samples", "2000", "--level", "quick", "--plot", "h.svg"
    )
    assert "Most at risk" in out
    assert Path("h.svg").stat().st_size > 1000


def test_solve(capsys, here, demo):
    question = ["--vary", "nut.torque", "--output", "nut.preload", "--target", "70kN"]
    code, whole = as_json(capsys, "solve", "demo", *question)
    answer = demo.solve(vary="nut.torque", output="nut.preload", target="70 kN")
    assert whole["records"][0]["value"] == float(answer.value)
    assert code == 0
    code, out, _ = run(capsys, "solve", "demo", *question, "--units", "inch")
    assert answer.value.shown("inch") in out
    code, _, err = run(capsys, "solve", "demo", *question[:-1], "70 Nm")
    assert code == 2
    assert "target" in err


def test_sweep(capsys, here):
    asked = ["sweep", "demo", "--vary", "rings.sleeve.bore", "--range", "79.98mm", "80.01mm", "4"]
    rows = as_csv(capsys, *asked, "--outputs", "rings.sleeve.pressure")
    assert len(rows) == 4
    pressures = [float(row["rings.sleeve.pressure (cold_build)"]) for row in rows]
    assert pressures == sorted(pressures, reverse=True)
    assert run(capsys, *asked, "--plot", "s.svg")[0] == 0
    assert run(capsys, *asked[:-1], "one")[0] == 2


def test_explain(capsys, here):
    code, out, _ = run(capsys, "explain", "shoulder.clamp_low")
    assert code == 0
    assert "least clamp, whatever friction does" in out
    assert "as built, cold (cold_build)" in out
    assert "What moves it most" in out
    _, out, _ = run(capsys, "explain", "rings.sleeve.bore", "--units", "inch")
    assert " in: bore of the ring" in out
    code, _, err = run(capsys, "explain", "rings.sleeve.grip")
    assert code == 2
    assert "rings.sleeve.grip" in err


def test_schema_units_materials(capsys, here):
    code, out, _ = run(capsys, "schema")
    assert code == 0
    jsonschema.Draft202012Validator.check_schema(json.loads(out))
    rows = as_csv(capsys, "units")
    assert {row["quantity"] for row in rows} >= {"size", "torque", "temperature"}
    _, whole = as_json(capsys, "materials")
    assert all(record["sources"] for record in whole["records"])


def test_batch(capsys, here):
    Path("r.csv").write_text(
        "serial,seats.main.diameter [mm]\nA,80.034\nB,80.037\nC,8.037\n", encoding="utf-8"
    )
    code, out, _ = run(capsys, "batch", "r.csv", "demo", "--out", "sheets")
    assert code == 1  # a row was refused
    assert "REFUSED" in out
    assert "2 of 3 as measured keep every limit, 1 refused" in out
    assert sorted(p.name for p in Path("sheets").iterdir()) == ["serial-A.html", "serial-B.html"]
    rows = as_csv(capsys, "batch", "r.csv", "demo", "--no-files")
    assert [row["verdict"] for row in rows] == ["ok", "ok", "REFUSED"]


@pytest.mark.parametrize("shell", ["bash", "zsh"])
def test_completion_names_every_command(capsys, here, shell):
    code, out, _ = run(capsys, "completion", shell)
    assert code == 0
    for command in ("check", "sheet", "batch", "explain", "new"):
        assert command in out


def test_every_command_takes_json_and_csv_and_tells_the_exit_codes(capsys):
    whole = parser()
    assert "exit codes: 0 done" in whole.format_help()
    commands = next(a for a in whole._actions if a.dest == "command").choices
    for name, sub in commands.items():
        assert {"--json", "--csv"} <= set(sub._option_string_actions), name


def test_a_pipe_that_closes_is_no_error(here):
    line = f"{sys.executable} -m fitwright units | head -1"
    done = subprocess.run(["bash", "-c", line], capture_output=True, text=True, check=False)
    assert "Traceback" not in done.stderr
    assert done.stdout.startswith("units")


def test_wrong_words_end_with_2(here):
    for words in (["fly"], [], ["check"], ["check", "nothing.toml"], ["demo", "--units", "ell"]):
        done = subprocess.run(
            [sys.executable, "-m", "fitwright", *words], capture_output=True, text=True, check=False
        )
        assert done.returncode == 2, words
        assert "Traceback" not in done.stderr
