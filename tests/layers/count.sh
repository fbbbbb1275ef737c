# SPDX-License-Identifier: GPL-3.0-or-later
# Sourced by the scripts beside it: counts rules that hold and rules that do not.
passed=0 failed=0

good() { passed=$((passed + 1)); }
bad() { failed=$((failed + 1)); echo "broken: $1"; }

# nothing RULE TEXT - the rule holds where TEXT, a list of offenders, is empty.
nothing() {
    if [ -z "$2" ]; then good; else bad "$1"; echo "$2" | sed 's/^/    /'; fi
}

finish() {
    echo "$passed passed, $failed failed, 0 skipped"
    [ "$failed" -eq 0 ]
}
