#!/bin/sh
# Another program reads the printed sheets back: every figure of the text sheet is on paper, the
# fingerprint and the page's number on every page, DO NOT DRILL on every page of what does not work.
#     sh tests/test_paper.sh PROGRAM
# Needs pdftotext and pdfinfo (Debian: poppler-utils).
set -eu
program=$1
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

fail() {
    echo "paper: $*" >&2
    exit 1
}

for tool in pdftotext pdfinfo; do
    command -v "$tool" >/dev/null || fail "no $tool here (Debian: poppler-utils)"
done

# figures FILE: the readings of a text sheet, one a line, both ways they are told.
figures() {
    grep -oE "[0-9]+' [0-9]+(-[0-9]+/[0-9]+)?\" \([0-9]+(-[0-9]+/[0-9]+)?\)|[0-9]+ mm" "$1" | sort -u
}

# flat PDF PAGE: the text of a page, blanks and line ends as one blank each.
flat() {
    pdftotext -f "$2" -l "$2" "$1" - | tr -s ' \n\f' '   '
}

# With its head, a page that holds less would better have been spared.
lines_least=10

# holds ROOF WORD...: lays it out and reads the PDF back.
holds() {
    roof=$1
    shift
    rm -rf "$work/out"
    code=0
    "$program" layout "$roof" --quiet --out "$work/out" "$@" || code=$?
    pdf=$work/out/sheet.pdf
    pages=$(pdfinfo "$pdf" | awk '$1 == "Pages:" { print $2 }')
    print=$(sed -n '2s/.* //p' "$work/out/sheet.txt")
    : >"$work/text"
    for page in $(seq "$pages"); do
        flat "$pdf" "$page" >"$work/page"
        lines=$(pdftotext -f "$page" -l "$page" -layout "$pdf" - | grep -c '[^ ]')
        [ "$lines" -ge "$lines_least" ] || fail "$roof: page $page: $lines lines have it to themselves"
        cat "$work/page" >>"$work/text"
        grep -qF "Fingerprint $print" "$work/page" || fail "$roof: page $page has no fingerprint"
        grep -qF "page $page of $pages" "$work/page" || fail "$roof: page $page of $pages: no number"
        [ "$code" -eq 0 ] || grep -qF 'DO NOT DRILL' "$work/page" ||
            fail "$roof: page $page does not say DO NOT DRILL"
    done
    figures "$work/out/sheet.txt" >"$work/figures"
    [ -s "$work/figures" ] || fail "$roof: no figure on its sheet"
    while read -r figure; do
        grep -qF -e "$figure" "$work/text" || fail "$roof: not on paper: $figure"
    done <"$work/figures"
}

# The comparison must be able to fail.
echo "11' 11\" (143)" >"$work/figures"
grep -qF -e "$(cat "$work/figures")" roofs/easy.yaml && fail "it finds what is not there"

# Sanitizers are slow: three roofs there.
roofs=$(echo roofs/*.yaml)
[ "${RUDDLE_ROOFS:-100}" -ge 50 ] || roofs='roofs/easy.yaml roofs/old-house.yaml roofs/cannot-carry.yaml'
for roof in $roofs; do
    holds "$roof"
done
holds roofs/easy.yaml --paper a4 --from far
pdfinfo "$pdf" | grep -q '^Page size: *595' || fail "--paper a4 is not A4"
holds roofs/easy.yaml
pdfinfo "$pdf" | grep -q '^Page size: *612 x 792' || fail "inches do not go on letter paper"
cp "$pdf" "$work/first.pdf"
sleep 1.1
holds roofs/easy.yaml
cmp "$pdf" "$work/first.pdf" || fail "a second later the same sheet is other bytes"
echo "paper: every figure of every roof is on paper"
