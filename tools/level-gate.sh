#!/usr/bin/env bash
# tools/level-gate.sh OBJECT... [--baseline OBJECT...]   refuses object files that would be unsafe beside the
# same code compiled for another vector level, and baseline ones whose results hang on the processor: those
# may not call libm either. The linker keeps one copy of a weak symbol, so one compiled for a wide unit
# must carry its level (the type Isa<N>) in its name; code that runs at load runs before the processor is
# asked what it can do; libm picks variants by processor, so its results are not the same everywhere; and a
# fused multiply and add rounds once where the same code at the baseline rounds twice.
set -euo pipefail
export LC_ALL=C

# For objects of another processor: their own binutils.
nm=${NM:-nm}
objdump=${OBJDUMP:-objdump}
readelf=${READELF:-readelf}

libm='a?(sin|cos|tan)h?|atan2|sincos|exp|exp2|exp10|expm1|log|log2|log10|log1p|pow|cbrt|hypot|fma|erfc?|[tl]gamma'

if [ $# -eq 0 ]; then
    echo "level gate: no object files given" >&2
    exit 1
fi

bad=0
tagged_total=0
undefined_total=0

refuse() { # OBJECT RULE LINES
    bad=$((bad + 1))
    printf 'level gate: %s: %s\n' "$1" "$2" >&2
    [ -z "${3:-}" ] || sed -n -e 's/^/    /' -e '1,8p' <<<"$3" | cut -c1-160 >&2
}

baseline=0
baseline_total=0
for object in "$@"; do
    if [ "$object" = --baseline ]; then
        baseline=1
        continue
    fi
    # A file that cannot be read, or defines nothing, has not been checked: that is a failure too.
    if ! defined=$($nm -C --defined-only "$object") || ! undefined=$($nm -u "$object"); then
        refuse "$object" "cannot be read as an object file"
        continue
    fi
    if ! grep -qE '^[0-9a-f]+ [TWVuRDB] ' <<<"$defined"; then
        refuse "$object" "defines no function or object"
        continue
    fi

    calls=$(awk '{ print $2 }' <<<"$undefined" | grep -xE "(__)?($libm)[fl]?(_finite)?|_ZGV.*" || true)
    [ -z "$calls" ] || refuse "$object" "calls into libm" "$calls"
    fused=$($objdump -d --no-show-raw-insn "$object" | grep -oE '\bv?fn?m(add|sub|la|ls)[a-z0-9]*' | sort | uniq -c || true)
    [ -z "$fused" ] || refuse "$object" "fused multiply and add, in spite of -ffp-contract=off" "$fused"
    if [ $baseline = 1 ]; then
        baseline_total=$((baseline_total + 1))
        continue
    fi

    # DW.ref.* only refers to the personality routine: the same pointer at every level.
    weak=$(grep -E '^[0-9a-f]+ [WVu] ' <<<"$defined" | grep -v ' DW\.ref\.' || true)
    untagged=$(grep -v 'Isa<' <<<"$weak" | sed -E '/^$/d; s/^[0-9a-f]+ . //' || true)
    [ -z "$untagged" ] || refuse "$object" "weak symbols without the level in their name" "$untagged"
    tagged_total=$((tagged_total + $(grep -c 'Isa<' <<<"$weak" || true)))

    # AddressSanitizer registers itself in .init_array.00099 of every object; nothing else may be there.
    sections=$($readelf -SW "$object" | grep -oE '\.(preinit_array|init_array|ctors)[.0-9]*' | sort -u || true)
    if grep -q ' __asan_init$' <<<"$undefined"; then
        sections=$(grep -vx '\.init_array\.00099' <<<"$sections" || true)
    fi
    [ -z "$sections" ] || refuse "$object" "code that runs at load" "$sections"

    undefined_total=$((undefined_total + $(grep -c . <<<"$undefined" || true)))
done

echo "level gate: $(($# - baseline - baseline_total)) objects, $tagged_total weak symbols with their level, $undefined_total undefined names, $baseline_total baseline objects, $bad refusals"
[ "$bad" -eq 0 ]
