#!/bin/sh
# Every command that a page shows on a line of its own, that the manual page shows, or that a help
# ends with, is run as it stands there: sh tests/test_docs.sh PROGRAM
# Each help fits a screen.  README.md and docs/tutorial.md have tests of their own, which compare what
# is printed as well.
set -eu
program=$(realpath "$1")
root=$PWD
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
mkdir "$work/bin"
ln -s "$program" "$work/bin/ruddle"
PATH=$work/bin:$PATH

fail() {
    echo "docs: $*" >&2
    exit 1
}

if ldd "$program" | grep -q 'libasan'; then
    echo "docs: the plain build is what pages speak of; other tests run these commands with sanitizers"
    exit 77
fi

# shown_in PAGE: the commands on lines of their own, without the remarks behind them.
shown_in() {
    sed -n 's/^    \(ruddle .*\)/\1/p' "$1" | sed 's/  *#.*//'
}

# A folder as somebody has it who reads on: our roofs, a folder of surveys, an answer filled in.
folder_for() {
    mkdir "$1"
    cp -r roofs "$1/roofs"
    mkdir "$1/surveys"
    cp -r roofs/easy.yaml roofs/sistered.yaml roofs/kits "$1/surveys"
    (
        cd "$1"
        mkdir out
        ruddle layout roofs/easy.yaml --quiet --out out
        ruddle practice --level 2 --seed 7 --out asked --quiet
        ruddle layout asked/roof.yaml --json >asked/layout.json
        sed 's,^{,{"practice": "2/7"\,,' asked/layout.json >answer.yaml
        rm -r asked
    )
}

# run_all PAGE: the commands of standard input, one after the other in one folder.
count=0
run_all() {
    folder=$work/$(basename "$1")
    folder_for "$folder"
    while IFS= read -r command; do
        count=$((count + 1))
        wanted=0
        case $command in
        'ruddle fleet roofs/*.yaml'*) wanted=1 ;; # on some of ours nothing fits
        *--ask*)
            wanted=1 # nobody answers here: asking is ended, and can go on later
            rm -rf "$folder/job"
            mkdir "$folder/job"
            ;;
        esac
        code=0
        (cd "$folder" && sh -c "$command") </dev/null >"$work/printed" 2>"$work/told" || code=$?
        [ "$code" -eq "$wanted" ] ||
            fail "$1: \`$command\`: exit code $code: $(cat "$work/told")"
    done
}

for page in docs/*.md roofs/README.md DEVELOPERS.md; do
    shown_in "$page" >"$work/shown"
    [ ! -s "$work/shown" ] || run_all "$page" <"$work/shown"
done
pages=$count
[ "$pages" -ge 14 ] || fail "only $pages commands found in pages"

sed -n '/^\.EX/,/^\.EE/s/^ruddle /&/p' docs/ruddle.1 | sed 's/\\-/-/g' >"$work/shown"
run_all docs/ruddle.1 <"$work/shown"
[ $((count - pages)) -ge 2 ] || fail "no examples in the manual page"

# help_of WORD...: the example of a help, which is one, on a screen of 24 lines by 80.
help_of() {
    ruddle "$@" --help >"$work/screen"
    [ "$(wc -l <"$work/screen")" -le 24 ] || fail "$* --help is longer than a screen"
    [ "$(wc -L <"$work/screen")" -le 80 ] || fail "$* --help is wider than a screen"
    [ "$(grep -c '^Example: ' "$work/screen")" -eq 1 ] || fail "$* --help has not one example"
    sed -n 's/^Example: //p' "$work/screen"
}

ruddle --help | sed -n 's/^  ruddle \([a-z]*\) .*/\1/p' >"$work/commands"
[ "$(wc -l <"$work/commands")" -eq 8 ] || fail "not eight commands in the help"
help_of >"$work/shown"
while read -r command; do
    help_of "$command" >>"$work/shown"
done <"$work/commands"
cd "$root"
run_all help <"$work/shown"
echo "docs: $count commands shown, and run"
