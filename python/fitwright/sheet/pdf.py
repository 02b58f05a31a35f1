"""A sheet as PDF, or as pictures of its pages: the HTML's own elements, set by Typst."""

from __future__ import annotations

import json
import tempfile
from dataclasses import asdict
from importlib import resources
from pathlib import Path
from typing import TYPE_CHECKING, Any

from fitwright.fields.errors import InputError
from fitwright.sheet.pages import tree_of

if TYPE_CHECKING:
    from fitwright.sheet.identity import Identity, Paper

__all__ = ["pdf_of", "pictures_of"]


def pdf_of(page: str, identity: Identity, paper: Paper) -> bytes:
    """The documents of a page, each with its own count of pages."""
    made: bytes = _set(page, identity, paper, format="pdf")
    return made


def pictures_of(page: str, identity: Identity, paper: Paper, ppi: float = 80.0) -> list[bytes]:
    """Each page as PNG."""
    made = _set(page, identity, paper, format="png", ppi=ppi)
    return made if isinstance(made, list) else [made]


def _set(page: str, identity: Identity, paper: Paper, **how: Any) -> Any:
    try:
        import typst
    except ImportError as error:
        told = "PDF needs the typesetter typst: pip install fitwright[pdf]; HTML needs nothing"
        raise InputError([("sheet", told)]) from error
    from matplotlib import get_data_path

    articles, pictures = tree_of(page)
    whole = {
        "paper": paper.pdf,
        "head": identity.head,
        "foot": identity.foot,
        "identity": asdict(identity),
        "articles": articles,
    }
    with tempfile.TemporaryDirectory(prefix="fitwright-") as folder:
        here = Path(folder)
        (here / "document.json").write_text(json.dumps(whole), encoding="utf-8")
        for number, picture in enumerate(pictures):
            (here / f"picture-{number}.svg").write_text(picture, encoding="utf-8")
        source = resources.files("fitwright") / "templates" / "pages.typ"
        (here / "pages.typ").write_text(source.read_text(encoding="utf-8"), encoding="utf-8")
        fonts = str(Path(get_data_path()) / "fonts" / "ttf")
        # The date of the file is that of the sheet: the same job gives the same bytes.
        return typst.compile(
            str(here / "pages.typ"),
            root=str(here),
            font_paths=[fonts],
            ignore_system_fonts=True,
            timestamp=0,
            **how,
        )
