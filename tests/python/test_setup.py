"""A machine that lacks something hears one clear line with the way out."""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def checkout(tmp_path):
    """Only what set-up reads, in a folder whose name has a space."""
    folder = tmp_path / "a checkout"
    (folder / "tools").mkdir(parents=True)
    shutil.copy(ROOT / "tools/setup.sh", folder / "tools")
    shutil.copy(ROOT / "pyproject.toml", folder)
    return folder


def set_up(checkout, *extras, **environment):
    return subprocess.run(
        [checkout / "tools/setup.sh", *extras],
        capture_output=True,
        text=True,
        env={**os.environ, **environment},
    )


def test_a_compiler_that_is_too_old(checkout, tmp_path):
    tools = tmp_path / "tools"
    tools.mkdir()
    for name, text in (("old-c++", "exit 1"), ("apt-get", "exit 100")):
        (tools / name).write_text(f"#!/bin/sh\n{text}\n")
        (tools / name).chmod(0o755)
    done = set_up(checkout, "build", CXX="old-c++", PATH=f"{tools}:{os.environ['PATH']}")
    assert done.returncode == 2
    last = done.stderr.strip().splitlines()[-1]
    assert "a C++20 compiler (old-c++ will not do)" in last
    assert "as root run:  apt-get install -y g++" in last
    assert not (checkout / ".venv").exists()


def test_no_network_and_the_second_time_goes_on(checkout):
    nowhere = {
        "PIP_CONFIG_FILE": os.devnull,
        "PIP_INDEX_URL": "http://127.0.0.1:9/simple",
        "PIP_RETRIES": "0",
    }
    done = set_up(checkout, "build", **nowhere)
    assert done.returncode == 2
    assert "the package index cannot be reached" in done.stderr
    assert len(done.stderr.splitlines()) == 2
    made = (checkout / ".venv/fitwright-origin").stat().st_mtime_ns
    again = set_up(checkout, "build", **nowhere)
    assert again.returncode == 2
    assert "making .venv" not in again.stdout
    assert (checkout / ".venv/fitwright-origin").stat().st_mtime_ns == made
