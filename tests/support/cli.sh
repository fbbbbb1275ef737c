# SPDX-License-Identifier: GPL-3.0-or-later
# Sourced by tests/cli/*.sh: runs the program and judges what it did. WEDGEWORK is the program, WORK a
# folder of the test's own. A test ends with `finish`.
: "${WEDGEWORK:?names the program}" "${WORK:?names a folder}"
top=$(pwd)
support=$top/tests/support
case $WEDGEWORK in /*) ;; *) WEDGEWORK=$top/$WEDGEWORK ;; esac
rm -rf "$WORK"
mkdir -p "$WORK"
cd "$WORK" || exit 1
passed=0 failed=0 skipped=0
unset NO_COLOR
TERM=dumb
export TERM

good() { passed=$((passed + 1)); echo "ok $1"; }
bad() { failed=$((failed + 1)); echo "not ok $1"; [ -z "${2-}" ] || printf '%s\n' "$2" | sed 's/^/    /'; }
skip() { skipped=$((skipped + 1)); echo "skipped $1"; }
finish() {
    echo "$passed passed, $failed failed, $skipped skipped"
    [ "$failed" -eq 0 ]
}

# run ARGUMENT... - the program, without input; leaves the files out and err, and $status.
run() {
    ran="wedgework $*"
    "$WEDGEWORK" "$@" >out 2>err </dev/null
    status=$?
}

# exits STATUS NAME - the last run ended so.
exits() {
    if [ "$status" -eq "$1" ]; then good "$2"; else
        bad "$2" "$ran: exit status $status where $1 was expected; stderr: $(head -c 600 err)"; fi
}

# The last run's standard error is exactly this one line; standard output is empty.
says() {
    if [ "$(cat err)" = "wedgework: $2" ] && [ ! -s out ]; then good "$1"; else
        bad "$1" "$ran:
said     $(cat err)
expected wedgework: $2
stdout   $(head -c 300 out)"; fi
}

# refuses STATUS 'MESSAGE' ARGUMENT... - run, exit status and the whole message in one.
refuses() {
    expected_status=$1 expected_message=$2
    shift 2
    run "$@"
    exits "$expected_status" "status of: $ran"
    says "message of: $ran" "$expected_message"
}

# same NAME EXPECTED ACTUAL - two texts.
same() {
    if [ "$2" = "$3" ]; then good "$1"; else bad "$1" "expected: $2
found:    $3"; fi
}

# holds NAME COMMAND... - the command succeeds.
holds() {
    name=$1
    shift
    if "$@" >holds.log 2>&1; then good "$name"; else bad "$name" "$*: $(head -c 600 holds.log)"; fi
}

# has NAME FILE TEXT - the file has that text, word for word.
has() {
    if grep -qF -e "$3" "$2"; then good "$1"; else bad "$1" "no '$3' in $2: $(head -c 400 "$2")"; fi
}

# value FILE PATH - one value of a JSON document, as `channels.visual.gamma.value`, `papers.0.time`.
value() {
    awk -f "$support/json.awk" "$1" | awk -F '\t' -v path="$2" '$1 == path { print $2; exit }'
}

# near NAME EXPECTED ACTUAL TOLERANCE
near() {
    if awk -v a="$2" -v b="$3" -v t="$4" \
        'BEGIN { d = a - b; exit !(b ~ /^-?[0-9]/ && d <= t && -d <= t) }'; then
        good "$1"
    else
        bad "$1" "expected $2 within $4, found '$3'"
    fi
}

# text_like NAME EXPECTED-FILE ACTUAL-FILE TOLERANCE RELATIVE - words equal, numbers within both; with
# TOLERANCE digit, within one of the last decimal of what is expected.
text_like() {
    if awk -v tolerance="$4" -v relative="${5:-0}" -f "$support/like.awk" "$2" "$3" >like.log; then good "$1"; else
        bad "$1" "$(cat like.log)"; fi
}

# film [NAME] - readings of a film that was never made: a logistic curve in closed form, read to 0.01.
#   D = 0.21 + 1.94 / (1 + 10^(-0.93 (x + 1.2))), x = -wedge, 21 steps of 0.15
film() {
    echo "# name: ${1:-Invented Film}"
    printf '%s\n' '# material: film' '# process: negative' '# density: transmission' '# log h0: 0' \
        'step,wedge,visual'
    awk 'BEGIN {
        print "base,,0.21"
        for (i = 1; i <= 21; i++) {
            w = 0.05 + 0.15 * (i - 1)
            printf "%d,%.2f,%.2f\n", i, w, 0.21 + 1.94 / (1 + 10 ^ (-0.93 * (1.2 - w)))
        } }'
}

# paper GRADE STEEPNESS [wet] - readings of a paper that was never made, exposed in seconds.
#   D = 0.06 + 2.04 / (1 + 10^(-STEEPNESS (log t - 1)))
paper() {
    printf '%s\n' "# name: Invented Paper" "# contrast: $1" '# material: paper' '# process: negative' \
        '# density: reflection' '# exposure unit: second' "# read: ${3:-dry}" 'step,time,visual'
    awk -v k="$2" 'BEGIN {
        print "base,,0.06"
        for (i = 1; i <= 24; i++) {
            x = -0.15 + 0.1 * (i - 1)
            printf "%d,%.4f,%.2f\n", i, 10 ^ x, 0.06 + 2.04 / (1 + 10 ^ (-k * (x - 1)))
        } }'
}
