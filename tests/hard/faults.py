"""Processes that are made to fail: limited, killed and interrupted by the tests of faults."""

from __future__ import annotations

import os
import resource
import signal
import subprocess
import sys
import textwrap
import time
from collections.abc import Callable, Iterable
from pathlib import Path
from random import Random
from typing import TypeVar

#: How many moments of each kind: a short run in `make test`, a long one in `make hard`.
LONG = os.environ.get("FITWRIGHT_HARD") == "long"


Case = TypeVar("Case")


def some(cases: Iterable[Case], most: int) -> list[Case]:
    """All of them in the long run, about so many in the short one."""
    every = list(cases)
    return every if LONG else every[:: -(-len(every) // most)]


def limits(**most: int) -> Callable[[], None]:
    """Limits of a process that is about to start: limits(AS=..., FSIZE=...)."""

    def apply() -> None:
        for name, value in most.items():
            kind = getattr(resource, f"RLIMIT_{name}")
            hard = resource.getrlimit(kind)[1]
            resource.setrlimit(kind, (value, hard))

    return apply


def python(
    script: str, folder: Path, before: Callable[[], None] | None = None
) -> subprocess.CompletedProcess[str]:
    """A script in a process of its own, to its end."""
    return subprocess.run(
        [sys.executable, "-c", textwrap.dedent(script)],
        cwd=folder,
        preexec_fn=before,
        capture_output=True,
        text=True,
        check=False,
    )


def begun(script: str, folder: Path) -> subprocess.Popen[str]:
    """A script in a process of its own, running."""
    return subprocess.Popen(
        [sys.executable, "-c", textwrap.dedent(script)],
        cwd=folder,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )


def processor_time(pid: int) -> float:
    fields = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


INTERRUPTED = """
import signal, sys, time
import fitwright as fw
import numpy as np
# A run that was started in the background inherits that Ctrl-C is ignored.
signal.signal(signal.SIGINT, signal.default_int_handler)
job = fw.demo("blower")
before = job.evaluate("quick")._numbers
{setup}
def call():
    return {call}
def stopped(answer):
    return {stopped}
for line in sys.stdin:
    print("go", flush=True)
    try:
        answer = call()
        outcome = "partial" if stopped(answer) else "done"
    except KeyboardInterrupt:
        outcome = "heard"
    except fw.InputError:
        outcome = "done"
    print(outcome, flush=True)
    assert job.evaluate("quick")._numbers == before
"""


def interrupt(
    setup: str, call: str, stopped: str, folder: Path, moments: int, seed: int, longest: float = 0.4
) -> list[tuple[str, float]]:
    """Ctrl-C at random moments of a call: what came of each, and the processor time until then."""
    random = Random(seed)
    script = INTERRUPTED.format(setup=setup, call=call, stopped=stopped)
    found = []
    with begun(script, folder) as process:
        assert process.stdin is not None
        assert process.stdout is not None
        assert process.stderr is not None
        try:
            for _ in range(moments):
                process.stdin.write("next\n")
                process.stdin.flush()
                if process.stdout.readline().strip() != "go":
                    break
                time.sleep(random.uniform(0.0, longest))
                since = processor_time(process.pid)
                process.send_signal(signal.SIGINT)
                outcome = process.stdout.readline().strip()
                if not outcome:  # it came after the call and ended the process, as it should
                    found.append(("after", 0.0))
                    break
                found.append((outcome, processor_time(process.pid) - since))
            process.stdin.close()
            told = process.stderr.read()[-2000:]
            process.wait()
        finally:
            process.kill()
    after = found and found[-1][0] in ("after", "done") and "KeyboardInterrupt" in told
    # CPython may end by the signal itself where it came in the middle of an import, heard or not.
    ended = process.returncode in (0, -signal.SIGINT)
    if not after and (not ended or len(found) < moments):
        raise AssertionError(f"ended with {process.returncode} after {found}: {told}")
    return found
