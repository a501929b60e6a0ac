#!/bin/sh
# Every call of the system that a command makes for its files fails once, and the solver gives up on
# purpose: one line that says what failed, the right exit code, no half file and nothing left over.
#     sh tests/test_faults.sh PROGRAM
# PROGRAM loads its libraries, and the shim stands beside it.
set -eu
program=$(realpath "$1")
folder=$(dirname "$program")
# Sanitizers want to be loaded first; what is tested here is which way is taken, not memory.
[ -f "$folder/libfailing_calls.so" ] || { echo "SKIPPED: left to the build without sanitizers" && exit 77; }
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

fail() {
    echo "faults: $*" >&2
    echo "it said: $(head -c 300 "$work/err")" >&2
    exit 1
}

# broken CALL NUMBER WORD...: runs the program with that call failing.
broken() {
    call=$1 number=$2
    shift 2
    code=0
    RUDDLE_FAIL_CALL=$call RUDDLE_FAIL_AT=$number LD_PRELOAD=$folder/libfailing_calls.so \
        "$program" "$@" >"$work/out" 2>"$work/err" || code=$?
}

one_line() {
    [ "$(grep -c . "$work/err")" -eq 1 ] || fail "$call $number of: $*: not one line"
    grep -q "$said" "$work/err" || fail "$call $number of: $*: it does not say '$said'"
}

# whole_or_none: every file there is the one that a good run writes.
whole_or_none() {
    for file in "$work/files"/* "$work/files"/.[!.]*; do
        [ -e "$file" ] || continue
        cmp -s "$file" "$work/good/$(basename "$file")" || return 1
    done
}

# ---- Each call of a kind fails once, with an error of the disk. ----------------------------------
# sweep CODES CALL WORD...
tried=0
sweep() {
    wanted=$1 call=$2
    shift 2
    rm -rf "$work/good"
    "$program" "$@" --out "$work/good" >"$work/wanted"
    RUDDLE_FAIL_CALL=$call RUDDLE_COUNT_TO=$work/count LD_PRELOAD=$folder/libfailing_calls.so \
        "$program" "$@" --out "$work/files" >/dev/null
    rm -rf "$work/files"
    last=$(cat "$work/count")
    [ "$last" -gt 0 ] || fail "$call: $* makes no such call"
    for number in $(seq "$last"); do
        broken "$call" "$number" "$@" --out "$work/files"
        case $wanted in
        *$code*) ;;
        *) fail "$call $number of: $*: exit code $code, not $wanted" ;;
        esac
        [ "$code" -eq 0 ] || one_line "$@"
        whole_or_none || fail "$call $number of: $*: a half file is left: $(ls -A "$work/files")"
        rm -rf "$work/files"
        tried=$((tried + 1))
    done
}

"$program" layout roofs/easy.yaml --json >"$work/layout.json"
said="Input/output error"
sweep "2 3" open layout roofs/easy.yaml
sweep "2" read layout roofs/easy.yaml
for call in fdopen fsync fclose fflush rename mkdir dup; do
    sweep "3" $call check roofs/easy.yaml "$work/layout.json"
done
sweep "3" rename explain roofs/easy.yaml
sweep "3" fdopen compare roofs/easy.yaml
echo "$tried calls failed once each"

# ---- A folder that cannot be written to, whoever asks. -------------------------------------------
export RUDDLE_FAIL_ERRNO=30 # EROFS
said="Read-only file system"
for words in "layout roofs/easy.yaml" "check roofs/easy.yaml $work/layout.json" "explain roofs/easy.yaml" \
    "compare roofs/easy.yaml" "revise roofs/easy.yaml roofs/drilled/easy.yaml" "survey" "practice --seed 7"; do
    # shellcheck disable=SC2086 # a list of words
    broken mkdir 1 $words --out "$work/files"
    [ $code -eq 3 ] || fail "$words: exit code $code on a read-only disk"
    # shellcheck disable=SC2086
    one_line $words
    [ ! -e "$work/files" ] || fail "$words: a folder on a read-only disk"
done
unset RUDDLE_FAIL_ERRNO

# ---- Files may not grow: the model, which the solver writes itself, and the record of a fleet. ----
(
    trap '' XFSZ
    ulimit -f 1 # a block of 512 or 1024 bytes
    number=- call="a full disk"
    code=0
    "$program" layout roofs/easy.yaml --quiet --model "$work/model.lp" 2>"$work/err" || code=$?
    [ $code -eq 3 ] || fail "a model without room: exit code $code"
    said="model.lp: wanted a place where the model can be written"
    one_line --model
    [ -z "$(find "$work" -name 'model.lp*')" ] || fail "half a model is left"
)

# ---- The solver stops on an assertion of its own: its other rule of branching finds the same. -----
roof=roofs/hip.yaml # leans, so that it takes the solver
"$program" layout $roof --json >"$work/wanted"
export RUDDLE_FAIL_SAYING="Assertion failed: dx != 0.0"
broken glp_intopt 1 layout $roof --json
[ $code -eq 0 ] || fail "exit code $code where the solver stopped once"
cmp -s "$work/out" "$work/wanted" || fail "another layout where the solver stopped once"
broken glp_intopt all layout $roof --out "$work/files"
said="out of memory, or a defect"
[ $code -eq 3 ] || fail "exit code $code where the solver always stops"
one_line layout $roof
[ ! -e "$work/files" ] || fail "files where the solver always stops"
# Without memory there is no second try.
export RUDDLE_FAIL_SAYING="dmalloc: no memory available"
broken glp_intopt 1 layout $roof --out "$work/files"
[ $code -eq 3 ] || fail "exit code $code where the solver has no memory"
one_line layout $roof
[ ! -e "$work/files" ] || fail "files where the solver has no memory"
