"""The page docs/verification.md from the published values in tests/reference.

usage: generate_verification.py [PAGE]
"""

from __future__ import annotations

import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import fitwright as fw
from fitwright.fields.units import parse
from fitwright.materials import Material, material, own
from fitwright.models.results import MODELS

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parent / "tests" / "reference"))

import to_cpp  # noqa: E402

OPENING = """\
# Verification

Made by docs/generate_verification.py from tests/reference/*.toml; do not edit. The C++ tests (on
double and on the lanes of every vector level) and pytest hold the same entries on every run.

What this page proves: the formulas are programmed as the textbooks, standards and other programs
have them (code verification). What it does not prove: that the formulas describe your parts. No
measurement of a real joint is among these checks, so there is no validation here; roughness,
friction, out-of-round seats and soft supports differ from shop to shop. The rows of the materials
prove that data were carried over rightly, not that your steel has them.

Reading a row:

- *published* is printed as its source prints it; *again* is the same by plain theory without
  rounding on the way, computed apart from this library.
- *off* is computed against published, or against *again* where that is the aim.
- *held to*: half a unit of the last printed digit, unless a reason for another tolerance is told.
  What is computed again is always held to half a unit of its own last digit as well.
- *carried by public programs*: the standard was not at hand; public programs repeat its table, and
  the value was looked up in them.
- *from memory* marks a value that was remembered and not looked up: hold it against your own copy.
- *fitted, no check*: the constants of a formula were chosen on this very row, which then proves
  nothing about it and is not counted below.

Fitted formulas, the rows they were fitted on, and what else holds them: the end effect of short
rings, on the {fitted} rows of FE-B so marked (others: docs/theory-rings.md; here FE-C, pressure at
speed, and the growth of the outside); what bars may be wrong by, on F2, G and H1 (docs/theory.md,
section 5). Stacks in section have no fitted constant: all finite-element cases A to I are checks
of them (docs/theory-bodies.md), and tests/python/test_calculix.py makes A, B, C and E again where
CalculiX is installed. The give of a told shoulder was fitted on stacks in section of this
library and on no row of the checks: H1 and F2 are checks of it (docs/theory-bodies.md, section 8).

{counted} rows below are checks of models.
"""

#: The reason for a tolerance where a formula was fitted to the row itself.
FITTED = "fitted to this row"

ROOMS = {
    "rings": "Rings and fits",
    "heat": "Heating",
    "materials": "Materials",
    "threads": "Threads",
    "stack": "Stack",
    "bearings": "Bearings",
    "ratings": "Bearings: ratings, life, frequencies",
    "joints": "Bolted joints and plates",
    "tooling": "Columns, welds and tools",
}

#: Checks of the study engine on formulas of their own, in C++ only: id, title, source, status.
STUDIES = (
    ("T8-01", "Additive model, normal and rectangular inputs", "JCGM 101:2008, 9.2", "from memory"),
    ("T8-03", "Mass calibration", "JCGM 101:2008, 9.3", "from memory"),
    ("T8-06", "Budget of the end gauge, root of squares", "JCGM 100:2008, H.1", "from memory"),
    ("T8-08", "Ishigami indices and variance", "Saltelli et al. (2008)", "published"),
    ("T8-10", "Normal-process yields", "Montgomery, capability tables", "from memory"),
    ("", "Sobol's g function, sums, their indices and intervals", "closed form", "derived"),
)

#: Checks of whole tables of sizes, entry by entry in the tests: id, title, source, status, where.
PYTHON = "tests/python/test_sizes.py"
METRIC = "tests/cpp/thread_metric_limits.test.cpp"
UNIFIED = "tests/cpp/thread_unified_limits.test.cpp"
CPP, MEASURED = "tests/cpp/sizes.test.cpp", "tests/cpp/measured.test.cpp"
SIZES = (
    ("T7-01", "Tolerance grades and shaft deviations", "Shigley A-11, A-12", "published", PYTHON),
    ("T7-02", "20H7/s6", "Bhandari, Ex. 3.2", "published", PYTHON),
    ("T7-04", "Inch fits H8/f7 (1 in)", "Shigley, Prob. 7-23", "published", PYTHON),
    ("T7-04", "Inch fit H7/s6 (2 in)", "Shigley, Ex. 7-8", "from memory", PYTHON),
    ("T7-05", "Hole deviations 18-30 mm", "ISO 286-2 extract", "published", PYTHON),
    ("T7-08", "Tolerance unit formula", "ISO 286-1", "from memory", CPP),
    ("T7-09", "M10 - 6H/6g", "ISO 965-1, 965-2", "from memory", METRIC),
    ("T7-11", "1/2-13 UNC 2A/2B", "ASME B1.1", "from memory", UNIFIED),
    ("T7-13", "Bearing bore tolerance", "ISO 492", "from memory", CPP),
    ("T7-14", "Radial clearance groups", "ISO 5753-1", "from memory", CPP),
    ("T7-16", "25H7/r6", "Jindal, Ex. 4-2", "published", PYTHON),
    ("T8-06", "End gauge, budget", "JCGM 100:2008, H.1", "from memory", MEASURED),
    ("", "ISO 286 to 3150 mm, printed tables", "docs/sizes.md", "published", PYTHON),
    ("", "Metric threads, printed tables", "docs/sizes.md", "published", METRIC),
    ("", "Unified threads, printed tables", "docs/sizes.md", "published", UNIFIED),
)

#: Checks that wait: by what they need, id and title.
LATER: dict[str, dict[str, str]] = {
    "products of two transients, no output of one: held in tests/cpp/transient.test.cpp": {
        "T3-10": "One-term series coefficients",
        "T3-14": "Short brass cylinder (product solution)",
        "T3-15": "Semi-infinite cylinder quenched in water",
    },
    "no model: a curve fit to finite elements; the same joint by frusta is T4-26": {
        "T4-11": "Cylinder head, exponential member stiffness",
    },
    "no model: torque comes from geometry and friction here, not from a nut factor": {
        "T4-24": "Nut factors by finish",
    },
    "no model: contacts are solved exactly here, not by curve fits": {
        "T5-08": "Curve fits for ellipticity and elliptic integrals",
    },
    "no output of a model alone: tests/cpp/running.test.cpp holds it": {
        "T6-04": "Ball centrifugal force and gyroscopic moment constants",
    },
    "no model: grease and running clearance are outside a fit": {
        "T10-03": "Grease service limit used in practice",
        "T10-04": "Sleeve/pump bearing clearance rule",
    },
    "the history of seating and clamp": {
        "FE-F": "Seating of a ring that cools against a shoulder, then the nut",
        "FE-G": "Two rings cooled together, then the nut",
    },
}


def _metal(case: to_cpp.Case, path: str) -> Material:
    told = case.metals.get(path.rstrip("."), case.metals[""])
    if isinstance(told, str):
        return material(told)
    return own(
        case.title,
        **told,
        yield_strength="1 GPa",
        lowest="-273.15 degC",
        highest="2000 degC",
        heating_limit="2000 degC",
    )


def _arguments(case: to_cpp.Case, declaration: Mapping[str, Any], prefix: str) -> dict[str, Any]:
    given: dict[str, Any] = {}
    if declaration["has_material"]:
        given["material"] = _metal(case, prefix)
    for field in declaration["fields"]:
        path = prefix + field["name"]
        if field["kind"] == "parts":
            part = getattr(fw, field["part"]["name"])
            given[field["name"]] = [
                part(**_arguments(case, field["part"], f"{prefix}{field['member']}{k + 1}."))
                for k in range(int(case.inputs[path]))
            ]
        elif field["kind"] == "part":
            part = getattr(fw, field["part"]["name"])
            given[field["name"]] = part(**_arguments(case, field["part"], path + "."))
        elif path in case.inputs:
            given[field["name"]] = to_cpp.as_written(case.inputs[path])
    return given


def _library(case: to_cpp.Case) -> dict[str, float]:
    """The data of the library themselves: what the other models answer for model "materials"."""
    m = _metal(case, "")
    start = parse(case.inputs.get("from", "20 degC"), "temperature")
    end = parse(case.inputs["temperature"], "temperature")
    lengths = [1.0 + m.at("expansion", t) * (t - 20.0) for t in (start, end)]
    growth = lengths[1] / lengths[0] - 1.0
    return {
        "modulus": m.at("modulus", end),
        "yield": m.at("yield", end),
        "growth": growth,
        "mean_expansion": growth / (end - start) if end != start else 0.0,
        "poisson": m.poisson,
        "density": m.density,
        "heating_limit": m.heating_limit,
    }


def result_of(case: to_cpp.Case) -> Any:
    """The result of a case of a model, called as a user would."""
    room, name = case.model.split(".")
    return getattr(getattr(fw, room), name)(**_arguments(case, MODELS[case.model]["inputs"], ""))


def answers(case: to_cpp.Case) -> dict[str, float]:
    """All outputs of a case in SI."""
    if case.model == "materials":
        return _library(case)
    return {name: float(value) for name, value in result_of(case)._outputs.items()}


def _off(computed: float, aim: str) -> str:
    if " to " in aim:
        return "inside"
    if float(aim) == 0.0:
        return f"{computed:.1g}"
    off = computed / float(aim) - 1.0
    return f"{100.0 * off:+.2g} %" if abs(off) > 1e-9 else "0 %"


def _row(entry: to_cpp.Entry, case: to_cpp.Case, e: to_cpp.Expected, computed: float) -> str:
    aim = e.value if e.use == "published" else e.recomputed
    unit = {"N/mm^2": "N/mm2", "mm^2": "mm2"}.get(e.unit, e.unit.replace("delta_degF", "degF"))
    if e.over not in ("1", "2"):
        unit = ""  # the relation below the table tells what it is divided by
    held = e.tolerance.strip() or ("the range" if " to " in aim else "last digit")
    if e.use == "recomputed":
        held += " of *again*"
    if e.why:
        held += f": {e.why}"
    check = ", ".join(text for text in (case.name, e.quantity) if text)
    cells = [entry.id, check, unit, e.value, e.recomputed, f"{computed:.7g}", _off(computed, aim)]
    status = "fitted, no check" if e.why == FITTED else entry.status
    return "| " + " | ".join([*cells, held, status]) + " |\n"


def page() -> str:
    entries = to_cpp.entries()
    rows = [e for entry in entries for case in entry.cases for e in case.expected]
    fitted = sum(1 for e in rows if e.why == FITTED)
    text = OPENING.format(fitted=fitted, counted=len(rows) - fitted)
    for room, title in ROOMS.items():
        text += f"\n## {title}\n\n"
        text += "| id | check | unit | published | again | computed | off | held to | status |\n"
        text += "|---|---|---|---|---|---|---|---|---|\n"
        notes = "\n"
        for entry in (e for e in entries if e.room == room):
            for case in entry.cases:
                found = answers(case)
                for e in case.expected:
                    text += _row(entry, case, e, e.in_unit(found[e.output]))
            told = [f"{entry.title}. Source: {entry.source}.", entry.relation, entry.remark]
            notes += f"- **{entry.id}** " + " ".join(part for part in told if part) + "\n"
        text += notes
    text += "\n## Studies\n\nFormulas of other books go through the study engine in C++, on the "
    text += "lanes of every vector level\n(tests/cpp/outside.test.cpp). Held to the printed digits "
    text += "and four deviations of sampling.\n\n"
    text += "| id | check | source | status |\n|---|---|---|---|\n"
    for row in STUDIES:
        text += "| " + " | ".join(row) + " |\n"
    text += (
        "\n## Sizes\n\nTables are held against print entry by entry; what each holds is told in "
    )
    text += "[sizes.md](sizes.md).\n\n"
    text += "| id | check | source | status | where |\n|---|---|---|---|---|\n"
    for row in SIZES:
        text += "| " + " | ".join(row) + " |\n"
    text += "\n## Not in the tables above\n\n| why | checks |\n|---|---|\n"
    for need, waiting in LATER.items():
        listed = "; ".join(f"{id} {title}" for id, title in waiting.items())
        text += f"| {need} | {listed} |\n"
    return text


if __name__ == "__main__":
    target = Path(sys.argv[1]) if len(sys.argv) > 1 else HERE / "verification.md"
    target.write_text(page(), encoding="utf-8")
