"""The code of the README runs, block after block, in one session of a newcomer."""

from __future__ import annotations

import re
from pathlib import Path

README = Path(__file__).resolve().parents[2] / "README.md"
BLOCK = re.compile(r"^```python\n(.*?)^```$", re.MULTILINE | re.DOTALL)


def test_the_readme_runs(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    text = README.read_text(encoding="utf-8")
    blocks = list(BLOCK.finditer(text))
    assert blocks, "a README without code"
    space = {"__name__": "__main__"}
    for block in blocks:
        line = text[: block.start(1)].count("\n")
        # Empty lines in front, so that a failure shows its line in the README.
        exec(compile("\n" * line + block[1], str(README), "exec"), space)
    assert (tmp_path / "blower.svg").stat().st_size > 1000
    assert (tmp_path / "blower.html").stat().st_size > 1000


def test_files_the_readme_points_to_exist():
    text = README.read_text(encoding="utf-8")
    for target in re.findall(r"\]\(([^)#]+)(?:#[^)]*)?\)", text):
        if "://" not in target:
            assert (README.parent / target).exists(), target
    headings = {
        re.sub(r"[^a-z0-9 -]", "", h.lower()).replace(" ", "-")
        for h in re.findall(r"^#+ (.*)$", text, re.MULTILINE)
    }
    for anchor in re.findall(r"\]\(#([^)]+)\)", text):
        assert anchor in headings, anchor


def test_the_job_stands_at_the_very_top():
    first = README.read_text(encoding="utf-8").split("\n\n")[1]
    for word in ("rebuild shop", "rotor shafts", "nut", "oven", "clearance", "spread"):
        assert word in first, word
