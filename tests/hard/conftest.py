"""What the hard tests stand on: their own folder, no screen, no stray folders."""

from __future__ import annotations

import os
import sys
from importlib import resources
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(Path(__file__).parent))
os.environ.setdefault("MPLBACKEND", "Agg")

import fitwright as fw  # noqa: E402


@pytest.fixture(scope="session")
def root():
    return ROOT


@pytest.fixture(scope="session")
def demo_text():
    return (resources.files("fitwright") / "demos" / "blower.toml").read_text(encoding="utf-8")


@pytest.fixture(scope="session")
def demo():
    return fw.demo("blower")
