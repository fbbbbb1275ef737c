#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# style.sh - what a compiler does not see: lengths, licence lines, what lies at the top.
. tests/layers/count.sh
sources=$(ls src/*/*.[ch] include/wedgework/*.h tests/*/*.[ch] 2>/dev/null)
scripts=$(ls tests/*/*.sh stepwedges/*.sh Makefile 2>/dev/null)

# shellcheck disable=SC2086
{
nothing 'a .c has under 400 lines' \
    "$(wc -l $sources | awk '$2 ~ /\.c$/ && $1 >= 400 { print $2 ": " $1 }')"
nothing 'a function has at most 60 lines' "$(awk '
    FNR == 1 { start = 0 }
    /^[a-z].*[){ ]$/ && !/^(typedef|struct|enum|union|static const|const|extern)/ { start = FNR }
    /^}/ { if (start && $0 == "}" && FNR - start + 1 > 60)
               print FILENAME ":" start ": " FNR - start + 1
           start = 0 }' $sources)"
nothing 'a line has at most 100 columns' \
    "$(LC_ALL=C.UTF-8 grep -n -E '^.{101,}' $sources | cut -c 1-80)"
nothing 'no tabs in C' "$(grep -n "$(printf '\t')" $sources)"
nothing 'C begins with its licence' \
    "$(for f in $sources; do
        [ "$(head -n 1 "$f")" = '/* SPDX-License-Identifier: GPL-3.0-or-later */' ] || echo "$f"
    done)"
nothing 'scripts carry their licence' \
    "$(for f in $scripts; do
        head -n 2 "$f" | grep -q '^# SPDX-License-Identifier: GPL-3.0-or-later$' || echo "$f"
    done)"
nothing 'nothing else lies at the top' "$(ls | grep -v -x -E \
    'README.md|DEVELOPERS.md|Makefile|src|include|tests|stepwedges|plots|LICENSE|build')"
}
finish
