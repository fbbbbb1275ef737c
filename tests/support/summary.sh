#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# summary.sh RESULT... - add up what record.sh left; fails where anything failed or nothing ran.
[ $# -gt 0 ] || { echo 'no test chosen' >&2; exit 1; }
cat "$@" | awk '
    { p += $1; f += $2; s += $3 }
    $2 > 0 { sub(/^[0-9]+ [0-9]+ [0-9]+ /, ""); print "failed: " $0 }
    END { printf "%d passed, %d failed, %d skipped\n", p, f, s; exit f > 0 }'
