#!/usr/bin/env bash
# tools/sdist.sh [FOLDER]   the source as pip takes it, in FOLDER (build/wheel), and a wheel built from nothing else
# to show that it is whole.
set -euo pipefail
cd -P "$(dirname "$0")/.."
to=$(realpath -m "${1:-build/wheel}")
python=$PWD/.venv/bin/python
[ -x "$python" ] || python=python3
rm -rf build/sdist
mkdir -p build/sdist
"$python" -m venv build/sdist/venv
python=build/sdist/venv/bin/python
"$python" -m pip install -qq --disable-pip-version-check build
"$python" -m build --sdist --outdir "$to" . >build/sdist/log
tar -xzf "$to"/fitwright-*.tar.gz -C build/sdist
# A tree as deep as make's and its warnings: so ccache knows the sources of the core again.
source=$(echo build/sdist/fitwright-*)
"$python" -m pip wheel -qq --disable-pip-version-check --no-deps -w build/sdist/wheel \
    --config-settings=build-dir="$PWD/$source/build/release" --config-settings=cmake.define.FITWRIGHT_WERROR=ON "./$source"
ls -l "$to"/fitwright-*.tar.gz build/sdist/wheel
