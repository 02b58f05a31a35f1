"""Fills the table of docs/theory-rings.md: every finite-element value beside what the models give.

usage: generate_rings.py [OUTPUT_FILE]
"""

from __future__ import annotations

import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE))
import generate_verification as verification  # noqa: E402

PAGE = HERE / "theory-rings.md"
MARK = "<!-- finite elements: made by docs/generate_rings.py -->\n"
SHOWN = ("FE-A", "FE-B", "FE-C", "FE-C2", "FE-D", "FE-E")


def table() -> str:
    text = "| case | quantity | unit | finite elements | computed | off | held to |\n"
    text += "|---" * 7 + "|\n"
    for entry in verification.to_cpp.entries():
        if entry.id not in SHOWN:
            continue
        for case in entry.cases:
            found = verification.answers(case)
            for e in case.expected:
                if e.use == "recomputed":
                    continue  # closed forms
                computed = e.in_unit(found[e.output])
                value = float(e.value)
                off = f"{100.0 * (computed / value - 1.0):+.2f} %" if value else f"{computed:.2g}"
                cells = (
                    f"{entry.id} {case.name}".strip(),
                    e.quantity,
                    e.unit,
                    e.value,
                    f"{computed:.5g}",
                    off,
                    e.tolerance or "last digit",
                )
                text += "| " + " | ".join(cells) + " |\n"
    return text


def page() -> str:
    text = PAGE.read_text(encoding="utf-8")
    return text[: text.index(MARK) + len(MARK)] + "\n" + table()


if __name__ == "__main__":
    target = Path(sys.argv[1]) if len(sys.argv) > 1 else PAGE
    target.write_text(page(), encoding="utf-8")
