#!/bin/sh
# The files of a layout: all there, the same bytes a second later, and colour on terminals only.
#     sh tests/test_files.sh PROGRAM
# Needs script (Debian: bsdutils).
set -eu
program=$1
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
escape=$(printf '\033')

fail() {
    echo "files: $*" >&2
    exit 1
}

# ---- Same bytes ----
lay_out() {
    "$program" layout roofs/old-house.yaml --quiet --out "$1"
}
lay_out "$work/one"
sleep 1.1
(
    TZ=Pacific/Auckland LANG=de_DE.UTF-8 LC_ALL=C.UTF-8 HOME=$work
    export TZ LANG LC_ALL HOME
    lay_out "$work/other"
)
names='drawing.dxf drawing.pdf drawing.png drawing.svg holes.csv layout.json sheet.html sheet.pdf
    sheet.txt'
# shellcheck disable=SC2086 # a list of names
[ "$(ls "$work/one")" = "$(printf '%s\n' $names)" ] || fail "not the files: $(ls "$work/one")"
for name in $names; do
    [ -s "$work/one/$name" ] || fail "$name is empty"
    cmp "$work/one/$name" "$work/other/$name" || fail "$name: other bytes a second later"
done
"$program" layout roofs/easy.yaml --quiet --out "$work/other"
for name in $names; do
    ! cmp -s "$work/one/$name" "$work/other/$name" || fail "$name: another roof, the same bytes"
done

# ---- Where they go when nobody says ----
root=$(pwd)
(cd "$work" && "$program" layout "$root/roofs/easy.yaml" --quiet --out)
[ "$(ls "$work/out")" = easy ] || fail "not in out/easy: $(ls "$work/out")"
for name in $names; do
    cmp "$work/out/easy/$name" "$work/other/$name" || fail "$name: other bytes in out/easy"
done
(cd "$work" && ! "$program" layout --out 2>"$work/refused") || fail "--out without a roof is taken"
grep -q 'wanted a folder' "$work/refused" || fail "not told what --out wants"

# ---- Of a fleet: the sheet, or all that layout writes ----
fleet() {
    "$program" fleet roofs/easy.yaml --quiet --jobs 1 --out "$work/fleet" "$@"
}
fleet
easy=$work/fleet/roofs+easy.yaml
[ "$(ls "$easy")" = "$(printf 'layout.json\nsheet.txt')" ] || fail "of a fleet: $(ls "$easy")"
grep -q '<a href="roofs+easy.yaml/sheet.txt">' "$work/fleet/summary.html" || fail 'no way to the sheet'
fleet --resume --files all
for name in $names; do
    cmp "$work/other/$name" "$easy/$name" || fail "$name: other bytes of a fleet"
done
for way in 'sheet.html">roofs/easy.yaml' 'sheet.pdf">PDF'; do
    grep -qF "<a href=\"roofs+easy.yaml/$way" "$work/fleet/summary.html" || fail "no way to $way"
done
code=0
"$program" fleet roofs/easy.yaml --files all 2>"$work/refused" || code=$?
[ $code -eq 2 ] || fail "--files all without --out: $code"
grep -q 'wanted --out DIR' "$work/refused" || fail 'not told that --files all wants --out'

# ---- Colour ----
# on_terminal COMMAND: what the command prints on a terminal.
on_terminal() {
    code=0
    script -qec "$1" /dev/null </dev/null >"$work/printed" || code=$?
    tr -d '\r' <"$work/printed"
}
layout="$program layout roofs/easy.yaml"
TERM=xterm
export TERM
unset NO_COLOR
$layout >"$work/plain"
grep -q "$escape" "$work/plain" && fail "colour where nobody sees it"
on_terminal "$layout" >"$work/coloured"
grep -q "${escape}\[1;31m! SQUARE NOT CHECKED" "$work/coloured" || fail "no colour on a terminal"
sed "s/$escape\[[0-9;]*m//g" "$work/coloured" >"$work/stripped"
cmp "$work/plain" "$work/stripped" || fail "colour changes the text"
on_terminal "NO_COLOR=1 $layout" >"$work/coloured"
cmp "$work/plain" "$work/coloured" || fail "NO_COLOR is not honoured"
on_terminal "NO_COLOR= $layout" | grep -q "$escape" || fail "an empty NO_COLOR says nothing"
on_terminal "TERM=dumb $layout" >"$work/coloured"
cmp "$work/plain" "$work/coloured" || fail "colour on a dumb terminal"
on_terminal "$layout --json" | grep -q "$escape" && fail "colour in JSON"
on_terminal "$program layout roofs/nothing-fits.yaml" >"$work/coloured"
grep -q "${escape}\[1;31mResult .*DO NOT DRILL" "$work/coloured" || fail "no colour on what fails"
echo "files: the same bytes; colour on terminals only"
