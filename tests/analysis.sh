#!/bin/sh
# Static analysis of src: cppcheck, clang-tidy and gcc -fanalyzer, then valgrind over the examples.  Prints what they find.
# Not part of run.sh: it takes minutes, and another version of a tool may find something else.
# Exit status 0 when nothing was found.  Needs: cppcheck clang-tidy gcc valgrind.  analysis.sh [cppcheck|tidy|gcc|valgrind]...
#
# What is left out, and why (findings at one place are argued in analysis.argued):
#   cppcheck  missingIncludeSystem, normalCheckLevelMaxBranches: remarks on its own effort
#             readdirCalled: each walk has a DIR of its own, which POSIX allows
#   tidy      easily-swappable-parameters: would wrap every pair of doubles; names carry the units here
#             narrowing-conversions: gcc's -Wconversion is an error already
#             implicit-widening-...: constants of a few tens, in int, widened; cannot overflow
#             reserved-identifier, dcl37-c, dcl51-cpp: _POSIX_C_SOURCE and its like
#             err33-c: would want the result of every fprintf to a terminal; files that are kept are checked when closed
#             flp30-c, FloatLoopCounter: hatching counts strokes in points, an end more or less is not seen
#             sizeof-expression: arrays of pointers are sorted and allocated as such
#             macro-parentheses: lists of keys put a type or a designator where brackets cannot stand
#             suspicious-string-compare: strcmp as a truth value
#             suspicious-missing-comma: citations longer than a line
#             integer-division: rows of a form, counted whole
#             not-null-terminated-result: pieces copied into a text that is ended after the last
#             assignment-in-if-condition, err34-c: the first error stops a chain; no scanf
#             DeprecatedOrUnsafeBufferHandling: asks for Annex K, which no libc here has; strcpy: room is kept the line before
#             valist.Uninitialized: does not see va_start in clang 14
set -u
top=$(CDPATH= cd -- "$(dirname -- "$0")/.." && pwd)
build=$top/build-analysis
cd "$top" || exit 1
[ -d "$build" ] || meson setup "$build" -Dbuildtype=plain -Dc_args=-O1 >/dev/null || exit 1
found=0
say() { printf '\n== %s\n' "$1"; }
show() { # lines of a tool less those that are argued; none is good
    sed 's|[^ ]*/\.\./src/|src/|; s|^\.\./src/|src/|' "$1" >"$1.short"
    sed -n 's/  *# .*//; /./p' tests/analysis.argued >"$1.known"
    grep -v -E -f "$1.known" "$1.short" >"$1.new"
    mv "$1.new" "$1"
    rm -f "$1.known" "$1.short"
    if [ -s "$1" ]; then cat "$1"; found=1; else echo "nothing found"; fi
    rm -f "$1"
}
out=$(mktemp)
[ $# -gt 0 ] || set -- cppcheck tidy gcc valgrind
for tool in "$@"; do
    : >"$out"
    case $tool in
    cppcheck)
        say cppcheck
        cppcheck --enable=warning,portability,performance --std=c11 -j 2 --quiet --inline-suppr -Iinclude \
            --suppress=missingIncludeSystem --suppress=normalCheckLevelMaxBranches --suppress=readdirCalled --library=posix \
            --template='{file}:{line}: {severity}: {message} [{id}]' src 2>"$out"
        show "$out" ;;
    tidy)
        say clang-tidy
        checks='-*,bugprone-*,clang-analyzer-*,cert-*,-bugprone-easily-swappable-parameters,-bugprone-narrowing-conversions'
        checks="$checks,-bugprone-implicit-widening-of-multiplication-result,-bugprone-reserved-identifier,-cert-dcl37-c"
        checks="$checks,-cert-dcl51-cpp,-cert-err33-c,-cert-flp30-c,-bugprone-assignment-in-if-condition"
        checks="$checks,-bugprone-sizeof-expression,-bugprone-macro-parentheses,-bugprone-suspicious-string-compare"
        checks="$checks,-bugprone-suspicious-missing-comma,-bugprone-integer-division,-bugprone-not-null-terminated-result"
        checks="$checks,-clang-analyzer-security.insecureAPI.DeprecatedOrUnsafeBufferHandling,-clang-analyzer-valist.Uninitialized"
        checks="$checks,-clang-analyzer-security.insecureAPI.strcpy,-clang-analyzer-security.FloatLoopCounter"
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
    return subprocess.run(words + ["-fanalyzer", "-fdiagnostics-color=never"], cwd=c["directory"], capture_output=True, text=True).stderr
commands = {c["file"]: c for c in json.load(open(sys.argv[1])) if c["file"].startswith("../src/")}
with ThreadPoolExecutor(2) as pool:
    for text in pool.map(run, commands.values()):
        print(text)
PY
        show "$out" ;;
    valgrind)
        say 'valgrind, every example, every tenth acceptance plan, good, broken and unstable'
        ninja -C "$build" becket >/dev/null || exit 1
        one() { # plan, then the command
            plan=$1
            shift
            valgrind --quiet --leak-check=full --errors-for-leak-kinds=all --error-exitcode=99 \
                "$build/becket" "$@" --tables tables "$plan" >/dev/null 2>"$out.one"
            [ $? -eq 99 ] && { echo "$* $plan"; cat "$out.one"; } >>"$out"
        }
        for plan in examples/*.yaml; do
            one "$plan" check
            one "$plan" check --json
            one "$plan" explain
        done
        for plan in $(ls tests/acceptance/good/*.yaml tests/acceptance/broken/*.yaml tests/acceptance/unstable/*.yaml | awk 'NR % 10 == 1'); do
            one "$plan" check
        done
        rm -f "$out.one"
        show "$out" ;;
    *) echo "analysis: no such tool: $tool" >&2; exit 2 ;;
    esac
done
exit $found
