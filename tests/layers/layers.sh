#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# layers.sh OBJECTS - the arrows between the rooms hold: each layer links on its own, no room includes
# what is not its business, and only src/cli speaks or ends the process.
. tests/layers/count.sh
obj=$1
tmp=$(mktemp -d)
trap 'rm -rf "$tmp"' EXIT
gsl=$(pkg-config --libs gsl)
jansson=$(pkg-config --libs jansson)
tiff=$(pkg-config --libs libtiff-4)
lcms=$(pkg-config --libs lcms2)
sqlite=$(pkg-config --libs sqlite3)

# Objects of those rooms' sources, not of sources long gone.
objects() {
    for room; do
        for source in src/"$room"/*.c; do
            [ -e "$source" ] && echo "$obj/${source%.c}.o"
        done
        [ "$room" = out ] && echo "$obj/plots.o"
    done
}

# links RULE "ROOM..." LIBRARY... - the last room is there and needs nothing but what is named.
links() {
    rule=$1 rooms=$2
    shift 2
    [ -e "src/${rooms##* }" ] && [ -n "$(ls "src/${rooms##* }"/*.c 2>/dev/null)" ] || return
    # shellcheck disable=SC2046,SC2086
    nothing "$rule" "$(${CC:-cc} -shared -Wl,-z,defs -o "$tmp/layer.so" $(objects $rooms) "$@" -lm -pthread 2>&1)"
}

links 'base stands alone'                  'base'
links 'core needs base, GSL, lcms2'     'base core' $gsl $lcms
links 'plan needs base, core'              'base core plan' $gsl $lcms
links 'image needs base, core'             'base core image' $gsl $lcms
links 'io needs base, core, its libraries' 'base core io' $gsl $jansson -lcsv $tiff $lcms $sqlite
links 'out needs base, core'               'base core out' $gsl $lcms

# only RULE HEADER-PATTERN ALLOWED-PATH-PATTERN
only() {
    nothing "$1" "$(grep -rn -E "^ *# *include *[<\"]($2)" src include | grep -v -E "^($3)")"
}
only 'only src/core includes GSL'             'gsl/'               'src/core/'
only 'only io/tiff* includes tiffio'          'tiffio\.h'         'src/io/tiff'
only 'only io/icc, core/colour include lcms2' 'lcms2\.h'          'src/(io/icc|core/colour)\.'
only 'only io/log* includes sqlite3'           'sqlite3\.h'        'src/io/log'
only 'only src/io includes jansson, libcsv'   'jansson\.h|csv\.h'  'src/io/'
nothing 'public headers include no private ones' \
    "$(grep -n -E '^ *# *include *"' include/wedgework/*.h)"

# Private headers are included as "room/x.h", "../room/x.h", or "x.h" in their own room.
allowed_base='base' allowed_core='base core' allowed_plan='base core plan' allowed_image='base core image'
allowed_io='base core io' allowed_out='base core out' allowed_cli='base core plan image io out cli'
for room in base core plan image io out cli; do
    eval "allowed=\$allowed_$room"
    wrong=$(grep -n -E '^ *# *include *"[^"]*/' src/$room/*.[ch] 2>/dev/null | \
        grep -v -E "\"(\.\./)?($(echo "$allowed" | tr ' ' '|'))/[a-z0-9_]+\.h\"")
    nothing "headers that $room includes" "$wrong"
done

# What the objects call, from the symbol tables: nothing hides from them.
for room in base core plan image io out; do
    for object in $(objects $room); do
        nm -u "$object" | sed "s|^ *[Uw] *|$object |; s|@.*||"
    done
done >"$tmp/calls" 2>"$tmp/unread"
nothing 'every object is there' "$(cat "$tmp/unread")"

# never RULE SYMBOL-PATTERN [ALLOWED-OBJECT-PATTERN]
# plot_run.c starts gnuplot in a child of its own, where signals are as ever and which ends where that fails.
never() {
    nothing "$1" "$(grep -E " ($2)\$" "$tmp/calls" | grep -v -E "/(${3:-no exception}) ")"
}
never 'the library never ends the process' \
    'exit|_exit|_Exit|quick_exit|abort|raise|errx?|_?_?longjmp' src/out/plot_run.o
never 'the library never prints' \
    'stdout|stderr|printf|vprintf|puts|putchar|putc|perror|__(v?printf|vfprintf)_chk|warnx?|psignal'
never 'the library leaves locale and signals alone' 'setlocale|signal|sigaction|sigprocmask' \
    src/out/plot_run.o
never 'only the plotter of src/out starts a program' \
    'fork|vfork|execl|execlp|execle|execv|execvp|execve|posix_spawnp?|popen|system' 'src/out/plot(_run)?.o'
never 'only core/start.c sets a GSL handler' 'gsl_set_error_handler(_off)?' src/core/start.o
finish
