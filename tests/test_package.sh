#!/bin/sh
# What is installed runs from where it was put, and the Debian package holds the same, asks for every
# package that the program loads from, and unpacks into something that runs.
#     sh tests/test_package.sh PROGRAM
# PROGRAM stands in the build folder.  Needs cmake with its cpack, dpkg-deb,
# dpkg-shlibdeps, objdump and file.
set -eu
program=$1
build=$(dirname "$program")
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

fail() {
    echo "package: $*" >&2
    exit 1
}

if ldd "$program" | grep -q 'libasan'; then
    echo "package: a build with sanitizers is not for installing"
    exit 77
fi

# runs_from PREFIX: the program there lays out a roof from there, to the bytes that ours does.
"$program" layout roofs/easy.yaml --quiet --out "$work/ours"
runs_from() {
    roofs=$1/share/doc/ruddle/roofs
    "$1/bin/ruddle" layout "$roofs/easy.yaml" --quiet --out "$work/theirs" ||
        fail "does not run from $1"
    diff -r "$work/ours" "$work/theirs" || fail "other files from $1"
    rm -r "$work/theirs"
    [ "$("$1/bin/ruddle" --version)" = "$("$program" --version)" ] || fail "another version in $1"
    for name in man/man1/ruddle.1 bash-completion/completions/ruddle ruddle/roof.schema.json \
        ruddle/kit.schema.json doc/ruddle/copyright doc/ruddle/README.md doc/ruddle/docs/keys.md \
        doc/ruddle/docs/fleet/slurm.sh doc/ruddle/roofs/drilled/easy.yaml "$2/_ruddle"; do
        [ -s "$1/share/$name" ] || fail "no share/$name in $1"
    done
}

# ---- cmake --install ----
cmake --install "$build" --prefix "$work/home" >"$work/log" || fail "$(cat "$work/log")"
runs_from "$work/home" zsh/site-functions

# ---- The package ----
(cd "$build" && cpack -G DEB -B "$work/made") >"$work/log" 2>&1 || fail "$(cat "$work/log")"
package=$(ls "$work"/made/ruddle_*.deb)
dpkg-deb -x "$package" "$work/root"
runs_from "$work/root/usr" zsh/vendor-completions
(cd "$work/root" && find . ! -type d | sed 's/vendor-completions/site-functions/' | sort) \
    >"$work/packed"
(cd "$work/home" && find . ! -type d | sed 's,^\.,./usr,' | sort) >"$work/installed"
diff "$work/installed" "$work/packed" || fail "the package holds other files than an installation"
find "$work/root" -perm /022 ! -type l | grep -q . && fail "others may write to files of the package"

field() {
    dpkg-deb -f "$package" "$1"
}
[ "$(field Package)" = ruddle ] || fail "it is called $(field Package)"
[ "ruddle $(field Version)" = "$("$program" --version)" ] || fail "version $(field Version)"
[ "$(field Architecture)" = "$(dpkg --print-architecture)" ] || fail "for $(field Architecture)"
for name in Maintainer Section Description; do
    [ -n "$(field $name)" ] || fail "no $name"
done

# Every library that the program names itself comes from a package that is asked for, and so does the
# font; nothing else is.
{
    objdump -p "$work/root/usr/bin/ruddle" | sed -n 's/^ *NEEDED *//p' | while read -r library; do
        path=$(ldd "$program" | awk -v name="$library" '$1 == name { print $3 }')
        # It may be listed by where it is, or by where it was before /lib became a link.
        dpkg-query -S "$path" 2>/dev/null || dpkg-query -S "$(realpath "$path")"
    done | cut -d: -f1
    dpkg-query -S /usr/share/fonts/truetype/dejavu/DejaVuSans.ttf | cut -d: -f1
} | sort -u >"$work/loaded"
field Depends | tr ',' '\n' | sed 's/^ *//; s/ .*//' | sort -u >"$work/asked"
diff "$work/loaded" "$work/asked" || fail "what the package asks for is not what the program loads"
echo "package: $(basename "$package") asks for $(wc -l <"$work/asked") packages, and runs unpacked"
