"""The published values of tests/reference through the Python face, and the page made of them."""

from __future__ import annotations

import importlib.util
import re
import sys
from pathlib import Path
from types import ModuleType

import pint
import pytest
from fitwright.fields.units import parse
from fitwright.models.results import MODELS

ROOT = Path(__file__).resolve().parents[2]


def _load(path: Path) -> ModuleType:
    spec = importlib.util.spec_from_file_location(path.stem, path)
    assert spec is not None
    assert spec.loader is not None
    module = sys.modules[path.stem] = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


to_cpp = _load(ROOT / "tests" / "reference" / "to_cpp.py")
verification = _load(ROOT / "docs" / "generate_verification.py")
ENTRIES = to_cpp.entries()
CASES = [case for entry in ENTRIES for case in entry.cases]


@pytest.mark.parametrize("case", CASES, ids=[case.title for case in CASES])
def test_published_value(case):
    if case.model != "materials":
        known = set(_paths(MODELS[case.model]["inputs"], ""))
        assert set(case.inputs) <= known, "a path is misspelt"
    found = verification.answers(case)
    for wanted in case.expected:
        computed = wanted.in_unit(found[wanted.output])
        for target in wanted.targets:
            assert target.low <= computed <= target.high, (
                f"{case.title}: {wanted.quantity}: expected {target.low:.12g} to "
                f"{target.high:.12g} {wanted.unit} ({target.told}), computed {computed:.12g}"
            )


def _paths(declaration, prefix):
    for field in declaration["fields"]:
        if field["kind"] == "part":
            yield from _paths(field["part"], f"{prefix}{field['name']}.")
        elif field["kind"] == "parts":
            yield prefix + field["name"]
            for k in range(field["count"]):
                yield from _paths(field["part"], f"{prefix}{field['member']}{k + 1}.")
        else:
            yield prefix + field["name"]


def _all_units():
    units = {e.unit for case in CASES for e in case.expected} - {""}
    for case in CASES:
        written = [*case.inputs.values(), *(e.subtract for e in case.expected)]
        for metal in case.metals.values():
            written += metal.values() if isinstance(metal, dict) else []
        units |= {
            to_cpp.split(to_cpp.as_written(text))[1]
            for text in written
            if isinstance(text, str) and " " in text
        }
    return sorted(units)


@pytest.mark.parametrize("unit", _all_units())
def test_unit_table_agrees_with_pint(unit):
    factor, offset = to_cpp.scale_of(unit)
    if unit in to_cpp.SCALES:
        for value in (-40.0, 212.0):
            expected = parse(f"{value} {unit}", "temperature")
            assert float(factor) * value + float(offset) == pytest.approx(expected, rel=1e-14)
        return
    in_si = pint.get_application_registry().Quantity(1.0, unit).to_base_units()
    assert float(factor) == pytest.approx(in_si.magnitude, rel=1e-14)
    # pint's base units are ours, so that the magnitudes may be compared.
    bases = {"kilogram", "meter", "second", "kelvin", "radian", "dimensionless"}
    assert set(re.findall(r"[a-z_]+", str(in_si.units))) <= bases


def test_every_unit_of_the_table_is_written_somewhere():
    written = " ".join(_all_units())
    names = set(re.findall(r"[A-Za-z_]+", written)) | {"1"}
    assert set(to_cpp.UNITS) | set(to_cpp.SCALES) == names


def test_header_is_made_without_pint(tmp_path):
    header = to_cpp.header()
    assert header.count('{"T') + header.count('{"FE') >= len(CASES)
    source = (ROOT / "tests" / "reference" / "to_cpp.py").read_text()
    imported = set(re.findall(r"^(?:from|import) (\w+)", source, re.MULTILINE))
    assert imported <= sys.stdlib_module_names | {"__future__"}


def test_tolerance_is_half_the_last_digit():
    def range_of(value, **more):
        target = to_cpp.Expected(output="x", quantity="x", value=value, **more).targets[0]
        return target.low, target.high

    assert range_of("12.3") == pytest.approx((12.25, 12.35))
    assert range_of("5.25e-05") == pytest.approx((5.245e-05, 5.255e-05))
    assert range_of("-37") == pytest.approx((-37.5, -36.5))
    assert range_of("12.8 to 13.0") == pytest.approx((12.75, 13.05))
    assert range_of("200", tolerance="1 %", why="x") == pytest.approx((198.0, 202.0))
    assert range_of("200", unit="psi", tolerance="5 psi", why="x") == pytest.approx((195.0, 205.0))


def test_the_page_is_made_from_these_values():
    written = (ROOT / "docs" / "verification.md").read_text(encoding="utf-8")
    assert written == verification.page(), "run docs/generate_verification.py"


def test_no_check_is_both_used_and_waiting():
    waiting = [id for ids in verification.LATER.values() for id in ids]
    assert len(waiting) == len(set(waiting))
    assert not set(waiting) & {entry.id for entry in ENTRIES}
