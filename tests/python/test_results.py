"""How results show themselves: one formatter in terminal and notebook, aligned, never NaN."""

from __future__ import annotations

import re
from html.parser import HTMLParser

import fitwright as fw
import pytest
from fitwright.fields.tables import Table


@pytest.fixture(scope="module")
def results(demo, study):
    fit = fw.rings.fit(
        shaft=fw.Shaft(bore="30 mm", seat="80 mm", material="4340"),
        ring=fw.Ring(bore="80 mm", outside="105 mm", length="30 mm", material="52100"),
        interference=[-1e-5, 0.0, 38e-6],
        speed="11000 rpm",
    )
    return {
        "fit": fit,
        "cold": fit.cold,
        "findings": demo.evaluate(),
        "study": study,
        "sweep": demo.sweep({"nut.torque": ("400 N m", "900 N m", 100)}),
    }


KINDS = ["fit", "cold", "findings", "study", "sweep"]


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("units", ["metric", "inch"])
def test_all_go_through_one_formatter(results, kind, units):
    result = results[kind]
    table = result.table(units=units)
    assert isinstance(table, Table)
    assert len({len(table.head), *(len(row) for row in table.rows)}) == 1
    assert all(isinstance(cell, str) for row in table.rows for cell in row)
    if kind == "findings":  # those show their digest
        assert repr(result).startswith(str(result.digest()))
        assert "taken as rigid" in repr(result)  # the demo tells no shoulder
        return
    assert repr(result) == str(result.table())
    assert result._repr_html_() == result.table()._repr_html_()


@pytest.mark.parametrize("kind", KINDS)
def test_no_text_says_nan(results, kind):
    result = results[kind]
    for units in ("metric", "inch"):
        words = re.findall(r"[A-Za-z]+", str(result.table(units=units)))
        assert not {word.lower() for word in words} & {"nan", "inf"}


@pytest.mark.parametrize("kind", [*KINDS, "materials", "inputs", "quantiles", "sensitivity"])
def test_columns_are_aligned(results, demo, study, kind):
    tables = {
        "materials": fw.materials.library,
        "inputs": demo.inputs,
        "quantiles": study.quantiles,
        "sensitivity": study.sensitivity,
    }
    table = tables[kind]() if kind in tables else results[kind].table()
    lines = str(table).splitlines()
    for line in table.title.splitlines():
        assert lines.pop(0) == line
    rule = lines[1]
    assert set(rule) <= {"-", " "}
    starts = [m.start() for m in re.finditer(r"(?<![-])-", rule)]
    assert len(starts) == len(table.head)
    assert len(lines) == len(table.rows) + 2
    for line, cells in zip([lines[0], *lines[2:]], [table.head, *table.rows], strict=True):
        assert line == line.rstrip()
        for start, end, cell in zip(starts, [*starts[1:], None], cells, strict=True):
            assert line[start:end].strip() == cell.strip()
            assert start == 0 or line[start - 2 : start].strip() == ""


class Cells(HTMLParser):
    """The cells of a table; every tag must be closed."""

    def __init__(self):
        super().__init__()
        self.open, self.cells = [], []

    def handle_starttag(self, tag, attributes):
        if tag == "br":  # has no end
            return
        self.open.append(tag)
        if tag in ("td", "th"):
            self.cells.append("")

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        if self.open and self.open[-1] in ("td", "th"):
            self.cells[-1] += data


@pytest.mark.parametrize("kind", KINDS)
def test_terminal_and_notebook_say_the_same(results, kind):
    table = results[kind].table()
    parser = Cells()
    parser.feed(table._repr_html_())
    assert parser.open == []
    assert parser.cells == [cell for row in [table.head, *table.rows] for cell in row]


def test_a_title_from_a_job_file_is_text_not_markup():
    table = Table(["a"], [["<b>&1</b>"]], title="<script>alert(1)</script>")
    html = table._repr_html_()
    assert "<script>" not in html
    assert "<b>" not in html
    parser = Cells()
    parser.feed(html)
    assert parser.cells == ["a", "<b>&1</b>"]


def test_what_needs_attention_is_marked(demo):
    loose = demo.replace({"rings.sleeve.bore": "80.02 mm"}).evaluate()
    assert "#fbe0dd" in loose._repr_html_()
    assert "NOT MET" in repr(loose)
    assert loose.worst.mark == "bad"
    assert "#fbe0dd" not in demo.evaluate()._repr_html_()


def test_solutions_and_jobs_show_themselves(demo):
    assert "Aeration blower" in repr(demo)
    found = demo.solve(vary="nut.torque", output="nut.preload", target="50 kN")
    assert re.fullmatch(r"nut\.torque = \d+ N m", repr(found))


def test_an_empty_table():
    assert str(Table(["a", "b"], [])) == "a  b\n-  -"
