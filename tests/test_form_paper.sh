#!/bin/sh
# The blank form on paper: another program reads it back. Each part, label, column and choice of the
# text form stands in the PDF too; letter and A4 are that large, and no page is left over.
#     sh tests/test_form_paper.sh PROGRAM
# Needs pdftotext and pdfinfo (Debian: poppler-utils).
set -eu
program=$1
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

fail() {
    echo "form: $*" >&2
    exit 1
}

for tool in pdftotext pdfinfo; do
    command -v "$tool" >/dev/null || fail "no $tool here (Debian: poppler-utils)"
done

# words FILE: its words, one a line; what is only drawn with signs falls out.
words() {
    tr -cs "A-Za-z0-9'." '\n' <"$1" | grep -E '[A-Za-z]' | sort -u
}

# without_art FILE: the text form without the sketches at its right and the tables' rules.
without_art() {
    awk '/^[+]-/ { next } /^[|]/ { print; next } /^[0-9]+[.] / { print; art = 1; next }
        { print /_____|\[ \]/ ? substr($0, 1, 47) : $0 }' "$1" | grep -vE '^ {40}'
}

"$program" survey >"$work/printed"
for paper in letter a4; do
    "$program" survey --paper "$paper" --out "$work/$paper"
    cmp "$work/printed" "$work/$paper/form.txt" || fail "form.txt is not what is printed"
    pdf=$work/$paper/form.pdf
    pdftotext -layout "$pdf" "$work/$paper.txt"
    words "$work/$paper.txt" >"$work/on-paper"
    without_art "$work/printed" >"$work/text"
    words "$work/text" >"$work/wanted"
    [ "$(wc -l <"$work/wanted")" -gt 150 ] || fail "the text form has hardly a word"
    missing=$(comm -23 "$work/wanted" "$work/on-paper")
    [ -z "$missing" ] || fail "$paper: not on paper: $missing"
    pages=$(pdfinfo "$pdf" | awk '$1 == "Pages:" { print $2 }')
    [ "$pages" -eq 4 ] || fail "$paper: $pages pages, 4 are enough"
    for page in 1 2 3 4; do
        pdftotext -f "$page" -l "$page" "$pdf" - | grep -qF "page $page of 4" ||
            fail "$paper: page $page has no number"
    done
done
pdfinfo "$work/letter/form.pdf" | grep -qE 'Page size: +612 x 792 pts' || fail 'letter is 8.5 x 11 in'
pdfinfo "$work/a4/form.pdf" | grep -qE 'Page size: +595[.0-9]* x 84[12][.0-9]* pts' || fail 'A4 is 210 x 297 mm'

# The comparison must be able to fail.
echo "Chimneypot" >>"$work/wanted"
[ -n "$(sort -u "$work/wanted" | comm -23 - "$work/on-paper")" ] || fail 'it finds what is not there'

# Twice the same bytes.
"$program" survey --paper a4 --out "$work/again"
for file in form.pdf form.txt roof.yaml kit.yaml; do
    cmp "$work/a4/$file" "$work/again/$file" || fail "$file comes out otherwise the second time"
done

# The commented roof file lays out as it stands; with all its comments that are keys made keys, it is
# read as well: 1 would be a roof that does not work, 2 one that is not understood.
(cd "$work/a4" && "$program" layout roof.yaml >sheet.txt) || fail 'the commented roof does not lay out'
grep -q 'WORKS' "$work/a4/sheet.txt" || fail 'the commented roof does not work'
keys='wall_line|heights|keepouts|pipes|tape|apart|loads|  snow|  uplift|  rafter: '
lists='  - \{rafter|  - \{name: hot|     flashing|                edge|           span'
sed -E "s/^( *)# ($keys|$lists)/\\1\\2/" "$work/a4/roof.yaml" >"$work/a4/all.yaml"
[ "$(diff "$work/a4/roof.yaml" "$work/a4/all.yaml" | grep -c '^>')" -eq 15 ] ||
    fail 'the keys in comments are not those that this test knows'
code=0
"$program" layout "$work/a4/all.yaml" --quiet || code=$?
[ "$code" -lt 2 ] || fail 'a key in a comment is not understood'

echo 'form: every word of it is on paper, letter and A4, 4 pages each'
