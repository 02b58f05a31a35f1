"""The page docs/verification.md from the published values in tests/reference.

usage: generate_verification.py [PAGE]
"""

from __future__ import annotations

import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import fitwright as fw
from fitwright.materials import Material, material, own
from fitwright.models import MODELS
from fitwright.units import parse

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
- *from memory* marks a value that was remembered and not looked up: hold it against your own copy.
"""

ROOMS = {
    "rings": "Rings and fits",
    "heat": "Heating",
    "materials": "Materials",
    "threads": "Threads",
    "bearings": "Bearings",
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

#: Checks that wait: by what they need, id and title.
LATER: dict[str, dict[str, str]] = {
    "transient cooling": {
        "T3-10": "One-term series coefficients",
        "T3-11": "Steel pipe wall heated inside, plane-wall series",
        "T3-12": "Sphere: air cooling, then water quench",
        "T3-14": "Short brass cylinder (product solution)",
        "T3-15": "Semi-infinite cylinder quenched in water",
        "T3-16": "Aluminium cylinder: long, semi-infinite and finite",
        "T3-17": "Lumped cooling of a steel ball",
    },
    "power screws: square and trapezoidal threads, several starts": {
        "T4-01": "Double-thread square power screw",
        "T4-03": "Trapezoidal press screws and motor",
        "T4-04": "Triple-start screw with collar",
    },
    "bolted joints: stiffness, load factor": {
        "T4-10": "Gasketless cast-iron vessel, load factors",
        "T4-11": "Cylinder head, exponential member stiffness",
        "T4-12": "Same head with frusta, printed error",
        "T4-13": "Bolt stiffness in segments, 1/2-13",
        "T4-18": "Vessel head studs with flange stiffness",
        "T4-19": "Steel bolt in aluminium plates",
    },
    "stripping of threads": {"T4-21": "Thread shear areas per inch of engagement"},
    "no model: torque comes from geometry and friction here, not from a nut factor": {
        "T4-24": "Nut factors by finish",
    },
    "no model: contacts are solved exactly here, not by curve fits": {
        "T5-08": "Curve fits for ellipticity and elliptic integrals",
    },
    "no output of a model alone: tests/cpp/running.test.cpp holds it": {
        "T6-04": "Ball centrifugal force and gyroscopic moment constants",
    },
    "bearing ratings and life": {
        "T6-05": "Dynamic rating factor fc, part A",
        "T6-07": "Static rating factor f0, part A",
        "T6-09": "Basic ratings of the 209 geometry",
        "T6-10": "X, Y, e for deep groove and angular contact",
        "T6-11": "Reliability factor a1",
        "T6-12": "Life modification factor and viscosity ratio formulas",
        "T6-13": "Rating for 30 kh at 300 r/min",
        "T6-15": "Combined load with interpolated Y",
        "T6-17": "Rotation factor V",
    },
    "sizes: limits and fits, thread tolerances, bearing tolerances": {
        "T7-01": "Tolerance grades and shaft deviations, metric",
        "T7-02": "20H7/s6",
        "T7-04": "Inch fits H8/f7 (1 in) and H7/s6 (2 in)",
        "T7-05": "Hole deviations 18-30 mm",
        "T7-08": "Tolerance unit formula",
        "T7-09": "M10 - 6H/6g",
        "T7-11": "1/2-13 UNC 2A/2B",
        "T7-13": "Bearing bore tolerance, mean diameter",
        "T7-14": "Deep-groove radial clearance groups",
        "T7-16": "25H7/r6",
    },
    "plates, columns and welds of shop tooling": {
        "T9-01": "Annular plates, first group",
        "T9-03": "Solid circular plate constants, nu = 0.3",
        "T9-04": "Johnson column, 7/8 in rod",
        "T9-06": "Rectangular strut, d/b = sqrt(8)",
        "T9-07": "Fillet weld throat",
        "T9-09": "Square weld pattern in torsion",
        "T9-10": "Circular welds in torsion",
    },
    "no model: grease and running clearance are outside a fit": {
        "T10-03": "Grease service limit used in practice",
        "T10-04": "Sleeve/pump bearing clearance rule",
    },
    "an output for the overhang of the shaft, stepped rings, the history of seating and clamp": {
        "FE-B": "30 mm ring amid a 200 mm shaft: mean pressure 1.113 times Lame's",
        "FE-E": "L-section",
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
        if field["kind"] == "part":
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


def answers(case: to_cpp.Case) -> dict[str, float]:
    """All outputs of a case in SI, called as a user would."""
    if case.model == "materials":
        return _library(case)
    room, name = case.model.split(".")
    result = getattr(getattr(fw, room), name)(**_arguments(case, MODELS[case.model]["inputs"], ""))
    outputs = MODELS[case.model]["outputs"]["fields"]
    return {field["name"]: float(getattr(result, field["name"])) for field in outputs}


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
    return "| " + " | ".join([*cells, held, entry.status]) + " |\n"


def page() -> str:
    text = OPENING
    entries = to_cpp.entries()
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
    text += "\n## Not used yet\n\n| needs | checks |\n|---|---|\n"
    for need, waiting in LATER.items():
        listed = "; ".join(f"{id} {title}" for id, title in waiting.items())
        text += f"| {need} | {listed} |\n"
    return text


if __name__ == "__main__":
    target = Path(sys.argv[1]) if len(sys.argv) > 1 else HERE / "verification.md"
    target.write_text(page(), encoding="utf-8")
