#!/bin/sh
# Static analysis of src: cppcheck, clang-tidy and gcc -fanalyzer, then valgrind over the examples.  Prints what they find.
# Not part of run.sh: it takes minutes, and another version of a tool may find something else.
# Exit status 0 when nothing was found.  Needs: cppcheck clang-tidy gcc valgrind.  analysis.sh [cppcheck|tidy|gcc|valgrind]...
#
# What is left out, and why (a single place is argued where it stands in the code):
#   cppcheck: missingIncludeSystem     headers of the system are not what is looked at
#             normalCheckLevelMaxBranches  a remark on cppcheck's own effort
#   tidy:     easily-swappable-parameters  tells to wrap every pair of doubles; names carry the units here
#             narrowing-conversions    gcc's -Wconversion is an error already
#             implicit-widening        small constants in int, widened to size_t or double, cannot overflow
#             reserved-identifier, err33-c   feature macros; every fprintf to a terminal
#             cert-flp30-c, dcl37-c    doubles never count a loop; alias of the one above
#             DeprecatedOrUnsafeBufferHandling  asks for Annex K, which no libc here has
#             assignment-in-if-condition, suspicious-include  style, none left
#   gcc:      none
set -u
top=$(CDPATH= cd -- "$(dirname -- "$0")/.." && pwd)
build=$top/build-analysis
cd "$top" || exit 1
[ -d "$build" ] || meson setup "$build" -Dbuildtype=plain -Dc_args=-O1 >/dev/null || exit 1
found=0
say() { printf '\n== %s\n' "$1"; }
show() { # lines of a tool, none is good
    if [ -s "$1" ]; then cat "$1"; found=1; else echo "nothing found"; fi
    rm -f "$1"
}
out=$(mktemp)
[ $# -gt 0 ] || set -- cppcheck tidy gcc valgrind
for tool in "$@"; do
    case $tool in
    cppcheck)
        say cppcheck
        cppcheck --enable=warning,portability,performance --std=c11 -j 2 --quiet --inline-suppr -Iinclude \
            --suppress=missingIncludeSystem --suppress=normalCheckLevelMaxBranches --library=posix \
            --template='{file}:{line}: {severity}: {message} [{id}]' src 2>"$out"
        show "$out" ;;
    tidy)
        say clang-tidy
        checks='-*,bugprone-*,clang-analyzer-*,cert-*,-bugprone-easily-swappable-parameters,-bugprone-narrowing-conversions'
        checks="$checks,-bugprone-implicit-widening-of-multiplication-result,-bugprone-reserved-identifier,-cert-dcl37-c"
        checks="$checks,-cert-dcl51-cpp,-cert-err33-c,-cert-flp30-c,-bugprone-assignment-in-if-condition"
        checks="$checks,-bugprone-suspicious-include,-clang-analyzer-security.insecureAPI.DeprecatedOrUnsafeBufferHandling"
        find src -name '*.c' | sort | xargs -P 2 -n 8 clang-tidy -p "$build" --quiet --checks="$checks" 2>/dev/null |
            grep -E '(warning|error): ' | sort -u >"$out"
        show "$out" ;;
    gcc)
        say 'gcc -fanalyzer'
        # the flags of each file as meson has them
        python3 - "$build/compile_commands.json" <<'PY' 2>&1 | grep 'warning: ' | sort -u >"$out"
import json, shlex, subprocess, sys
from concurrent.futures import ThreadPoolExecutor
def run(c):
    words = shlex.split(c["command"])
    words[words.index("-o") + 1] = "/dev/null"
    for flag in ("-MF", "-MQ"):
        del words[words.index(flag):words.index(flag) + 2]
    words.remove("-MD")
    return subprocess.run(words + ["-fanalyzer"], cwd=c["directory"], capture_output=True, text=True).stderr
commands = {c["file"]: c for c in json.load(open(sys.argv[1])) if c["file"].startswith("../src/")}
with ThreadPoolExecutor(2) as pool:
    for text in pool.map(run, commands.values()):
        print(text)
PY
        show "$out" ;;
    valgrind)
        say 'valgrind, every example'
        ninja -C "$build" becket >/dev/null || exit 1
        for plan in examples/*.yaml; do
            for command in 'check' 'check --json' 'explain'; do
                # shellcheck disable=SC2086
                valgrind --quiet --leak-check=full --errors-for-leak-kinds=all --error-exitcode=99 \
                    "$build/becket" $command --tables tables "$plan" >/dev/null 2>"$out.one"
                [ $? -eq 99 ] && { echo "$command $plan"; cat "$out.one"; } >>"$out"
            done
        done
        rm -f "$out.one"
        show "$out" ;;
    *) echo "analysis: no such tool: $tool" >&2; exit 2 ;;
    esac
done
exit $found
