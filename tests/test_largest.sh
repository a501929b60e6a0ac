#!/bin/sh
# The largest roof that a file may tell: 200 crooked rafters of 6 plies, 1000 courses, 100 vents, 64
# frames with 8 pipes each, 400 keepouts. The time limit holds: seconds of the processor
# where it was minutes once. And one more of each is refused.
#     sh tests/test_largest.sh PROGRAM
set -eu
program=$(realpath "$1")
[ "${RUDDLE_ROOFS:-100}" -ge 50 ] || { echo "SKIPPED: left to the release build" && exit 77; }
here=$(cd "$(dirname "$0")" && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cd "$work"

fail() {
    echo "largest: $*" >&2
    exit 1
}

# make RAFTERS PLIES COURSES VENTS FRAMES PIPES KEEPOUTS: that roof, as roof.yaml.
make() {
    awk -v rafters="$1" -v plies="$2" -v courses="$3" -v vents="$4" -v frames="$5" -v pipes="$6" \
        -v keepouts="$7" 'BEGIN {
        print "roof: the largest\nplane: {width: 4872, slope: 6000, pitch: 5/12}"
        printf "courses: {first: 6, exposure: 5.99, edges: [6"
        for (i = 1; i < courses; i++) printf ", %d", 6 + 5 * i
        print "]}\nrafters:\n  list:"
        for (i = 0; i < rafters; i++)
            printf("  - {at: %d, again: %d.5, plies: %d, sister: both}\n", 24 + 24 * i, 24 + 24 * i, plies)
        print "vents:"
        for (i = 0; i < vents; i++)
            printf("  - {name: v%d, at: [%d, %d], size: [8, 8]}\n", i, 40 + 47 * i, 40 + 57 * i)
        print "place:"
        for (i = 0; i < frames; i++) printf("  - {name: F%d, kit: kit.yaml}\n", i)
        print "pipes:"
        for (i = 0; i < (frames > 64 ? 64 : frames) * 8; i++) if (i < 8 * frames - 8 + pipes)
            pipe(i, int(i / 8))
        if (pipes > 8) pipe(999, 0)
        print "keepouts:"
        for (i = 0; i < keepouts; i++)
            printf("  - {rafter: %d, from: %d, to: %d}\n", 1 + i % rafters, 20 + 30 * int(i / rafters),
                   24 + 30 * int(i / rafters))
    }
    function pipe(name, frame) {
        printf("  - {name: p%d, bracket: F%d, port: [%d, 68], reach: 18, bore: 1, flashing: {width: 9,\n",
               name, frame, 10 + name % 8)
        print "     height: 12, hole_up: 3, block: 1, edge: [0, 1], clear: 1/4, lap: 1/2}}"
    }' | sed 's/exposure: 5.99, //; s/first: 6, //' >roof.yaml
}

cp "$here/roofs/plain-kit.yaml" kit.yaml
make 200 6 1000 100 64 8 400
code=0
(
    ulimit -t 60 # seconds of the processor; a few are used, mostly to begin with
    "$program" layout roof.yaml --limit 1 --quiet
) || code=$?
[ $code -eq 1 ] || fail "exit code $code"

sed -e 's/width: 72/width: 300/' -e 's/legs: .*/legs: [12, 36, 60, 84, 108, 132, 156, 180, 204, 228, 252, 276]/' \
    "$here/roofs/plain-kit.yaml" >kit.yaml

# refused RAFTERS PLIES COURSES VENTS FRAMES PIPES KEEPOUTS WANTED: that line, among others.
refused() {
    make "$1" "$2" "$3" "$4" "$5" "$6" "$7"
    code=0
    "$program" layout roof.yaml --quiet 2>err || code=$?
    [ $code -eq 2 ] || fail "exit code $code, not 2: $8"
    grep -q "wanted .*$8" err || fail "not refused with '$8': $(head -3 err)"
}
refused 201 6 1000 100 64 8 400 "1 to 200 "
refused 200 7 1000 100 64 8 400 "from 1 to 6"
refused 200 6 1001 100 64 8 400 "1 to 1000 lengths"
refused 200 6 1000 101 64 8 400 "at most 100 vents"
refused 200 6 1000 100 65 8 400 "1 to 64 brackets"
refused 200 6 1000 100 64 9 400 "at most 512 pipes"
refused 200 6 1000 100 64 8 401 "at most 400"
make 200 6 1000 100 64 8 400
sed -i 's/276\]/276, 290]/' kit.yaml
code=0
"$program" layout roof.yaml --quiet 2>err || code=$?
[ $code -eq 2 ] && grep -q '1 to 12 lengths' err || fail "13 legs: $(head -3 err)"
sed -i -e 's/, 290\]/]/' -e "s/stock: .*/stock: [$(seq -s ', ' 100 116)]}/" kit.yaml
code=0
"$program" layout roof.yaml --quiet 2>err || code=$?
[ $code -eq 2 ] && grep -q '1 to 16 lengths' err || fail "17 lengths of stock: $(head -3 err)"
