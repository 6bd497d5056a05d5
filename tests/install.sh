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

# without the module, with one that is none, and with another build's, a sheet is refused and everything else works
mkdir alone
cp moved/bin/becket alone/becket
refused() { # words of the message
    status=0
    alone/becket draw two-leg-bridle.yaml --tables moved/share/becket/tables -o alone.pdf 2>messages || status=$?
    [ $status = 2 ] && [ ! -e alone.pdf ] && grep -q "BK-402.*$1" messages || fail "want \"$1\": exit status $status, $(cat messages)"
}
refused 'is not installed'
alone/becket check two-leg-bridle.yaml --tables moved/share/becket/tables >/dev/null || fail "check without the module: exit status $?"
echo text >alone/becket-sheet.so
refused 'cannot be loaded'
printf 'const struct { const char *version; } bk_sheet_drawing = {"0.0"};\n' >other.c
$cc -shared -fPIC other.c -o alone/becket-sheet.so
refused 'another version'

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
# what draws is found from another program too: below the library's own folder
cat >picture.c <<'C'
#include <becket/becket.h>
#include <stdio.h>
#include <stdlib.h>
int main(void)
{
    const bk_leg_question question = {.load_N = 20e3, .legs = 2, .carrying = 2, .from_vertical_rad = 0.5, .wll_N = 15e3,
        .max_from_vertical_rad = 1.05, .warn_from_vertical_rad = 0.8, .rules = "en"};
    const bk_sheet_options options = {.format = BK_SHEET_SVG};
    bk_errors *errors = bk_errors_new();
    char *bytes = NULL;
    size_t n = 0;
    const bk_status status = bk_sheet_draw_angle(&question, &options, &bytes, &n, errors);
    if (status == BK_OK) fwrite(bytes, 1, n, stdout);
    else if (errors->n) fprintf(stderr, "%s\n", errors->at[0].text);
    free(bytes);
    bk_errors_free(errors);
    return status != BK_OK;
}
C
# shellcheck disable=SC2046,SC2086
$cc $flags picture.c -o picture $(pkg-config --cflags --libs becket) || fail "a program that draws does not build"
LSAN_OPTIONS=print_suppressions=0:suppressions=$source/tests/sheet/leaks.supp ./picture >picture.svg || fail "picture: exit status $?"
grep -q '</svg>' picture.svg || fail "picture: no SVG"
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
