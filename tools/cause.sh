#!/usr/bin/env bash
# tools/cause.sh <LOG   the cause that a long log of pip or of a build ends with, and the way out, in one line;
# fails, and says nothing, when it knows none. Nothing is written: the disk may be full.
set -euo pipefail
log=$(cat)
told() { [[ $log =~ $1 ]]; }
full() { df -Pk "$PWD" "${TMPDIR:-/tmp}" 2>/dev/null | awk 'NR > 1 && $4 < 10000 { found = 1 } END { exit !found }'; }
goes_on='and the same command goes on where it stopped'
if told 'No space left on device|Disk quota exceeded' || full; then
    echo "no space left in $PWD or in ${TMPDIR:-/tmp}: free some (make clean), $goes_on"
elif told 'from versions: none|Failed to establish|ConnectionError|ConnectTimeout|ReadTimeout|Name or service not known|Temporary failure in name resolution'; then
    echo "the package index cannot be reached: mend the network or name a mirror (PIP_INDEX_URL), $goes_on"
elif told 'Killed signal terminated program|Cannot allocate memory|virtual memory exhausted|std::bad_alloc'; then
    echo "not enough memory: with one file at a time (JOBS=1) it takes less, $goes_on"
elif told 'build stopped: interrupted by user'; then
    echo "interrupted: the same command goes on where it stopped"
else
    exit 1
fi
