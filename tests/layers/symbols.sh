#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# symbols.sh FOLDER - the library in FOLDER offers what the headers declare, that and nothing else.
. tests/layers/count.sh
library=$1/libwedgework
tmp=$(mktemp -d)
trap 'rm -rf "$tmp"' EXIT

nm -g --defined-only "$library.a" 2>/dev/null | awk 'NF == 3 { print $3 }' | sort -u >"$tmp/static"
nm -D --defined-only "$library.so" | awk 'NF == 3 { sub(/@.*/, "", $3); print $3 }' | sort -u >"$tmp/shared"

# The headers without comments, macros and typedefs; then the names before a parenthesis.
cat include/wedgework/*.h | awk '
    { gsub(/\/\*[^*]*\*\//, "") }
    inside { if (sub(/.*\*\//, "")) inside = 0; else next }
    sub(/\/\*.*/, "") { inside = 1 }
    !/^ *#/ && !/^typedef/' >"$tmp/code"
grep -o -E '\bww_[a-z0-9_]+\([^*]?' "$tmp/code" | sed 's/(.*//' | sort -u >"$tmp/declared"
grep -E '^extern' "$tmp/code" | grep -o -E '\bww_[a-z0-9_]+(\[|;)' | sed 's/.$//' | sort -u >"$tmp/data"
sort -u "$tmp/declared" "$tmp/data" >"$tmp/offered"
grep -E '^ww_[a-z]' "$tmp/static" >"$tmp/public"

nothing 'every global begins with ww_' "$(grep -v '^ww_' "$tmp/static")"
nothing 'each ww_x is declared in a public header' "$(comm -23 "$tmp/public" "$tmp/offered")"
nothing 'what a header declares is in the library' "$(comm -13 "$tmp/public" "$tmp/offered")"
nothing 'no ww__x in a public header' "$(grep -n 'ww__' include/wedgework/*.h)"
nothing 'the shared library shows each ww_x and no ww__x' \
    "$(comm -3 "$tmp/public" "$tmp/shared")"
for header in include/wedgework/*.h; do
    name=${header##*/}
    [ "$name" = wedgework.h ] && continue
    grep -q "<wedgework/$name>" include/wedgework/wedgework.h || echo "$name"
done >"$tmp/left_out"
nothing 'wedgework.h includes every header' "$(cat "$tmp/left_out")"
for header in include/wedgework/*.h; do
    printf '#include <wedgework/%s>\n' "${header##*/}" |
        ${CC:-cc} -std=c17 -Wall -Wextra -Wpedantic -Werror -Iinclude -fsyntax-only -x c - 2>&1
done >"$tmp/alone"
nothing 'each header stands alone' "$(cat "$tmp/alone")"
finish
