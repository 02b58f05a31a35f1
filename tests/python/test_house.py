"""Rules of the house: no formulas in Python, names, stubs, docstrings, light import, commands."""

from __future__ import annotations

import ast
import doctest
import importlib
import importlib.metadata
import keyword
import re
import subprocess
import sys
import tomllib
from importlib import resources
from pathlib import Path

import fitwright as fw
import pytest
from fitwright import _core
from fitwright.__main__ import main
from fitwright.models.results import MODELS

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = Path(str(resources.files("fitwright")))

# -- no formulas in Python ------------------------------------------------------------------------

SOURCES = {
    str(path.relative_to(folder)): path
    for folder in (PACKAGE, ROOT / "python" / "fitwright")
    for path in sorted(folder.rglob("*.py"))
    if path.parent.name not in ("charts", "pictures") and "picture" not in path.stem
}
#: Shapes, comparison and types: what Python may do with arrays.
SHAPES = {
    "all", "any", "array", "asarray", "ascontiguousarray", "atleast_1d", "broadcast_shapes",
    "broadcast_to",
    "concatenate", "float64", "generic", "int32", "isfinite", "isinf", "linspace", "max", "min",
    "ndarray",
    "ndim", "prod", "shape",
}  # fmt: skip
MATHS = {"math", "cmath", "statistics", "decimal", "fractions", "scipy", "pandas", "sympy"}
#: Loaded when asked for, and only what this names: the assignment, which is a look-up; data frames.
LOADED = {
    "studies/assign.py": "scipy.optimize",
    "stack/clocking.py": "scipy.optimize",
    "fields/records.py": "pandas",
}
#: Numbers read as they are written, to the last digit: no formula.
EXACT = {"fields/units.py": {"fractions"}, "fields/unit_grammar.py": {"fractions"}}
REDUCTIONS = {"cumprod", "cumsum", "dot", "mean", "std", "trace", "var"}


@pytest.mark.parametrize("name", sorted(SOURCES))
def test_no_formula_in_python(name):
    tree = ast.parse(SOURCES[name].read_text(encoding="utf-8"))
    for node in ast.walk(tree):
        where = f"{name}, line {getattr(node, 'lineno', '?')}"
        if isinstance(node, ast.BinOp | ast.AugAssign):
            assert not isinstance(node.op, ast.Pow | ast.MatMult), f"{where}: a power or product"
        elif isinstance(node, ast.Import):
            for imported in node.names:
                assert imported.name.split(".")[0] not in MATHS, f"{where}: {imported.name}"
                assert not imported.name.startswith("numpy.") or imported.name == "numpy.typing"
        elif isinstance(node, ast.ImportFrom):
            module = node.module or ""
            allowed = EXACT.get(name, set())
            assert module.split(".")[0] not in MATHS - allowed, f"{where}: {module}"
            if module.split(".")[0] == "numpy":
                assert module == "numpy.typing", f"{where}: {module}"
        elif isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
            if node.value.id in ("np", "numpy"):
                assert node.attr in SHAPES, f"{where}: np.{node.attr}"
        elif isinstance(node, ast.Call):
            called = node.func
            assert not (isinstance(called, ast.Name) and called.id == "pow"), where
            if isinstance(called, ast.Attribute):
                assert called.attr not in REDUCTIONS, f"{where}: .{called.attr}()"
                if called.attr == "import_module" and isinstance(node.args[0], ast.Constant):
                    loaded = str(node.args[0].value)
                    allowed = loaded == LOADED.get(name)
                    assert allowed or loaded.split(".")[0] not in MATHS, f"{where}: {loaded}"


def test_the_walk_sees_the_package():
    assert {
        "models/results.py",
        "face/job.py",
        "fields/units.py",
        "rings/formulas.py",
        "models/parts.py",
    } <= set(SOURCES)


# -- names ----------------------------------------------------------------------------------------

# ISO C++20, [lex.key] and the alternative tokens of [lex.digraph].
CPP_KEYWORDS = set(
    """alignas alignof and and_eq asm auto bitand bitor bool break case catch char char16_t char32_t
    char8_t class co_await co_return co_yield compl concept const const_cast consteval constexpr
    constinit continue decltype default delete do double dynamic_cast else enum explicit export
    extern false float for friend goto if inline int long mutable namespace new noexcept not not_eq
    nullptr operator or or_eq private protected public register reinterpret_cast requires return
    short signed sizeof static static_assert static_cast struct switch template this thread_local
    throw true try typedef typeid typename union unsigned using virtual void volatile wchar_t while
    xor xor_eq""".split()  # noqa: SIM905
)


def _declared():
    """Every field of every model, part and table of a job, inputs and outputs."""
    queue = [m[side] for m in MODELS.values() for side in ("inputs", "outputs")]
    queue += _core.job_tables().values()
    while queue:
        declaration = queue.pop()
        for field in declaration["fields"]:
            yield declaration["name"], field
            if field["part"] is not None:
                queue.append(field["part"])


def test_names_of_fields():
    names = {field["name"] for _, field in _declared()}
    names |= {name for _, path, *_ in fw.demo().output_rows for name in path.split(".")}
    assert len(names) > 80
    for name in names:
        assert name.isidentifier(), name
        assert name == name.lower(), name
        assert name.isascii(), name
        assert not keyword.iskeyword(name), name
        assert not keyword.issoftkeyword(name), name
        assert name not in CPP_KEYWORDS, name


def test_every_field_has_a_meaning_and_a_range():
    for owner, field in _declared():
        told = f"{owner}.{field['name']}"
        if field["kind"] in ("part", "parts"):
            continue
        assert field["meaning"], told
        if field["kind"] == "choice":
            words = field["words"].split("|")
            assert len(words) > 1, told
            continue
        if field["low"] == field["low"] and field["high"] == field["high"]:
            assert field["low"] < field["high"], told


# -- what is installed ----------------------------------------------------------------------------


def test_types_and_stubs_are_installed():
    for name in (
        "py.typed",
        "_core.pyi",
        "job.schema.json",
        "models/parts.py",
        "demos/blower.toml",
    ):
        assert (PACKAGE / name).is_file(), name


def test_the_stub_names_what_the_core_has():
    tree = ast.parse((PACKAGE / "_core.pyi").read_text(encoding="utf-8"))
    told = {
        node.name: {item.name for item in node.body if isinstance(item, ast.FunctionDef)}
        if isinstance(node, ast.ClassDef)
        else None
        for node in tree.body
        if isinstance(node, ast.ClassDef | ast.FunctionDef)
    }
    held = {name: value for name, value in vars(_core).items() if not name.startswith("__")}
    assert set(told) == set(held)
    for name, members in told.items():
        if members is not None:
            public = {m for m in vars(held[name]) if not m.startswith("_")}
            assert members - {"__init__"} == public, name


def test_the_version_is_told_once_everywhere():
    told = re.search(r"project\(fitwright VERSION (\S+)", (ROOT / "CMakeLists.txt").read_text())
    assert told is not None
    assert fw.__version__ == told[1] == importlib.metadata.version("fitwright")


def test_the_command_line_tells_version_level_and_compiler(capsys):
    with pytest.raises(SystemExit) as done:
        main(["--version"])
    assert done.value.code == 0
    level = _core.active_level()
    told = f"level v{level}" if level else "baseline"
    shown = capsys.readouterr().out
    assert shown.startswith(f"fitwright {fw.__version__} (core: {told}, ")
    assert re.search(r"(g\+\+|clang) \d+\.\d+", shown)


def test_what_is_promised_can_be_reached():
    for name in fw.__all__:
        assert getattr(fw, name) is not None
    assert set(fw.__all__) <= set(dir(fw))


# -- docstrings -----------------------------------------------------------------------------------


@pytest.mark.parametrize("name", sorted(MODELS))
def test_the_docstring_of_a_model(name):
    room, function = name.split(".")
    model = getattr(importlib.import_module(f"fitwright.{room}"), function)
    text = model.__doc__
    sections = ["Equation", "Parameters", "Returns", "Raises", "Validity", "Source", "Example"]
    at = [text.index(f"    {section}\n    {'-' * len(section)}\n") for section in sections]
    assert at == sorted(at)
    assert text.splitlines()[0].strip(), "what it answers stands in the first line"
    for start, end in zip(at, [*at[1:], None], strict=True):
        assert len(text[start:end].split("\n", 2)[2].strip()) > 3, "a section is empty"
    for field in MODELS[name]["inputs"]["fields"]:
        assert f"    {field['name']} : " in text
        if field["kind"] == "number":
            part = text.split(f"    {field['name']} : Number\n")[1].split("\n    Returns")[0]
            assert part.strip().startswith("["), "the unit"
            assert re.search(r"\bRange\s", part)
    for field in MODELS[name]["outputs"]["fields"]:
        result = getattr(
            importlib.import_module(f"fitwright.{room}"), model.__annotations__["return"]
        )
        assert f"    {field['name']} : [" in result.__doc__


@pytest.mark.parametrize("name", sorted(MODELS))
def test_the_example_of_a_model_runs(name):
    room, function = name.split(".")
    model = getattr(importlib.import_module(f"fitwright.{room}"), function)
    [test] = doctest.DocTestFinder(recurse=False).find(model, function, globs={})
    assert len(test.examples) >= 2
    assert doctest.DocTestRunner().run(test).failed == 0
    space = {}
    for example in test.examples:
        exec(example.source, space)
    assert isinstance(space["answer"], float)


def test_public_names_have_docstrings():
    for name in fw.__all__:
        assert getattr(fw, name).__doc__, name
    for owner in (fw.Job, type(fw.demo().evaluate())):
        for member, value in vars(owner).items():
            if not member.startswith("_") and callable(value) and member not in ("plot",):
                assert value.__doc__, f"{owner.__name__}.{member}"


# -- light import ---------------------------------------------------------------------------------


def _python(*arguments, **more):
    return subprocess.run(
        [sys.executable, *arguments], capture_output=True, text=True, check=False, **more
    )


def test_import_loads_nothing_heavy(tmp_path):
    heavy = ["pint", "matplotlib", "jinja2", "tqdm", "pandas", "IPython", "ipywidgets", "scipy"]
    script = f"""
import sys
import fitwright as fw
heavy = {heavy!r}
print([name for name in heavy if name in sys.modules])
fw.Job, fw.rings, fw.threads, fw.Shaft, fw.materials.library
print([name for name in heavy if name in sys.modules])
fw.rings.thick_ring(bore=0.02, outside=0.1, inner_pressure=1e8, material="4340")
print([name for name in heavy if name in sys.modules])
"""
    done = _python("-c", script, cwd=tmp_path)
    assert done.stderr == ""
    assert done.stdout.splitlines() == ["[]"] * 3


# -- the command line -----------------------------------------------------------------------------


def test_the_demo_command(tmp_path):
    done = _python(
        "-m", "fitwright", "demo", "--out", "a folder/demo", "--samples", "20000", cwd=tmp_path
    )
    assert done.returncode == 0, done.stderr
    assert "bearing inner ring, loaded half" in done.stdout
    assert "limits met" in done.stdout
    assert "Most at risk: rings.sleeve.grip_left in overspeed" in done.stdout
    assert "the maker's manual and approved data govern" in done.stdout
    for name in ("blower.svg", "blower.png", "blower.html"):
        assert (tmp_path / "a folder" / "demo" / name).stat().st_size > 1000
        assert name in done.stdout


def test_a_job_file_of_ones_own(tmp_path, demo_text):
    still = re.sub(r'\{ value = ("[^"]*"),[^}]*spread[^}]*\}', r"\1", demo_text)
    (tmp_path / "pump.toml").write_text(still, encoding="utf-8")
    done = _python("-m", "fitwright", "check", "pump.toml", "--units", "inch", cwd=tmp_path)
    # Without its own ends of friction a limit of the demo fails, and the status says so.
    assert done.returncode == ("NOT MET" in done.stdout), done.stderr
    assert "lbf" in done.stdout
    assert "No input of this job scatters" in done.stdout
    assert (tmp_path / "build" / "check" / "pump.html").is_file()


def test_a_wrong_job_file_ends_with_status_2(tmp_path, demo_text):
    wrong = demo_text.replace('"30 mm"', '"90 mm"', 1).replace("balls = 15", "balls = nan")
    (tmp_path / "wrong.toml").write_text(wrong, encoding="utf-8")
    done = _python("-m", "fitwright", "check", "wrong.toml", cwd=tmp_path)
    assert done.returncode == 2
    assert "bearing.balls: nan must be a finite number" in done.stderr
    assert "shaft.bore: 90 mm must be smaller than the seat" in done.stderr
    assert "Traceback" not in done.stderr
    assert done.stdout == ""
    for arguments in (
        ["check", "nothing.toml"],
        ["demo", "--samples", "0"],
        ["demo", "--out", "wrong.toml"],
        ["demo", "--units", "furlongs"],
        ["fly"],
        [],
    ):
        done = _python("-m", "fitwright", *arguments, cwd=tmp_path)
        assert done.returncode == 2, arguments
        assert "Traceback" not in done.stderr, arguments


def test_the_benchmark_can_read_the_demo(tmp_path):
    """`make bench` times the job that ships; its reader knows of job files what the demo uses."""
    target = tmp_path / "demo_data.hpp"
    reader = ROOT / "tests/benchmarks/demo_to_cpp.py"
    demo = ROOT / "python/fitwright/demos/blower.toml"
    subprocess.run([sys.executable, reader, demo, target], check=True)
    job = tomllib.loads(demo.read_text(encoding="utf-8"))
    text = target.read_text(encoding="utf-8")
    demo_job = fw.demo("blower")
    # What scatters by itself (expansion of the metals) the core adds by itself.
    told = set(demo_job.spreads) - set(demo_job.standard_spreads)
    assert text.count("study::Shape::") == len(told)
    for ring in job["ring"]:
        assert f'"rings.{ring["name"]}.bore"' in text


def test_the_materials_command(capsys):
    from fitwright.__main__ import main

    assert main(["materials"]) == 0
    printed = capsys.readouterr().out
    assert all(name in printed for name in _core.material_names())
    assert len(_core.material_names()) >= 8
    for name in _core.material_names():
        held = fw.materials.material(name)
        assert held.sources, name
        assert held.heating_limit <= held.highest
