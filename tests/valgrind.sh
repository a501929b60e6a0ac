#!/bin/sh
# Memory as valgrind sees it, where no sanitizer has rewritten anything: every roof in roofs/ laid out
# with all its files, checked, and all of them as a fleet; and random roofs, most of them with several
# frames, laid out.
#
#     sh tests/valgrind.sh [--quick] [PROGRAM]
#
# --quick: three roofs, a fleet of them and two random ones. PROGRAM: default .build-release/tests/ruddle,
# which loads its libraries, so that what is asked of memory is seen; the tests are built beside it.
# An error is a read or write where nothing is or a decision by a value that nobody set; a leak is
# memory that nothing points at any more when a process ends. What something still points at is none:
# the caches of cairo, FreeType and pixman, and what a worker has from the process that made it.
# Prints a line a run, and last "N runs, E errors, B bytes leaked". Exits 1 unless both are 0.
set -eu
cd "$(dirname "$0")/.."
program=.build-release/tests/ruddle
quick=no
for word in "$@"; do
    case $word in
    --quick) quick=yes ;;
    -*)
        echo "usage: sh tests/valgrind.sh [--quick] [PROGRAM]" >&2
        exit 2
        ;;
    *) program=$word ;;
    esac
done
. tests/packages.sh
packages_need valgrind
for tool in valgrind "$program" "$(dirname "$program")/test_roof_writer"; do
    command -v "$tool" >/dev/null || { echo "valgrind.sh: no $tool" >&2 && exit 3; }
done
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
: >"$work/runs"

# watched WORD...: one run of the program; its workers are watched as well, each with its own log.
watched() {
    rm -f "$work"/log.*
    code=0
    valgrind --quiet --trace-children=yes --leak-check=full \
        --show-leak-kinds=definite,indirect --errors-for-leak-kinds=definite,indirect --error-exitcode=99 --log-file="$work/log.%p" \
        "$program" "$@" >"$work/out" 2>"$work/err" || code=$?
    cat "$work"/log.* >"$work/log"
    [ "$code" -le 2 ] || [ "$code" -eq 99 ] ||
        { echo "valgrind.sh: exit $code: $*: $(cat "$work/err")" >&2 && exit 3; }
    awk -v what="$*" '
        / blocks are (definitely|indirectly) lost / {
            gsub(",", ""); leaked += $2; next }
        /^==[0-9]+== [A-Z]/ { errors++ }
        END { printf "%d %d %s\n", errors, leaked, what }' "$work/log" >>"$work/runs"
    tail -1 "$work/runs" | sed 's/^\([0-9]*\) \([0-9]*\) \(.*\)/\3: \1 errors, \2 bytes leaked/'
    cat "$work/log"
    [ "$code" -ne 99 ] || [ -s "$work/log" ] || { echo "valgrind.sh: 99 and no word" >&2 && exit 3; }
}

roofs=$(ls roofs/*.yaml)
[ "$quick" = no ] || roofs='roofs/easy.yaml roofs/old-house.yaml roofs/cannot-carry.yaml'
mkdir "$work/fleet"
cp -r roofs/kits "$work/fleet/"
for roof in $roofs; do
    cp "$roof" "$work/fleet/"
    watched layout "$roof" --json --limit 600
    cp "$work/out" "$work/layout.json"
    watched layout "$roof" --quiet --limit 600 --out "$work/files"
    watched check "$roof" "$work/layout.json"
done
random=20
[ "$quick" = no ] || random=2
"$(dirname "$program")/test_roof_writer" "$work" 2 "$random" mixed 1
for roof in $(seq 2 $((random + 1))); do
    watched layout "$work/$roof.yaml" --json --limit 600
done
watched fleet "$work/fleet" --jobs 2 --report "$work/fleet.csv"

awk '{ errors += $1; leaked += $2 }
    END { printf "%d runs, %d errors, %d bytes leaked\n", NR, errors, leaked
        exit errors + leaked > 0 }' \
    "$work/runs"
