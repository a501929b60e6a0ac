#!/bin/sh
# Follows docs/tutorial.md to the letter, in an empty folder:
#     sh tests/test_tutorial.sh PROGRAM [pictures]
#   - a yaml block whose first line is `# FILE` is written to FILE;
#   - each `$ ruddle ...` of a console block is run, ends with 0 or as `# ends with N` behind it says,
#     and prints the lines shown below it, in that order; `...` stands for lines left out;
#   - each picture of the page is the drawing named in the remark above it, as the program makes it
#     today.  With the word `pictures` they are made anew instead.
set -eu
program=$(realpath "$1")
make=${2:-}
root=$PWD
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

fail() {
    echo "docs/tutorial.md: $*" >&2
    exit 1
}

. tests/shown.sh
shown_proves "$work"

if ldd "$program" | grep -q 'libasan'; then
    echo "tutorial: the plain build is what the page speaks of; other tests run these commands with sanitizers"
    exit 77
fi

# Cuts the page up into steps, in its order: N.file with the path below its first line, or N.command
# with N.shown, or N.picture: a drawing and the picture that it is.
awk -v work="$work" '
    function step(kind) { name = work "/" ++count; return name "." kind }
    !inside && /^```yaml$/ { inside = 1; fresh = 1; next }
    !inside && /^```console$/ { inside = 2; next }
    inside && /^```$/ { inside = 0; name = ""; next }
    inside == 1 && fresh && /^# / { print $2 > step("path"); fresh = 0 }
    inside == 1 && !fresh { print > (name ".text"); next }
    inside == 2 && /^\$ ruddle / { print substr($0, 3) > step("command"); printf "" > (name ".shown"); next }
    inside == 2 { print > (name ".shown") }
    !inside && /^<!-- .*drawing.svg -->$/ { drawing = $2; next }
    !inside && drawing != "" {
        match($0, /\(pictures\/[a-z]*\.svg\)/)
        print drawing, substr($0, RSTART + 1, RLENGTH - 2) > step("picture")
        drawing = ""
    }
    END { print count + 0 > (work "/count") }' docs/tutorial.md

run_command() {
    words=$(cat "$1.command")
    wanted=$(echo "$words" | sed -n 's/.*# ends with \([0-9]\)$/\1/p')
    code=0
    (cd "$work/home" && sh -c "$words") </dev/null >"$work/printed" 2>&1 || code=$?
    [ "$code" -eq "${wanted:-0}" ] || fail "\`$words\` ends with $code: $(cat "$work/printed")"
    [ ! -s "$1.shown" ] || shown_in "$1.shown" "$work/printed" ||
        fail "\`$words\`: shown but not printed"
}

hold_picture() {
    read -r drawing picture <"$1.picture"
    if [ "$make" = pictures ]; then
        cp "$work/home/$drawing" "$root/docs/$picture"
    fi
    cmp "$work/home/$drawing" "$root/docs/$picture" ||
        fail "$picture is not what is drawn today (sh tests/test_tutorial.sh PROGRAM pictures)"
}

mkdir "$work/home" "$work/bin"
ln -s "$program" "$work/bin/ruddle"
PATH=$work/bin:$PATH
count=$(cat "$work/count")
i=0 commands=0 pictures=0
while [ "$i" -lt "$count" ]; do
    i=$((i + 1))
    if [ -e "$work/$i.path" ]; then
        cp "$work/$i.text" "$work/home/$(cat "$work/$i.path")"
    elif [ -e "$work/$i.command" ]; then
        commands=$((commands + 1))
        run_command "$work/$i"
    else
        pictures=$((pictures + 1))
        hold_picture "$work/$i"
    fi
done
[ "$commands" -ge 8 ] || fail "only $commands commands found"
[ "$pictures" -eq "$(find docs/pictures -type f | wc -l)" ] ||
    fail "$pictures pictures shown, others in docs/pictures"
echo "docs/tutorial.md: $commands commands and $pictures pictures hold"
