#!/bin/sh
# One fleet as a Slurm job array, one task a shard, and a job that merges their reports when all are
# done (Debian: slurm-client here, slurmd on the nodes).
#
#     sh docs/fleet/slurm.sh SHARDS FOLDER PATH...
#
# leaves FOLDER/fleet.csv. Every node must see FOLDER and the PATHs under the same names. Options for
# sbatch, such as a partition, go into its own variables (SBATCH_PARTITION=...), and RUDDLE names the
# program if it is not on the PATH. A task that is requeued goes on where it was; after a task has
# failed, say why (FOLDER/shard-N.log), and run the same line again.
set -eu
ruddle=${RUDDLE:-ruddle}

# Exit codes 1 and 2 say that roofs do not work or cannot be read: the work itself is done.
done_unless_failed() {
    "$@" || [ $? -le 2 ]
}

case ${1-} in
shard) # run by Slurm: shard FOLDER PATH...
    folder=$2
    shift 2
    done_unless_failed "$ruddle" fleet --jobs "${SLURM_CPUS_PER_TASK:-1}" --resume \
        --shard "$SLURM_ARRAY_TASK_ID/$SLURM_ARRAY_TASK_COUNT" \
        --report "$folder/shard-$SLURM_ARRAY_TASK_ID.csv" "$@"
    ;;
merge) # run by Slurm: merge SHARDS FOLDER
    cd "$3"
    # shellcheck disable=SC2046 # numbers
    done_unless_failed "$ruddle" fleet --merge --report fleet.csv \
        $(seq -f 'shard-%.0f.csv' "$2")
    ;;
*)
    if [ $# -lt 3 ]; then
        echo "usage: sh docs/fleet/slurm.sh SHARDS FOLDER PATH..." >&2
        exit 2
    fi
    shards=$1
    folder=$2
    shift 2
    mkdir -p "$folder"
    array=$(sbatch --parsable --job-name=roofs --array="1-$shards" --requeue --open-mode=append \
        --output="$folder/shard-%a.log" "$0" shard "$folder" "$@")
    sbatch --job-name=roofs-merge --dependency="afterok:${array%%;*}" --kill-on-invalid-dep=yes \
        --output="$folder/merge.log" "$0" merge "$shards" "$folder"
    ;;
esac
