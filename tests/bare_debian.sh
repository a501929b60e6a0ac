#!/bin/sh
# Installs the Debian package on a bare machine, runs it there, and takes it off again:
#     sh tests/bare_debian.sh BUILD-FOLDER [SUITE]
# The machine is a new Debian (bookworm, or that suite) in a folder that is thrown away, with nothing on it but
# what every Debian has and apt.  Needs root, mmdebstrap and a mirror; takes minutes, so it is no
# part of tests/run.sh.
set -eu
build=$1
suite=${2:-bookworm}
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
chmod 755 "$work"

(cd "$build" && cpack -G DEB -B "$work/made") >"$work/log" 2>&1 || { cat "$work/log"; exit 1; }
mv "$work"/made/ruddle_*.deb "$work/ruddle.deb"
"$build/ruddle" layout roofs/easy.yaml --quiet --out "$work/ours"

# What is done there, step by step; the first failure ends it.
cat >"$work/there.sh" <<'THERE'
set -eux
[ ! -e /usr/bin/ruddle ]
dpkg-query -W -f '${Package}\n' | sort >/tmp/before
apt-get install -y --no-install-recommends /tmp/ruddle.deb
ruddle --version
cd /usr/share/doc/ruddle
ruddle layout roofs/easy.yaml --quiet --out /tmp/theirs
ruddle layout roofs/easy.yaml --json >/tmp/layout.json
ruddle check roofs/easy.yaml /tmp/layout.json
ldconfig -p | grep -F libruddle.so.0
[ -z "$(dpkg --verify ruddle)" ]
dpkg-query -W -f '${Package}\n' | sort | comm -13 /tmp/before - >/tmp/came
apt-get remove -y ruddle
[ ! -e /usr/bin/ruddle ]
[ ! -e /usr/lib/libruddle.so.0 ]
THERE

mmdebstrap --variant=apt --quiet --format=null \
    --customize-hook="copy-in $work/ruddle.deb $work/there.sh /tmp" \
    --customize-hook='chroot "$1" sh /tmp/there.sh' \
    --customize-hook="copy-out /tmp/theirs /tmp/came $work" \
    "$suite" /dev/null
diff -r "$work/ours" "$work/theirs"
echo "bare $suite: installed with $(wc -l <"$work/came") packages, runs to the byte, and comes off again"
