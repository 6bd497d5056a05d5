#!/bin/sh
# Fuzzes one target (fuzz_TARGET.c) with libFuzzer under the address and undefined sanitizers:
#     sh tests/fuzz/fuzz.sh yaml 180
#     sh tests/fuzz/fuzz.sh rig 1800 -seed=7 -timeout=200        further options are libFuzzer's
# New inputs stay in the temporary directory that is printed; copy those that found something to corpus/.
set -eu
cd "$(dirname "$0")/../.."
target=$1
seconds=${2:-60}
shift $(($# < 2 ? $# : 2))
out=$(mktemp -d "${TMPDIR:-/tmp}/becket-fuzz-XXXXXX")
echo "$out"
tables=tests/fuzz/tables
limit=5
seeds=tests/fuzz/corpus/$target
case $target in
    check | rig) # the whole program below the command line, on the shipped tables
        tables=tables
        limit=20
        [ "$target" != check ] || seeds="$seeds examples tests/acceptance/good tests/acceptance/unstable"
        rooms="base quantity working angle tables plan cases statics section runway hoist checks assessment advice report"
        libraries="-lyaml -lmd -ljansson -lgsl -lgslcblas -lamd -lldl -lm" ;;
    *)
        rooms="base quantity tables plan"
        libraries="-lyaml -lmd -lm" ;;
esac
# Comparisons are not followed where figures are compared: they teach nothing about the bytes and cost three quarters of the time
compile="clang -std=c17 -D_POSIX_C_SOURCE=200809L -g -O2 -fno-omit-frame-pointer -ffp-contract=off -fno-sanitize-recover=all -I$PWD/include
    -fsanitize=fuzzer,address,undefined"
mkdir "$out/new" "$out/figures"
sources=
for room in $rooms; do
    case $room in
        statics | section | runway)
            for source in "$PWD/src/$room"/*.c; do
                # shellcheck disable=SC2086
                $compile -fno-sanitize-coverage=trace-cmp -c "$source" -o "$out/figures/$(basename "$source" .c).o"
            done ;;
        *) sources="$sources $(echo src/"$room"/*.c)" ;;
    esac
done
[ "$target" != check ] && [ "$target" != rig ] || sources="$sources $(echo "$out/figures"/*.o)"
# shellcheck disable=SC2086
$compile "tests/fuzz/fuzz_$target.c" $sources $libraries -o "$out/fuzz"
dictionary=tests/fuzz/$target.dict
[ "$target" != check ] || dictionary=tests/fuzz/plan.dict
[ -f "$dictionary" ] && dictionary="-dict=$PWD/$dictionary" || dictionary=-verbosity=1
export BECKET_TABLES="$PWD/$tables"
# shellcheck disable=SC2086
exec "$out/fuzz" "$dictionary" -print_final_stats=1 -max_total_time="$seconds" -timeout="$limit" -rss_limit_mb=2048 \
    -artifact_prefix="$out/" "$@" "$out/new" $seeds
