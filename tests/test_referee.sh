#!/bin/sh
# Three hundred random roofs before other solvers, by tests/referee; and a referee that can find fault:
#     sh tests/test_referee.sh PROGRAM
# RUDDLE_ROOFS=N tries fewer. Needs cbc, node, and `npm install` done in tests/opinions.
set -eu
program=$1
# Few roofs are asked for where sanitizers slow everything down; what is tested here is what another
# program makes of the files, and the release build shows that.
roofs=${RUDDLE_ROOFS:-300}
if [ "$roofs" -lt 50 ]; then
    echo "SKIPPED: left to the release build"
    exit 77
fi
[ "$roofs" -le 300 ] || roofs=300
here=$(cd "$(dirname "$0")" && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

fail() {
    echo "referee: $*" >&2
    exit 1
}

"$here/referee" --roofs "$roofs" --limit 1 --others 0.3 "$program" || fail "see above"

# spoilt WHAT FILE SED [WORD]: seed 1 once more, with its FILE changed; the referee has to see it.
spoilt() {
    cp "$work/good/"* "$work/bad/"
    sed "$3" "$work/good/1.$2" >"$work/bad/1.$2"
    cmp -s "$work/good/1.$2" "$work/bad/1.$2" && fail "$1: nothing changed"
    node "$here/opinions/compare.mjs" "$work/bad" 20 1 1 >"$work/said"
    grep -q "^1 ${4:-DISAGREE}" "$work/said" || fail "$1 is let pass: $(cat "$work/said")"
}

mkdir "$work/bad"
"$here/referee" --roofs 1 --jobs 1 --keep "$work/good" "$program" >"$work/said"
node "$here/opinions/compare.mjs" "$work/good" 20 1 1 >"$work/said"
grep -q '^1 agree' "$work/said" || fail "seed 1: $(cat "$work/said")"
spoilt "a better claim" json 's/"optimum": {"forgiveness": [-0-9.]*/"optimum": {"forgiveness": 9/'
spoilt "a worse claim" json 's/"optimum": {"forgiveness": [-0-9.]*/"optimum": {"forgiveness": -9/'
spoilt "no number" json 's/"optimum": {"forgiveness": [-0-9.]*/"optimum": {"forgiveness": null/'
spoilt "another finding of the check" check 's/"forgiveness": [-0-9.]*/"forgiveness": 9/'
spoilt "another status" check 's/"status": "[a-z]*"/"status": "undecided"/'
spoilt "an exit code" codes 's/^. /3 /'
spoilt "another point of cbc" cbc 's/value.*/value -9/' overruled
spoilt "no point of cbc" cbc 's/value.*/value nan/' overruled
