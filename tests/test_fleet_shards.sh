#!/bin/sh
# The same bytes of a report whatever the number of workers, and from shards merged: by hand, and by
# docs/fleet/parallel.sh under the real GNU parallel.
#     sh tests/test_fleet_shards.sh PROGRAM
# Needs parallel (Debian: parallel).
set -eu
program=$1
writer=$(dirname "$program")/tests/test_fleet_writer
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

fail() {
    echo "fleet in shards: $*" >&2
    exit 1
}

# fleet CODES WORD...: runs it; its exit code is one of CODES.
fleet() {
    wanted=$1
    shift
    code=0
    "$program" fleet --quiet "$@" 2>"$work/err" || code=$?
    case $wanted in
    *$code*) ;;
    *) fail "exit code $code, not $wanted: $* $(cat "$work/err")" ;;
    esac
}

same() {
    cmp "$1" "$2" || fail "different reports"
}

says() {
    grep -qF -- "$1" "$work/err" || fail "it does not say '$1' but: $(cat "$work/err")"
}

# A name with a blank, a quote and a comma, as folders of customers have.
roofs="$work/Bob's roofs, north"
mkdir "$roofs"
count=${RUDDLE_ROOFS:-30}
[ "$count" -ge 20 ] || count=20 # among fewer there may be no file that is refused
"$writer" "$roofs" "$count" 3 25 5 small
for roof in side-by-side old-house leaning-corner carries-after-moving nothing-fits; do
    cp "roofs/$roof.yaml" "$roofs/crew-0001"
done
cp -r roofs/kits "$roofs/crew-0001"

# ---- Workers: with a limit that ends searches early, a clock would show. Some of roofs/ are among
# them, with loads, several frames and leaning edges.
fleet 2 "$roofs" --limit 0.05 --jobs 1 --report "$work/one.csv"
fleet 2 "$roofs" --limit 0.05 --jobs 2 --report "$work/two.csv" &
two=$!
fleet 2 "$roofs" --limit 0.05 --jobs 7 --report "$work/seven.csv"
wait $two || fail "with two workers"
same "$work/one.csv" "$work/two.csv"
same "$work/one.csv" "$work/seven.csv"
grep -q ',false.$' "$work/one.csv" || fail "the limit ended no search"
files=$(find "$roofs" -name '*.yaml' ! -path '*/kits/*' | wc -l)
[ $(($(wc -l <"$work/one.csv") - 1)) -eq "$files" ] || fail "not one row for each of $files files"

# ---- Shards: another number of workers each.
# links PAGE: every link of it leads to a file.
links() {
    grep -o 'href="[^"]*"' "$1" | cut -d '"' -f 2 >"$work/links"
    [ "$(wc -l <"$work/links")" -gt 15 ] || fail "hardly a link in $1"
    while read -r link; do
        [ -s "$(dirname "$1")/$link" ] || fail "no $link beside $1"
    done <"$work/links"
}

for shard in 1 2 3; do
    fleet "1 2" "$roofs" --limit 0.05 --jobs $shard --shard $shard/3 --out "$work/sheets" \
        --report "$work/shard-$shard.csv"
done
fleet 2 --merge "$work/shard-3.csv" "$work/shard-1.csv" "$work/shard-2.csv" --out "$work/sheets" \
    --report "$work/merged.csv"
same "$work/one.csv" "$work/merged.csv"
links "$work/sheets/summary.html"

# ---- Shards that do not belong together.
fleet 2 --merge "$work/shard-1.csv" "$work/shard-2.csv"
says "the report of shard 3/3 as well"
fleet 2 --merge "$work/shard-1.csv" "$work/shard-1.csv"
says "each shard once"
fleet "1 2" "$roofs" --limit 0.01 --shard 2/3 --report "$work/other.csv"
fleet 2 --merge "$work/shard-1.csv" "$work/other.csv" "$work/shard-3.csv"
says "shards that were run with the same options"
fleet 2 --merge "$work/shard-1.csv" --report "$work/shard-1.csv"
says "another name than that of a shard's report"
# A shard that is not there, or whose record is not: a fault of the system's, as any file.
fleet 3 --merge "$work/nowhere.csv"
same "$work/one.csv" "$work/merged.csv"

# ---- GNU parallel.
RUDDLE=$program
export RUDDLE
command -v parallel >/dev/null || fail "no parallel here (Debian: parallel)"
code=0
sh docs/fleet/parallel.sh 4 "$work/by parallel" "$roofs" --limit 0.05 >"$work/out" 2>"$work/err" ||
    code=$?
[ $code -eq 2 ] || fail "exit code $code of docs/fleet/parallel.sh: $(cat "$work/err")"
same "$work/one.csv" "$work/by parallel/fleet.csv"
