#!/bin/sh
# The manual page and the completions know the options that the program knows, no more and no fewer,
# and bash and zsh make of a line what one expects: sh tests/test_completions.sh PROGRAM
# Needs bash, zsh and mandoc.
set -eu
program=$1
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

fail() {
    echo "completions: $*" >&2
    exit 1
}

# same WHAT ONE OTHER: two files of the same words.
same() {
    diff "$2" "$3" || fail "$1"
}

# ---- What the program knows ----
# Every option, and those with a value, from the one list of them.
sed -n 's/.*{"\([-a-z]*\)", no_argument.*/\1/p; s/.*{"\([a-z]*\)", required_argument.*/\1=x/p' \
    src/command/options.c >"$work/known"
[ "$(wc -l <"$work/known")" -ge 20 ] || fail "no list of options in src/command/options.c"
"$program" --help | sed -n 's/^  ruddle \([a-z]*\) .*/\1/p' >"$work/commands"
[ "$(wc -l <"$work/commands")" -ge 8 ] || fail "no commands in ruddle --help"

# takes COMMAND: the options that the program does not send elsewhere.  An empty operand is always
# refused, so that nothing runs.
takes() {
    code=0
    # shellcheck disable=SC2046 # words of a command line
    "$program" "$1" '' $(sed '/^help$/d; /^version$/d; s/^/--/' "$work/known") \
        2>"$work/told" >/dev/null </dev/null || code=$?
    [ "$code" -eq 2 ] || fail "ruddle $1 with every option: exit code $code"
    while read -r option; do
        name=${option%=*}
        grep -q "no --$name with ruddle $1" "$work/told" || echo "--$name"
    done <"$work/known" | sort
}

# ---- Manual page ----
mandoc -Tlint -W warning docs/ruddle.1 || fail "the manual page has faults"
grep -o '^\.B[IR]* "*\\-\\-[a-z][-a-z]*' docs/ruddle.1 | sed 's/.*\\-/--/' | sort >"$work/manual"
sed 's/=x//; s/^/--/' "$work/known" | sort >"$work/options"
same "the manual page and the program differ in their options" "$work/options" "$work/manual"
version=$("$program" --version)
grep -q "^\\.TH RUDDLE 1 [-0-9]* \"$version\" " docs/ruddle.1 || fail "manual page: not $version"
while read -r command; do
    grep -q "^\\.B ruddle $command\$" docs/ruddle.1 || fail "manual page: no synopsis of $command"
    grep -q "^\\.B $command\$" docs/ruddle.1 || fail "manual page: nothing on $command"
done <"$work/commands"

# ---- bash ----
# in_bash WORD...: what is offered for the last word.
in_bash() {
    bash -c '. docs/completions/ruddle.bash
        COMP_WORDS=(ruddle "$@")
        COMP_CWORD=$#
        _ruddle
        printf "%s\n" "${COMPREPLY[@]}"' bash "$@"
}
# offered WANTED WORD...
offered() {
    wanted=$1
    shift
    found=$(in_bash "$@" | sort | tr '\n' ' ')
    [ "$found" = "$wanted " ] || fail "bash, ruddle $*: offers $found"
}
bash -c '. docs/completions/ruddle.bash; complete -p ruddle' | grep -qx 'complete -F _ruddle ruddle' ||
    fail "bash: nothing completes ruddle"
in_bash '' | grep -v '^--' | sort >"$work/offered"
sort "$work/commands" >"$work/sorted"
same "bash: the commands" "$work/sorted" "$work/offered"
offered 'layout' lay
offered 'feet strut' layout --top ''
offered 'strut' layout --top = s
offered 'feet strut' layout --bottom =
offered '' layout --top x
offered '' layout --burn ''
offered '--shard' fleet --json --sh
offered 'roofs/easy.yaml' layout roofs/ea
offered 'roofs/drilled' revise roofs/easy.yaml roofs/dr
offered '' practice ro

# ---- zsh ----
# in_zsh LINE: the line after Tab.
in_zsh() {
    printf '%s\n' "$@" | zsh -f tests/completed.zsh "$PWD/docs/completions"
}
in_zsh 'ruddle lay' 'ruddle layout --mo' 'ruddle fleet --sh' 'ruddle layout --top=st' \
    'ruddle layout roofs/ea' 'ruddle check --mod' 'ruddle revise roofs/easy.yaml roofs/dr' \
    >"$work/completed"
cat >"$work/wanted" <<'END'
ruddle layout 
ruddle layout --model=
ruddle fleet --shard=
ruddle layout --top=strut 
ruddle layout roofs/easy.yaml 
ruddle check --mod
ruddle revise roofs/easy.yaml roofs/drilled/
END
same "zsh" "$work/wanted" "$work/completed"

# What the functions of zsh hand on to its own: one word an option.
zsh_takes() {
    zsh -f -c '_arguments() { print -rl -- "$@" };
        . <(sed "s/^_ruddle \"\$@\"\$//" docs/completions/_ruddle)
        _ruddle_options '"$1" | sed -n 's/^\((- \*)\)*\(--[-a-z]*\).*/\2/p' | sort
}
while read -r command; do
    takes "$command" >"$work/takes"
    in_bash "$command" -- | sort >"$work/offered"
    same "bash: the options of $command" "$work/takes" "$work/offered"
    zsh_takes "$command" >"$work/offered"
    same "zsh: the options of $command" "$work/takes" "$work/offered"
done <"$work/commands"
count=$(wc -l <"$work/commands")
echo "completions: $count commands and their options, in the manual page, in bash and in zsh"
