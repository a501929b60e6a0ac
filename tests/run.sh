#!/bin/sh
# Builds and tests everything: `sh tests/run.sh`, from anywhere.
#   --quick   the plain build and its tests only
# What it needs is installed first if run as root. The last lines are those of the test runner.
set -eu
cd "$(dirname "$0")/.."

quick=no
for word in "$@"; do
    case $word in
    --quick) quick=yes ;;
    *)
        echo "usage: sh tests/run.sh [--quick]" >&2
        exit 2
        ;;
    esac
done

. tests/packages.sh

# node comes with npm in some packagings and without in others: ask for the commands.
node_packages() {
    command -v node >/dev/null 2>&1 || printf ' nodejs'
    command -v npm >/dev/null 2>&1 || printf ' npm'
}

# npm_packages FOLDER: what its package.json asks for, unless what npm put there last is newer.
npm_packages() {
    installed=$(find "$1/node_modules/.package-lock.json" -newer "$1/package.json" 2>/dev/null ||
        true)
    if [ -z "$installed" ]; then
        (cd "$1" && npm install --no-audit --no-fund)
    fi
}

install_packages() {
    # shellcheck disable=SC2046,SC2086 # lists of names
    packages_need $PACKAGES_TO_BUILD $PACKAGES_TO_TEST $(node_packages)
    npm_packages tests/opinions
    npm_packages tests/readers
}

# build_in FOLDER OPTION...
build_in() {
    folder=$1
    shift
    cmake -S . -B "$folder" "$@"
    cmake --build "$folder" -j2
}

# test_in FOLDER
test_in() {
    (cd "$1" && ctest --output-on-failure -j3)
}

look_at_sources() {
    echo "clang-format and cppcheck"
    find src include tests docs -name node_modules -prune -o -name '*.[ch]' \
        -exec clang-format --dry-run -Werror {} +
    # knownConditionTrueFalse: it does not see what a callee changes through a pointer.
    cppcheck --quiet --error-exitcode=1 --inline-suppr -j2 --std=c11 \
        --enable=warning,style,performance,portability \
        --suppress=missingIncludeSystem --suppress=knownConditionTrueFalse \
        -Iinclude -Itests -itests/opinions/node_modules -itests/readers/node_modules \
        -DRUDDLE_ROOT='"."' -DRUDDLE_PROGRAM='"ruddle"' -DRUDDLE_VERSION='"0"' -DRUDDLE_FONTS='"."' \
        src include tests docs
}

install_packages
if [ "$quick" = no ]; then
    look_at_sources
    build_in .build-sanitize -DCMAKE_BUILD_TYPE=Debug -DCMAKE_C_FLAGS_DEBUG='-g -O1' -DRUDDLE_SANITIZE=ON
    # Sanitizers are slow: fewer random roofs there, unless somebody asks for more.  Freed memory is
    # kept, as most of their time goes into having it again, page by page.
    ASAN_OPTIONS=${ASAN_OPTIONS:-allocator_release_to_os_interval_ms=-1:quarantine_size_mb=64}
    export ASAN_OPTIONS
    RUDDLE_ROOFS=${RUDDLE_ROOFS_SANITIZE:-12}
    export RUDDLE_ROOFS
    test_in .build-sanitize
    unset RUDDLE_ROOFS
fi
build_in .build-release -DCMAKE_BUILD_TYPE=Release
test_in .build-release
