#!/bin/sh
# `-` in place of a roof file: standard input, with the answer and the fingerprint of the same file,
# and every fault told as of a file: sh tests/test_piped.sh PROGRAM
set -eu
program=$(realpath "$1")
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

fail() {
    echo "piped: $*" >&2
    exit 1
}

# Kits are named from the folder that the program runs in.
cd roofs
# same WORDS BEHIND: the command with a file, through a pipe and from a file redirected.
same() {
    command=$1
    shift
    file_code=0
    pipe_code=0
    "$program" "$command" "$roof" "$@" >"$work/file" || file_code=$?
    # shellcheck disable=SC2002 # a pipe is what is tested
    cat "$roof" | "$program" "$command" - "$@" >"$work/pipe" || pipe_code=$?
    [ "$file_code" -eq "$pipe_code" ] || fail "$command $roof: $pipe_code in place of $file_code"
    [ -s "$work/file" ] || fail "$command $roof prints nothing"
    diff "$work/file" "$work/pipe" || fail "$command $roof: another answer"
    "$program" "$command" - "$@" <"$roof" | cmp - "$work/file" || fail "$command <$roof"
}
for roof in easy.yaml vent-in-the-way.yaml; do
    same layout
    same layout --json
done
roof=easy.yaml
same explain A-top-1
same revise drilled/easy.yaml
"$program" layout easy.yaml --json >"$work/layout.json"
same check "$work/layout.json"
"$program" layout easy.yaml --quiet --out "$work/file.d"
"$program" layout - --quiet --out "$work/pipe.d" <easy.yaml
diff -r "$work/file.d" "$work/pipe.d" || fail "other files"
sed "s,kits/,$PWD/kits/," easy.yaml >"$work/placed.yaml"
(cd "$work" && "$program" layout - --quiet --out <placed.yaml)
[ "$(ls "$work/out")" = roof ] || fail "--out alone writes into $(ls "$work/out")"
rm -r "$work/out"
printf '\357\273\277' | cat - easy.yaml >"$work/marked.yaml"
sed "s,kits/,$PWD/kits/," "$work/marked.yaml" >"$work/placed.yaml"
"$program" layout "$work/placed.yaml" >"$work/file"
"$program" layout - <"$work/placed.yaml" | cmp - "$work/file" || fail "a byte-order mark"

# refused MESSAGE: code 2 for what stands on standard input.
refused() {
    code=0
    "$program" layout - >"$work/out" 2>"$work/told" || code=$?
    [ "$code" -eq 2 ] || fail "wanted a refusal ($1), exit code $code"
    [ ! -s "$work/out" ] || fail "prints although it refuses ($1)"
    grep -q -- "$1" "$work/told" || fail "not told: $1, but $(cat "$work/told")"
    [ "$(wc -l <"$work/told")" -eq 1 ] || fail "more than one line: $(cat "$work/told")"
}
{ grep -v '^corner:' easy.yaml && echo 'corner: middle'; } | refused '^-:[0-9]*: corner: found "middle"'
refused '^-' </dev/null
printf 'roof: a\000b\n' | refused 'NUL byte'
head -c 1048577 /dev/zero | tr '\0' '#' | refused 'at most 1048576 bytes'
refused 'the file is empty' <&-
refused 'can be read' <.
code=0
"$program" fleet - <easy.yaml >"$work/out" 2>"$work/told" || code=$?
[ "$code" -eq 2 ] || fail "fleet takes standard input for a folder"
cp easy.yaml "$work/-"
sed -i "s,kits/,$PWD/kits/," "$work/-"
(cd "$work" && "$program" layout ./- </dev/null >out) || fail "a file called - cannot be named"
echo "piped: the same answers, files and faults as of a file"
