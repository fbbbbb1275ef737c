#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# record.sh RESULT NAME COMMAND... - run one test program; leave "passed failed skipped name" in RESULT
# and what it printed in RESULT.log. Always succeeds: the summary decides.
#
# Counts come from cmocka's closing lines or from a script's last "N passed, N failed, N skipped";
# without either the exit status is one test (77 is skipped). A non-zero exit that no failure explains
# (a sanitizer, valgrind, a crash) counts as one failure more.
result=$1 name=$2
shift 2
mkdir -p "${result%/*}"
timeout "${WEDGEWORK_TIMEOUT:-600}" "$@" >"$result.log" 2>&1
status=$?
awk -v status=$status -v name="$name" '
    /^[0-9]+ passed, [0-9]+ failed, [0-9]+ skipped$/ { p = $1; f = $3; s = $5; counted = 1 }
    /^\[  PASSED  \] [0-9]+ test\(s\)/ { cp += $4; counted = 1 }
    /^\[  FAILED  \] [0-9]+ test\(s\)/ { cf += $4; counted = 1 }
    /^\[  SKIPPED \] [0-9]+ test\(s\)/ { cs += $4; counted = 1 }
    END {
        p += cp; f += cf; s += cs
        if (!counted && status == 0) p = 1
        if (!counted && status == 77) s = 1
        else if (status != 0 && f == 0) f = 1
        printf "%d %d %d %s\n", p, f, s, name
    }' "$result.log" >"$result"
read -r passed failed skipped name <"$result"
printf '%-34s %4d passed %3d failed %3d skipped\n' "$name" "$passed" "$failed" "$skipped"
if [ "$failed" -gt 0 ]; then
    grep -v -E '^\[ (RUN  |     OK)' "$result.log"
    [ $status -eq 124 ] && echo "stopped after ${WEDGEWORK_TIMEOUT:-600} s"
elif [ "$skipped" -gt 0 ]; then
    grep -i -E '^skip' "$result.log"
fi
exit 0
