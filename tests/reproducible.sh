#!/bin/sh
# Two builds of the same files give the same bytes, whatever the folder, the time and the locale: installs both and compares
# every file.  Takes two builds' time.  Exit status 0 when nothing differs.
set -eu
top=$(CDPATH= cd -- "$(dirname -- "$0")/.." && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
build() { # folder, date of every file
    mkdir -p "$work/$1"
    for part in meson.build src include tables tests; do cp -R "$top/$part" "$work/$1/"; done
    find "$work/$1" -exec touch -d "$2" {} +
    meson setup "$work/$1/build" "$work/$1" --prefix=/usr >/dev/null
    ninja -C "$work/$1/build" becket libbecket.so.0.1.0 becket-sheet.so becket-plan.5 >/dev/null
    DESTDIR="$work/$1/installed" meson install -C "$work/$1/build" --no-rebuild --quiet
}
build one 2001-02-03T04:05:06
TZ=Pacific/Chatham LC_ALL=C.UTF-8 build 'another/and deeper' 2021-12-11T10:09:08
diff -r "$work/one/installed" "$work/another/and deeper/installed"
find "$work/one/installed" -type f -exec cat {} + | sha256sum | cut -c 1-16
