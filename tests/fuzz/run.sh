#!/bin/sh
# Feeds made-up bytes to one reader until it breaks, or the time is over:
#     sh tests/fuzz/run.sh TARGET [SECONDS] [--keep]
# TARGET is roof, kit, layout, drilled or length; SECONDS 60 unless given. What breaks it (a crash, a
# leak, a hang, undefined behaviour, an answer that contradicts itself) is kept in
# .build-fuzz/found/TARGET, and the exit code is 1. With --keep the inputs that reach code which no
# kept one reaches go to tests/fuzz/corpus/TARGET, where every build replays them.
# Needs clang with its runtime; builds in .build-fuzz.
set -eu
cd "$(dirname "$0")/../.."

usage() {
    echo "usage: sh tests/fuzz/run.sh roof|kit|layout|drilled|length [SECONDS] [--keep]" >&2
    exit 2
}

target=${1-} seconds=60 keep=no
case $target in
roof) most=4096 ;;
kit | drilled) most=2048 ;;
layout) most=6000 ;;
length) most=64 ;;
*) usage ;;
esac
shift
for word in "$@"; do
    case $word in
    --keep) keep=yes ;;
    '' | *[!0-9]*) usage ;;
    *) seconds=$word ;;
    esac
done

. tests/packages.sh
# shellcheck disable=SC2086 # a list of names
packages_need $PACKAGES_TO_BUILD clang libclang-rt-dev
cmake -S . -B .build-fuzz -DCMAKE_C_COMPILER=clang -DRUDDLE_FUZZ=ON -DCMAKE_BUILD_TYPE=Debug \
    -DCMAKE_C_FLAGS_DEBUG='-g -O1' >/dev/null
cmake --build .build-fuzz -j2 --target "fuzz_$target" >/dev/null

program=.build-fuzz/tests/fuzz/fuzz_$target kept=tests/fuzz/corpus/$target
made=.build-fuzz/made/$target found=.build-fuzz/found/$target
mkdir -p "$made" "$found"
# One process at a time behind a watcher, which goes on after a crash.
"$program" "$made" "$kept" -fork=1 -ignore_crashes=1 -ignore_timeouts=1 -ignore_ooms=1 \
    -max_total_time="$seconds" -max_len=$most -rss_limit_mb=2048 -timeout=60 \
    -dict=tests/fuzz/words.dict -artifact_prefix="$found/"
if [ $keep = yes ]; then
    "$program" -merge=1 -max_len=$most -rss_limit_mb=2048 "$kept" "$made"
fi
broken=$(find "$found" -type f ! -name 'slow-unit-*' | wc -l)
echo "fuzz $target: $broken inputs in $found"
[ "$broken" -eq 0 ]
