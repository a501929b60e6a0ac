#!/bin/sh
# A reader of DXF files that is not ours finds every hole, frame, strut and reading in them:
#     sh tests/test_dxf.sh PROGRAM
# Needs node, and `npm install` done in tests/readers.
set -eu
program=$1
here=$(cd "$(dirname "$0")" && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

fail() {
    echo "dxf: $*" >&2
    exit 1
}

# What writes the files is looked at by test_drawing and test_files as well.
[ "${RUDDLE_ROOFS:-100}" -ge 50 ] || { echo "SKIPPED: left to the release build" && exit 77; }
command -v node >/dev/null || fail "no node here (Debian: nodejs)"
[ -d "$here/readers/node_modules/dxf-parser" ] || fail "run \`npm install\` in tests/readers first"

folders=$work/easy
for roof in roofs/*.yaml; do
    folder=$work/$(basename "$roof" .yaml)
    code=0
    "$program" layout "$roof" --quiet --out "$folder" || code=$?
    [ "$code" -le 1 ] || fail "$roof: exit $code"
    [ "$folder" = "$work/easy" ] || folders="$folders $folder"
done
# shellcheck disable=SC2086 # a list of paths without blanks
node "$here/readers/dxf.mjs" $folders
