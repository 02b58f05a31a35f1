#!/usr/bin/env bash
# tools/sdist.sh [FOLDER]   the source as pip takes it, in FOLDER (build/wheel).
set -euo pipefail
cd -P "$(dirname "$0")/.."
to=${1:-build/wheel}
python=.venv/bin/python
[ -x "$python" ] || python=python3
"$python" -m pip install -qq build
"$python" -m build --sdist --outdir "$to" .
for file in CMakeLists.txt cpp/CMakeLists.txt python/bindings/module.cpp pyproject.toml LICENSE; do
    tar -tzf "$to"/fitwright-*.tar.gz | grep -qE "^fitwright-[^/]+/$file$" || { echo "sdist: no $file" >&2; exit 1; }
done
