#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# batch.sh - several scans in one call (interface §1, §5): they are read side by side, and nothing of it shows. The
# reference of each is the same scan measured alone, one after the other by one thread.
. tests/support/cli.sh
: "${MAKE_SCANS:?names the maker of scans}"
how='scanner 0.9 0.003 0.0 1
noise 0.0002 0.0012 0.002'
wedge='.05 .2 .35 .5 .65 .8 .95 1.1 1.25 1.4 1.55'
for k in 1 2 3 4 5 6; do
    printf '%s\n' "size $((300 + 40 * k)) 160" "$how" "seed 9$k" 'glass 0.3' \
        "strip $((150 + 20 * k)) 80 $((270 + 40 * k)) 70 $((k - 3)) $wedge" >s$k.scene
    "$MAKE_SCANS" s$k.scene s$k.tif || bad "scan $k"
done
echo nonsense >bad.tif
{ for d in $wedge; do echo "$d"; done; } | awk 'BEGIN { print "step,visual" } { print NR "," $0 }' >wedge.csv
run scanner s3.tif --wedge wedge.csv -o scanner.json
exits 0 'calibrated'

# One by one
scans='s1.tif s2.tif bad.tif s3.tif s4.tif nowhere.tif s5.tif s6.tif s1.tif'
for way in '--steps 11 --scanner scanner.json' '--whole --json'; do
    : >one.out
    : >one.err
    for scan in $scans; do
        # shellcheck disable=SC2086
        run measure $scan other.tif $way --jobs 1 # as one of several: a line of JSON
        case $way in *--json) ;; *) [ -s one.out ] && [ -s out ] && echo >>one.out ;; esac
        cat out >>one.out
        grep -v 'other.tif' err >>one.err
    done
    for jobs in 1 2 3 16; do
        # shellcheck disable=SC2086
        run measure $scans $way --jobs $jobs
        exits 3 "two of nine are bad, $jobs at a time, $way"
        holds "output is that of one by one, $jobs at a time" cmp out one.out
        holds "and so are the messages" cmp err one.err
    done
done
same 'of which there are two, in order' 'wedgework: bad.tif: wedgework: nowhere.tif: ' "$(sed 's/tif: .*/tif: /' err | tr -d '\n')"

# Files
ways='s1.tif s2.tif s3.tif s4.tif s5.tif s6.tif bad.tif'
# shellcheck disable=SC2086
run measure $ways --steps 11 --scanner scanner.json --quiet -o by-one --jobs 1
# shellcheck disable=SC2086
run measure $ways --steps 11 --scanner scanner.json --quiet -o by-three --jobs 3
exits 3 'files of several'
same 'one each, none of the bad one' 6 "$(ls by-three | wc -l | tr -d ' ')"
holds 'the same bytes' diff -r by-one by-three
run measure s2.tif --steps 11 --scanner scanner.json --quiet -o alone.csv
holds 'and the same as alone' cmp alone.csv by-three/s2.csv

# drawer BODY - a shell script that stands in for gnuplot, in the folder `drawer`
drawer() {
    mkdir -p drawer
    printf '#!/bin/sh\n%s\n' "$1" >drawer/gnuplot
    chmod +x drawer/gnuplot
}

# What ends a program ends it between files
if command -v timeout >/dev/null; then
    many=
    for k in 1 2 3 4 5 6 7 8 9; do
        for i in 1 2 3 4 5 6; do
            ln -s s$i.tif m$k$i.tif
            many="$many m$k$i.tif"
        done
    done
    for signal in INT TERM HUP; do
        # shellcheck disable=SC2086
        timeout -s $signal 0.7 "$WEDGEWORK" measure $many --steps 11 --scanner scanner.json -o cut-$signal --jobs 2 \
            >out 2>err </dev/null
        same "SIG$signal ends it" 124 $?
        [ -d cut-$signal ] || mkdir cut-$signal
        same 'nothing temporary is left' '' "$(ls -A cut-$signal | grep '^\.')"
        whole=0
        for file in cut-$signal/*; do
            [ -e "$file" ] || continue
            [ "$(grep -c '^[0-9]' "$file")" = 11 ] || whole=$file
        done
        same 'and each file is whole' 0 "$whole"
    done

    # In the middle of a picture; the one who draws it ends, too.
    drawer 'echo $$ >>pids; kill -$SIG $PPID; exec sleep 60'
    for signal in INT:130 TERM:143 HUP:129; do
        rm -f pids
        SIG=${signal%:*} PATH=$PWD/drawer:$PATH timeout 20 "$WEDGEWORK" measure s1.tif s2.tif --steps 11 \
            --overlay cut-short >out 2>err </dev/null
        same "SIG${signal%:*} ends it while an overlay is drawn" "${signal#*:}" $?
        same 'without a word' '' "$(cat out; grep wedgework err)"
        same 'and without a file' '' "$(ls -A cut-short)"
        for pid in $(cat pids); do
            holds 'what drew is gone' sh -c 'for i in 1 2 3 4 5 6 7 8 9; do
                grep -qs "^State:.[^Z]" /proc/'$pid'/status || exit 0; sleep 0.2; done; exit 1'
        done
    done
else
    skip 'timeout(1) is not installed'
fi

# Overlays of scans of 2 million pixels are drawn side by side: each waits for the other.
for k in 1 2; do
    printf '%s\n' 'size 1600 1250' "$how" "seed 9$k" 'glass 0.3' "strip 800 600 1300 300 $k $wedge" >l$k.scene
    "$MAKE_SCANS" l$k.scene l$k.tif || bad "large scan $k"
done
drawer 'echo >>drawing; n=0
while [ $n -lt 100 ]; do
    [ "$(wc -l <drawing)" -ge 2 ] && cat >/dev/null && exec echo drawn
    n=$((n + 1)); sleep 0.2
done
echo alone >&2; exit 1'
ran='measure l1.tif l2.tif --jobs 2 --overlay'
PATH=$PWD/drawer:$PATH "$WEDGEWORK" measure l1.tif l2.tif --steps 11 --jobs 2 --quiet --overlay together \
    >out 2>err </dev/null
status=$?
exits 0 'two overlays at a time'
same 'both are there' 'l1.png l2.png' "$(ls together | tr '\n' ' ' | sed 's/ $//')"
finish
