#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# demo.sh PROGRAM OUTDIR - from readings to a printed recommendation, on the invented readings beside
# this script. Curve files, plots, the pages and the texts are left in OUTDIR. Run it from the top of
# the project: each command is shown as you could type it there.
[ $# -eq 2 ] || { echo 'usage: demo.sh PROGRAM OUTDIR' >&2; exit 2; }
program=$1 out=$2
here=$(dirname "$0")
demo=$here/demo
papers='gloss-1 gloss-2 gloss-3 gloss-4 lustre-2 lustre-3'
mkdir -p "$out" || exit 4

drawn=yes
command -v gnuplot >/dev/null 2>&1 || drawn=no

# step TEXT-FILE ARGUMENT... - shows the command and runs it; its text goes into the file. Status 1 of
# print is an answer, too. Without gnuplot the plots alone are missing, and status 4 says so.
step() {
    text=$1
    shift
    printf '$ %s' "$program"
    printf ' %s' "$@"
    echo
    "$program" "$@" >"$text"
    status=$?
    case $1:$status:$drawn in
    *:0:* | print:1:* | *:4:no) ;;
    *) echo "demo: that ended with exit status $status" >&2; exit "$status" ;;
    esac
}

# Its findings: all before the first empty line.
findings() { sed '/^$/,$d' "$1"; echo; }

echo 'An invented evening in an invented darkroom; the readings are in' "$demo"
[ "$drawn" = yes ] || echo 'gnuplot is not installed, so there will be no plots; all else goes on.'
echo
echo '1. The film, exposed through a step wedge of 21 steps. One reading was mistyped on purpose'
step "$out/film.txt" fit "$demo/film.csv" --through "$here/21x0.15.csv" \
    -o "$out/film.json" --plot "$out/film.svg" --report "$out/film.html"
cat "$out/film.txt"
echo

echo '2. The papers: each exposed under the enlarger through a wedge of steps of 0.10'
for paper in $papers; do
    step "$out/$paper.txt" fit "$demo/$paper.csv" -o "$out/$paper.json" --plot "$out/$paper.svg"
    findings "$out/$paper.txt"
done

echo '3. The picture: sunlit wall at 0.25 above paper white, shadow at 1.65, the cloud at 0.10'
set --
for paper in $papers; do
    set -- "$@" --paper "$out/$paper.json"
done
set -- print "$demo/negative.csv" "$@" --place wall=0.25 --place shadow=1.65 --place cloud=0.10
step "$out/print.txt" "$@" -o "$out/print.json" --plot "$out/print.svg" --report "$out/print.html"
cat "$out/print.txt"
echo

echo '4. After one test print: 16 s put the wall at 0.28, read with the densitometer'
step "$out/test.txt" print "$demo/negative.csv" --paper "$out/gloss-2.json" \
    --place wall=0.25 --place shadow=1.65 --place cloud=0.10 --test 16:wall=0.28 -o "$out/test.json"
findings "$out/test.txt"

if [ "$drawn" = yes ]; then
    echo '5. The plots once more, as PNG'
    step /dev/null fit "$demo/film.csv" --through "$here/21x0.15.csv" --plot "$out/film.png" --quiet
    step /dev/null "$@" --plot "$out/print.png" --quiet
    echo
fi

echo "All of it is in $out: print.txt and print.html are step 3, the .json files"
echo 'are curves and plans to go on with, the others plots and texts.'
