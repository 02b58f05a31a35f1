"""The manual: `make docs` builds these pages into build/docs. A reader fetches nothing."""

from __future__ import annotations

import re
from importlib.util import find_spec
from pathlib import Path
from typing import Any

import fitwright
from docutils import nodes
from latex2mathml.converter import convert

project = "fitwright"
author = "the fitwright contributors"
version = release = fitwright.__version__
language = "en"

extensions = [
    "myst_parser",
    "sphinx.ext.autodoc",
    "sphinx.ext.napoleon",
]
exclude_patterns = ["README.md"]  # index.md shows it
myst_enable_extensions = ["dollarmath", "colon_fence"]
myst_heading_anchors = 4
myst_dmath_double_inline = True

# A room's page shows what its __all__ says, in that order.
autodoc_member_order = "bysource"
autodoc_typehints = "signature"
autodoc_class_signature = "separated"
autodoc_default_options = {"members": True}
add_module_names = False
python_use_unqualified_type_names = True
napoleon_google_docstring = False
napoleon_use_rtype = False
napoleon_use_ivar = True
napoleon_custom_sections = ["Equation", "Validity", "Source", "Cautions"]

html_theme = "furo"
html_title = f"fitwright {version}"
html_show_copyright = False
html_show_sourcelink = False
html_copy_source = False
# Pages opened as files may not read one another: the search shows titles without their text.
html_show_search_summary = False
# Not every system has a font with brackets that grow; ziamath carries one (SIL Open Font License).
[carried] = find_spec("ziamath").submodule_search_locations
html_static_path = ["manual", f"{carried}/fonts/STIXTwoMath-Regular.ttf"]
html_css_files = ["manual.css"]
html_math_renderer = "mathml"
pygments_style = "default"


NAMED = r"<mi>(?:sin|cos|tan|cot|sec|ln)</mi>"
BEFORE = re.compile(rf"(</(?:mi|mn|msub|msup|mrow|mfrac)>)(?=(?:<msup>)?{NAMED})")
AFTER = re.compile(rf"((?<!<msup>){NAMED}|<msup>{NAMED}.*?</msup>)(?=<m[^o])")


def mathml(text: str, display: str) -> str:
    """The converter leaves no space before and after the name of a function."""
    made = convert(text, display=display)
    for place in (BEFORE, AFTER):
        made = place.sub(r'\1<mspace width="0.167em"/>', made)
    return made


def inline_equation(self: Any, node: Any) -> None:
    self.body.append(mathml(node.astext(), "inline"))
    raise nodes.SkipNode


def block_equation(self: Any, node: Any) -> None:
    text = node.astext().replace("{aligned}", "{align*}")  # the name that the converter knows
    self.body.append(f'<div class="equation">{mathml(text, "block")}</div>\n')
    raise nodes.SkipNode


def opening(app: Any, page: str, source: list[str]) -> None:
    """The first page is the README of this folder, above the lists of pages."""
    if page == "index":
        text = (Path(app.srcdir) / "README.md").read_text(encoding="utf-8")
        source[0] = text.replace("](../DEVELOPERS.md)", "](developers.md)") + "\n" + source[0]


def setup(app: Any) -> None:
    """Equations are written into the page as MathML, which browsers set themselves."""
    app.connect("source-read", opening)
    app.add_html_math_renderer("mathml", (inline_equation, None), (block_equation, None))
