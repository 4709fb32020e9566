"""The frames of the completion scripts; the tables of what may stand where are put in.

Each finds the verb, the first word behind it, and the field or option that is being typed, and
asks for what stands under VERB:FIRST:FIELD.
"""

from __future__ import annotations

BASH = r"""# pondtui completion for bash: source <(pondtui completion bash)
_pondtui_offers() {
    case "$1" in
%CASES%
    esac
}

_pondtui() {
    local cur="${COMP_WORDS[COMP_CWORD]}" before="${COMP_WORDS[COMP_CWORD - 1]}"
    local verb="" first="" field="" key i word
    local -a found=()
    if [[ $cur == "=" ]]; then
        field=$before cur=""
    elif [[ $before == "=" ]]; then
        field="${COMP_WORDS[COMP_CWORD - 2]}"
    fi
    for ((i = 1; i < COMP_CWORD; i++)); do
        word="${COMP_WORDS[i]}"
        case "$word" in
            "=") ((i++)) ;;
            %VALUED%) ((i++)); [[ ${COMP_WORDS[i]} == "=" ]] && ((i++)) ;;
            -*) ;;
            sample) [[ -n $verb && -z $first ]] && first=$word ;;
            *) if [[ -z $verb ]]; then verb=$word; elif [[ -z $first ]]; then first=$word; fi ;;
        esac
    done
    key="$verb:$first:$field"
    [[ $field == -* ]] && key="$verb:$field:"
    if [[ -z $field ]]; then
        case "$before" in
            %VALUED%) key="$verb:$before:" ;;
            *) [[ $cur == -* ]] && key="$verb:-:" ;;
        esac
    fi
    while IFS= read -r word; do
        if [[ $word == @files ]]; then
            compopt -o filenames 2>/dev/null
            while IFS= read -r word; do found+=("$word"); done < <(compgen -f -- "$cur")
        elif [[ $word == "$cur"* ]]; then
            found+=("$(printf '%q' "$word")")
        fi
    done < <(_pondtui_offers "$key")
    COMPREPLY=("${found[@]}")
    [[ ${#found[@]} -eq 1 && ${found[0]} == *= ]] && compopt -o nospace 2>/dev/null
    return 0
}
complete -F _pondtui pondtui
"""
ZSH = r"""#compdef pondtui
# pondtui completion for zsh: source <(pondtui completion zsh), behind compinit
_pondtui_offers() {
    case "$1" in
%CASES%
    esac
}

_pondtui() {
    local cur="${words[CURRENT]}" before="${words[CURRENT - 1]}"
    local verb="" first="" field="" key word i
    local -a open closed
    for ((i = 2; i < CURRENT; i++)); do
        word="${words[i]}"
        case "$word" in
            %VALUED%) ((i++)) ;;
            -*) ;;
            sample) [[ -n $verb && -z $first ]] && first=$word ;;
            *) if [[ -z $verb ]]; then verb=$word; elif [[ -z $first ]]; then first=$word; fi ;;
        esac
    done
    if [[ $cur == *=* ]]; then
        field="${cur%%=*}"
        compset -P '*='
    fi
    key="$verb:$first:$field"
    [[ $field == -* ]] && key="$verb:$field:"
    if [[ -z $field ]]; then
        case "$before" in
            %VALUED%) key="$verb:$before:" ;;
            *) [[ $cur == -* ]] && key="$verb:-:" ;;
        esac
    fi
    _pondtui_offers "$key" | while IFS= read -r word; do
        case "$word" in
            @files) _files ;;
            *=) open+=("$word") ;;
            *) closed+=("$word") ;;
        esac
    done
    (( $#open )) && compadd -S '' -a open
    (( $#closed )) && compadd -a closed
    return 0
}
(( $+functions[compdef] )) && compdef _pondtui pondtui
"""
FISH = r"""# pondtui completion for fish: pondtui completion fish | source
function __pondtui_offers
    switch "$argv[1]"
%CASES%
    end
end

function __pondtui
    set -l typed (commandline -opc)
    set -l cur (commandline -ct)
    set -l valued %VALUED%
    set -l verb ""
    set -l first ""
    set -l field ""
    set -l start ""
    set -l before ""
    set -l skip no
    for word in $typed[2..-1]
        set before $word
        if test $skip = yes
            set skip no
        else if contains -- $word $valued
            set skip yes
        else if string match -q -- '-*' $word
        else if test -z "$verb" -a "$word" = sample
        else if test -z "$verb"
            set verb $word
        else if test -z "$first"
            set first $word
        end
    end
    if string match -q -- '*=*' $cur
        set field (string split -m 1 -- = $cur)[1]
        set start "$field="
        set cur (string split -m 1 -- = $cur)[2]
    end
    set -l key "$verb:$first:$field"
    if string match -q -- '-*' $field
        set key "$verb:$field:"
    else if test $skip = yes
        set key "$verb:$before:"
    else if string match -q -- '-*' "$cur"
        set key "$verb:-:"
    end
    for word in (__pondtui_offers $key)
        if test $word = @files
            __fish_complete_path "$cur"
        else
            echo "$start$word"
        end
    end
end
complete -c pondtui -f -a '(__pondtui)'
"""
