#!/usr/bin/env bash
# tools/setup.sh GROUP...   e.g. `tools/setup.sh build test`; the Makefile calls it before every target.
# What pip, CMake and apt do not do by themselves: see that the system has what the GROUPs of pyproject.toml
# need (as root, on Debian, by installing it), keep .venv in step with them, and tell what is wrong in one line.
# Quick when nothing is missing; may be interrupted anywhere and run again.
#   PYTHON=...  the interpreter to build .venv from     CXX=...  the compiler
set -euo pipefail
cd -P "$(dirname "$0")/.."
wants() { [[ " $groups " == *" $1 "* ]]; }
groups=$*

say() { printf 'setup: %s\n' "$*"; }
fail() { printf 'setup: %s\n' "$@" >&2; exit 2; }

# ---- what the system must bring ------------------------------------------------------------------

compiles() { # compiles 'SOURCE'; CXX may carry arguments or a launcher, so it is split into words
    # shellcheck disable=SC2086
    printf '%b\n' "$1" | ${CXX:=c++} -std=c++20 -x c++ -fsyntax-only - 2>/dev/null
}

# Debian ships venv and Python.h in packages of their own, so each candidate is asked, not its name trusted.
# Prints version and base interpreter: an activated .venv is never built from itself.
python_of() {
    "$1" -I -c '
import ensurepip, os, sys, sysconfig, venv
assert sys.implementation.name == "cpython" and sys.version_info >= (3, 11)
assert os.path.exists(os.path.join(sysconfig.get_path("include"), "Python.h"))
print("%d.%d.%d" % sys.version_info[:3], os.path.realpath(sys._base_executable))' 2>/dev/null </dev/null
}

# A .venv is kept, whatever PATH says today, while its interpreter and its place (scripts in it hold that) are
# what it was made from; .venv/fitwright-origin is written when it is finished.
origin() { printf '%s\n' "${1#* }" "${1%% *}" "$PWD"; }
keeps_venv() {
    local made
    made=$(python_of .venv/bin/python) && [ "$(origin "$made")" = "$(cat .venv/fitwright-origin 2>/dev/null)" ] || return 1
    [ -z "${PYTHON:-}" ] || [ "$(python_of "$PYTHON")" = "$made" ] || ! python_of "$PYTHON" >/dev/null
}

look() { # sets missing (words for people), packages (Debian names), python ("" when .venv can stay)
    missing=() packages=() python=
    compiles '#include <bit>\n#include <concepts>\n#include <span>\nint main() { return std::popcount(0u); }' || {
        missing+=("a C++20 compiler ($CXX will not do)")
        packages+=(g++)
    }
    if ! keeps_venv; then
        local name
        for name in ${PYTHON:+"$PYTHON"} python3.13 python3.12 python3.11 python3 /usr/bin/python3; do
            python=$(python_of "$name") && break
            [ "$name" != "${PYTHON:-}" ] || say "PYTHON=$name will not do; looking further"
        done
        [ -n "$python" ] || {
            missing+=("Python 3.11 or later with venv and Python.h")
            packages+=(python3 python3-venv python3-dev)
        }
    fi
    # Elsewhere than the compiler looks by itself Catch2 is CMake's to find.
    ! wants test || [ -n "${Catch2_ROOT:-}${CMAKE_PREFIX_PATH:-}" ] ||
        compiles '#if !__has_include(<catch2/catch_all.hpp>) && !__has_include(<catch2/catch.hpp>)\n#error none\n#endif' || {
        missing+=("Catch2 (2.13 or 3)")
        packages+=(catch2)
    }
}

apt_install() (
    umask 022
    export DEBIAN_FRONTEND=noninteractive
    apt() { apt-get -o DPkg::Lock::Timeout=120 "$@" </dev/null >&2; }
    install=(install -y -qq --no-install-recommends "$@")
    apt "${install[@]}" 2>/dev/null || { apt update -qq && apt "${install[@]}"; }
)

require_system() {
    look
    [ ${#missing[@]} -gt 0 ] || return 0
    local list line="apt-get install -y ${packages[*]}"
    printf -v list '%s, ' "${missing[@]}"
    command -v apt-get >/dev/null ||
        fail "missing: ${list%, }; Debian's packages of it are called: ${packages[*]}"
    [ "$(id -u)" = 0 ] || fail "missing: ${list%, }; as root run:  $line"
    say "missing: ${list%, }; running: $line"
    apt_install "${packages[@]}" || fail "could not install: ${list%, }; as root run:  $line"
    look
    printf -v list '%s, ' "${missing[@]}"
    [ ${#missing[@]} = 0 ] ||
        fail "still missing: ${list%, }; name one with PYTHON=/path/to/python3 or CXX=/path/to/compiler"
}

# With it `make test` does not compile the core a second time for its install; without it all works.
offer_ccache() {
    ! wants test || command -v ccache >/dev/null || [ "$(id -u)" != 0 ] || apt_install ccache 2>/dev/null ||
        say "no ccache to be had; the core will be compiled twice"
}

# ---- the virtual environment ---------------------------------------------------------------------

# Runs; what it says when it cannot go on is long, so the cause and the way out are one line.
tell_of() { # WHAT COMMAND...
    local said cause
    said=$("${@:2}" 2>&1) && return 0
    cause=$(printf '%s' "$said" | tools/cause.sh) || fail "could not $1:" "$said"
    fail "$cause"
}
pip() { tell_of "install Python packages" .venv/bin/python -m pip install -q "$@"; }

make_venv() {
    [ -n "$python" ] || return 0
    # Only what was made here is removed: .unfinished goes in first, the origin last.
    [ ! -e .venv ] || [ -e .venv/.unfinished ] || [ -e .venv/fitwright-origin ] || rmdir .venv 2>/dev/null ||
        fail ".venv was not made by this script; move it away and try again"
    say "making .venv with Python $python"
    # The trees remember the interpreter's headers and the place; CMake refuses a tree that was moved.
    rm -rf build/release build/sanitize build/threads build/figures build/bits .venv.old
    [ ! -e .venv ] || mv .venv .venv.old # at once: half of a removal must not look like somebody else's
    rm -rf .venv.old
    mkdir .venv
    touch .venv/.unfinished
    tell_of "make .venv" "${python#* }" -m venv .venv
    origin "$python" >.venv/fitwright-origin
}

# Groups are installed once for each pyproject.toml.
fill_venv() {
    local group stamp wanted=()
    stamp=$(cksum <pyproject.toml)
    for group in $groups; do
        [ "$(cat ".venv/fitwright-group-$group" 2>/dev/null)" = "$stamp" ] || wanted+=("$group")
    done
    [ ${#wanted[@]} -gt 0 ] || return 0
    say "installing Python packages for: ${wanted[*]}"
    # pip writes INSTALLER last: a package without it was interrupted, and would count as installed.
    local info
    for info in .venv/lib/python3*/site-packages/*.dist-info; do
        [ -e "$info/INSTALLER" ] || rm -rf "$info"
    done
    rm -rf .venv/lib/python3*/site-packages/~*
    .venv/bin/python -m pip --version >/dev/null 2>&1 || tell_of "mend pip" .venv/bin/python -m ensurepip
    .venv/bin/python -m pip install --help | grep -q -e --group || pip 'pip>=25.1'
    pip "${wanted[@]/#/--group=}"
    for group in "${wanted[@]}"; do printf '%s\n' "$stamp" >".venv/fitwright-group-$group"; done
}

unset PYTHONPATH PYTHONHOME PIP_TARGET PIP_PREFIX PIP_REQUIRE_VIRTUALENV
export PYTHONNOUSERSITE=1 PIP_USER=0 PIP_NO_INPUT=1 PIP_DISABLE_PIP_VERSION_CHECK=1
require_system
offer_ccache
make_venv
fill_venv
