#!/bin/sh
# A fleet is killed at random moments and gone on with, until so many kills are through; then it is
# left to end. Report and sheets must be those of a run that nobody disturbed.
#     sh tests/test_fleet_killed.sh PROGRAM [KILLS [SEED]]
# KILLS: default 15. The moments follow from SEED (default 1) and from how busy the machine is.
set -eu
program=$1
kills=${2:-15}
seed=${3:-1}
writer=$(dirname "$program")/tests/test_fleet_writer
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

fail() {
    echo "fleet killed: $*" >&2
    exit 1
}

# The seconds that each run may have, one a line: from nothing to half a second.
moments() {
    awk -v kills="$kills" -v seed="$seed" 'BEGIN { srand(seed)
        for (i = 0; i < 20 * kills; i++) printf "%.3f\n", rand() * rand() / 2 }'
}

# go_on WORD...: a run on the report that is there, or on a new one, in place of this shell.
go_on() {
    exec "$program" fleet "$work/roofs" --jobs 2 --quiet --report "$work/killed.csv" --resume "$@"
}

# The report and every file below the folder of sheets, as one list of digests.  A hidden draft that a
# worker was about to make when it was killed may stay behind: nobody reads it, and it goes when that
# roof is laid out again.
list_sheets() {
    (cd "$1" && find . -type f ! -name '*.record*' ! -name '.*.[0-9]*' -exec cksum {} + | sort -k 3)
}

compare() {
    cmp "$work/whole.csv" "$work/killed.csv" || fail "another report after $done_kills kills"
    list_sheets "$work/whole" >"$work/whole.list"
    list_sheets "$work/killed" >"$work/killed.list"
    diff "$work/whole.list" "$work/killed.list" >&2 || fail "other sheets after $done_kills kills"
}

mkdir "$work/roofs"
"$writer" "$work/roofs" "${RUDDLE_ROOFS:-60}" 5 25 5 small
code=0
"$program" fleet "$work/roofs" --jobs 2 --quiet --report "$work/whole.csv" --out "$work/whole" ||
    code=$?
[ $code -eq 2 ] || fail "exit code $code of the run that nobody disturbs"
rm "$work/whole/summary.html" # tells how long the slowest took

# A run that ends before its moment is compared, and another one begins from nothing.
done_kills=0
fleets=0
moments >"$work/moments"
while [ "$done_kills" -lt "$kills" ] && read -r moment; do
    go_on --out "$work/killed" 2>"$work/err" &
    run=$!
    sleep "$moment"
    kill -KILL $run 2>/dev/null || true # it may be over
    code=0
    wait $run 2>/dev/null || code=$?
    case $code in
    137) done_kills=$((done_kills + 1)) ;;
    2)
        rm "$work/killed/summary.html"
        compare
        rm -r "$work/killed" "$work/killed.csv" "$work/killed.csv.record"
        fleets=$((fleets + 1))
        ;;
    *) fail "exit code $code after $done_kills kills: $(cat "$work/err")" ;;
    esac
done <"$work/moments"
[ "$done_kills" -eq "$kills" ] || fail "only $done_kills kills"
code=0
(go_on --out "$work/killed") || code=$?
[ $code -eq 2 ] || fail "exit code $code at the end"
rm "$work/killed/summary.html"
compare
echo "$done_kills kills, $((fleets + 1)) fleets to their end"
