#!/bin/sh
# Rooms and the one direction of flow: a room may include the headers of rooms above it, never below.  Nothing stands in the
# top level but what belongs there.
set -eu
cd "${1:-$(dirname "$0")/..}"
order="base quantity working angle tables plan cases statics envelope section runway hoist checks assessment advice report sheet"
rank() { i=0; for r in $order; do i=$((i+1)); [ "$r" = "$1" ] && { echo $i; return; }; done; echo 0; }
bad=0
look() { # file room
    mine=$(rank "$2"); [ "$2" = cli ] && mine=99; [ "$2" = statics ] && mine=$(rank envelope)
    for h in $(sed -n 's/^ *# *include *<becket\/\([a-z_]*\)\.h>.*/\1/p' "$1"); do
        [ "$h" = becket ] && { [ "$2" = cli ] || { echo "$1: only cli may include becket.h"; bad=1; }; continue; }
        theirs=$(rank "$h")
        [ "$theirs" -gt 0 ] || { echo "$1: $h.h is in no room"; bad=1; }
        [ "$theirs" -le "$mine" ] || { echo "$1: $2 includes $h.h, which is below it"; bad=1; }
    done
    for h in $(sed -n 's/^ *# *include *"\(.*\)".*/\1/p' "$1"); do
        [ -f "$(dirname "$1")/$h" ] || { echo "$1: \"$h\" is not in its own room"; bad=1; }
    done
    if grep -q '# *include *<yaml.h>' "$1" && [ "$2" != base ]; then echo "$1: libyaml belongs to base"; bad=1; fi
    if grep -qE '# *include *<(cairo|pango)' "$1" && [ "$2" != sheet ]; then echo "$1: cairo and pango belong to sheet"; bad=1; fi
}
for room in src/*/; do room=$(basename "$room"); for f in src/"$room"/*.[ch]; do [ -f "$f" ] && look "$f" "$room"; done; done
for f in include/becket/*.h; do h=$(basename "$f" .h); [ "$h" = becket ] || look "$f" "$h"; done
for f in *; do
    case $f in
    DEVELOPERS.md | LICENSE | README.md | build* | examples | include | meson.build | src | tables | tests) ;;
    *) echo "$f: does not belong in the top level"; bad=1 ;;
    esac
done
exit $bad
