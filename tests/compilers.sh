#!/bin/sh
# The same bytes from gcc and clang, with debugging and optimised: builds all four, writes everything
# they can write of the roofs in roofs/, and a fleet of random ones, and holds them together.
#
#     sh tests/compilers.sh [--roofs N]
#
# --roofs: in the fleet (default 300). Builds in .build-COMPILER-TYPE. Exits 1 at the first difference.
set -eu
cd "$(dirname "$0")/.."
roofs=300
while [ $# -gt 0 ]; do
    case $1 in
    --roofs) roofs=$2 && shift ;;
    *)
        echo "usage: sh tests/compilers.sh [--roofs N]" >&2
        exit 2
        ;;
    esac
    shift
done
. tests/packages.sh
# shellcheck disable=SC2086 # a list of names
packages_need $PACKAGES_TO_BUILD clang
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

# Searches are cut short by the clock everywhere but in a fleet, so those that need long are left to
# the fleet, where the solver's steps count.
names=$(for roof in roofs/*.yaml; do basename "$roof" .yaml; done | grep -v '^old-house$')

# written COMPILER TYPE
written() {
    build=.build-$1-$2
    cmake -S . -B "$build" -DCMAKE_C_COMPILER="$1" -DCMAKE_BUILD_TYPE="$2" >/dev/null
    cmake --build "$build" -j2 --target ruddle test_roof_writer >/dev/null
    # shellcheck disable=SC2086 # a list of names
    sh tests/write_all.sh "$build/ruddle" "$work/$1-$2" $names
    mkdir "$work/roofs"
    "$build/tests/test_roof_writer" "$work/roofs" 1 "$roofs" mixed 1
    cp -r "$work/roofs" "$work/$1-$2/random"
    (cd "$work/roofs" && "$OLDPWD/$build/ruddle" fleet . "$OLDPWD/roofs/old-house.yaml" --jobs 2 \
        --limit 2 --quiet --report "$work/$1-$2/random.csv") || [ $? -le 2 ]
    rm -rf "$work/roofs" "$work/$1-$2/random.csv.record"*
    echo "$1 $2: $(find "$work/$1-$2" -type f | wc -l) files, $(cat "$work/$1-$2/random.csv" | wc -l) rows"
}

written gcc Release
for other in "gcc Debug" "clang Release" "clang Debug"; do
    # shellcheck disable=SC2086 # two words
    written $other
    diff -r "$work/gcc-Release" "$work/${other% *}-${other#* }" >"$work/difference" || {
        head -20 "$work/difference"
        echo "compilers.sh: $other writes something else"
        exit 1
    }
done
echo "the same bytes from all four"
