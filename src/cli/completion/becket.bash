# bash completion of becket
_becket()
{
    local cur=${COMP_WORDS[COMP_CWORD]} prev=${COMP_WORDS[COMP_CWORD-1]} command=${COMP_WORDS[1]}
    local commands="check explain draw level hooks duty angle new schema tables"
    local words= files= IFS=$' \t\n'
    COMPREPLY=()
    if [ "$COMP_CWORD" -eq 1 ]; then
        COMPREPLY=($(compgen -W "$commands help --help --version" -- "$cur"))
        return
    fi
    case $prev in
        --tables) files=folders ;;
        --check | -o | --output) files=all ;;
        --units) words="si us" ;;
        --rules) words="en us" ;;
        --from) words="vertical horizontal" ;;
        --paper) words="a4 letter" ;;
        --legs) words="1 2 3 4 5 6 7 8" ;;
        --load | --angle | --height | --spread | --length | --sling | --step | --travel | --ahead) return ;;
    esac
    if [ -z "$words$files" ]; then
        case $command in
            check) words="--json --csv --as-drawn --cases --largest --tables --help" files=plans ;;
            explain) words="--json --as-drawn --tables --help" files=plans ;;
            draw) words="--output --paper --working --as-drawn --tables --help" files=plans ;;
            level) words="--step --travel --even --tables --help" files=plans ;;
            hooks) words="--ahead --tables --help" files=plans ;;
            duty) words="--json --tables --help" files=plans ;;
            angle) words="--load --legs --angle --from --height --length --spread --sling --equalised --rules --units --lesson
                --output --paper --tables --help" ;;
            new) words="bridle spreader two-hooks runway hanging-truss --ask --output --help" ;;
            schema) words="--manual --help" ;;
            tables)
                words="--units --check --tables --help"
                [[ $cur == -* ]] || words=$(COLUMNS=999 becket tables 2>/dev/null | sed -n '2,$s/^  \([^ ]*\) .*/\1/p') ;;
            help) words=$commands ;;
        esac
    fi
    if [ -n "$words" ]; then
        [[ -n $files && $cur != -* ]] || COMPREPLY=($(compgen -W "$words" -- "$cur"))
    fi
    [[ -z $files || $cur == -* ]] && return
    compopt -o filenames 2>/dev/null
    IFS=$'\n'
    case $files in
        folders) COMPREPLY=($(compgen -d -- "$cur")) ;;
        all) COMPREPLY=($(compgen -f -- "$cur")) ;;
        plans) COMPREPLY=($(compgen -f -X '!*.yaml' -- "$cur"; compgen -f -X '!*.yml' -- "$cur"; compgen -d -- "$cur")) ;;
    esac
}
complete -F _becket becket
