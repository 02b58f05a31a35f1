"""The same bits everywhere: one set of models, jobs and studies on many machines and compilers.

usage: tools/bits.py [--whole] [BUILD...]

Prints machine, compiler, level, seconds and hash, and fails when two hashes differ. BUILD is one of
those below (all, when none is named). `release` is the tree of the C++ tests, build/release, as it
stands; the others are built in build/bits. What cannot be built or run here is named and left out,
and the last line but one says so. Without --whole those in build/bits run a shorter set, since some
of them are imitated processors.
"""

from __future__ import annotations

import argparse
import os
import platform
import shutil
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
#: glibc picks its functions by processor; without these it takes those of an old one.
OLD_PROCESSOR = "glibc.cpu.hwcaps=-AVX2,-AVX2_Usable,-FMA,-FMA_Usable,-FMA4,-AVX512F,-AVX"

#: Debian's wine stands beside the path; what it writes stays in the build tree.
RUNNERS = f"{os.environ['PATH']}:/usr/lib/wine"
WINE = {"WINEDEBUG": "-all", "WINEPREFIX": str(ROOT / "build/bits/wine")}


@dataclass(frozen=True)
class Build:
    compiler: str
    machine: str = platform.machine()
    settings: tuple[str, ...] = ()
    #: what runs the program, where it is not of this machine
    runner: tuple[str, ...] = ()
    program: str = "fitwright_bits"
    levels: tuple[str, ...] = ("v2", "v3", "v4")
    told: str = ""
    environment: dict[str, str] = field(default_factory=dict)


def _release(flags: str) -> tuple[str, ...]:
    return ("-DCMAKE_BUILD_TYPE=Bits", f"-DCMAKE_CXX_FLAGS_BITS={flags}")


BUILDS = {
    "release": Build("as built", told="-O2"),
    "glibc": Build(
        "as built",
        told="-O2, glibc without FMA and AVX2",
        environment={"GLIBC_TUNABLES": OLD_PROCESSOR},
    ),
    "gcc-O0": Build("g++", settings=_release("-O0"), levels=("v2",), told="-O0"),
    "clang": Build("clang++", settings=_release("-O2"), told="-O2"),
    "clang-O0": Build("clang++", settings=_release("-O0"), levels=("v2",), told="-O0"),
    "plain": Build(
        "g++",
        settings=(*_release("-O2"), "-DFITWRIGHT_PLAIN_PACKS=ON"),
        levels=("v0",),
        told="-O2, no native vectors",
    ),
    "arm64": Build(
        "aarch64-linux-gnu-g++",
        machine="arm64, qemu-user",
        settings=(
            *_release("-O2"),
            "-DCMAKE_SYSTEM_NAME=Linux",
            "-DCMAKE_SYSTEM_PROCESSOR=aarch64",
            "-DCMAKE_EXE_LINKER_FLAGS=-static",
        ),
        runner=("qemu-aarch64",),
        levels=("v0",),
        told="-O2",
    ),
    "windows": Build(
        "x86_64-w64-mingw32-g++-posix",
        machine="x86_64, wine",
        settings=(
            *_release("-O2"),
            "-DCMAKE_SYSTEM_NAME=Windows",
            "-DCMAKE_SYSTEM_PROCESSOR=x86_64",
            "-DCMAKE_EXE_LINKER_FLAGS=-static",
        ),
        runner=("wine64",),
        program="fitwright_bits.exe",
        told="-O2",
    ),
}


class LeftOutError(Exception):
    pass


def version_of(compiler: str) -> str:
    told = subprocess.run([compiler, "--version"], capture_output=True, text=True, check=True)
    return told.stdout.splitlines()[0]


def program_of(name: str, build: Build) -> Path:
    if build.compiler == "as built":
        program = ROOT / "build/release/cpp" / build.program
        if not program.exists():
            raise LeftOutError("build/release has no fitwright_bits; run: make package-for-tests")
        return program
    if shutil.which(build.compiler) is None:
        raise LeftOutError(f"there is no {build.compiler}")
    tree = ROOT / "build/bits" / name
    tree.mkdir(parents=True, exist_ok=True)
    steps = [
        [
            *("cmake", "-S", ROOT, "-B", tree, "-G", "Ninja", "-DFITWRIGHT_BITS=ON"),
            f"-DCMAKE_CXX_COMPILER={build.compiler}",
            f"-DPython_EXECUTABLE={sys.executable}",
            *build.settings,
        ],
        ["cmake", "--build", tree, "--target", "fitwright_bits"],
    ]
    for step in steps:
        done = subprocess.run(step, capture_output=True, text=True)
        if done.returncode:
            sys.exit(f"{name}: {done.stdout[-3000:]}\n{done.stderr[-3000:]}")
    return tree / "cpp" / build.program


def runs(name: str, build: Build, kinds: list[str]) -> Iterator[list[str]]:
    program = program_of(name, build)
    runner = [shutil.which(word, path=RUNNERS) or word for word in build.runner]
    if runner and not os.path.isabs(runner[0]):
        raise LeftOutError(f"built and linked, but there is no {runner[0]} to run it")
    environment = {**os.environ, **build.environment, **WINE}
    version = "" if build.compiler == "as built" else version_of(build.compiler)
    for level in build.levels:
        for kind in kinds:
            command = [*runner, str(program), level] + ["--brief"] * (kind == "brief")
            done = subprocess.run(command, capture_output=True, text=True, env=environment)
            if done.returncode == 77:
                continue  # this processor has no such level
            if done.returncode:
                sys.exit(f"{name} {level}: {done.stderr[-2000:]}")
            bits, kind, _, seconds, _, built = done.stdout.strip().split(" ", 5)
            yield [build.machine, f"{version or built} {build.told}", level, kind, seconds, bits]


def main() -> None:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawTextHelpFormatter
    )
    parser.add_argument("--whole", action="store_true")
    parser.add_argument("builds", nargs="*", metavar="BUILD", choices=[*BUILDS, []])
    given = parser.parse_args()
    hashes: dict[str, set[str]] = {}
    left_out = []
    asked = given.builds or list(BUILDS)
    others = [] if given.whole or set(asked) <= {"release", "glibc"} else ["brief"]
    for name in asked:
        whole = ["whole"] if given.whole or BUILDS[name].compiler == "as built" else []
        try:
            for row in runs(name, BUILDS[name], whole + others * (name != "glibc")):
                machine, compiler, level, kind, seconds, bits = row
                print(
                    f"{machine:17} {compiler[:62]:62} {level} {kind} {seconds:>7} s  {bits}",
                    flush=True,
                )
                hashes.setdefault(kind, set()).add(bits)
        except LeftOutError as why:
            left_out.append(f"{name} ({why})")
    if left_out:
        print(f"NOT RUN: {'; '.join(left_out)}")
    differ = [kind for kind, found in hashes.items() if len(found) > 1]
    if differ or not hashes:
        sys.exit(f"bits: not the same everywhere: {', '.join(differ) or 'nothing ran'}")
    print(f"bits: the same {', '.join(f'{k} {v}' for k, (v,) in hashes.items())}")


if __name__ == "__main__":
    main()
