#!/bin/sh
# An installed tree works wherever it is moved: tables found beside the program, libbecket through pkg-config.
#   install.sh BUILD SOURCE CC SANITIZERS      SANITIZERS: none, or as of gcc -fsanitize=
set -eu
build=$1 source=$2 cc=$3 sanitizers=$4
command -v pkg-config >/dev/null 2>&1 || { echo "no pkg-config"; exit 77; }
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
fail() { printf 'install: %s\n' "$*"; exit 1; }

DESTDIR="$work/staged" meson install -C "$build" --no-rebuild --quiet
program=$(find "$work/staged" -name becket -path '*/bin/*')
[ -n "$program" ] || fail "no program installed"
# away from the prefix that the build was told, and from the source tree
mv "$(dirname "$(dirname "$program")")" "$work/moved"
rm -rf "$work/staged"
cp "$source/examples/two-leg-bridle.yaml" "$source/examples/assess.c" "$work/"
unset BECKET_TABLES
export HOME="$work"
cd "$work"

moved/bin/becket check --json two-leg-bridle.yaml >check.json || fail "check: exit status $?"
want=$(python3 -c 'import json; print(json.load(open("check.json"))["verdict"])')
moved/bin/becket tables heb >tables.out || fail "tables: exit status $?"
grep -q "$work/moved/share/becket/tables" tables.out || fail "tables come from elsewhere: $(cat tables.out)"
for file in man/man1/becket.1 man/man5/becket-plan.5 man/man5/becket-table.5 bash-completion/completions/becket \
    zsh/site-functions/_becket fish/vendor_completions.d/becket.fish; do
    [ -s "moved/share/$file" ] || fail "not installed: share/$file"
done
ln -s "$work/moved/bin/becket" becket # called through a link
./becket check two-leg-bridle.yaml >link.out || fail "called through a link: exit status $?"

# what draws is a module of its own, found within the moved tree
LSAN_OPTIONS=print_suppressions=0:suppressions=$source/tests/sheet/leaks.supp moved/bin/becket draw two-leg-bridle.yaml -o sheet.pdf ||
    fail "draw: exit status $?"
[ "$(head -c 5 sheet.pdf)" = "%PDF-" ] || fail "draw: no PDF"

# the library, as a user of it would build with it
PKG_CONFIG_PATH=$(dirname "$(find "$work/moved" -name becket.pc)")
export PKG_CONFIG_PATH
flags="-std=c17 -Wall -Wextra -Werror"
[ "$sanitizers" = none ] || flags="$flags -fsanitize=$sanitizers"
# shellcheck disable=SC2046,SC2086
$cc $flags assess.c -o assess $(pkg-config --cflags --libs becket) || fail "examples/assess.c does not build"
LD_LIBRARY_PATH=$(pkg-config --variable=libdir becket)
export LD_LIBRARY_PATH
have=$(./assess two-leg-bridle.yaml "$(pkg-config --variable=tablesdir becket)") || fail "assess: exit status $?"
[ "$(printf '%s\n' "$have" | head -n 1)" = "$want" ] || fail "assess says $have, becket check says $want"
status=0
./assess missing.yaml "$(pkg-config --variable=tablesdir becket)" 2>messages || status=$?
[ $status = 2 ] && grep -q 'BK-101' messages || fail "a plan that is missing: exit status $status"

# every header can be read alone, as C and as C++
for header in moved/include/becket/*.h; do
    for language in "$cc $flags -pedantic -x c" "c++ -std=c++11 -Wall -Wextra -pedantic -Werror -x c++"; do
        command -v "${language%% *}" >/dev/null || continue
        # shellcheck disable=SC2046
        printf '#include <becket/%s>\n' "$(basename "$header")" | $language -fsyntax-only $(pkg-config --cflags becket) - ||
            fail "$header does not stand alone: $language"
    done
done
if command -v c++ >/dev/null; then
    printf '#include <becket/becket.h>\n#include <cstdio>\nint main() { std::puts(bk_status_text(BK_E_TON)); }\n' >names.cc
    sanitize=
    [ "$sanitizers" = none ] || sanitize="-fsanitize=$sanitizers"
    # shellcheck disable=SC2046,SC2086
    c++ $sanitize names.cc -o names $(pkg-config --cflags --libs becket) && ./names | grep -q 'bare ton' || fail "not usable from C++"
fi
echo "installed, moved, and used from C"
