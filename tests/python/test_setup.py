"""A machine that lacks something hears one clear line with the way out."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import tomllib
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def checkout(tmp_path):
    """Only what set-up reads, in a folder whose name has a space."""
    folder = tmp_path / "a checkout"
    (folder / "tools").mkdir(parents=True)
    for name in ("setup.sh", "cause.sh"):
        shutil.copy(ROOT / "tools" / name, folder / "tools")
    shutil.copy(ROOT / "pyproject.toml", folder)
    return folder


@pytest.fixture
def bulky(checkout, tmp_path):
    """The same checkout, whose one package takes 80 MB of disk, and nothing of the network."""
    wheel = tmp_path / "bulk-1.0-py3-none-any.whl"
    told = "bulk-1.0.dist-info"
    parts = {
        "bulk/__init__.py": b"",
        **{f"bulk/part{k}": bytes(1_000_000) for k in range(80)},
        f"{told}/METADATA": b"Metadata-Version: 2.1\nName: bulk\nVersion: 1.0\n",
        f"{told}/WHEEL": b"Wheel-Version: 1.0\nRoot-Is-Purelib: true\nTag: py3-none-any\n",
    }
    with zipfile.ZipFile(wheel, "w", zipfile.ZIP_DEFLATED) as file:
        for name, held in parts.items():
            file.writestr(name, held)
        record = "".join(f"{name},,\n" for name in [*parts, f"{told}/RECORD"])
        file.writestr(f"{told}/RECORD", record)
    (checkout / "pyproject.toml").write_text(
        f'[dependency-groups]\nbulk = ["bulk @ {wheel.as_uri()}"]\n'
    )
    return checkout


def set_up(checkout, *groups, before=(), **environment):
    return subprocess.run(
        [*before, checkout / "tools/setup.sh", *groups],
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
    [line] = done.stderr.splitlines()
    assert line.startswith("setup: the package index cannot be reached: mend the network or name")
    again = set_up(checkout, "build", **nowhere)
    assert again.returncode == 2
    assert "making .venv" not in again.stdout


def whole(checkout):
    [package] = checkout.glob(".venv/lib/python3*/site-packages/bulk")
    assert [p.stat().st_size for p in package.glob("part*")] == [1_000_000] * 80


def test_no_space_and_the_second_time_goes_on(bulky):
    in_small = ["unshare", "--map-root-user", "--mount", "bash", "-ec"]
    if subprocess.run([*in_small, "mount -t tmpfs none /mnt"], capture_output=True).returncode:
        pytest.skip("no file system of its own to be had here")
    script = """
        cp -r "$1" /tmp/kept && mount -t tmpfs -o size=70m none "$1" && cp -r /tmp/kept/. "$1"
        cd "$1" && tools/setup.sh bulk && exit 1
        mount -o remount,size=400m "$1" && tools/setup.sh bulk && cp -r .venv "$2"
    """.replace("/tmp/kept", str(bulky.parent / "kept"))
    done = subprocess.run(
        [*in_small, script, "bash", bulky, bulky.parent / "kept"], capture_output=True, text=True
    )
    assert done.returncode == 0, done.stdout + done.stderr
    [line] = done.stderr.splitlines()
    assert line.startswith(f"setup: no space left in {bulky}")
    assert line.endswith("free some (make clean), and the same command goes on where it stopped")
    assert done.stdout.count("making .venv") == 1
    whole(bulky.parent / "kept")


def test_interrupted_and_the_second_time_goes_on(bulky):
    first = subprocess.Popen(
        [bulky / "tools/setup.sh", "bulk"], start_new_session=True, stdout=subprocess.DEVNULL
    )
    while first.poll() is None and not [*bulky.glob(".venv/lib/python3*/site-packages/bulk/*9")]:
        pass
    os.killpg(first.pid, signal.SIGKILL)
    assert first.wait() == -signal.SIGKILL, "killed half way"
    again = set_up(bulky, "bulk")
    assert again.returncode == 0, again.stderr
    assert "making .venv" not in again.stdout
    whole(bulky)


def test_a_checkout_that_was_moved(bulky):
    """Scripts of an environment and trees of CMake hold the place where they were made."""
    (bulky / ".venv/lib").mkdir(parents=True)
    (bulky / ".venv/fitwright-origin").write_text("/usr/bin/python3\n3.11.2\n/somewhere/else\n")
    for tree in ("release", "sanitize"):
        (bulky / "build" / tree).mkdir(parents=True)
    done = set_up(bulky, "bulk")
    assert done.returncode == 0, done.stderr
    assert "making .venv" in done.stdout
    assert not list((bulky / "build").iterdir())
    whole(bulky)
    again = set_up(bulky, "bulk")
    assert (again.returncode, again.stdout, again.stderr) == (0, "", "")


def test_somebody_elses_environment_is_not_removed(checkout):
    (checkout / ".venv").mkdir()
    (checkout / ".venv/mine").touch()
    done = set_up(checkout, "build")
    assert done.returncode == 2
    assert done.stderr == "setup: .venv was not made by this script; move it away and try again\n"
    assert (checkout / ".venv/mine").exists()


@pytest.mark.parametrize(
    ("log", "told"),
    [
        ("fatal error: /tmp/cc.s: No space left on device\nninja: stopped", "no space left in "),
        ("c++: fatal error: Killed signal terminated program cc1plus", "not enough memory: "),
        ("[3/200] Building\nninja: build stopped: interrupted by user.", "interrupted: "),
        ("ERROR: No matching distribution found (from versions: none)", "the package index "),
    ],
)
def test_the_cause_of_a_failed_build_in_one_line(log, told):
    done = subprocess.run([ROOT / "tools/cause.sh"], input=log, capture_output=True, text=True)
    assert done.returncode == 0
    assert done.stdout.startswith(told)
    assert done.stdout.count("\n") == 1
    assert "the same command goes on where it stopped" in done.stdout


def test_a_failed_build_of_unknown_cause_is_left_to_its_log():
    done = subprocess.run([ROOT / "tools/cause.sh"], input="error: no member", text=True)
    assert done.returncode == 1


def test_the_groups_bring_what_the_build_requires():
    told = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    assert set(told["build-system"]["requires"]) <= set(told["dependency-groups"]["build"])
