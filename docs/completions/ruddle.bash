# Completion of ruddle's commands, options and files for bash.
# shellcheck shell=bash

# The commands that there are; with one, the options that it takes.
_ruddle_words() {
    local roof='--json --out --top --bottom --from --burn --tape --limit --quiet'
    local -r always='--help --version'
    case $1 in
    '') echo "layout check compare explain revise fleet survey practice $always" ;;
    check | compare | explain) echo "$roof $always" ;;
    layout) echo "$roof --as-many-as-fit --model --paper $always" ;;
    revise) echo "$roof --asbuilt --paper $always" ;;
    fleet) echo "$roof --report --resume --jobs --shard --merge --files $always" ;;
    survey) echo "--ask --out --paper --quiet $always" ;;
    practice) echo "--level --seed --progress --grade --json --out --quiet $always" ;;
    esac
}

# Offers files whose names end in one of those endings, and folders to look into.
_ruddle_files() {
    local word=$1 ending
    shift
    for ending in "$@"; do
        compgen -f -X "!*.$ending" -- "$word"
    done
    compgen -d -- "$word"
}

# What goes behind an option; fails for a word that takes no value.
_ruddle_value() {
    local word=$1
    case $2 in
    --top | --bottom) compgen -W 'strut feet' -- "$word" ;;
    --from) compgen -W 'near far' -- "$word" ;;
    --paper) compgen -W 'letter a4' -- "$word" ;;
    --files) compgen -W 'sheet all' -- "$word" ;;
    --level) compgen -W '1 2 3' -- "$word" ;;
    --tape) compgen -W '1/8 1/16 1/32' -- "$word" ;;
    --out) compgen -d -- "$word" ;;
    --model) _ruddle_files "$word" mps lp ;;
    --report | --progress) _ruddle_files "$word" csv ;;
    --asbuilt | --grade) _ruddle_files "$word" yaml yml ;;
    --burn | --limit | --jobs | --shard | --seed) ;; # a figure of one's own
    *) return 1 ;;
    esac
    return 0 # also where nothing fits
}

_ruddle() {
    local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD - 1]} command='' i
    if [[ $word == '=' ]]; then # --top=: three words to bash
        word=''
    elif [[ $before == '=' ]]; then
        before=${COMP_WORDS[COMP_CWORD - 2]}
    fi
    for ((i = 1; i < COMP_CWORD; i++)); do
        if [[ -n $(_ruddle_words "${COMP_WORDS[i]}") ]]; then
            command=${COMP_WORDS[i]}
            break
        fi
    done
    if mapfile -t COMPREPLY < <(_ruddle_value "$word" "$before" || echo :none) &&
        [[ ${COMPREPLY[*]} != :none ]]; then
        compopt -o filenames 2>/dev/null
    elif [[ $word == -* || -z $command ]]; then
        mapfile -t COMPREPLY < <(compgen -W "$(_ruddle_words "$command")" -- "$word")
    elif [[ $command != practice ]]; then
        mapfile -t COMPREPLY < <(_ruddle_files "$word" yaml yml json)
        compopt -o filenames 2>/dev/null
    else
        COMPREPLY=()
    fi
}

complete -F _ruddle ruddle
