#!/bin/sh
# One fleet in shards, run by GNU parallel (Debian: parallel), then merged into one report.
#
#     sh docs/fleet/parallel.sh SHARDS FOLDER PATH...
#
# lays out every roof of the PATHs and leaves FOLDER/fleet.csv. Shards run at the same time, one a
# core; a shard that failed is tried again and goes on where it was. Run it again after a crash or
# Ctrl-C and it goes on, too.
#
# More machines: PARALLEL='--sshloginfile nodes' in the environment, where `nodes` names one a line.
# They must see FOLDER and the PATHs under the same names. RUDDLE names the program if it is not on
# the PATH.
set -eu
if [ $# -lt 3 ]; then
    echo "usage: sh docs/fleet/parallel.sh SHARDS FOLDER PATH..." >&2
    exit 2
fi
ruddle=${RUDDLE:-ruddle}
shards=$1
folder=$2
shift 2
mkdir -p "$folder"

# Exit codes 1 and 2 say that roofs do not work or cannot be read: the shard itself is done.
# {} is the shard's number. Words behind `--` reach the shell as they are, whatever is in them.
seq "$shards" | parallel --quote --workdir . --retries 3 --halt soon,fail=1 \
    sh -c 'shard=$1 folder=$2 ruddle=$3 && shift 3 &&
        { "$ruddle" fleet --jobs 1 --quiet --shard "$shard" --resume \
            --report "$folder/shard-${shard%/*}.csv" "$@" || [ $? -le 2 ]; }' \
    shard "{}/$shards" "$folder" "$ruddle" "$@"

# Reports of earlier runs with more shards stay out.
cd "$folder"
# shellcheck disable=SC2046 # numbers
set -- $(seq -f 'shard-%.0f.csv' "$shards")
exec "$ruddle" fleet --merge --report fleet.csv "$@"
