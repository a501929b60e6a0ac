#!/bin/sh
# In whatever language a machine speaks, the same bytes: decimal commas, an i without its dot.
#     sh tests/test_locale.sh PROGRAM
# Needs localedef with its sources (Debian: locales); the locales are made in the test's own folder.
set -eu
program=$1
# Where sanitizers slow everything down the same would be seen more slowly.
if [ "${RUDDLE_ROOFS:-100}" -lt 50 ]; then
    echo "SKIPPED: left to the release build"
    exit 77
fi
here=$(cd "$(dirname "$0")" && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

fail() {
    echo "locale: $*" >&2
    exit 1
}

mkdir "$work/locales"
LOCPATH=$work/locales
export LOCPATH
for name in de_DE tr_TR; do
    localedef -i "$name" -f UTF-8 "$LOCPATH/$name.UTF-8" 2>"$work/words" ||
        [ $? -eq 1 ] || fail "$name cannot be made: $(cat "$work/words")"
done
# It is the comma that is tested, so it has to be in force.
[ "$(LC_ALL=de_DE.UTF-8 locale decimal_point)" = , ] || fail "no decimal comma"
[ "$(LC_ALL=C locale decimal_point)" = . ] || fail "no decimal point"

# under LOCALE FOLDER
under() {
    (
        LC_ALL=$1 LANG=$1 LANGUAGE=${1%%_*}
        export LC_ALL LANG LANGUAGE
        sh "$here/write_all.sh" "$program" "$work/$2" hip vent-in-the-way
    ) || fail "$1: see above"
}
under C.UTF-8 plain
# What a comparison is worth: files are there, and figures in them.
[ "$(find "$work/plain" -type f | wc -l)" -gt 60 ] || fail "too few files"
grep -q '[0-9]\.[0-9]' "$work/plain/hip-json.out" || fail "no figure in the JSON"
for locale in de_DE.UTF-8 tr_TR.UTF-8; do
    under "$locale" other
    diff -r "$work/plain" "$work/other" >"$work/words" || fail "$locale: $(head -5 "$work/words")"
    rm -rf "$work/other"
done
