# What zsh's own completion writes or lists at a terminal of its own, for each word given and a Tab: run by manual.py, with
# becket on the path.  $1: how long to wait for it, in seconds.
emulate -L zsh
zmodload zsh/zpty || exit 77
zpty shell zsh -f -i
typeset seen line wait=$1
till() { seen=; while zpty -r shell line; do seen+=$line; [[ $seen == *$1* ]] && return; done }
zpty -w shell "PROMPT='READY>' RPROMPT= TERM=dumb; stty rows 50 columns 200 -echo; fpath=($PWD/src/cli/completion \$fpath)"
zpty -w shell "autoload -Uz compinit; compinit -u -D; LISTMAX=0; echo SET''UP"
till SETUP
for typed in "${@:2}"; do
    zpty -w -n shell "$typed"$'\t'
    sleep $wait
    zpty -w -n shell $'\C-u echo DO\'\'NE\n' # keys that wait would keep it from being drawn
    till DONE
    print -r -- "<<<$typed>>>${${seen//$'\r'/}//$'\a'/}"
done
zpty -d shell
