#!/bin/sh
# What goes wrong around a fleet: a full disk, standard output that takes nothing, files and kits
# that are gone or changed, a worker killed from outside. One row or one line each; nothing is lost.
#     sh tests/test_fleet_faults.sh PROGRAM
# Where it may mount one, the disk is a small tmpfs; otherwise files may not grow beyond a size.
set -eu
program=$1
writer=$(dirname "$program")/tests/test_fleet_writer
work=$(mktemp -d)
disk=$work/disk

clear_up() {
    umount "$disk" 2>/dev/null || true
    rm -rf "$work"
}
trap clear_up EXIT

fail() {
    echo "fleet at fault: $*" >&2
    exit 1
}

# fleet CODES WORD...: runs it; its exit code is one of CODES.
fleet() {
    wanted=$1
    shift
    code=0
    "$program" fleet --jobs 2 --limit 1 "$@" >"$work/out" 2>"$work/err" || code=$?
    case $wanted in
    *$code*) ;;
    *) fail "exit code $code, not $wanted: $* $(cat "$work/err")" ;;
    esac
}

# one_line TEXT: the one line of complaint says that.
one_line() {
    [ "$(grep -c . "$work/err")" -eq 1 ] || fail "not one line: $(cat "$work/err")"
    grep -qF -- "$1" "$work/err" || fail "it does not say '$1' but: $(cat "$work/err")"
}

# row FILE TEXT: the report's row of that file has it.
row() {
    grep -F -- "$1," "$work/report.csv" | grep -qF -- "$2" ||
        fail "of $1 it does not say '$2': $(grep -F -- "$1" "$work/report.csv")"
}

same() {
    cmp "$1" "$2" || fail "different reports"
}

mkdir "$work/roofs" "$disk"
"$writer" "$work/roofs" 16 5 0 0 small
fleet "0 1" "$work/roofs" --report "$work/whole.csv" --quiet

# ---- A full disk, of growing size; then there is room, and the run goes on where it was.
small_disk() {
    mount -t tmpfs -o "size=$1k" none "$disk" 2>/dev/null
}

full=0
for size in 8 24 48; do
    if small_disk $size; then
        fleet 3 "$work/roofs" --report "$disk/fleet.csv" --out "$disk/sheets" --quiet
        one_line 'fleet.csv.record: found "database or disk is full", wanted room for'
        mount -o remount,size=10000k "$disk"
    else
        rm -rf "$disk"
        mkdir "$disk"
        (
            trap '' XFSZ
            ulimit -f "$size" # blocks of 512 or 1024 bytes
            fleet 3 "$work/roofs" --report "$disk/fleet.csv" --out "$disk/sheets" --quiet
            one_line 'fleet.csv.record: found "disk I/O error", wanted'
        )
    fi
    full=$((full + 1))
    fleet "0 1 2" "$work/roofs" --report "$disk/fleet.csv" --out "$disk/sheets" --quiet --resume
    same "$work/whole.csv" "$disk/fleet.csv"
    [ "$(find "$disk" -name '.*.[0-9]*' | wc -l)" -eq 0 ] || fail "files half written are left"
    umount "$disk" 2>/dev/null || true
done
[ $full -eq 3 ] || fail "only $full full disks"

# ---- Standard output takes nothing: the report is there all the same.
for how in --json --jobs=1; do
    rm -f "$work/report.csv"
    code=0
    "$program" fleet "$work/roofs" --limit 1 --report "$work/report.csv" $how >/dev/full 2>"$work/err" ||
        code=$?
    [ $code -eq 3 ] || fail "exit code $code with standard output full"
    one_line "standard output"
    same "$work/whole.csv" "$work/report.csv"
done

# ---- A kit changes, a roof changes, a file is gone, one is new: as if all were done anew.
fleet "0 1" "$work/roofs" --report "$work/report.csv" --quiet
sed -i 's/^  height: .*/  height: 84/' "$work/roofs/kits/1.yaml"
fleet "0 1" "$work/roofs" --report "$work/report.csv" --resume --quiet
fleet "0 1" "$work/roofs" --report "$work/anew.csv" --quiet
same "$work/anew.csv" "$work/report.csv"
cmp -s "$work/whole.csv" "$work/report.csv" && fail "another kit changed nothing"
sed -i 's/slope: [0-9.]*}/slope: 30}/' "$work/roofs/crew-0001/000001.yaml"
cp "$work/roofs/crew-0001/000003.yaml" "$work/roofs/crew-0001/000100.yaml"
rm "$work/roofs/crew-0001/000002.yaml" "$work/roofs/kits/2.yaml"
mkfifo "$work/roofs/crew-0001/pipe.yaml"
fleet 2 "$work/roofs" --report "$work/report.csv" --resume --quiet
fleet 2 "$work/roofs" --report "$work/anew.csv" --quiet
same "$work/anew.csv" "$work/report.csv"
row crew-0001/pipe.yaml 'error'
without=$(grep -rl '/2.yaml' "$work/roofs/crew-0001" --include='0*.yaml' | sort | head -1)
row "$without" 'kits/2.yaml'
grep -q 000002 "$work/report.csv" && fail "a row of a file that is gone"

# ---- Nothing to do, and what the command line cannot mean.
fleet 2 "$work/nowhere" --quiet --report "$work/report.csv"
row nowhere 'it cannot be read: No such file or directory'
fleet 2 "$work/roofs" --resume
one_line "--report FILE or --out DIR as well"
fleet 3 "$work/roofs" --report /proc/nowhere/fleet.csv
one_line "/proc/nowhere"

# ---- A worker is killed from outside, at whatever roof it is.
"$program" fleet "$work/roofs" --jobs 1 --limit 1 --quiet --report "$work/report.csv" 2>"$work/err" &
run=$!
children=
while [ -z "$children" ] && kill -0 $run 2>/dev/null; do
    read -r children <"/proc/$run/task/$run/children" || true
done
kill -KILL ${children%% *} || fail "there was no worker"
code=0
wait $run || code=$?
[ $code -eq 2 ] || fail "exit code $code after a worker was killed"
[ "$(wc -l <"$work/report.csv")" -eq "$(wc -l <"$work/anew.csv")" ] || fail "rows were lost"
[ "$(grep -c 'ended by signal 9' "$work/report.csv")" -le 1 ] || fail "more than one row"
fleet 2 "$work/roofs" --report "$work/report.csv" --resume --quiet
same "$work/anew.csv" "$work/report.csv"
