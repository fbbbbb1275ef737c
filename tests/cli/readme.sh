#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# readme.sh - the README's tour does what it shows: each command of its console blocks is run in turn, and
# gives what stands below it. Words equal; numbers within one of their last decimal, since another
# compiler may round the resamples' last digits otherwise. The expected text is the README's own: this test holds the
# README to the program; that the numbers are right is for the other tests to show.
. tests/support/cli.sh
if [ ! -r "$top/README.md" ]; then
    skip 'there is no README.md yet'
    finish
    exit
fi
mkdir bin build
ln -s "$WEDGEWORK" bin/wedgework
ln -s "$top/stepwedges" stepwedges
PATH=$(pwd)/bin:$PATH
# What `make demo` leaves
mkdir build/demo
for scene in wedge dark strip negative; do
    holds "scan of $scene" "${MAKE_SCANS:?names the maker of scans}" stepwedges/demo/$scene.scene build/demo/$scene.tif
done
count=$(awk -f "$support/console.awk" "$top/README.md")
holds 'the README shows a tour' test "$count" -ge 4
n=0
while [ "$n" -lt "$count" ]; do
    n=$((n + 1))
    sh ./$n.command >$n.out 2>$n.err </dev/null
    status=$?
    title=$(head -n 1 $n.command)
    holds "status of: $title" test "$status" -le 1
    same "no message of: $title" '' "$(cat $n.err)"
    awk -f "$support/excerpt.awk" $n.shown $n.out >$n.found
    text_like "output of: $title" $n.shown $n.found digit
done
finish
