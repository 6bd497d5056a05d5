#!/bin/sh
# How much of src the tests reach: lines and branches in all, then the files with the most branches not taken.
# Builds into build-coverage, runs every test, and lets memory run out on every way of every plan: half an hour.
# Needs gcovr besides what run.sh installs.  Exit status 0 when 95 % of lines and 90 % of branches are reached.
#     coverage.sh [FILE.html]     with every line, to look at
#
# What is left out: the branch of an assert that is never taken, which is its meaning.
set -eu
top=$(CDPATH= cd -- "$(dirname -- "$0")/.." && pwd)
build=$top/build-coverage
cd "$top"
[ -d "$build" ] || meson setup "$build" -Db_coverage=true -Dbuildtype=debug >/dev/null
ninja -C "$build" >/dev/null
find "$build" -name '*.gcda' -delete
# a machine with other work finds some plans too slow without optimisation; what they reach counts all the same
meson test -C "$build" --no-rebuild --timeout-multiplier 5 >"$build/tests.txt" || tail -n 8 "$build/tests.txt"

tests/faults/faults.py --becket "$build/tests/faults/becket-pieces" --tables tables --shim "$build/tests/faults/libfaults-shim.so" \
    --module "$build/becket-sheet.so" --slow 10 --depth 3 \
    --plans examples/*.yaml tests/acceptance/good/*.yaml tests/acceptance/unstable/*.yaml tests/acceptance/broken/*.yaml -- memory ||
    echo "of these failures the ones at the very last allocations are no mistake: they are the coverage's own, on the way out"

gcovr --root . "$build" --filter src/ --gcov-ignore-parse-errors --exclude-branches-by-pattern ' *assert\(' --json-summary "$build/summary.json" \
    ${1:+--html-details "$1"} >/dev/null
python3 - "$build/summary.json" <<'PY'
import json, sys
total = json.load(open(sys.argv[1]))
print(f"{total['line_percent']} % of {total['line_total']} lines, {total['branch_percent']} % of {total['branch_total']} branches")
for file in sorted(total["files"], key=lambda f: f["branch_covered"] - f["branch_total"])[:20]:
    print(f"{file['branch_total'] - file['branch_covered']:5} branches, {file['line_total'] - file['line_covered']:4} lines not reached  {file['filename']}")
sys.exit(total["line_percent"] < 95 or total["branch_percent"] < 90)
PY
