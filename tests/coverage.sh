#!/bin/sh
# Which lines and branches the tests run, folder by folder: `sh tests/coverage.sh`, from anywhere.
#   --again   the figures of the last run once more, without building and testing
#   --missed  beside them every line that no test runs
# Builds in .build-coverage without optimisation, runs every test that runs the program, and ends
# with 1 where src/check or src/length*.c is not at 100 % of lines, or the whole below 90 %.
# A test that fails does not end it, but is told: without optimisation some searches do not end within
# their limit. Random loops are short (RUDDLE_ROOFS, default 20).
# Needs gcovr besides what tests/run.sh needs.
set -eu
cd "$(dirname "$0")/.."

again=no
missed=no
for word in "$@"; do
    case $word in
    --again) again=yes ;;
    --missed) missed=yes ;;
    *)
        echo "usage: sh tests/coverage.sh [--again] [--missed]" >&2
        exit 2
        ;;
    esac
done

. tests/packages.sh
# shellcheck disable=SC2086 # a list of names
packages_need $PACKAGES_TO_BUILD $PACKAGES_TO_TEST gcovr

build=.build-coverage

# Assertions state what only a defect can break: their other branch is none to be tested.
run_tests() {
    cmake -S . -B "$build" -DCMAKE_BUILD_TYPE=Debug -DCMAKE_C_FLAGS_DEBUG='-g -O0 -DNDEBUG' \
        -DCMAKE_C_FLAGS='--coverage -fprofile-update=atomic' >/dev/null
    cmake --build "$build" -j2 >/dev/null
    find "$build" -name '*.gcda' -delete
    RUDDLE_ROOFS=${RUDDLE_ROOFS:-20}
    export RUDDLE_ROOFS
    # Packages are built from a tree of their own; the referee is the release build's; and where every
    # request for memory fails once, those of the counting itself do too.
    (cd "$build" && ctest -j2 --output-on-failure -E 'package|referee|test_no_memory') \
        >"$build/tests.txt" ||
        echo "coverage: some tests failed: see $build/tests.txt" >&2
}

# A record a file. Run from the build's folder, where gcov leaves what it cannot place. A count that a
# killed process was just writing is skipped, and told.
measure() {
    objects=CMakeFiles/ruddle_steps.dir
    (cd "$build" && gcovr --root .. --filter '\.\./src/' --object-directory "$objects" \
        --exclude-unreachable-branches --gcov-ignore-parse-errors \
        --csv coverage.csv --json coverage.json "$objects" >/dev/null)
}

show() {
    awk -F, '
        NR == 1 { for (i = 1; i <= NF; i++) at[$i] = i; next }
        function add(folder) {
            if (!(folder in lines)) order[++folders] = folder
            lines[folder] += $at["line_total"]; run[folder] += $at["line_covered"]
            branches[folder] += $at["branch_total"]; taken[folder] += $at["branch_covered"]
        }
        function share(part, all) { return all == 0 ? "    -" : sprintf("%5.1f", 100 * part / all) }
        {
            folder = $at["filename"]
            sub(/\/[^\/]*$/, "", folder)
            add(folder)
            if ($at["filename"] ~ /^src\/length[^\/]*$/) add("src/length*.c")
            add("all")
        }
        END {
            printf "%-16s %7s %7s %6s   %8s %7s %6s\n", "folder", "lines", "run", "%",
                "branches", "taken", "%"
            for (i = 1; i <= folders; i++) if (order[i] != "all") row(order[i])
            row("all")
            exit !(run["src/check"] == lines["src/check"] && run["src/length*.c"] == lines["src/length*.c"] &&
                run["all"] >= 0.9 * lines["all"])
        }
        function row(name) {
            printf "%-16s %7d %7d %6s   %8d %7d %6s\n", name, lines[name], run[name],
                share(run[name], lines[name]), branches[name], taken[name],
                share(taken[name], branches[name])
        }' "$build/coverage.csv"
}

show_missed() {
    python3 - "$build/coverage.json" <<'EOF'
import json, sys
for record in json.load(open(sys.argv[1]))["files"]:
    lines = [l["line_number"] for l in record["lines"]
             if l["count"] == 0 and not l.get("gcovr/noncode") and not l.get("gcovr/excluded")]
    if lines:
        print(f"{record['file']}: {', '.join(map(str, lines))}")
EOF
}

if [ "$again" = no ]; then
    run_tests
    measure
fi
[ "$missed" = no ] || show_missed
show
