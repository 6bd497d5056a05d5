#!/bin/sh
# Every test, from a fresh machine: installs what is missing (Debian, Ubuntu), builds with warnings as errors, runs
# all tests, then all again under the address and undefined-behaviour sanitizers.  Runs from any folder.
# The last line is the sum of both runs: N passed, N failed.  Exit status 0 when nothing failed.
set -eu
top=$(CDPATH= cd -- "$(dirname -- "$0")/.." && pwd)
need="gcc meson ninja-build pkg-config libgsl-dev libyaml-dev libjansson-dev libsuitesparse-dev libmd-dev libcairo2-dev
libpango1.0-dev libfribidi-dev libfontconfig-dev libpng-dev fonts-dejavu-core check units python3-yaml python3-numpy python3-scipy python3-jsonschema poppler-utils libxml2-utils valgrind"
wish="calculix-ccx freecad-common zsh fish groff-base"  # tests that want these are skipped without them

say() { printf '%s\n' "run: $*" >&2; }

absent() {
    for package in "$@"; do
        case $(dpkg-query -W -f '${Status}' "$package" 2>/dev/null) in
            'install ok installed') ;;
            *) printf ' %s' "$package" ;;
        esac
    done
}
missing=
optional=
if command -v dpkg-query >/dev/null 2>&1 && command -v apt-get >/dev/null 2>&1; then
    missing=$(absent $need)
    optional=$(absent $wish)
else
    say "this is not Debian or Ubuntu; what must be there, by its Debian names:" $need
fi
if [ -n "$missing$optional" ]; then
    root=
    if [ "$(id -u)" -ne 0 ]; then
        if command -v sudo >/dev/null 2>&1; then root=sudo
        elif [ -n "$missing" ]; then say "missing:$missing; run as root once, or install sudo"; exit 1
        fi
    fi
    if [ -n "$missing" ]; then
        say "installing$missing"
        log=$(mktemp)
        if ! { $root apt-get update && $root env DEBIAN_FRONTEND=noninteractive apt-get install -y --no-install-recommends $missing; } >"$log" 2>&1
        then
            cat "$log" >&2
            rm -f "$log"
            say "the packages could not be installed; apt's own messages are above"
            exit 1
        fi
        rm -f "$log"
    fi
    # one by one, and no harm done where one is not to be had; not worth a call to sudo that may ask
    if [ "$(id -u)" -eq 0 ]; then
        [ -n "$missing" ] || apt-get update >/dev/null 2>&1 || true
        for package in $optional; do
            DEBIAN_FRONTEND=noninteractive timeout 120 apt-get install -y --no-install-recommends "$package" >/dev/null 2>&1 ||
                say "$package is not to be had: its tests are skipped"
        done
    fi
fi

passed=0
failed=0
suite() { # folder, then options of meson setup
    build=$1
    shift
    say "$(basename "$build"): build"
    rm -rf "$build"
    log=$(mktemp)
    if ! { meson setup "$build" "$top" -Dwerror=true "$@" && ninja -C "$build"; } >"$log" 2>&1
    then
        tail -n 60 "$log" >&2
        rm -f "$log"
        say "$(basename "$build"): the build failed"
        failed=$((failed + 1))
        return
    fi
    rm -f "$log"
    say "$(basename "$build"): tests"
    # no stop at the first failure: the log is counted below
    meson test -C "$build" --no-rebuild --print-errorlogs || true
    counts=$(python3 - "$build/meson-logs/testlog.json" <<'PY'
import json, sys
good = bad = skipped = 0
try:
    for line in open(sys.argv[1], encoding="utf-8"):
        result = json.loads(line)["result"]
        good += result in ("OK", "EXPECTEDFAIL")
        skipped += result == "SKIP"
        bad += result not in ("OK", "EXPECTEDFAIL", "SKIP")
except OSError:
    bad = 1
print(good, bad or (good == 0) * 1, skipped)
PY
)
    # shellcheck disable=SC2086
    set -- $counts
    say "$(basename "$build"): $1 passed, $2 failed, $3 skipped"
    passed=$((passed + $1))
    failed=$((failed + $2))
}

suite "$top/build-test"
export ASAN_OPTIONS=detect_leaks=1:allocator_may_return_null=1 UBSAN_OPTIONS=halt_on_error=1:print_stacktrace=1
suite "$top/build-sanitize" -Db_sanitize=address,undefined -Db_lundef=false -Dbuildtype=debugoptimized

printf '%s passed, %s failed\n' "$passed" "$failed"
[ "$failed" -eq 0 ]
