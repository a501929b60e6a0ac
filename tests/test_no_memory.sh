#!/bin/sh
# Every request for memory fails once, one a run: the answer is right all the same or the program
# says that it has none (exit 3, one line), and no file is left that is not whole.
#     test_no_memory.sh PROGRAM
# PROGRAM loads its libraries, and the shim stands beside it.
# Most requests of a run are alike, so after the first few one in so many is tried.
set -eu
program=$1
shim=$(dirname "$program")/libfailing_memory.so
# Sanitizers bring an allocator of their own; there this test has nothing to say.
[ -f "$shim" ] || { echo "no $shim: not tried" && exit 0; }
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

# run NUMBER WORD...: the program with that request failing.
run() {
    number=$1
    shift
    code=0
    RUDDLE_FAIL_AT=$number LD_PRELOAD=$shim "$program" "$@" >"$work/out" 2>"$work/err" || code=$?
}

fail() {
    echo "request $number of: $*" >&2
    echo "exit $code; it said: $(head -c 300 "$work/err")" >&2
    exit 1
}

# Every file there is the whole one.
whole() {
    for file in "$work/files"/* "$work/files"/.[!.]*; do
        [ -e "$file" ] || continue
        cmp -s "$file" "$work/good/$(basename "$file")" || return 1
    done
}

# hold WORD...: judges a run that was made.
hold() {
    case $code in
    0) cmp -s "$work/out" "$work/wanted" || fail "$@" ;;
    3) grep -qi memory "$work/err" || fail "$@" ;;
    *) fail "$@" ;;
    esac
    whole || fail "$@"
}

# sweep FIRST STEP WORD...: requests 1 to FIRST, then every STEP-th.
sweep() {
    first=$1 step=$2
    shift 2
    "$program" "$@" --out "$work/good" >"$work/wanted"
    RUDDLE_COUNT_TO=$work/count LD_PRELOAD=$shim "$program" "$@" --out "$work/files" >/dev/null
    rm -rf "$work/files"
    last=$(cat "$work/count") number=1 tried=0
    while [ "$number" -le "$last" ]; do
        run "$number" "$@" --out "$work/files"
        hold "$@"
        rm -rf "$work/files"
        tried=$((tried + 1))
        if [ "$number" -lt "$first" ]; then number=$((number + 1)); else number=$((number + step)); fi
    done
    echo "$1: $tried of $last requests failed once each"
}

"$program" layout roofs/hip.yaml --json >"$work/layout.json"
sweep 60 97 check roofs/hip.yaml "$work/layout.json"
sweep 30 2999 layout roofs/hip.yaml
# What each command asks for beside that: its first requests are those of its options, its last ones
# those of its pages.
sweep 2 1999 explain roofs/easy.yaml
sweep 2 1999 compare roofs/easy.yaml
sweep 2 49999 revise roofs/easy.yaml roofs/drilled/easy.yaml
sweep 2 199 survey
sweep 2 1999 practice --seed 7 --level 1

# The solver's own requests, its very first among them: it would end the process.
RUDDLE_FAIL_OF=libglpk
export RUDDLE_FAIL_OF
sweep 8 2999 layout roofs/hip.yaml
unset RUDDLE_FAIL_OF

# A fleet: a worker without memory is a row that says so.
mkdir "$work/roofs"
for roof in easy sistered; do
    sed "s|kit: kits|kit: $PWD/roofs/kits|" roofs/$roof.yaml >"$work/roofs/$roof.yaml"
done
"$program" fleet "$work/roofs" --limit 1 --quiet --report "$work/good.csv"
number=1 tried=0
while [ "$number" -le 1500 ]; do
    run "$number" fleet "$work/roofs" --limit 1 --jobs 1 --quiet --report "$work/fleet.csv"
    case $code in
    0) cmp -s "$work/good.csv" "$work/fleet.csv" || fail fleet ;;
    2) grep -qi 'memory\|signal\|exit code' "$work/fleet.csv" || grep -qi memory "$work/err" || fail fleet ;;
    3) grep -qi 'memory\|room' "$work/err" || fail fleet ;;
    *) fail fleet ;;
    esac
    [ -z "$(find "$work" -name '.fleet*')" ] || fail fleet: a half file is left
    rm -f "$work"/fleet.csv*
    number=$((number + 59)) tried=$((tried + 1))
done
echo "fleet: $tried requests failed once each"
