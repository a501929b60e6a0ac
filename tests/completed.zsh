# What zsh makes of a line when Tab is hit behind it: zsh -f completed.zsh FOLDER, FOLDER having
# _ruddle in it.  Reads lines, prints each as completed; a shell of its own types them.
zmodload zsh/zpty
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
cat >$scratch/.zshrc <<RC
PS1=
unsetopt beep
fpath=($1 \$fpath)
autoload -Uz compinit
compinit -u -D
tell() { print -r -- "\$BUFFER" >$scratch/line; mv $scratch/line $scratch/told; BUFFER= }
zle -N tell
bindkey '^I' complete-word
bindkey '^X' tell
print ready >$scratch/told
RC
wait_told() {
    local tries=0
    while [[ ! -e $scratch/told ]] && ((tries++ < 500)); do
        zpty -rt typed rest && : # the shell must not wait for a reader
        sleep 0.02
    done
    [[ -e $scratch/told ]]
}
zpty typed "ZDOTDIR=$scratch TERM=dumb zsh -d -i"
wait_told || { print -u2 'zsh did not start'; exit 1; }
while IFS= read -r line; do
    rm -f $scratch/told
    zpty -wn typed "$line"$'\t\x18'
    wait_told || { print -u2 "no answer to: $line"; exit 1; }
    print -r -- "$(<$scratch/told)"
done
zpty -d typed
