"""What building costs: processor time of a clean compile, objects compiled again after one change.

usage: tools/build_figures.py            in build/figures, by the tools of .venv, without ccache
       tools/build_figures.py changes    only the objects, of build/release as it stands
"""

from __future__ import annotations

import os
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


def objects_by_file(tree: Path) -> dict[Path, set[str]]:
    """Which objects each source was compiled into, as the compiler told ninja; no tests."""
    objects: dict[Path, set[str]] = {}
    for of in run("ninja", "-C", tree, "-t", "deps").split("\n\n"):
        name, *sources = of.strip().splitlines() or [""]
        if "#deps" in name and not name.startswith("tests/"):
            for source in sources:
                file = (tree / source.strip()).resolve()
                objects.setdefault(file, set()).add(name.split(":")[0])
    return objects


def tell_of_changes(tree: Path) -> None:
    objects = objects_by_file(tree)
    whole = len(set().union(*objects.values()))
    for told, name in CHANGES.items():
        print(f"objects compiled again by {told}: {len(objects[ROOT / name])} of {whole}")


def main() -> None:
    if sys.argv[1:] == ["changes"]:
        return tell_of_changes(ROOT / "build/release")
    shutil.rmtree(TREE, ignore_errors=True)
    run(
        *("cmake", "-S", ROOT, "-B", TREE, "-G", "Ninja", "-DFITWRIGHT_PYTHON=ON"),
        f"-DPython_EXECUTABLE={sys.executable}",
    )
    before = processor_seconds()
    run("cmake", "--build", TREE)
    print(f"clean compile of the package: {processor_seconds() - before:.0f} s of processor time")
    tell_of_changes(TREE)


if __name__ == "__main__":
    main()
