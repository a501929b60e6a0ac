#!/bin/sh
# Holds README.md to its word: test_readme.sh PROGRAM, in the top folder.
#   - its first yaml block is roofs/easy.yaml, to the letter;
#   - every `$ ruddle ...` line of a console block is run, and the lines shown below it must stand in
#     what the program prints, in that order; a line `...` stands for lines left out.
set -eu
program=$1
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

fail() {
    echo "README.md: $*" >&2
    exit 1
}

. tests/shown.sh
shown_proves "$work"

# block KIND: the lines of the first block of that kind.
first_block() {
    awk -v fence="\`\`\`$1" '
        !inside && !done && $0 == fence { inside = 1; next }
        inside && /^```/ { inside = 0; done = 1 }
        inside { print }' README.md
}

first_block yaml >"$work/roof.yaml"
diff roofs/easy.yaml "$work/roof.yaml" || fail "the survey shown is not roofs/easy.yaml"

# Cuts the console blocks up: N.words has a command, N.shown what is shown below it.
awk -v work="$work" '
    !inside && $0 == "```console" { inside = 1; next }
    inside && /^```/ { inside = 0; name = ""; next }
    inside && /^\$ / {
        name = ""
        if ($2 == "ruddle") {
            name = work "/" ++count
            print substr($0, 10) > (name ".words")
            printf "" > (name ".shown")
        }
        next
    }
    inside && name != "" { print > (name ".shown") }
    END { print count + 0 > (work "/count") }' README.md

count=$(cat "$work/count")
[ "$count" -gt 0 ] || fail "no command is shown"
i=0
while [ "$i" -lt "$count" ]; do
    i=$((i + 1))
    words=$(cat "$work/$i.words")
    code=0
    # shellcheck disable=SC2086 # words of a command line
    "$program" $words >"$work/printed" || code=$?
    [ "$code" -eq 0 ] || fail "ruddle $words: exit code $code"
    if [ -s "$work/$i.shown" ]; then
        shown_in "$work/$i.shown" "$work/printed" || fail "ruddle $words: shown but not printed"
    fi
done
echo "README.md: survey and $count commands hold"
