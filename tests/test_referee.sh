#!/bin/sh
# Other solvers read the first stage of random roofs, nearest misses included, and must agree:
#     sh tests/test_referee.sh PROGRAM
#   - cbc, glpsol and HiGHS on the optimum, to 1e-3 as they print it;
#   - each once more with its own binaries fixed and the rest solved again, to 1e-6;
#   - both with the forgiveness that the program reports, which is minus the objective.
# RUDDLE_ROOFS=N tries fewer roofs than 100, and as many as a fifth of that with hips, leaning corners,
# crooked members and pipes. Needs cbc, glpsol, node, and `npm install` done in
# tests/referee.
set -eu
program=$1
# Few roofs are asked for where sanitizers slow everything down; what is tested here is what another
# program makes of the files, and the release build shows that.
if [ "${RUDDLE_ROOFS:-100}" -lt 50 ]; then
    echo "SKIPPED: left to the release build"
    exit 77
fi
here=$(cd "$(dirname "$0")" && pwd)
writer=${RUDDLE_WRITER:-$(dirname "$program")/tests/test_roof_writer}
roofs=${RUDDLE_ROOFS:-100}
[ "$roofs" -le 100 ] || roofs=100
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

fail() {
    echo "referee: $*" >&2
    exit 1
}

for tool in cbc glpsol node; do
    command -v "$tool" >/dev/null || fail "no $tool here (Debian: coinor-cbc, glpk-utils, nodejs)"
done
[ -d "$here/referee/node_modules/highs" ] || fail "run \`npm install\` in tests/referee first"
[ -x "$writer" ] || fail "no $writer"

# export_models SIZE FIRST COUNT: the first stage of so many roofs, SEED.lp, and in SEED.own the
# program's forgiveness. Roofs on which nothing can be placed have no model: the next seed is taken.
export_models() {
    seed=$2
    made=0
    while [ "$made" -lt "$3" ]; do
        [ "$seed" -lt $(($2 + 10 * $3 + 20)) ] || fail "too few roofs of size $1 have a model"
        "$writer" "$work" "$seed" 1 "$1" 1
        code=0
        "$program" layout "$work/$seed.yaml" --json --model "$work/$seed.lp" >"$work/$seed.json" \
            2>"$work/words" || code=$?
        [ "$code" -le 1 ] || fail "seed $seed: exit $code: $(cat "$work/words")"
        own=$(sed -n 's/.*"optimum": {"forgiveness": \([-0-9.e]*\),.*/\1/p' "$work/$seed.json")
        if [ -n "$own" ]; then
            echo "$own" >"$work/$seed.own"
            echo "$seed" >>"$work/seeds"
            made=$((made + 1))
        fi
        seed=$((seed + 1))
    done
}

# Each of these solves MODEL.lp, prints the objective, and leaves "name value" lines in
# MODEL.lp.SOLVER.
solve_cbc() {
    cbc "$1" -ratio 0 -allow 0 -solve -solution "$1.out" -quit >"$1.log"
    grep -q '^Optimal' "$1.out" || fail "cbc on $1: $(head -1 "$1.out")"
    awk 'NR > 1 { print $2, $3 }' "$1.out" >"$1.cbc"
    awk 'NR == 1 { print $NF }' "$1.out"
}

# glpsol's raw solution has every digit, by column number; --wglp tells the names.
solve_glpsol() {
    glpsol --lp "$1" --mipgap 0 --wglp "$1.names" -w "$1.out" >"$1.log"
    awk '$1 == "n" && $2 == "j" { name[$3] = $4 }
         $1 == "j" { print name[$2], NF == 3 ? $3 : $4 }' "$1.names" "$1.out" >"$1.glpsol"
    awk '$1 == "s" && (($2 == "mip" && $5 == "o") || ($2 == "bas" && $5 $6 == "ff")) { print $NF }' \
        "$1.out"
}

# HiGHS starts slowly, so it solves all models in one go: `solve_highs MODEL...`, a line each.
solve_highs() {
    node "$here/referee/solve.mjs" "$@"
}

# fix MODEL VALUES: the model with every binary fixed at the whole number nearest to its value.
fix() {
    awk -v values="$2" '
        BEGIN { while ((getline line < values) > 0) { split(line, part, " "); at[part[1]] = part[2] } }
        FNR == 1 { pass++; section = "" }
        /^[A-Z][a-z]+( To)?$/ { section = $1 }
        pass == 1 { if (section == "Generals" && NF == 1) binary[$1] = 1; next }
        section == "Generals" { next }
        section == "Bounds" && NF == 5 && ($3 in binary) {
            printf " %s = %d\n", $3, (at[$3] > 0.5)
            next
        }
        { print }
        section == "Bounds" && NF == 3 && !($1 in binary) && $2 != "=" { exit 1 }' "$1" "$1"
}

# close WHAT FOUND WANTED TOLERANCE
close() {
    awk -v found="$2" -v wanted="$3" -v tolerance="$4" 'BEGIN {
        if (found !~ /^[-0-9.e+]+$/ || wanted !~ /^[-0-9.e+]+$/) exit 1
        off = found - wanted
        exit !(off <= tolerance && -off <= tolerance) }' ||
        fail "$1: $2, not $3"
}

# The comparison must be able to fail.
for wrong in 0.25 nan "status 8" ""; do
    if (close trial "$wrong" 0.125 0.001) 2>/dev/null; then
        fail "the comparison lets pass: $wrong"
    fi
done

: >"$work/seeds"
few=$(((roofs + 9) / 10))
export_models small 1 $((roofs / 2 - few / 2))
export_models narrow 1001 $((roofs - roofs / 2 - (few - few / 2)))
export_models full 2001 "$few"
export_models uneven 3001 $((2 * few))

models=""
for seed in $(cat "$work/seeds"); do
    models="$models $work/$seed.lp"
    wanted=$(awk '{ printf "%.12g", -$1 }' "$work/$seed.own")
    for solver in cbc glpsol; do
        found=$(solve_$solver "$work/$seed.lp")
        close "seed $seed, $solver" "$found" "$wanted" 1e-3
        fix "$work/$seed.lp" "$work/$seed.lp.$solver" >"$work/$seed-$solver.lp"
        found=$(solve_$solver "$work/$seed-$solver.lp")
        close "seed $seed, binaries of $solver fixed" "$found" "$wanted" 1e-6
    done
done

# shellcheck disable=SC2086 # a list of paths without blanks
solve_highs $models >"$work/highs"
fixed=""
misses=0
exec 3<"$work/highs"
for seed in $(cat "$work/seeds"); do
    read -r found <&3
    close "seed $seed, HiGHS" "$found" "$(awk '{ printf "%.12g", -$1 }' "$work/$seed.own")" 1e-3
    fix "$work/$seed.lp" "$work/$seed.lp.highs" >"$work/$seed-highs.lp"
    fixed="$fixed $work/$seed-highs.lp"
    case $(cat "$work/$seed.own") in -*) misses=$((misses + 1)) ;; esac
done
# shellcheck disable=SC2086
solve_highs $fixed >"$work/highs"
exec 3<"$work/highs"
for seed in $(cat "$work/seeds"); do
    read -r found <&3
    close "seed $seed, binaries of HiGHS fixed" "$found" \
        "$(awk '{ printf "%.12g", -$1 }' "$work/$seed.own")" 1e-6
done
[ "$roofs" -lt 20 ] || [ "$misses" -gt 0 ] || fail "no nearest miss among them"
echo "referee: $(wc -l <"$work/seeds") roofs, $misses of them nearest misses: all agree"
