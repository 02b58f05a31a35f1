#!/usr/bin/env bash
# tools/try-wheel.sh WHEEL [PYTHON]   installs the wheel into a fresh environment that sees no compiler, and runs
# the demo there.
set -euo pipefail
wheel=$(realpath "$1")
python=${2:-$(dirname "$0")/../.venv/bin/python}
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
"$python" -m venv "$folder/venv"
mkdir "$folder/bin"
for tool in env cat ls uname; do ln -s "$(command -v $tool)" "$folder/bin/"; done
cd "$folder"
# The home is kept, since pip may be told there where packages come from.
alone() { env -i HOME="$HOME" MPLBACKEND=Agg MPLCONFIGDIR="$folder" PATH="$folder/venv/bin:$folder/bin" "$@"; }
for compiler in cc c++ gcc g++ clang clang++ cmake; do
    if alone python -c "import shutil, sys; sys.exit(shutil.which('$compiler') is None)"; then
        echo "try-wheel: $compiler can be reached: this proves nothing" >&2
        exit 1
    fi
done
alone python -m pip install -qq "$wheel"
alone fitwright --version
alone fitwright demo --samples 20000 --out demo | tail -n 8
test -s demo/blower.html
