"""What building costs: processor time of a clean compile, objects compiled again after one change.

usage: tools/build_figures.py     in build/figures, by the tools of .venv, without ccache
"""

from __future__ import annotations

import os
import re
import resource
import shutil
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
TREE = ROOT / "build/figures"
#: What is changed, and what that stands for.
CHANGES = {
    "one rule": "cpp/src/bearings/rules.cpp",
    "one formula of a model (creep)": "cpp/src/bearings/detail/creep.hpp",
    "one formula of every job (hertz)": "cpp/src/bearings/detail/hertz.hpp",
    "a number function": "cpp/include/fitwright/number/trigonometric.hpp",
}


def run(*command: str | Path) -> str:
    bin_of_venv = Path(sys.executable).parent
    environment = os.environ | {
        "PATH": f"{bin_of_venv}:{os.environ['PATH']}",
        "CCACHE_DISABLE": "1",
    }
    done = subprocess.run(command, capture_output=True, text=True, env=environment)
    if done.returncode:
        sys.exit(done.stdout[-3000:] + done.stderr[-3000:])
    return done.stdout


def processor_seconds() -> float:
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def main() -> None:
    shutil.rmtree(TREE, ignore_errors=True)
    run(
        *("cmake", "-S", ROOT, "-B", TREE, "-G", "Ninja", "-DFITWRIGHT_PYTHON=ON"),
        f"-DPython_EXECUTABLE={sys.executable}",
    )
    before = processor_seconds()
    run("cmake", "--build", TREE)
    print(f"clean compile of the package: {processor_seconds() - before:.0f} s of processor time")
    objects = re.compile(r"^\[\d+/\d+\] Building CXX object", re.MULTILINE)
    for told, name in CHANGES.items():
        file = ROOT / name
        then = file.stat()
        os.utime(file)
        try:
            again = len(objects.findall(run("ninja", "-C", TREE, "-n")))
        finally:
            os.utime(file, ns=(then.st_atime_ns, then.st_mtime_ns))
        print(f"objects compiled again by {told}: {again}")


if __name__ == "__main__":
    main()
