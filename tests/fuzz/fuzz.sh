#!/bin/sh
# Fuzzes one target (fuzz_TARGET.c) with libFuzzer under the address and undefined sanitizers:
#     sh tests/fuzz/fuzz.sh yaml 180
# New inputs stay in the temporary directory that is printed; copy those that found something to corpus/.
set -eu
cd "$(dirname "$0")/../.."
target=$1
seconds=${2:-60}
out=$(mktemp -d "${TMPDIR:-/tmp}/becket-fuzz-XXXXXX")
echo "$out"
clang -std=c17 -D_POSIX_C_SOURCE=200809L -g -O1 -ffp-contract=off -fno-sanitize-recover=all \
    -fsanitize=fuzzer,address,undefined -Iinclude \
    "tests/fuzz/fuzz_$target.c" src/base/*.c src/quantity/*.c src/tables/*.c src/plan/*.c -lyaml -lmd -lm -o "$out/fuzz"
mkdir "$out/new"
dictionary=tests/fuzz/$target.dict
[ -f "$dictionary" ] && dictionary="-dict=$PWD/$dictionary" || dictionary=-verbosity=1
export BECKET_TABLES="$PWD/tests/fuzz/tables"
cd "$out"
exec ./fuzz "$dictionary" -max_total_time="$seconds" -timeout=5 -rss_limit_mb=2048 new "$OLDPWD/tests/fuzz/corpus/$target"
