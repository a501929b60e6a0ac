#!/bin/sh
# Builds ruddle and lays out every roof of this folder: `sh roofs/demo.sh`, from anywhere.
# Sheets and results go to out/NAME/. What it needs is installed first if run as root.
set -eu
cd "$(dirname "$0")/.."

. tests/packages.sh

build() {
    log=$1
    if ! { cmake -S . -B .build-release -DCMAKE_BUILD_TYPE=Release &&
        cmake --build .build-release --target ruddle -j2; } >"$log" 2>&1; then
        cat "$log" >&2
        echo "The build failed; its messages are above." >&2
        exit 1
    fi
}

# lay_out ROOF: one line on what came of it. A roof on which nothing fits is an answer too (1);
# anything else ends the demo.
lay_out() {
    name=$(basename "$1" .yaml)
    code=0
    .build-release/ruddle layout "$1" --quiet --out "out/$name" || code=$?
    case $code in
    0) echo "  $name: works; the sheet is out/$name/sheet.txt" ;;
    1) echo "  $name: does NOT work; out/$name/sheet.txt says why" ;;
    *)
        echo "$1: ruddle ended with $code" >&2
        exit 1
        ;;
    esac
}

# shellcheck disable=SC2086 # a list of names
packages_need $PACKAGES_TO_BUILD
echo "Building ..."
mkdir -p out
build out/build.log

echo
echo "\$ ruddle layout roofs/easy.yaml"
.build-release/ruddle layout roofs/easy.yaml

echo
echo "Every roof in roofs/, laid out:"
for roof in roofs/*.yaml; do
    lay_out "$roof"
done
