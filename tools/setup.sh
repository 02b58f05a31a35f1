#!/usr/bin/env bash
# tools/setup.sh EXTRA...   e.g. `tools/setup.sh build test`; the Makefile calls it before every target.
# Sees to it that the system has what the EXTRAs need and that .venv holds the packages pyproject.toml
# lists for them. Quick when nothing is missing; may be interrupted anywhere and run again.
#   PYTHON=...  the interpreter to build .venv from     CXX=...  the compiler
set -euo pipefail
cd -P "$(dirname "$0")/.."

unset PYTHONPATH PYTHONHOME PIP_TARGET PIP_PREFIX PIP_REQUIRE_VIRTUALENV
export PYTHONNOUSERSITE=1 PIP_USER=0 PIP_NO_INPUT=1 PIP_DISABLE_PIP_VERSION_CHECK=1

say() { printf 'setup: %s\n' "$*"; }
fail() { printf 'setup: %s\n' "$@" >&2; exit 2; }

# ---- what the system must bring ------------------------------------------------------------------

compiles() { # compiles 'SOURCE' [FLAG...]
    # CXX may carry arguments or a launcher, so it is split into words.
    # shellcheck disable=SC2086
    printf '%b\n' "$1" | ${CXX:=c++} -std=c++20 -x c++ -fsyntax-only "${@:2}" - 2>/dev/null
}

has_cxx20() { compiles '#include <bit>\n#include <concepts>\n#include <span>\nint main() { return std::popcount(0u); }'; }

has_catch2() {
    local flags=() prefix places="${Catch2_ROOT:-}:${CMAKE_PREFIX_PATH:-}"
    while IFS= read -r prefix; do
        [ -z "$prefix" ] || flags+=(-I "$prefix/include")
    done <<<"${places//[:;]/$'\n'}"
    compiles '#if !__has_include(<catch2/catch_all.hpp>) && !__has_include(<catch2/catch.hpp>)\n#error none\n#endif' "${flags[@]}"
}

# Prints "VERDICT VERSION BASE-INTERPRETER". Debian ships venv and Python.h in packages of their own, and
# an interpreter from elsewhere has its own headers: so each candidate is asked, not its name trusted.
# The base interpreter is named so that an activated .venv is never built from itself.
judge_python() {
    "$1" -I -c '
import os, sys, sysconfig
def lacking():
    if sys.implementation.name != "cpython" or sys.version_info < (3, 11): return "old"
    try:
        import venv
        from ensurepip import bootstrap
    except ImportError: return "no-venv"
    header = os.path.join(sysconfig.get_path("include"), "Python.h")
    return "good" if os.path.exists(header) else "no-headers"
print(lacking(), "%d.%d.%d" % sys.version_info[:3], os.path.realpath(sys._base_executable))
' 2>/dev/null </dev/null
}

choose_python() { # sets python_base and python_version
    local name verdict
    for name in ${PYTHON:+"$PYTHON"} python3.13 python3.12 python3.11 python3 /usr/bin/python3; do
        if read -r verdict python_version python_base < <(judge_python "$name") && [ "$verdict" = good ]; then
            return
        fi
        python_base=
        if [ "$name" = "${PYTHON:-}" ]; then
            say "PYTHON=$name will not do (${verdict:-does not run}); looking further"
        fi
    done
    return 1
}

# Debian names of what /usr/bin/python3 lacks; other interpreters cannot be mended by a package.
python_packages() {
    local verdict version base
    read -r verdict version base < <(judge_python /usr/bin/python3) || verdict=absent
    case $verdict in
        no-venv) echo "python3-venv python3-dev" ;;
        no-headers) echo "python3-dev" ;;
        old) echo "python3.11-venv python3.11-dev" ;;
        *) echo "python3 python3-venv python3-dev" ;;
    esac
}

look() { # sets missing (words for people), packages (Debian names); python_base if .venv must be made
    missing=() packages=() python_base=
    has_cxx20 || { missing+=("a C++20 compiler ($CXX will not do)"); packages+=(g++); }
    # shellcheck disable=SC2207
    have_venv || choose_python || {
        missing+=("Python 3.11 or later with venv and Python.h")
        packages+=($(python_packages))
    }
    if [[ " $* " == *" test "* ]]; then
        # Without a compiler the header cannot be looked for: name it too, one line must be enough.
        has_catch2 || { missing+=("Catch2 (2.13 or 3)"); packages+=(catch2); }
    fi
}

require_system() {
    look "$@"
    [ ${#missing[@]} -gt 0 ] || return 0
    local list line
    printf -v list '%s, ' "${missing[@]}"
    list=${list%, }
    line="apt-get install -y ${packages[*]}"
    if ! command -v apt-get >/dev/null; then
        fail "missing: $list" "install with this system's package manager; Debian calls them: ${packages[*]}"
    fi
    if [ "$(id -u)" != 0 ]; then
        fail "missing: $list; as root run:  $line"
    fi
    say "missing: $list; running: $line"
    (
        umask 022
        export DEBIAN_FRONTEND=noninteractive
        apt-get -o DPkg::Lock::Timeout=120 update -qq || say "apt-get update failed; trying with the lists at hand"
        apt-get -o DPkg::Lock::Timeout=120 install -y -qq --no-install-recommends "${packages[@]}"
    ) </dev/null >&2 || fail "could not install: $list; as root run:  $line"
    look "$@"
    if [ ${#missing[@]} -gt 0 ]; then
        printf -v list '%s, ' "${missing[@]}"
        fail "still missing after installing: ${list%, }" \
            "name another one with PYTHON=/path/to/python3 or CXX=/path/to/compiler"
    fi
}

# Without it all works; with it `make test` does not compile the core a second time for its install.
offer_ccache() {
    [[ " $* " == *" test "* ]] && [ "$(id -u)" = 0 ] || return 0
    if command -v ccache >/dev/null || ! command -v apt-get >/dev/null; then
        return 0
    fi
    (
        umask 022
        export DEBIAN_FRONTEND=noninteractive
        apt-get -o DPkg::Lock::Timeout=120 install -y -qq --no-install-recommends ccache ||
            { apt-get -o DPkg::Lock::Timeout=120 update -qq &&
                apt-get -o DPkg::Lock::Timeout=120 install -y -qq --no-install-recommends ccache; }
    ) </dev/null >/dev/null 2>&1 || say "no ccache to be had; the core will be compiled twice"
}

# ---- the virtual environment ---------------------------------------------------------------------

# .venv/fitwright-origin is written last, so a .venv without it is not finished; .venv/.unfinished is
# written first, so that only a folder made here is ever removed.
origin() { printf '%s\n' "$1" "$2" "$PWD"; } # interpreter, version, checkout: scripts in .venv hold its path

# An existing .venv is kept, whatever PATH says today, while its interpreter still is what it was made from.
have_venv() {
    local verdict version base
    [ -f .venv/fitwright-origin ] || return 1
    read -r verdict version base < <(judge_python .venv/bin/python) || return 1
    [ "$verdict" = good ] || return 1
    [ "$(origin "$base" "$version")" = "$(cat .venv/fitwright-origin)" ] || return 1
    if [ -n "${PYTHON:-}" ]; then
        local wanted
        wanted=$(judge_python "$PYTHON") || return 0
        [[ $wanted != good\ * || $wanted = "good $version $base" ]] || return 1
    fi
}

make_venv() {
    [ -n "$python_base" ] || return 0
    if [ -e .venv ] && [ ! -e .venv/.unfinished ] && [ ! -e .venv/fitwright-origin ]; then
        rmdir .venv 2>/dev/null || fail ".venv was not made by this script; move it away and try again"
    fi
    say "making .venv with Python $python_version ($python_base)"
    # Build folders remember the interpreter's headers; .unfinished goes back in first and out last.
    [ ! -e .venv ] || touch .venv/.unfinished
    rm -f .venv/fitwright-origin
    rm -rf build/release
    [ ! -e .venv ] || find .venv -mindepth 1 -maxdepth 1 ! -name .unfinished -exec rm -rf {} +
    mkdir -p .venv
    touch .venv/.unfinished
    "$python_base" -m venv .venv
    .venv/bin/python -m pip --version >/dev/null
    origin "$python_base" "$python_version" >.venv/fitwright-origin
    rm -f .venv/.unfinished
}

# pip writes INSTALLER near the end of each package: a package without it was interrupted, and would
# count as installed; what an interrupted removal set aside is named "~...".
drop_half_installed() {
    local info
    for info in .venv/lib/python3*/site-packages/*.dist-info; do
        [ ! -d "$info" ] || [ -e "$info/INSTALLER" ] || rm -rf "$info"
    done
    rm -rf .venv/lib/python3*/site-packages/~*
}

# Build requirements, run-time dependencies and the extras named, one a line. Read here because pip 23
# can install an extra only by building the project first.
requirements() {
    .venv/bin/python - "$@" <<'PY'
import re, sys, tomllib

with open("pyproject.toml", "rb") as file:
    table = tomllib.load(file)
project = table["project"]
extras = project.get("optional-dependencies", {})
itself = re.compile(re.escape(project["name"]) + r"\s*\[([^\]]+)\]\s*")

def expand(lines):
    for line in lines:
        if match := itself.fullmatch(line):
            for name in match[1].split(","):
                yield from expand(extras[name.strip()])
        else:
            yield line

lines = table["build-system"]["requires"] + project.get("dependencies", [])
for name in sys.argv[1:]:
    if name not in extras:
        sys.exit(f"pyproject.toml: no extra named {name!r}; there are {sorted(extras)}")
    lines = lines + extras[name]
print(*dict.fromkeys(expand(lines)), sep="\n")
PY
}

# What pip says when it cannot go on is long; the cause and the way out are one line each.
install_packages() {
    local said
    said=$(.venv/bin/python -m pip install -qq -r "$1" 2>&1 >/dev/null) && return 0
    case $said in
        *"No space left"*)
            fail "no space left in $PWD; free some and run the same command again: it goes on from here" ;;
        *"(from versions: none)"* | *"Failed to establish"* | *"onnection"* | *"ame or service not known"* | *"timed out"*)
            fail "the package index cannot be reached; mend the network or name a mirror (PIP_INDEX_URL)" \
                "and run the same command again: it goes on from here" ;;
    esac
    fail "pip could not install the packages of $1:" "$said"
}

fill_venv() {
    local extra stamp wanted=()
    stamp=$(cksum <pyproject.toml)
    for extra in "$@"; do
        [ "$(cat ".venv/fitwright-extra-$extra" 2>/dev/null)" = "$stamp" ] || wanted+=("$extra")
    done
    drop_half_installed
    [ ${#wanted[@]} -gt 0 ] || return 0
    say "installing Python packages for: ${wanted[*]}"
    requirements "${wanted[@]}" >.venv/fitwright-requirements.txt
    install_packages .venv/fitwright-requirements.txt
    for extra in "${wanted[@]}"; do printf '%s\n' "$stamp" >".venv/fitwright-extra-$extra"; done
}

# A CMake tree of a checkout that has since been moved or copied is refused by CMake: start it afresh.
drop_moved_trees() {
    local cache
    for cache in build/*/CMakeCache.txt; do
        [ -f "$cache" ] || continue
        [ "$(sed -n 's/^CMAKE_HOME_DIRECTORY:INTERNAL=//p' "$cache")" -ef . ] || rm -rf "${cache%/*}"
    done
}

require_system "$@"
offer_ccache "$@"
make_venv
fill_venv "$@"
drop_moved_trees
