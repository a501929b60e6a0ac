#!/bin/sh
# A browser opens the pages for the phone, and the drawings:
#     sh tests/test_pages.sh PROGRAM
# Needs node, `npm install` done in tests/readers, and chromium; ends with 77 where there is none.
set -eu
program=$1
# Few roofs are asked for where sanitizers slow everything down; what is tested here is what another
# program makes of the files, and the release build shows that.
if [ "${RUDDLE_ROOFS:-100}" -lt 50 ]; then
    echo "SKIPPED: left to the release build"
    exit 77
fi
here=$(cd "$(dirname "$0")" && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

fail() {
    echo "pages: $*" >&2
    exit 1
}

browser=$(command -v chromium || true)
if [ -z "$browser" ]; then
    echo "SKIPPED: no chromium here (Debian: chromium): no page was opened"
    exit 77
fi
command -v node >/dev/null || fail "no node here (Debian: nodejs)"
[ -d "$here/readers/node_modules/playwright-core" ] ||
    fail "run \`npm install\` in tests/readers first"

# lay_out NAME WORD...: a folder NAME, by that command line.
folders=""
lay_out() {
    folder=$work/$1
    shift
    code=0
    "$program" "$@" --quiet --out "$folder" || code=$?
    [ "$code" -le 1 ] || fail "ruddle $*: exit $code"
    folders="$folders $folder"
}

# Names that would be markup, a script, a formula; and one that is all one word.
{
    echo "roof: '=1 <b>&amp;</script><script>document.title=1</script>'"
    echo "zero: '</title><img src=x>AVeryLongWordWithoutAnyBlankThatRunsOnAndOnAndOnAndOnAndOnAndOn'"
    sed -e '/^roof:/d' -e '/^zero:/d' -e "s|kits/|$PWD/roofs/kits/|" -e 's|name: A,|name: "<i>",|' \
        roofs/easy.yaml
} >"$work/names.yaml"
lay_out names layout "$work/names.yaml"
lay_out nothing-fits layout roofs/nothing-fits.yaml
lay_out pipes layout roofs/old-house.yaml
lay_out drilled revise roofs/easy.yaml roofs/drilled/easy.yaml
lay_out right layout roofs/sistered.yaml --from far --burn 1
lay_out metric layout roofs/vent-in-the-way.yaml
lay_out carries layout roofs/carries.yaml
# shellcheck disable=SC2086 # a list of paths without blanks
node "$here/readers/page.mjs" "$browser" $folders
