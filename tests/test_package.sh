#!/bin/sh
# What is installed runs from where it was put, a program can be built against its library there,
# and the Debian package holds the same, asks for every package that is loaded from, and unpacks into
# something that runs.
#     sh tests/test_package.sh PROGRAM
# PROGRAM stands in the build folder.  Needs cc, pkg-config, cmake with its cpack, dpkg-deb,
# dpkg-shlibdeps, objdump, nm and file.
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

# names_of NM-OPTION FILE: what it offers to link against.
names_of() {
    nm "$1" --defined-only "$2" | sed -n 's/^[0-9a-f]* [A-Z] //p' | sort
}

# example_of PREFIX WORD...: the example of docs, built with those words for its library, prints the
# layout that the program does, and the holes.
"$program" layout roofs/easy.yaml --json >"$work/layout.json"
example_of() {
    include=$1/include
    shift
    cc -std=c11 -Wall -Wextra -Wpedantic -Werror -I"$include" docs/example.c "$@" \
        -o "$work/example" || fail "the example does not build with $*"
    "$work/example" roofs/easy.yaml >"$work/printed" 2>"$work/holes" ||
        fail "the example ends with $?: $(cat "$work/holes")"
    diff "$work/layout.json" "$work/printed" || fail "the example finds another layout"
    [ "$(wc -l <"$work/holes")" -eq 6 ] || fail "the example lists: $(cat "$work/holes")"
}

# builds_against PREFIX: the library there, shared and static, offers what its header declares and
# nothing else, and the example can be built with either.
builds_against() {
    PKG_CONFIG_PATH=$1/lib/pkgconfig
    export PKG_CONFIG_PATH
    [ "ruddle $(pkg-config --modversion ruddle)" = "$("$program" --version)" ] ||
        fail "ruddle.pc tells another version"
    [ "$(realpath "$(pkg-config --variable=includedir ruddle)")" = "$1/include" ] ||
        fail "ruddle.pc does not tell where it is"
    grep -o '\bruddle_[a-z_]*(' "$1/include/ruddle.h" | tr -d '(' | sort -u >"$work/declared"
    for offered in "-D $1/lib/libruddle.so" "-g $1/lib/libruddle.a"; do
        # shellcheck disable=SC2086 # an option and a file
        names_of $offered | diff "$work/declared" - || fail "$offered offers other names"
    done
    # shellcheck disable=SC2046 # lists of words
    {
        example_of "$1" $(pkg-config --libs ruddle) -Wl,-rpath,"$1/lib"
        ldd "$work/example" | grep -q "$1/lib/libruddle.so.0" || fail "the library is another"
        example_of "$1" "$1/lib/libruddle.a" \
            $(pkg-config --static --libs ruddle | sed 's/-lruddle//')
        ldd "$work/example" | grep -q libruddle && fail "the static library is not linked"
    }
    unset PKG_CONFIG_PATH
}

# ---- cmake --install ----
cmake --install "$build" --prefix "$work/home" >"$work/log" || fail "$(cat "$work/log")"
runs_from "$work/home" zsh/site-functions
builds_against "$work/home"

# ---- The package ----
(cd "$build" && cpack -G DEB -B "$work/made") >"$work/log" 2>&1 || fail "$(cat "$work/log")"
package=$(ls "$work"/made/ruddle_*.deb)
dpkg-deb -x "$package" "$work/root"
runs_from "$work/root/usr" zsh/vendor-completions
builds_against "$work/root/usr"
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

# Every library that the program or our library names itself comes from a package that is asked for,
# and so does the font; nothing else is.
{
    objdump -p "$work/root/usr/bin/ruddle" "$work/root/usr/lib/libruddle.so" |
        sed -n 's/^ *NEEDED *//p' | sort -u | while read -r library; do
        path=$(ldd "$program" "$work/root/usr/lib/libruddle.so" 2>/dev/null | awk -v name="$library" '$1 == name { print $3 }')
        # It may be listed by where it is, or by where it was before /lib became a link.
        dpkg-query -S "$path" 2>/dev/null || dpkg-query -S "$(realpath "$path")"
    done | cut -d: -f1
    dpkg-query -S /usr/share/fonts/truetype/dejavu/DejaVuSans.ttf | cut -d: -f1
} | sort -u >"$work/loaded"
field Depends | tr ',' '\n' | sed 's/^ *//; s/ .*//' | sort -u >"$work/asked"
diff "$work/loaded" "$work/asked" || fail "what the package asks for is not what the program loads"
echo "package: $(basename "$package") asks for $(wc -l <"$work/asked") packages, and runs unpacked"
