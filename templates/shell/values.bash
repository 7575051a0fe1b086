
# What only the designs and the tables of papers and forms know is offered before what the commands have.
_pressfoot_designs() {
    local from=designs at file
    for ((at = 1; at < COMP_CWORD; at++)); do
        [[ ${COMP_WORDS[at]} == --from ]] && from=${COMP_WORDS[at + 1]}
    done
    for file in "$from"/*/design.yaml; do
        [[ -e $file ]] || continue
        file=${file%/design.yaml}
        printf '%q\n' "${file##*/}"
    done
}

# Words of a list with commas: what stands before the last comma stays.
_pressfoot_list() {
    local words=$1 word=$2 before=
    if [[ $word == *,* ]]; then
        before=${word%,*},
        word=${word##*,}
    fi
    mapfile -t COMPREPLY < <(compgen -P "$before" -W "$words" -- "$word")
}

_pressfoot_values() {
    local word=${COMP_WORDS[COMP_CWORD]} last=${COMP_WORDS[COMP_CWORD - 1]} command= at
    for ((at = 1; at < COMP_CWORD; at++)); do
        case ${COMP_WORDS[at]} in
            build | proof | watch | measure | compare | release) command=${COMP_WORDS[at]} ;;
        esac
    done
    COMPREPLY=()
    case $last in
        --paper) _pressfoot_list '{papers}' "$word" ;;
        --form) _pressfoot_list '{forms}' "$word" ;;
        --anew | --poll | --quiet | -q | --timings | --without-corrections | [!-]*)
            if [[ -n $command && $word != -* ]]; then
                mapfile -t COMPREPLY < <(compgen -W "$(_pressfoot_designs)" -- "$word")
            fi
            ;;
    esac
    [[ ${#COMPREPLY[@]} -gt 0 ]] || _pressfoot "$@"
}

complete -F _pressfoot_values -o bashdefault -o default pressfoot
