#!/bin/sh
# A fleet as a job array of a real Slurm: a cluster of one node is started here, as whoever runs
# this, on ports and in a folder of its own; docs/fleet/slurm.sh is run on it, and its report must
# be that of a single run, byte by byte.
#     sh tests/test_fleet_slurm.sh PROGRAM
# Needs slurmctld, slurmd, sbatch and munged (Debian: slurmctld slurmd slurm-client munge).
set -eu
program=$1
# Few roofs are asked for where sanitizers slow everything down; what is tested here is what another
# program makes of the files, and the release build shows that.
if [ "${RUDDLE_ROOFS:-100}" -lt 50 ]; then
    echo "SKIPPED: left to the release build"
    exit 77
fi
writer=$(dirname "$program")/tests/test_fleet_writer
work=$(mktemp -d)
PATH=$PATH:/usr/sbin

fail() {
    echo "fleet on slurm: $*" >&2
    tail -n 20 "$work"/*.log >&2 || true
    exit 1
}

stop() {
    for name in slurmd slurmctld munged; do
        [ ! -s "$work/$name.pid" ] || kill "$(cat "$work/$name.pid")" 2>/dev/null || true
    done
    for tries in 1 2 3 4 5 6 7 8 9 10; do
        rm -rf "$work" 2>/dev/null && return 0 # a step may still write there
        sleep 0.2
    done
    echo "fleet on slurm: $work is left, $tries tries" >&2
}
trap stop EXIT

for tool in slurmctld slurmd sbatch squeue munged; do
    command -v "$tool" >/dev/null || fail "no $tool here (see the head of this file)"
done

# wait_for SECONDS COMMAND...: until it succeeds.
wait_for() {
    left=$(($1 * 5))
    shift
    until "$@" >"$work/wait.log" 2>&1; do
        left=$((left - 1))
        [ "$left" -gt 0 ] || fail "this was waited for in vain: $*"
        sleep 0.2
    done
}

start_cluster() {
    me=$(id -un)
    host=$(hostname)
    first=$((20000 + $$ % 20000)) # another run at the same time has another number
    chmod 755 "$work" # munged wants the way to its socket open
    mkdir "$work/munge" "$work/spool" "$work/state"
    chmod 711 "$work/munge"
    dd if=/dev/urandom of="$work/key" bs=1024 count=1 2>/dev/null
    chmod 600 "$work/key"
    munged --key-file="$work/key" --socket="$work/munge/socket" --pid-file="$work/munged.pid" \
        --log-file="$work/munged.log" --seed-file="$work/munge.seed" --num-threads=2
    cat >"$work/slurm.conf" <<END
ClusterName=ruddle
SlurmctldHost=$host(127.0.0.1)
SlurmUser=$me
SlurmdUser=$me
AuthType=auth/munge
AuthInfo=socket=$work/munge/socket
CredType=cred/munge
CryptoType=crypto/munge
SlurmctldPort=$first
SlurmdPort=$((first + 1))
SlurmctldPidFile=$work/slurmctld.pid
SlurmdPidFile=$work/slurmd.pid
SlurmctldLogFile=$work/slurmctld.log
SlurmdLogFile=$work/slurmd.log
StateSaveLocation=$work/state
SlurmdSpoolDir=$work/spool
ProctrackType=proctrack/linuxproc
TaskPlugin=task/none
JobAcctGatherType=jobacct_gather/none
MpiDefault=none
SelectType=select/cons_tres
SelectTypeParameters=CR_CPU
SwitchType=switch/none
ReturnToService=2
MailProg=/bin/true
NodeName=$host NodeAddr=127.0.0.1 CPUs=2 State=UNKNOWN
PartitionName=here Nodes=$host Default=YES MaxTime=INFINITE State=UP
END
    # What the machine has counts for nothing here: the test wants two slots, whatever is there.
    echo "SlurmdParameters=config_overrides" >>"$work/slurm.conf"
    SLURM_CONF=$work/slurm.conf
    export SLURM_CONF
    slurmctld
    slurmd
    wait_for 30 sh -c '[ "$(sinfo -h -o %t)" = idle ]'
}

no_jobs() {
    jobs=$(squeue -h) && [ -z "$jobs" ]
}

# The single run has another number of jobs, and so has each shard.
roofs="$work/north side"
mkdir "$roofs"
"$writer" "$roofs" "${RUDDLE_ROOFS:-40}" 11 25 5 small
code=0
"$program" fleet "$roofs" --jobs 2 --quiet --report "$work/single.csv" || code=$?
[ "$code" -eq 2 ] || fail "exit code $code of the single run"

start_cluster
RUDDLE=$program
export RUDDLE
sh docs/fleet/slurm.sh 3 "$work/sharded out" "$roofs" >"$work/submit.log" 2>&1 || fail "not submitted"
wait_for 120 no_jobs
cmp "$work/single.csv" "$work/sharded out/fleet.csv" || fail "another report"
