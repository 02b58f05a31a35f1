"""What all tests stand on: the demo job, no screen."""

from __future__ import annotations

import os
from importlib import resources
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
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
    """The demo job; a job is a value, so that all tests may share it."""
    return fw.demo("blower")
