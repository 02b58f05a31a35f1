"""The three documents on paper: pages, heads and feet, no number without a source in the job."""

from __future__ import annotations

import html
import io
import re
from importlib import resources

import fitwright as fw
import pypdf
import pytest
from fitwright.sheet.identity import PAPERS, css_text
from fitwright.sheet.pages import tree_of
from fitwright.sheet.write import DOCUMENTS, sheet_page
from test_sheet_and_pictures import JOBS, NASTY, edited, nasty

TOLD = {"serial": "R-0042", "work_order": "WO 771", "revision": "B", "date": "2026-11-30"}
#: An amount with its unit, as the bench sheet writes them.
AMOUNT = r"-?\d[\d.]* (?:mm|kN|N m|MPa|°C|K|min|s|µm)\b"
#: Width and height of a sheet of paper [pt].
SIZE = {"A4": (595.28, 841.89), "letter": (612.0, 792.0)}


def needs_typesetter():
    pytest.importorskip("typst", reason="sheets as PDF need typst, of the extra pdf")


def pages_of(job, tmp_path, **more):
    needs_typesetter()
    path = job.sheet(tmp_path / "sheet.pdf", **{**TOLD, **more})
    return pypdf.PdfReader(path).pages


def plain(text):
    return " ".join(text.split())


def texts(pages):
    return [plain(page.extract_text()) for page in pages]


@pytest.fixture(scope="module")
def whole(demo, tmp_path_factory):
    return texts(pages_of(demo, tmp_path_factory.mktemp("pdf")))


def of_kind(whole, name):
    return [text for text in whole if DOCUMENTS[name] in text[:200]]


def test_the_bench_sheet_of_the_demo_has_four_pages(whole):
    assert len(of_kind(whole, "bench")) <= 4
    assert len(of_kind(whole, "strip_down")) <= 2
    assert sum(len(of_kind(whole, name)) for name in DOCUMENTS) == len(whole)


@pytest.mark.parametrize("name", DOCUMENTS)
def test_every_page_says_whose_it_is(demo, whole, name):
    pages = of_kind(whole, name)
    for number, text in enumerate(pages, 1):
        assert f"page {number} of {len(pages)}" in text
        for told in (demo.title, "serial no. R-0042", "work order WO 771", "revision B"):
            assert told in text
        assert f"2026-11-30, revision B, job {demo.hash[:12]}, fitwright {fw.__version__}" in text


def test_sections_begin_on_sensible_pages(whole):
    bench = of_kind(whole, "bench")
    assert "Nut: LEFT-HAND thread M75 × 2" in bench[0]
    assert "1. Measure first" in bench[1]
    assert "3. Order of work" in bench[2]
    assert "Bend ONE tab" in bench[2]
    assert "4. Check, and what to read" in bench[3]


@pytest.mark.parametrize("name", DOCUMENTS)
def test_pdf_and_html_say_the_same(demo, whole, name):
    """Every word of the page is on the paper, in its order but for what stands side by side."""
    page, _ = sheet_page(demo, documents=name, **TOLD)
    body = re.sub(r"<(svg|style|head)\b.*?</\1>", " ", page, flags=re.DOTALL)
    words = re.findall(r"\w{4,}", html.unescape(re.sub(r"<[^>]*>", " ", body)))
    paper = set(re.findall(r"\w+", " ".join(of_kind(whole, name)).replace("- ", "")))
    broken = "".join(of_kind(whole, name)).replace(" ", "")
    missing = [word for word in words if word not in paper and word not in broken]
    assert not missing, missing[:10]


def test_no_number_on_the_bench_sheet_without_a_source(demo, whole):
    """Each amount is an input, an output, a scatter or a constant of the sheet, as it is shown."""
    from fitwright.job.findings import Value
    from fitwright.sheet.digits import BenchWriter

    found = demo.at_level("heating").evaluate()
    write = BenchWriter(demo, found, "metric")
    known = set()
    for path, *_ in demo.input_rows:
        known.add(write.shown(demo[path]))
    for state, path, *_ in found._rows:
        known.add(write.shown(found[state, path]))
    for ring in demo.rings:
        bore = demo[f"rings.{ring}.bore"]
        known.add(write.value(demo["seats.main.diameter"] - bore, "fine"))
        if found["cold_build", f"rings.{ring}.pressure"] > 0.0:
            window = float(found["cold_build", f"rings.{ring}.slip_on.window_low"])
            known.add(write.no_more(window))
            known.add(write.value(float(demo.ring(ring).soak().soak_time_high), "time"))
    for row in demo.file.rows("ring"):
        limit = fw.materials.material(row["material"]).heating_limit
        known.add(write.shown(Value(limit, "temperature")))
    rows = found._rows
    for output, *bounds in demo.at_level("heating").core.limits():
        known |= {write.value(x, rows[output][2]) for x in bounds if x == x}
    for path, spread in demo.spreads.items():
        known |= set(re.findall(AMOUNT, plain(write.spread(spread, demo[path].quantity))))
    known |= {"0.030 mm", "20 °C"}  # thinnest leaf and least slip clearance; sizes are told at
    told = {plain(text) for text in known}
    square = demo_square_values(demo)
    for text in of_kind(whole, "bench"):
        body = re.sub(r"page \d+ of \d+", "", text)
        for amount in re.findall(AMOUNT, body):
            assert amount in told | square, amount


def demo_square_values(demo):
    """Amounts of the best clocking and of the lock, which are models of their own."""
    from fitwright.sheet.digits import BenchWriter
    from fitwright.sheet.nut import square_values, tabs_values

    write = BenchWriter(demo, demo.at_level("heating").evaluate(), "metric")
    text = repr(square_values(write)) + repr(tabs_values(write))
    return set(re.findall(AMOUNT, plain(text.replace("\\xa0", " "))))


@pytest.mark.parametrize("paper", PAPERS)
def test_paper(demo, tmp_path, paper):
    for page in pages_of(demo, tmp_path, documents="bench", paper=paper):
        size = (float(page.mediabox.width), float(page.mediabox.height))
        assert size == pytest.approx(SIZE[paper], abs=0.1)
    page, _ = sheet_page(demo, documents="bench", paper=paper)
    assert f"@page {{ size: {paper};" in page


@pytest.mark.parametrize("edit", JOBS)
def test_every_shape_of_job_becomes_paper(edit, tmp_path):
    pages = pages_of(edited(edit), tmp_path, units="inch")
    assert len(pages) >= 5
    assert all("page" in text for text in texts(pages))


def test_what_a_user_wrote_is_text_on_paper(tmp_path):
    job = edited(nasty)
    pages = texts(pages_of(job, tmp_path, serial="#eval(1) $x$ *b*", note="[_a_] <b>"))
    assert "serial no. #eval(1) $x$ *b*" in pages[0]
    assert plain(NASTY).replace(" ", "") in pages[0].replace(" ", "")
    assert "[_a_] <b>" in pages[0]


def test_the_same_job_gives_the_same_file(demo, tmp_path):
    needs_typesetter()
    one = demo.sheet(tmp_path / "1.pdf", documents="strip_down", **TOLD).read_bytes()
    two = demo.sheet(tmp_path / "2.pdf", documents="strip_down", **TOLD).read_bytes()
    assert one == two


def test_plate_and_tools_have_a_page_at_the_bench_and_figures_in_the_annex(tmp_path):
    pump = fw.demo("pump")
    pages = texts(pages_of(pump, tmp_path, documents=["bench", "annex"]))
    bench, annex = of_kind(pages, "bench"), of_kind(pages, "annex")
    tooling = " ".join(bench[next(k for k, text in enumerate(bench) if "Tooling" in text) :])
    for name in pump.tools:
        title = next(r["title"] for r in pump._file.rows("tool") if r["name"] == name)
        assert title in tooling
    assert tooling.count("weakest element") == 5
    whole = " ".join(bench)
    assert "Plate over the outer ring: bearing plate" in whole
    for kind in {row["kind"] for row in pump._file.rows("tool")}:
        for caution in fw.tooling.cautions(kind):
            assert plain(caution).replace(" ", "")[:60] in tooling.replace(" ", ""), caution
    figures = " ".join(annex)
    result = pump.tool("holder")
    for field in result._fields():
        if field["name"].endswith("_factor") and field["name"] != "design_factor":
            assert field["name"].replace("_", " ") in figures
    assert "Tooling" not in figures
    assert len(bench) <= 7


def test_a_study_stands_in_the_annex(demo, tmp_path):
    study = demo.study(4000, seed=1, level="quick", progress=False)
    path = demo.sheet(tmp_path / "s.html", documents="annex", study=study)
    text = path.read_text(encoding="utf-8")
    assert "How often the limits hold" in text
    assert f"{study.at_risk[0].pass_rate:.3%}" in text
    assert "4000 samples at quick level" in text


def test_metals_name_their_sources(demo, tmp_path):
    text = demo.sheet(tmp_path / "s.html", documents="annex").read_text(encoding="utf-8")
    for source in fw.materials.material("52100").sources:
        assert html.escape(source.split("(")[0], quote=True).strip()[:30] in text.replace(
            "&#39;", "&#x27;"
        )


@pytest.mark.parametrize(
    ("told", "said"),
    [
        ({"documents": "bill"}, r'document: "bill" must be one of bench, strip_down, annex'),
        ({"paper": "A5"}, r'paper: "A5" must be one of A4, letter'),
        ({"serial": "x" * 61}, "serial: has 61 characters"),
        ({"work_order": 7}, "work_order: 7 must be text"),
        ({"serial": "a\nb"}, "serial: holds a character that cannot be shown"),
        ({"note": "x" * 20_000}, "note: has 20000 characters"),
    ],
)
def test_wrong_words_are_refused_before_anything_is_written(demo, tmp_path, told, said):
    with pytest.raises(fw.InputError, match=said):
        demo.sheet(tmp_path / "s.pdf", **told)
    with pytest.raises(fw.InputError, match=r"must end in \.html or \.pdf"):
        demo.sheet(tmp_path / "s.docx")
    assert not list(tmp_path.iterdir())


def test_pdf_without_its_typesetter_says_how_to_get_it(demo, tmp_path, monkeypatch):
    import sys

    monkeypatch.setitem(sys.modules, "typst", None)
    with pytest.raises(fw.InputError, match=r"pip install fitwright\[pdf\]"):
        demo.sheet(tmp_path / "s.pdf", documents="strip_down")
    assert not list(tmp_path.iterdir())


def test_a_style_sheet_holds_no_text_of_a_user():
    assert css_text('a";} </style>') == '"a\\000022\\00003b\\00007d \\00003c\\00002fstyle\\00003e"'


def test_rows_of_a_table_have_the_width_that_is_there(demo):
    """No table asks for more than the page has."""
    page, _ = sheet_page(demo, **TOLD)
    articles, pictures = tree_of(page)
    assert len(pictures) == 2
    assert all(picture.startswith("<svg xmlns=") for picture in pictures)

    def tables(node):
        for child in node["children"]:
            if isinstance(child, dict):
                yield from [child] if child["tag"] == "table" else tables(child)

    for article in articles:
        for table in tables(article):
            asked = sum(column.get("hand", 20.0) for column in table["columns"])
            assert asked <= 186.0, table["columns"]


def test_a_pdf_is_readable(demo, tmp_path):
    needs_typesetter()
    path = demo.sheet(tmp_path / "s.pdf", documents="strip_down", **TOLD)
    reader = pypdf.PdfReader(io.BytesIO(path.read_bytes()))
    assert reader.metadata is not None
    assert demo.title in str(reader.metadata.title)


def test_halves_keep_to_their_match_marks_and_no_ring_is_turned_for_less_than_a_dial_tells():
    def bench(text: str) -> str:
        return sheet_page(fw.Job.loads(text), documents=("bench",))[0]

    told = (resources.files("fitwright") / "demos/blower.toml").read_text(encoding="utf-8")
    page = bench(told)
    assert "gains less than a dial indicator tells" in page
    assert ">on by " not in page
    # Faces far out of parallel: they tilt what stands on them.
    worse = told.replace('wedge = "0.6 um"', 'wedge = "20 um"')
    assert worse != told
    page = bench(worse)
    assert page.count("match marks</td>") == 2
    assert ">on by " in page
