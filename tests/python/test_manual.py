"""The manual: its code runs, made pages are made anew, it builds without a warning or a network."""

from __future__ import annotations

import doctest
import importlib
import importlib.util
import inspect
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree

import pytest

ROOT = Path(__file__).resolve().parents[2]
DOCS = ROOT / "docs"
BLOCK = re.compile(r"^```(python|toml|text)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
#: Files that a reader of a page has before its code runs: how the block begins, the file's name.
FILES = {
    "tutorial": {"# mill.toml\n": "mill.toml"},
    "how-to": {
        'title = "Pump rotor, drive end"': "pump.toml",
        "serial,work_order,seats.main.diameter [mm]": "readings.csv",
        "serial,work_order,seats.main.diameter,": "more.csv",
    },
}


#: Functions of rooms that are written by hand; models have theirs in test_house.py.
ROOMS = (
    "face.single", "heat", "threads", "bearings", "joints", "stack", "bodies.stack", "tooling",
    "sizes.standards", "materials", "face.batch",
)  # fmt: skip


def functions_of_rooms():
    for room in ROOMS:
        module = importlib.import_module(f"fitwright.{room}")
        for name in module.__all__:
            thing = getattr(module, name)
            if inspect.isfunction(thing) and not thing.__module__.endswith(".formulas"):
                yield pytest.param(thing, id=f"{room}.{name}")


@pytest.mark.parametrize("function", list(functions_of_rooms()))
def test_a_docstring_names_every_argument_and_its_example_runs(function):
    text = inspect.getdoc(function)
    for name in inspect.signature(function).parameters:
        assert re.search(rf"\b{name}\b", text), name
    examples = doctest.DocTestParser().get_examples(text)
    assert examples
    if "readings.csv" in text:
        return  # the same call, with its file, is in how-to.md
    space = {}
    for example in examples:
        exec(example.source, space)
    assert space["answer"] is not None


#: What rooms ask of a job among themselves, and the panel, whose words are those of its notebook.
INNER = {"check_scatter", "notes", "tied", "panel"}


def questions_of_a_job():
    import fitwright as fw

    for name in sorted(set(dir(fw.Job)) - INNER):
        held = inspect.getattr_static(fw.Job, name)
        held = getattr(held, "__func__", held)
        if not name.startswith("_") and inspect.isfunction(held):
            yield pytest.param(held, id=name)


@pytest.mark.parametrize("question", list(questions_of_a_job()))
def test_a_question_of_a_job_names_its_arguments_and_has_an_example(
    question, tmp_path, monkeypatch
):
    monkeypatch.chdir(tmp_path)
    text = inspect.getdoc(question)
    for name in list(inspect.signature(question).parameters)[1:]:
        assert re.search(rf"\b{name}\b", text), name
    examples = doctest.DocTestParser().get_examples(text)
    assert examples
    space = {}
    if "import fitwright" in examples[0].source:  # others speak of a job that is there
        for example in examples:
            exec(example.source, space)
        assert space["answer"] is not None


def pages_with_code():
    return [p.stem for p in sorted(DOCS.glob("*.md")) if "\n```python\n" in p.read_text("utf-8")]


def module_of(name):
    spec = importlib.util.spec_from_file_location(name, DOCS / f"{name}.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.mark.parametrize("page", pages_with_code())
def test_the_code_of_a_page_runs(page, tmp_path, monkeypatch):
    """Block after block, in one session of a reader who begins with an empty folder."""
    monkeypatch.chdir(tmp_path)
    path = DOCS / f"{page}.md"
    text = path.read_text(encoding="utf-8")
    blocks = list(BLOCK.finditer(text))
    for opening, name in FILES.get(page, {}).items():
        [told] = [block[2] for block in blocks if block[2].startswith(opening)]
        (tmp_path / name).write_text(told, encoding="utf-8")
    space = {"__name__": "__main__"}
    for block in blocks:
        if block[1] == "python":
            line = text[: block.start(2)].count("\n")
            # Empty lines in front, so that a failure shows its line in the page.
            exec(compile("\n" * line + block[2], str(path), "exec"), space)


def test_the_tutorial_ends_with_its_sheet(tmp_path, monkeypatch):
    test_the_code_of_a_page_runs("tutorial", tmp_path, monkeypatch)
    assert "R-0101" in (tmp_path / "mill.html").read_text(encoding="utf-8")
    assert (tmp_path / "mill.svg").stat().st_size > 1000


def test_made_pages_are_made_anew():
    made = module_of("generate_reference")
    for name, page in made.PAGES.items():
        told = (DOCS / "reference" / name).read_text(encoding="utf-8")
        assert told == page(), f"run docs/generate_reference.py: {name}"
    tables = module_of("generate_tables")
    for name, page in (
        ("fields.md", tables.fields_page),
        ("materials-table.md", tables.materials_page),
    ):
        assert (DOCS / name).read_text(encoding="utf-8") == page(), (
            f"run docs/generate_tables.py: {name}"
        )


def test_the_example_of_the_cpp_page_compiles(tmp_path):
    text = (DOCS / "reference" / "cpp.md").read_text(encoding="utf-8")
    (tmp_path / "example.cpp").write_text(re.search(r"```cpp\n(.*?)```", text, re.DOTALL)[1])
    compiler = os.environ.get("CXX") or shutil.which("c++") or "g++"
    words = ["-std=c++20", "-fsyntax-only", "-Wall", "-Werror", f"-I{ROOT / 'cpp' / 'include'}"]
    done = subprocess.run(
        [*compiler.split(), *words, tmp_path / "example.cpp"],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr


@pytest.fixture(scope="module")
def built(tmp_path_factory):
    pytest.importorskip("sphinx", reason="tools/setup.sh docs")
    folder = tmp_path_factory.mktemp("manual")
    words = ["-m", "sphinx", "-q", "-W", "--keep-going", "-d", folder / "trees"]
    done = subprocess.run(
        [sys.executable, *words, DOCS, folder / "pages"],
        capture_output=True,
        text=True,
        check=False,
        timeout=300,
    )
    assert done.returncode == 0, done.stderr
    return folder / "pages"


def test_it_builds_without_a_warning_and_every_page_can_be_found(built):
    assert (built / "index.html").is_file()
    index = (built / "searchindex.js").read_text(encoding="utf-8")
    for page in DOCS.rglob("*.md"):
        name = str(page.relative_to(DOCS).with_suffix(""))
        assert name == "README" or f'"{name}"' in index, name


def test_nothing_is_fetched_by_a_reader(built):
    """Scripts, styles, pictures and fonts are files of the manual."""
    for page in [*built.rglob("*.html"), *built.rglob("*.css")]:
        text = page.read_text(encoding="utf-8")
        assert not re.search(r"<(script|img|iframe)\b[^>]*src=[\"']?(https?:)?//", text), page
        assert not re.search(r"<link\b[^>]*href=[\"']?(https?:)?//", text), page
        assert not re.search(r"(@import|url\()\s*[\"']?(https?:)?//", text), page


def test_equations_are_set(built):
    """As MathML in which each fraction, power and index has its two parts."""
    found = 0
    for page in built.glob("*.html"):
        for text in re.findall(r"<math .*?</math>", page.read_text(encoding="utf-8"), re.DOTALL):
            found += 1
            for element in ElementTree.fromstring(text).iter():
                name = element.tag.split("}")[1]
                parts = {"mfrac": 2, "msup": 2, "msub": 2, "msubsup": 3, "mroot": 2}.get(name)
                assert parts in (None, len(element)), text
                assert name != "merror", text
                assert "\\" not in (element.text or ""), text
    assert found > 150


def test_names_of_the_glossary_exist(demo):
    """Each in the column of our names is one of a job, of a model, or of the package."""
    import fitwright as fw
    from fitwright.job.tables import TABLES
    from fitwright.models.results import MODELS, flat_fields

    study = demo.study(400, level="quick", progress=False)
    known = {f["name"] for table in TABLES.values() for f in table["fields"]}
    for job in (demo, fw.demo("pump")):
        inputs = [path for path, *_ in job.input_rows]
        outputs = [path for _, path, *_ in job.at_level("heating").output_rows]
        known |= {part for path in inputs + outputs for part in path.split(".")}
    for model in MODELS:
        for side in ("inputs", "outputs"):
            known |= {field["name"].split(".")[-1] for field in flat_fields(model, side)}
    structure = {"NAME", "PART", "lags", "slices", "spread", "deviation", "gauge", "runout_angle"}
    levels = {"quick", "history", "heating"}
    text = (DOCS / "glossary.md").read_text(encoding="utf-8")
    for line in text.splitlines():
        if not line.startswith("| ") or line.startswith("| in the shop"):
            continue
        for name in re.findall(r"`([^`]*)`", line.split(" | ")[2]):
            first, *rest = name.removesuffix("()").split(".")
            if first in ("fw", "job", "study"):
                thing = {"fw": fw, "job": demo, "study": study}[first]
                for part in rest:
                    thing = getattr(thing, part)
            elif re.fullmatch(r"[a-zA-Z_.]+", name):
                missing = {first, *rest} - known - structure - levels
                assert not missing, (name, missing)
