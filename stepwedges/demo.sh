#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# demo.sh PROGRAM MAKE_SCANS OUTDIR - from scans to a printed recommendation. The scans are invented: MAKE_SCANS
# draws them from the scenes beside this script. Curve files, plots, the pages and the texts are left in OUTDIR.
# Run it from the top of the project: each command is shown as you could type it there.
[ $# -eq 3 ] || { echo 'usage: demo.sh PROGRAM MAKE_SCANS OUTDIR' >&2; exit 2; }
program=$1 make_scans=$2 out=$3
here=$(dirname "$0")
demo=$here/demo
papers='gloss-1 gloss-2 gloss-3 gloss-4 lustre-2 lustre-3'
mkdir -p "$out" || exit 4

drawn=yes
command -v gnuplot >/dev/null 2>&1 || drawn=no

# step TEXT-FILE ARGUMENT... - shows the command and runs it; its text goes into the file. Status 1 of
# print, balance, compare or control is an answer, too. Without gnuplot the plots alone are missing, and status 4 says so.
step() {
    text=$1
    shift
    printf '$ %s' "$program"
    printf ' %s' "$@"
    echo
    "$program" "$@" >"$text"
    status=$?
    case $1:$status:$drawn in
    *:0:* | print:1:* | balance:1:* | compare:1:* | control:1:* | *:4:no) ;;
    *) echo "demo: that ended with exit status $status" >&2; exit "$status" ;;
    esac
}

# Its findings: all before the first empty line.
findings() { sed '/^$/,$d' "$1"; echo; }

echo 'An invented evening in an invented darkroom; readings, and scenes to draw scans from, are in' "$demo"
[ "$drawn" = yes ] || echo 'gnuplot is not installed, so there will be no plots; all else goes on.'
echo
echo '1. The scanner: a wedge with a certificate lies askew on its glass; one more scan has no light'
"$make_scans" "$demo/wedge.scene" "$out/wedge.tif" "$demo/dark.scene" "$out/dark.tif" \
    "$demo/strip.scene" "$out/strip.tif" "$demo/negative.scene" "$out/negative.tif" || exit
step "$out/scanner.txt" scanner "$out/wedge.tif" --wedge "$demo/wedge.csv" --dark "$out/dark.tif" \
    -o "$out/scanner.json" --plot "$out/scanner.svg" --report "$out/scanner.html"
findings "$out/scanner.txt"

echo '2. The film, exposed through that wedge, from its scan; its thin end lies left, and one step was scuffed'
step "$out/strip.txt" measure "$out/strip.tif" --steps 21 --reverse --spot base=450,410,40 \
    --scanner "$out/scanner.json" -o "$out/strip.csv" --overlay "$out/strip.png" \
    --plot "$out/strip.svg" --report "$out/strip.html"
findings "$out/strip.txt"
cat "$demo/film.txt" "$out/strip.csv" >"$out/film.csv"
step "$out/film.txt" fit "$out/film.csv" --through "$demo/wedge.csv" \
    -o "$out/film.json" --plot "$out/film.svg" --report "$out/film.html"
cat "$out/film.txt"
echo

echo '3. Development: four more strips of the film, for 5 to 14 min, and the time for a contrast index of 0.58'
set --
for minutes in 5 7 10 14; do
    step "$out/develop-$minutes.txt" fit "$demo/develop-$minutes.csv" --through "$demo/wedge.csv" -o "$out/develop-$minutes.json"
    set -- "$@" "$out/develop-$minutes.json"
done
step "$out/develop.txt" develop "$@" --contrast-index 0.58 -o "$out/develop.json" \
    --plot "$out/develop.svg" --report "$out/develop.html"
findings "$out/develop.txt"

echo '4. The papers: each exposed under the enlarger through a wedge of steps of 0.10'
for paper in $papers; do
    step "$out/$paper.txt" fit "$demo/$paper.csv" -o "$out/$paper.json" --plot "$out/$paper.svg" \
        --report "$out/$paper.html"
    findings "$out/$paper.txt"
done

echo '5. The picture, from its scan: one disc a place, the cloud at its greyest and at its brightest'
step "$out/negative.txt" measure "$out/negative.tif" --scanner "$out/scanner.json" \
    --spot base=70,250,12 --spot shadow=668,300,12 --spot roof=690,220,16 --spot water=330,360,25 \
    --spot wall=515,300,14 --spot cloud/thin=300,130,30 --spot cloud/dense=374,108,24 \
    -o "$out/places.csv" --overlay "$out/negative.png" --report "$out/negative.html"
findings "$out/negative.txt"
cat "$demo/negative.txt" "$out/places.csv" >"$out/negative.csv"

echo '6. The print: sunlit wall at 0.25 above paper white, shadow at 1.65, the cloud at 0.10'
set --
for paper in $papers; do
    set -- "$@" --paper "$out/$paper.json"
done
set -- print "$out/negative.csv" "$@" --place wall=0.25 --place shadow=1.65 --place cloud=0.10
step "$out/print.txt" "$@" -o "$out/print.json" --plot "$out/print.svg" --report "$out/print.html"
cat "$out/print.txt"
echo

echo '7. On paper: a test strip across the wall, as planned and as read'
step "$out/strip-plan.txt" strip plan --centre 16 --step 1/3 --count 7 -o "$out/strip-plan.json"
findings "$out/strip-plan.txt"
step "$out/test-strip.txt" strip read "$demo/test-strip.csv" --aim 0.25 -o "$out/test-strip.json" \
    --plot "$out/test-strip.svg" --report "$out/test-strip.html"
findings "$out/test-strip.txt"

echo '8. After one test print: 16 s put the wall at 0.28, read with the densitometer'
step "$out/test.txt" print "$out/negative.csv" --paper "$out/gloss-2.json" \
    --place wall=0.25 --place shadow=1.65 --place cloud=0.10 --test 16:wall=0.28 -o "$out/test.json" \
    --report "$out/test.html"
findings "$out/test.txt"

echo '9. The scan for good: exposure that keeps the cloud, by the scanner of step 1 and the tones of step 5'
step "$out/scan.txt" scan "$out/negative.csv" --scanner "$out/scanner.json" --keep cloud \
    -o "$out/scan.json" --plot "$out/scan.svg" --report "$out/scan.html"
findings "$out/scan.txt"

echo '10. In colour: a test print is too dark and too green; five prints of a ring-around tell what the filters do'
step "$out/colour-paper.txt" fit "$demo/colour-paper.csv" -o "$out/colour-paper.json" --plot "$out/colour-paper.svg"
findings "$out/colour-paper.txt"
step "$out/balance.txt" balance "$demo/colour-print.csv" --paper "$out/colour-paper.json" \
    --aim "$demo/colour-aim.csv" --ring "$demo/colour-ring.csv" -o "$out/balance.json" \
    --plot "$out/balance.svg" --report "$out/balance.html"
findings "$out/balance.txt"

echo '11. Two outputs: the print in pigment on rag, made to look as the laser print; the curve for its file'
step "$out/match.txt" match --aim "$demo/laser.csv" --print "$demo/rag.csv" -o "$out/rag.cube" \
    --plot "$out/match.svg" --report "$out/match.html"
findings "$out/match.txt"

echo '12. The same scale of greys on three outputs: enlarged, as pigment on rag, on a display; and a re-run'
step "$out/compare.txt" compare "$demo/scale-gloss.csv" "$demo/scale-rag.csv" "$demo/scale-screen.csv" \
    -o "$out/compare.json" --plot "$out/compare.svg" --report "$out/compare.html"
findings "$out/compare.txt"
step "$out/rerun.txt" compare "$demo/scale-rag.csv" "$demo/scale-rerun.csv" --limits "$demo/agreed.csv" \
    -o "$out/rerun.json"
findings "$out/rerun.txt"

echo '13. The whole way: the scene through the film of step 2 and two of the papers to the eye, with some flare'
step "$out/tones.txt" tones --film "$out/film.json" --paper "$out/gloss-1.json" --paper "$out/gloss-3.json" \
    --flare 0.004 --viewing-flare 0.005 -o "$out/tones.json" --plot "$out/tones.svg" --report "$out/tones.html"
findings "$out/tones.txt"

echo '14. The process: a log of control strips of the film, and the strip that ran today; then the print of step 6 asks it'
rm -f "$out/control.db"
step "$out/control-log.txt" control import "$demo/control-log.csv" --log "$out/control.db"
findings "$out/control-log.txt"
step "$out/control-strip.txt" control add "$demo/control-strip.csv" --log "$out/control.db"
findings "$out/control-strip.txt"
step "$out/control.txt" control chart --log "$out/control.db" \
    --plot "$out/control.svg" --report "$out/control.html"
sed -n '/^Possible causes/,/^$/p' "$out/control.txt"
step "$out/control-print.txt" print "$out/negative.csv" --paper "$out/gloss-2.json" --place wall=0.25 --control "$out/control.db"
findings "$out/control-print.txt"

echo '15. A lesson: six students read one practice film, and one of them passed over a step; what each finds by hand'
for student in 1 2 3 4 5; do
    step /dev/null lesson --seed 12 --material film --student $student -o "$out/student-$student.csv" --quiet
done
step /dev/null lesson --seed 12 --material film --student 6 --fault missed-step -o "$out/student-6.csv" \
    --answers "$out/answers.txt" --quiet
step "$out/class.txt" lesson --class "$out/student-1.csv" "$out/student-2.csv" "$out/student-3.csv" \
    "$out/student-4.csv" "$out/student-5.csv" "$out/student-6.csv" -o "$out/class.json" --plot "$out/class.svg" \
    --report "$out/class.html"
findings "$out/class.txt"

if [ "$drawn" = yes ]; then
    echo '16. The plots once more, as PNG'
    step /dev/null fit "$out/film.csv" --through "$demo/wedge.csv" --plot "$out/film.png" --quiet
    step /dev/null "$@" --plot "$out/print.png" --quiet
    step /dev/null scan "$out/negative.csv" --scanner "$out/scanner.json" --keep cloud \
        --plot "$out/scan.png" --quiet
    step /dev/null match --aim "$demo/laser.csv" --print "$demo/rag.csv" --plot "$out/match.png" --quiet
    echo
fi

sh "$here/story.sh" "$out/story.html" 'Tide mill at Sorrel Creek: from the step wedge to the print' \
    "$out/test.html" "The scanner=$out/scanner.html" "The film strip, from its scan=$out/strip.html" \
    "The film=$out/film.html" "The paper=$out/gloss-2.html" "The picture, from its scan=$out/negative.html" \
    "The plan, on all papers=$out/print.html" "A test strip across the wall=$out/test-strip.html" || exit

echo "All of it is in $out: story.html tells the whole of it, the result first; print.txt and"
echo 'print.html are step 6, the .json files are curves and plans to go on with, the others plots and texts.'
