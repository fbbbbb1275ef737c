#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# mirror.sh - tests mirror sources: src/ROOM/x.c has tests/ROOM/test_x.c, and the other way round.
# mirror.except names the few sources without a test of their own, "PATH reason", one a line.
. tests/layers/count.sh
except=tests/layers/mirror.except
missing='' orphans='' stale=''
newline='
'
for source in src/base/*.c src/core/*.c src/plan/*.c src/image/*.c src/io/*.c src/out/*.c; do
    [ -e "$source" ] || continue
    name=${source##*/} room=${source%/*}
    [ -e "tests/${room#src/}/test_$name" ] && continue
    grep -q "^$source " $except || missing="$missing$source$newline"
done
for test in tests/base/*.c tests/core/*.c tests/plan/*.c tests/image/*.c tests/io/*.c tests/out/*.c; do
    [ -e "$test" ] || continue
    name=${test##*/test_} room=${test%/*}
    [ -e "src/${room#tests/}/$name" ] && continue
    grep -q "^$test " $except || orphans="$orphans$test$newline"
done
while read -r path reason; do
    case $path in '#'* | '') continue ;; esac
    [ -n "$reason" ] || stale="$stale$path: no reason given$newline"
    [ -e "$path" ] || stale="$stale$path: does not exist$newline"
    case $path in src/*) room=${path#src/} test=tests/${room%/*}/test_${path##*/}
        [ -e "$test" ] && stale="$stale$path: has a test by now$newline" ;; esac
done <$except
nothing 'each source has its test' "${missing%"$newline"}"
nothing 'each test has its source' "${orphans%"$newline"}"
nothing 'exceptions are needed and say why' "${stale%"$newline"}"
finish
