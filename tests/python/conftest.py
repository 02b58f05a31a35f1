"""Settings of Hypothesis, and the demo's study, made once."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
os.environ.setdefault("HYPOTHESIS_STORAGE_DIRECTORY", str(ROOT / "build" / "home" / "hypothesis"))

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
def study(demo):
    return demo.study(200_000, seed=1, progress=False, level="quick")
