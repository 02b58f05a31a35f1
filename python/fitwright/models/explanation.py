"""A calculation, shown: line by line from what was told to the answer, as text, HTML and LaTeX."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from html import escape
from itertools import groupby
from typing import Any, ClassVar

from fitwright.fields.arguments import checked
from fitwright.fields.errors import InputError
from fitwright.fields.files import path_of, write_bytes
from fitwright.fields.records import Records
from fitwright.fields.tables import Table
from fitwright.fields.user_text import visible
from fitwright.materials import Material

__all__ = ["Explanation", "Line", "lines_of", "nearest"]


@dataclass(frozen=True)
class Line:
    """One line: `symbol = formula = numbers = result unit`.

    `kind` is "input", "formula", "property" (of a metal, from its table), "root" (brings the
    "equation" after it to 0), "searched" or "stepped" (found in steps, from what it names).
    """

    kind: str
    name: str
    symbol: str
    meaning: str
    formula: str
    numbers: str
    latex: str
    latex_numbers: str
    #: SI
    value: float
    #: the value as it is printed, in `unit`
    result: str
    unit: str
    latex_result: str
    #: which way it went where it could have gone another
    because: tuple[str, ...]
    #: number of the input or output; -1: neither
    leaf: int
    #: the part and the state it speaks of
    where: str
    #: of an input or a property: where it came from
    origin: str = ""

    @property
    def shown(self) -> str:
        """The result with its unit."""
        return f"{self.result} {self.unit}".rstrip()

    @property
    def steps(self) -> list[str]:
        """What stands right of the name, one after the other; the result last."""
        if self.kind == "input":
            return [self.shown]
        if self.kind == "root":
            return [f"{self.shown}, which makes {self.formula} (see there)"]
        if self.kind == "searched":
            return [f"{self.shown}, found in steps; what it does stands in the lines after it"]
        if self.kind == "stepped":
            return [f"{self.shown}, found in steps of time or of a search from {self.formula}"]
        return list(dict.fromkeys([self.formula, self.numbers, self.shown]))

    @property
    def remarks(self) -> list[str]:
        """Meaning, origin, and why it went the way it went."""
        told = [self.meaning, self.origin, *(f"because {text}" for text in self.because)]
        return [text for text in told if text]

    def __str__(self) -> str:
        margin = " " * (len(self.symbol) if len(self.symbol) <= 24 else 4)
        first, *more = self.steps
        lines = [f"{self.symbol} = {first}", *(f"{margin} = {step}" for step in more)]
        if self.kind == "input":
            return f"{lines[0]}    ({'; '.join(self.remarks)})" if self.remarks else lines[0]
        return "\n".join(lines + [f"{margin}   {remark}" for remark in self.remarks])


#: Where in the sources of a metal each of its properties is told.
PROPERTIES = {"modulus": 0, "expansion": 1, "yield": 2, "conductivity": 6, "heat capacity": 7}


def lines_of(
    rows: Iterable[Mapping[str, Any]],
    origins: Mapping[int, str],
    metals: Mapping[str, Material],
) -> list[Line]:
    """Lines as the core tells them. `origins`: of inputs, by number; `metals`: by name."""
    made = []
    for row in rows:
        line = Line(**{**row, "because": tuple(row["because"])})
        if line.kind == "input":
            line = replace(line, origin=origins.get(line.leaf, ""))
        elif line.kind == "property" and line.meaning in metals:
            sources = metals[line.meaning].sources
            place = PROPERTIES.get(line.name.partition(" of ")[0], 0)
            line = replace(line, origin=sources[min(place, len(sources) - 1)] if sources else "")
        made.append(line)
    return made


def nearest(name: str, known: Sequence[str]) -> str:
    """The names that a misspelt one may have meant."""
    from difflib import get_close_matches

    near = get_close_matches(name, known, 3, 0.3)
    return f"nearest: {', '.join(near)}" if near else f"there is {', '.join(known[:20])}"


@checked
class Explanation(Records):
    """How an answer came about. Shows itself as text, and folded in a notebook.

    Numbers are rounded to seven digits, inputs and constants only where they are longer than
    twelve; all are in metric shop units, or in SI where the formula mixes units.
    """

    RECORD_NAMES: ClassVar[Sequence[str]] = (
        "kind",
        "symbol",
        "formula",
        "numbers",
        "result",
        "unit",
        "value",
        "meaning",
        "origin",
        "where",
    )

    def __init__(
        self,
        title: str,
        lines: Sequence[Line],
        about: Sequence[tuple[str, str]],
        tables: Sequence[Table] = (),
    ) -> None:
        self.title = visible(title)
        #: inputs first, the answer last
        self.lines = [line for line in lines if line.kind == "input"]
        self.lines += [line for line in lines if line.kind != "input"]
        #: what the formulas are and what they hold for: (heading, text)
        self.about = [(head, text) for head, text in about if text]
        #: before the calculation, each with its title
        self.tables = list(tables)

    def __iter__(self) -> Iterator[Line]:
        return iter(self.lines)

    def __len__(self) -> int:
        return len(self.lines)

    def __getitem__(self, name: str) -> Line:
        """A line by its name or symbol."""
        for line in self.lines:
            if name in (line.name, line.symbol):
                return line
        told = f"is no line of this calculation; {nearest(name, [x.symbol for x in self.lines])}"
        raise InputError([(visible(name), told)])

    @property
    def answer(self) -> Line:
        return self.lines[-1]

    @property
    def inputs(self) -> list[Line]:
        return [line for line in self.lines if line.kind == "input"]

    @property
    def groups(self) -> list[tuple[str, list[Line]]]:
        """The lines after the inputs, by the part and state they speak of."""
        calculated = [line for line in self.lines if line.kind != "input"]
        return [(where, list(some)) for where, some in groupby(calculated, lambda x: x.where)]

    def to_dict(self) -> list[dict[str, Any]]:
        return [{name: getattr(line, name) for name in self.RECORD_NAMES} for line in self.lines]

    def text(self) -> str:
        """All lines, one below the other."""
        parts = [self.title, "=" * len(self.title)]
        parts += [f"{head}: {text}" for head, text in self.about]
        parts += [f"\n{table}" for table in self.tables]
        if self.inputs:
            parts += ["", "What it starts from", "-------------------"]
            parts += map(str, self.inputs)
        for where, lines in self.groups:
            parts += ["", f"[{where}]"] if where else [""]
            parts += map(str, lines)
        return "\n".join(parts)

    __str__ = text
    __repr__ = text

    def html(self) -> str:
        """A page of its own; folds by part and state."""
        title = escape(self.title)
        return (
            "<!DOCTYPE html>\n<html lang='en'><head><meta charset='utf-8'>"
            f"<title>{title}</title></head>\n<body style='font-family:sans-serif;max-width:60em;"
            f"margin:auto'>\n<h1>{title}</h1>\n{self._body()}\n</body></html>\n"
        )

    def _repr_html_(self) -> str:
        return f"<h4>{escape(self.title)}</h4>{self._body()}"

    def _body(self) -> str:
        parts = [f"<p><b>{escape(head)}:</b> {escape(text)}</p>" for head, text in self.about]
        heads = [
            (f"{where or 'calculation'}: to {lines[-1].symbol} = {lines[-1].shown}", lines)
            for where, lines in self.groups
        ]
        if self.tables:
            links = "".join(
                f"<li><a href='#part{place}'>{escape(head)}</a></li>"
                for place, (head, _) in enumerate(heads)
            )
            parts.append(f"<details><summary>Contents</summary><ol>{links}</ol></details>")
        parts += [table._repr_html_() for table in self.tables]
        if self.inputs:
            parts.append(_folded(f"What it starts from: {len(self.inputs)} inputs", self.inputs))
        for place, (head, lines) in enumerate(heads):
            folded = _folded(head, lines, is_open=place == len(heads) - 1)
            parts.append(f"<div id='part{place}'>{folded}</div>")
        return "\n".join(parts)

    def latex(self) -> str:
        """A document of its own, for any LaTeX with amsmath."""
        parts = [
            "\\documentclass[a4paper,landscape]{article}",
            "\\usepackage[utf8]{inputenc}\\usepackage{amsmath,longtable}\\usepackage[margin=15mm]{geometry}",
            "\\setlength{\\parindent}{0pt}\\allowdisplaybreaks",
            "\\begin{document}\\footnotesize",
            f"\\section*{{{latex_text(self.title)}}}",
            *(["\\tableofcontents"] if self.tables else []),
            *(
                f"\\textbf{{{latex_text(head)}:}} {latex_text(text)}\\par"
                for head, text in self.about
            ),
        ]
        parts += map(_latex_table, self.tables)
        if self.inputs:
            parts.append(_latex_heading("What it starts from"))
            parts += map(_latex_line, self.inputs)
        for where, lines in self.groups:
            told = f"{where or 'calculation'}: to {lines[-1].symbol}"
            parts.append(_latex_heading(told))
            parts += map(_latex_line, lines)
        return "\n".join([*parts, "\\end{document}", ""])

    def save(self, path: str | os.PathLike[str]) -> None:
        """To a file: .html, .tex, or .txt."""
        file = path_of(path, "path")
        made = {".html": self.html, ".tex": self.latex, ".txt": self.text}
        if file.suffix not in made:
            raise InputError([("path", f'"{file.name}" must end in .html, .tex or .txt')])
        text = made[file.suffix]()
        write_bytes(file, (text if text.endswith("\n") else f"{text}\n").encode("utf-8"))


def _folded(head: str, lines: Sequence[Line], is_open: bool = False) -> str:
    body = "\n".join(_html_line(line) for line in lines)
    opened = " open" if is_open else ""
    return f"<details{opened}><summary>{escape(head)}</summary>\n{body}\n</details>"


def _html_line(line: Line) -> str:
    steps = "<br>\n&emsp;= ".join(escape(step) for step in line.steps)
    remarks = "".join(f"<br><small>{escape(text)}</small>" for text in line.remarks)
    return (
        f"<p style='margin:0.4em 1.5em'><code><b>{escape(line.symbol)}</b> = {steps}</code>"
        f"{remarks}</p>"
    )


_LATEX = {c: f"\\{c}" for c in "&%$#_{}"} | {
    "\\": "\\textbackslash{}",
    "~": "\\textasciitilde{}",
    "^": "\\textasciicircum{}",
    "<": "\\textless{}",
    ">": "\\textgreater{}",
}


def latex_text(text: str) -> str:
    """Text as it stands in a LaTeX document."""
    return "".join(_LATEX.get(c, c) for c in text)


def _latex_heading(text: str) -> str:
    told = latex_text(text)
    return f"\\subsection*{{{told}}}\\addcontentsline{{toc}}{{subsection}}{{{told}}}"


def _latex_table(table: Table) -> str:
    width = 0.95 / len(table.head)
    columns = f"p{{{width:.3f}\\linewidth}}" * len(table.head)
    rows = [" & ".join(map(latex_text, row)) + r" \\" for row in [table.head, *table.rows]]
    body = "\n".join([rows[0], "\\hline", *rows[1:]])
    head = _latex_heading(table.title)
    return f"{head}\n\\begin{{longtable}}{{{columns}}}\n{body}\n\\end{{longtable}}"


def _latex_line(line: Line) -> str:
    name = f"\\text{{{latex_text(line.name)}}}"
    if line.kind in ("formula", "property", "equation"):
        steps = list(dict.fromkeys([line.latex, line.latex_numbers, line.latex_result]))
    else:
        steps = [line.latex_result]
    remarks = line.remarks
    if line.kind in ("root", "searched", "stepped"):
        remarks = [line.steps[0].partition(", ")[2], *remarks]
    right = " \\\\\n  &= ".join(steps)
    told = "".join(f"\\\\\n  &\\quad\\text{{{latex_text(text)}}}" for text in remarks)
    return f"\\begin{{align*}}\n{name} &= {right}{told}\n\\end{{align*}}"
