#!/bin/sh
# Every bench in one run, from any folder: builds the program for speed beside the tree and prints a table of ratios.
# Prints, asserts nothing.  Quiet machines tell more: the load average stands beside the table.
set -eu
top=$(CDPATH= cd -- "$(dirname -- "$0")/../.." && pwd)
build=${1:-$top/build-bench}
[ -f "$build/build.ninja" ] || meson setup --buildtype=release "$build" "$top" >/dev/null
ninja -C "$build" becket becket-sheet.so tests/bench/bench_statics tests/bench/bench_runway >/dev/null
exec "$(command -v /usr/bin/python3 || command -v python3)" "$top/tests/bench/bench.py" "$build"
