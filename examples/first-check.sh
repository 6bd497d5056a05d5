#!/bin/sh
# From nothing to the first load check: installs what is missing (Debian, Ubuntu), builds, checks an example.
# Runs from any folder:  sh examples/first-check.sh
set -eu
here=$(CDPATH= cd -- "$(dirname -- "$0")" && pwd)
top=$(dirname -- "$here")
need="gcc meson ninja-build pkg-config libgsl-dev libyaml-dev libjansson-dev libsuitesparse-dev libmd-dev libcairo2-dev
libpango1.0-dev libfribidi-dev libpng-dev fonts-dejavu-core check"

say() { printf '%s\n' "first-check: $*" >&2; }

missing=
if command -v dpkg-query >/dev/null 2>&1 && command -v apt-get >/dev/null 2>&1; then
    for package in $need; do
        case $(dpkg-query -W -f '${Status}' "$package" 2>/dev/null) in
            'install ok installed') ;;
            *) missing="$missing $package" ;;
        esac
    done
else
    say "this is not Debian or Ubuntu; what must be there, by its Debian names:" $need
fi
if [ -n "$missing" ]; then
    root=
    if [ "$(id -u)" -ne 0 ]; then
        command -v sudo >/dev/null 2>&1 || { say "missing:$missing; run as root once, or install sudo"; exit 1; }
        root=sudo
    fi
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

build=$top/build
log=$build-log.$$
trap 'rm -f "$log"' EXIT
say "building in $build"
if ! { { [ -f "$build/build.ninja" ] || meson setup "$build" "$top"; } && ninja -C "$build"; } >"$log" 2>&1
then
    cat "$log" >&2
    say "the build failed; its messages are above"
    exit 1
fi

becket=$(find "$build" -type f -name becket -perm -u+x | head -n 1)
plan=$here/four-leg-off-centre.yaml
say "$becket check $plan"
status=0
BECKET_TABLES=$top/tables "$becket" check "$plan" || status=$?
case $status in
    0) say "every check passes (exit status 0)" ;;
    1) say "a check fails, or something that carries load has no limit (exit status 1)" ;;
    *) say "the check gave no answer (exit status $status)"; exit "$status" ;;
esac
