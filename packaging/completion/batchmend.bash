# Completion for bash, and for zsh after "autoload -U bashcompinit && bashcompinit".
# Put it into ~/.local/share/bash-completion/completions/batchmend, or source it.

_batchmend() {
    local word="${COMP_WORDS[COMP_CWORD]}" before="${COMP_WORDS[COMP_CWORD - 1]}" command="" index
    local families="candied-peel choux melted-chocolate shortbread whipped-cream"
    COMPREPLY=()
    for ((index = 1; index < COMP_CWORD; index++)); do
        case "${COMP_WORDS[index]}" in
            --rules) index=$((index + 1)) ;;
            -*) ;;
            *) command="${COMP_WORDS[index]}"; break ;;
        esac
    done
    case "$before" in
        --rules | --against) mapfile -t COMPREPLY < <(compgen -d -- "$word"); return ;;
        --plot | --pdf | --csv | --export | --import) mapfile -t COMPREPLY < <(compgen -f -- "$word"); return ;;
    esac
    local words="" files=""
    case "$command" in
        "") words="ask diagnose explain signs causes check new measure amounts profile book card practise practice-set practice-results --rules --version --help" ;;
        ask) words="$families" ;;
        diagnose) words="--json"; files=yes ;;
        explain) words="--why-not --json"; files=yes ;;
        signs | causes) words="$families --json" ;;
        check) words="--json --sarif --identify --against"; files=yes ;;
        new) words="cause sign remedy $families" ;;
        measure) words="$families --batches --seed --json" ;;
        amounts) words="--json --plot" ;;
        profile) words="--json" ;;
        book) words="list show add outcome figures seen export import backup restore check demo"; files=yes ;;
        card) words="$families --pdf" ;;
        practise) words="$families --level --case --learner --explore --against" ;;
        practice-set) words="--make --title --level --numbers --answers"; files=yes ;;
        practice-results) words="--learner --set --csv --export --import --forget" ;;
    esac
    mapfile -t COMPREPLY < <(compgen -W "$words" -- "$word"; [ -n "$files" ] && compgen -f -- "$word")
}

complete -o filenames -F _batchmend batchmend
