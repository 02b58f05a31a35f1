"""The calculation, shown: every printed line worked out again; and what cannot be shown."""

from __future__ import annotations

import html
import re
import sys
from html.parser import HTMLParser
from itertools import pairwise
from pathlib import Path

import fitwright as fw
import pytest
from fitwright import _core
from fitwright.commands.parser import main
from fitwright.models.results import MODELS
from printed_line import Parser, holds, result_of

ROOT = Path(__file__).resolve().parents[2]
#: Lines whose numbers give their result.
CALCULATED = ("formula", "property", "equation")


@pytest.fixture(scope="module")
def fit():
    return fw.rings.fit(
        shaft=fw.Shaft(bore="30 mm", seat="80.038 mm", roughness="1.6 um", material="4340"),
        ring=fw.Ring(
            bore="80 mm", outside="105 mm", length="30 mm", roughness="2.5 um", material="52100"
        ),
        speed="9500 rpm",
        shaft_temperature="70 degC",
        ring_temperature="78 degC",
        axial_force="30 kN",
    )


@pytest.fixture(scope="module")
def clamp(demo):
    return demo.explain("shoulder.clamp_low", state="full_load")


def test_the_answer_is_the_result(fit):
    told = fit.explain("pressure")
    assert told.answer.value == fit.pressure
    assert told.answer.unit == "MPa"
    assert told.answer.symbol == "pressure"
    assert told["free_growth_of_the_ring"].numbers.endswith("(78 degC - 20 degC)")
    assert "because interference is left out" in str(told["interference_before_joining"])
    assert dict(told.about)["source"].startswith("DIN 7190-1")


def test_inputs_say_where_they_came_from(fit, demo):
    told = fit.explain("pressure")
    assert told["ring.bore"].origin == "told"
    assert told["ring.smoothing"].origin == "standard value"
    assert "52100" in told["modulus_of_52100"].meaning
    assert told["modulus_of_52100"].origin
    changed = demo.replace({"rings.sleeve.bore": "79.99 mm"})
    told = changed.explain("rings.sleeve.pressure", "full_load")
    assert told["rings.sleeve.bore"].origin == "changed since the job file was read"
    assert told["rings.sleeve.outside"].origin == "told in the job file"
    assert told["rings.sleeve.modulus_factor"].origin == "standard value"
    measured = demo.measured({"rings.sleeve.bore": "79.998 mm"})
    told = measured.explain("rings.sleeve.pressure", "full_load")
    assert told["rings.sleeve.bore"].origin == "measured"


def test_the_chain_ends_at_the_job_file(demo, clamp):
    assert clamp.answer.value == demo.evaluate("quick")["full_load", "shoulder.clamp_low"]
    paths = {row[0] for row in demo.input_rows}
    assert {line.name for line in clamp.inputs} <= paths
    assert {line.kind for line in clamp.lines} <= {"input", "root", "searched", *CALCULATED}
    for line in clamp.inputs:
        assert line.value == demo[line.name]


def test_every_name_in_a_formula_is_a_line_before_or_the_equation_after(clamp):
    known = {line.symbol for line in clamp.lines}
    words = re.compile(r"[A-Za-z_][\w.]*(?:\[[\w,.]*\])?(?:_\d+)?")
    functions = {"sqrt", "cbrt", "abs", "exp", "ln", "sin", "cos", "atan", "max", "min", "pi"}
    units = set(re.split(r"[/*^\d. ]+", " ".join(line.unit for line in clamp.lines))) | {
        "e",
        "degC",
    }
    for line in clamp.lines:
        if line.kind in CALCULATED:
            for word in words.findall(line.formula):
                assert word in known | functions | units | {"K", "E", "B", "D"}, (
                    f"{word} in {line.symbol} = {line.formula}"
                )


def lines_differ(rows, seen):
    """The lines that were not looked at yet."""
    for row in rows:
        key = (row["numbers"], row["result"], row["unit"])
        if row["kind"] in CALCULATED and key not in seen:
            seen.add(key)
            yield row


def work_out(rows, seen, blunt):
    for row in lines_differ(rows, seen):
        good, width = holds(row["numbers"], row["result"], row["unit"])
        told = (
            f"{row['symbol']} = {row['formula']} = {row['numbers']} = {row['result']} {row['unit']}"
        )
        assert good, told
        if width > 1e-3:
            blunt.append(told)


@pytest.mark.parametrize("name", ["blower", "pump"])
def test_every_line_of_a_demo_follows_from_its_numbers(name):
    """By mpmath, from the printed digits alone, over every output of the quick level."""
    core = fw.demo(name).core.at("quick")
    calculation, seen, blunt = _core.JobCalculation(core), set(), []
    for number in range(len(core.outputs())):
        work_out(calculation.lines([number]), seen, blunt)
    assert len(seen) > 3000
    # Differences of like numbers print too few digits to say much.
    assert len(blunt) < 0.05 * len(seen)


def archive():
    from test_reference import CASES

    first = {}
    for case in CASES:
        first.setdefault(case.model, case)
    return [case for name, case in first.items() if name in MODELS]


@pytest.mark.parametrize("case", archive(), ids=lambda case: case.model)
def test_every_line_of_an_archived_case_follows_from_its_numbers(case):
    """The first case of each model: all of its outputs, or every fourth where there are many."""
    from test_reference import verification

    result = verification.result_of(case)
    outputs = list(result._outputs)
    seen, blunt = set(), []
    for output in outputs[:: 1 if len(outputs) < 24 else 4]:
        told = result.explain(output)
        assert told.answer.value == result._outputs[output]
        rows = [vars(line) for line in told.lines]
        work_out(rows, seen, blunt)
    assert len(blunt) <= max(3, 0.2 * len(seen))


def test_a_wrong_number_would_be_found():
    assert holds("0.8 * (1.6 um + 2.5 um) * 1", "3.28", "um")[0]
    assert not holds("0.8 * (1.6 um + 2.5 um) * 1", "3.2801", "um")[0]
    assert not holds("0.8 * (1.6 um + 2.5 um) * 1", "3.28", "mm")[0]
    assert holds("(9500 rpm)^2 / 2", "494851.0", "1/s^2")[0]
    low, high = Parser("max(0, -3 kN) + 2 N").whole()
    assert low <= 2 <= high
    low, high = result_of("2.5", "MPa")
    assert list(map(float, result_of("-2.5", "N/mm^2"))) == [-float(high), -float(low)]


def test_a_root_shows_its_equation_and_what_is_left_of_it(demo):
    told = demo.explain("nut.force", "full_load")
    roots = [line for line in told.lines if line.kind == "root"]
    assert roots
    assert "which makes equation_of_tension_of_the_shaft" in str(roots[0])
    equation = told[roots[0].formula.removesuffix(" = 0")]
    assert equation.kind == "equation"
    assert abs(equation.value) < 1e-12  # of a length of micrometres, in metres


def test_what_is_stepped_in_time_says_so_and_names_its_inputs(demo):
    state, path = next(
        (s, p)
        for number, (s, p, *_) in enumerate(demo.core.at("heating").outputs())
        if demo.core.at("heating").level_of(number) == "history"
    )
    told = demo.explain(path, state)
    assert told.answer.kind == "stepped"
    assert "level history: followed in steps" in dict(told.about)["how it is found"]
    assert {line.name for line in told.inputs} <= {row[0] for row in demo.input_rows}
    assert told.answer.value == demo.evaluate("history")[state, path]


def test_an_unknown_path_offers_the_nearest(demo, fit):
    with pytest.raises(fw.InputError, match=r"shoulder\.clamp_lo.*shoulder\.clamp_low"):
        demo.explain("shoulder.clamp_lo", "full_load")
    with pytest.raises(
        fw.InputError, match='"fullload" is not a state of this job; nearest: full_load'
    ):
        demo.explain("shoulder.clamp_low", "fullload")
    with pytest.raises(
        fw.InputError, match=r"presure: is not an output of rings.fit; nearest: pressure"
    ):
        fit.explain("presure")
    with pytest.raises(fw.InputError, match="is no line of this calculation; nearest: "):
        fit.explain("pressure")["flexibility"]
    with pytest.raises(fw.InputError, match="output"):
        fit.explain(3)


def test_arrays_are_explained_at_one_point():
    fits = fw.rings.thick_ring(bore=["20 mm", "30 mm"], outside="100 mm", material="4340")
    with pytest.raises(
        fw.InputError, match="hoop_stress: is explained at one point, not for arrays"
    ):
        fits.explain("hoop_stress")


class Wellformed(HTMLParser):
    def __init__(self):
        super().__init__()
        self.open, self.text = [], []

    def handle_starttag(self, tag, attributes):
        if tag not in ("meta", "br"):
            self.open.append(tag)

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        self.text.append(data)


NASTY = "<script>alert(1)</script> & \\input{x} $%_^"


def test_html_is_escaped_and_says_what_the_text_says(demo, clamp):
    text = demo.file.text.replace("Aeration blower, thrust end", NASTY.replace("\\", "\\\\"))
    page = fw.Job.loads(text).explain("shoulder.clamp_low", "full_load").html()
    assert "<script" not in page
    assert html.escape(NASTY) in page
    for document in (page, clamp.html(), clamp._repr_html_()):
        reader = Wellformed()
        reader.feed(document)
        assert not reader.open
    words = "".join(reader.text)
    for line in clamp.lines:
        assert line.symbol in words
        assert line.shown in words


def test_latex_is_escaped_and_balanced(demo, clamp):
    text = demo.file.text.replace("Aeration blower, thrust end", NASTY.replace("\\", "\\\\"))
    nasty = fw.Job.loads(text).explain("shoulder.clamp_low", "full_load").latex()
    assert "\\input{x}" not in nasty
    assert "\\textbackslash{}input\\{x\\}" in nasty
    for document in (nasty, clamp.latex()):
        depth = 0
        for found in re.finditer(r"\\\\|\\[{}]|[{}]", document):
            depth += {"{": 1, "}": -1}.get(found[0], 0)
            assert depth >= 0
        assert depth == 0
        assert document.count("\\begin{align*}") == document.count("\\end{align*}")
        assert document.count("\\left(") == document.count("\\right)")


@pytest.fixture(scope="module")
def note(demo):
    return demo.calculation_note()


def test_the_note_of_a_job_holds_every_finding_and_each_line_once(demo, note):
    findings = demo.evaluate("quick")
    told = {line.symbol for line in note.lines}
    for finding in findings.all:
        assert f"{finding.path}[{finding.state}]" in told
    symbols = [line.symbol for line in note.lines]
    assert len(symbols) == len(set(symbols))
    assert dict(note.about)["hash of the job"] == demo.hash
    assert fw.__version__ in dict(note.about)["version"]
    assert len(note.tables[0].rows) == len(findings.all)
    work_out([vars(line) for line in note.lines], set(), [])


def test_the_note_tells_the_limits_of_validity_the_nearest_first(note):
    limits = note.tables[2]
    assert limits.title.startswith("Limits of validity")
    assert ["shaft.bore", "must be smaller than the seat"] in [r[:2] for r in limits.rows]
    room = [float(row[3].removeprefix("near: ").rstrip("%")) for row in limits.rows]
    assert all(a <= b + 0.5 for a, b in pairwise(room))


def test_the_note_as_a_document(note):
    page = note.html()
    reader = Wellformed()
    reader.feed(page)
    assert not reader.open
    links = set(re.findall(r"href='#(part\d+)'", page))
    assert links == set(re.findall(r"id='(part\d+)'", page))
    paper = note.latex()
    assert "\\tableofcontents" in paper
    assert paper.count("\\begin{longtable}") == paper.count("\\end{longtable}") == 3
    assert "Findings, the least reserve first" in note.text()


def test_saved_by_the_name_of_the_file(clamp, tmp_path):
    for name, begins in (
        ("c.html", "<!DOCTYPE html>"),
        ("c.tex", "\\documentclass"),
        ("c.txt", "shou"),
    ):
        clamp.save(tmp_path / name)
        assert (tmp_path / name).read_text(encoding="utf-8").startswith(begins)
    with pytest.raises(fw.InputError, match=r'"c.doc" must end in .html, .tex or .txt'):
        clamp.save(tmp_path / "c.doc")


def test_records_are_plain(clamp):
    record = clamp.to_dict()[-1]
    assert record["symbol"] == "shoulder.clamp_low[full_load]"
    assert record["unit"] == "kN"
    assert clamp.to_csv().count("\n") >= len(clamp)


@pytest.mark.parametrize("turned", [False, True])
def test_from_a_terminal(capsys, tmp_path, turned):
    words = ["demo", "rings.sleeve.pressure"]
    asked = ["explain", *(words if turned else words[::-1]), "--state", "full_load"]
    assert main(asked) == 0
    out = capsys.readouterr().out
    assert "rings.sleeve.pressure[full_load] = " in out
    assert "What it starts from" in out
    assert main([*asked, "--save", str(tmp_path / "p.html")]) == 0
    assert (tmp_path / "p.html").exists()
    assert main([*asked[:-1], "fullload"]) == 2


def test_the_page_runs(tmp_path, monkeypatch):
    page = (ROOT / "docs" / "explain.md").read_text(encoding="utf-8")
    blocks = re.findall(r"```python\n(.*?)```", page, re.DOTALL)
    assert blocks
    monkeypatch.chdir(tmp_path)
    space = {}
    for block in blocks:
        exec(compile(block, "docs/explain.md", "exec"), space)
    shown = re.findall(r"```text\n(.*?)```", page, re.DOTALL)
    made = space["told"].text()
    for text in shown:
        assert text.strip() in made, "the page shows what is no longer printed"
    assert sys.modules["fitwright"] is fw
