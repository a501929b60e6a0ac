#!/bin/sh
# Every request for memory fails once, one a run: the answer is right all the same or the program
# says that it has none (exit 3, one line), and no file is left that is not whole.
#     test_no_memory.sh PROGRAM
# Most requests of a run are alike, so after the first few one in so many is tried.
set -eu
program=$1
shim=$(dirname "$program")/tests/libfailing_memory.so
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
sweep 30 1499 layout roofs/hip.yaml
