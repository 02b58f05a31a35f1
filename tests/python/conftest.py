"""What all tests stand on: settings of Hypothesis, the demo job, no screen, no stray folders."""

from __future__ import annotations

import os
from importlib import resources
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
os.environ.setdefault("MPLBACKEND", "Agg")
os.environ.setdefault("HYPOTHESIS_STORAGE_DIRECTORY", str(ROOT / "build" / "home" / "hypothesis"))

import fitwright as fw  # noqa: E402
from hypothesis import HealthCheck, settings  # noqa: E402

settings.register_profile(
    "fitwright",
    max_examples=60,
    deadline=None,
    derandomize=True,
    database=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture],
)
settings.load_profile("fitwright")


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


@pytest.fixture(scope="session")
def study(demo):
    return demo.study(200_000, seed=1, progress=False, level="quick")
