#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# strip.sh - test strips are planned, read, and what cannot be told from them is not told. Expected values are
# closed forms: handbook series of times, and the logistic paper D = 0.06 + 2 / (1 + 10^(-3 log10(t / 20))).
. tests/support/cli.sh

# strip FROM STOPS COUNT - readings of that paper
strip() {
    printf '%s\n' '# material: strip' '# density: reflection' 'step,time,visual' 'base,,0.06'
    awk -v from="$1" -v stops="$2" -v n="$3" 'BEGIN {
        for (i = 0; i < n; i++) {
            t = from * 2 ^ (stops * i)
            printf "%d,%.4f,%.4f\n", i + 1, t, 0.06 + 2 / (1 + 10 ^ (-3 * log(t / 20) / log(10)))
        } }'
}
# truth NET - the time that prints it
truth() { awk -v d="$1" 'BEGIN { print 20 * 10 ^ (-log(2 / d - 1) / log(10) / 3) }'; }

# 1. Plans: handbook series in 1/3 stop, and 16 s + 1/2 stop = 22.63 s
run strip plan --centre 16 --step 1/3 --count 7 --json
exits 0 'a plan'
same 'kind' 'strip plan' "$(value out kind)"
i=0
for t in 8 10.08 12.70 16 20.16 25.40 32; do
    near "piece $i" $t "$(value out exposures.$i)" 0.0051
    i=$((i + 1))
done
near 'what a hand adds' 2.1 "$(value out pieces.1.add)" 1e-9
run strip plan --centre 16 --step 0.5 --count 3 --timer-step 0.01 --json
near '16 s and half a stop' 22.63 "$(value out pieces.2.set)" 1e-9
run strip plan --centre 16
exits 0 'a plan in words'
cat >want <<'END'
7 pieces in 1/3 stop around 16.0 s: give the whole strip 8.0 s, then cover piece
by piece and add 2.1, 2.6, 3.3, 4.2, 5.2 and 6.6 s.
END
head -n 2 out >first
holds 'its first sentence' cmp want first
has 'on covering' out 'Cover, don'
run strip plan --centre 5 --step 1/6
has 'too short for a hand' out 'Under a second'
run strip plan --centre 16 -o plan.json --quiet
holds 'quiet' test ! -s out
run strip plan --centre 16 --json
holds '-o writes what --json prints' cmp out plan.json

# 2. Reading
strip 8 0.33333333 7 >r.csv
run strip read r.csv --aim 0.62 --json -o read.json
exits 0 'a strip'
near 'time' "$(truth 0.62)" "$(value out best.time)" 0.4
holds 'the interval holds it' awk "BEGIN { exit !($(value out best.low) <= $(truth 0.62) && $(truth 0.62) <= $(value out best.high)) }"
run strip read r.csv --aim 0.62
cat >want <<'END'
15.4 s prints 0.62 above paper; trust +-1/12 stop (15.0 to 15.8 s).
Why: above paper, step 3 (12.7 s) reads 0.41, step 4 (16.0 s) reads 0.68.
END
head -n 2 out >first
text_like 'its first sentences' want first 0.2 0.02
has 'says when to stop' out 'No further strip'
strip 2 0.5 5 >light.csv
run strip read light.csv --aim 1.2 --json
exits 1 'a strip that is too light'
same 'no time' null "$(value out best)"
same 'its side' light "$(value out place)"
near 'the next begins where it ends' 8 "$(value out exposures.0)" 1e-3
run strip read light.csv --aim 1.2
has 'says so' out 'No time: 1.20 above paper is darker than the darkest step, 0.12 at 8.0 s.'
run strip read r.csv --aim 0.02 --json
same 'the other side' dark "$(value out place)"
sed 's/^3,\([^,]*\),.*/3,\1,0.74/; s/^4,\([^,]*\),.*/4,\1,0.47/' r.csv >swapped.csv
run strip read swapped.csv --aim 0.55 --json
exits 1 'steps changed over, and the aim among them'
same 'place' disorder "$(value out place)"
near 'nothing is sorted' 0.68 "$(value out steps.2.density)" 1e-9
run strip read swapped.csv --aim 1.5 --json
exits 0 'away from them there is a time'
awk -F , '/^[0-9]/ { print $1 ",," $3; next } { print }' r.csv | sed 's/,time,/,/; s/,,/,/' >untimed.csv
refuses 3 'untimed.csv: the strip has no times; add a column time with all the seconds that each step got (`strip plan` lists them as totals)' \
    strip read untimed.csv --aim 0.1

# The seconds that `strip plan` tells a hand to add, typed in place of totals; one time typed twice
printf '%s\n' 'step,time,visual' 'base,,0.06' 1,8.0,0.11 2,2.1,0.16 3,2.6,0.23 4,3.3,0.34 5,4.2,0.49 >added.csv
refuses 3 "added.csv: the times are what each step was given in addition, not all that it got: step '2' has less than \
step '1' and the strip darkens, and their sums are an even series; give the sums, 8.0, 10.1, 12.7, 16.0, 20.2 s, or check \
the time of step '1'" strip read added.csv --aim 0.2
printf '%s\n' 'step,time,visual' 'base,,0.06' 1,8.0,0.11 2,10.1,0.16 3,12.7,0.23 4,12.7,0.34 5,20.2,0.49 >twice.csv
run strip read twice.csv --aim 0.25
exits 1 'one time with two densities, and the aim beside it'
has 'says why' out 'of the same time'

# 3. Standard proof
strip 10 0.33333333 14 >proof.csv
run strip proof proof.csv --json
exits 0 'a strip through clear film'
near 'the least time within 0.05 of black' "$(truth 1.95)" "$(value out best.time)" 5
run strip proof r.csv --json
exits 1 'black is not reached'
near 'the next goes on' 32 "$(value out exposures.0)" 1e-3

# 4. Safelight
printf '%s\n' '# material: strip' 'step,tone,time,visual,n' 'base,,,0.06,5' ',covered,,0.30,5' '1,,60,0.30,5' \
    '2,,120,0.31,5' '3,,240,0.35,5' >light_grey.csv
run strip safelight light_grey.csv --json
exits 0 'a safelight'
near 'longest without a change' 120 "$(value out best.time)" 0
near 'first with one' 240 "$(value out changed)" 0
sed 's/^1,,60,0.30/1,,60,0.36/' light_grey.csv >unsafe.csv
run strip safelight unsafe.csv
exits 1 'a safelight that is not safe'
has 'says so' out 'This safelight is not safe'
sed 's/0\.3[0-9]/0.07/' light_grey.csv >bare.csv
run strip safelight bare.csv
exits 1 'bare paper shows nothing'
has 'says so' out 'No verdict'
sed 's/covered,,0.30/covered,,0.36/' light_grey.csv >fogged.csv
run strip safelight fogged.csv
exits 1 'a covered piece that is darker than all others'
has 'says so' out 'No verdict'
has 'and what it looks like' out 'got light'
run strip safelight fogged.csv --json
same 'its place' disorder "$(value out place)"
same 'no time' null "$(value out best)"
grep -v covered light_grey.csv >uncovered.csv
run strip safelight uncovered.csv
exits 3 'nothing covered'

# 5. Plot and page
if command -v gnuplot >/dev/null 2>&1; then
    for verb in 'plan --centre 16' 'read r.csv --aim 0.62' 'read light.csv --aim 1.2' 'proof proof.csv' \
        'safelight light_grey.csv'; do
        rm -f p.svg p.html
        # shellcheck disable=SC2086
        run strip $verb --plot p.svg --report p.html --quiet
        holds "plot of strip $verb" grep -q '</svg>' p.svg
        holds "page of strip $verb" grep -q '</html>' p.html
        same "no message of strip $verb" '' "$(cat err)"
    done
else
    skip 'gnuplot is not installed'
fi

# 6. Wrong use
refuses 2 'strip needs to be told what to do; write strip and one of plan, read, proof, safelight' strip
refuses 2 "strip knows no 'raed'; did you mean strip read?" strip raed r.csv --aim 0.1
refuses 2 "strip knows no 'xyzzy'; write strip and one of plan, read, proof, safelight" strip xyzzy
refuses 2 'strip read needs a file; write wedgework strip read STRIP.csv, or - for standard input' strip read --aim 0.1
refuses 2 "'more.csv' is one too many for strip read; give one file at a time" strip read r.csv more.csv --aim 0.1
refuses 2 "'r.csv' is one too many for strip plan; it reads no file" strip plan r.csv --centre 16
refuses 2 '--aim is an option of strip read, not of strip plan' strip plan --centre 16 --aim 0.1
refuses 2 'strip plan needs a time to begin with; give --centre S, your best guess in seconds' strip plan
refuses 2 'strip read needs the density to look for; give --aim DENSITY, above paper white' strip read r.csv
refuses 2 "--step: '1/0' is no number of stops; write 1/3, or 0.5" strip plan --centre 16 --step 1/0
refuses 2 "--aim cannot be '-0.1'; give a number from 0.005 to 2.7" strip read r.csv --aim=-0.1
refuses 2 "--aim cannot be '3.0': no paper prints so dark; give a number from 0.005 to 2.7" strip read r.csv --aim 3.0
refuses 2 'the longest piece would get 9600 s, more than an hour; take fewer pieces, a smaller step or a shorter centre' \
    strip plan --centre 600 --step 1 --count 9
refuses 3 'nowhere.csv: there is no such file; check the name' strip read nowhere.csv --aim 0.1
refuses 2 "-o would overwrite the input 'r.csv'; give it another name" strip read r.csv --aim 0.1 -o r.csv
# A strip from its plan to its scan: the plan's table gives each piece its seconds, and has room for densities
run strip plan --centre 16 --step 1/3 --count 7 -o form.csv
exits 0 'a plan as a table'
same 'its header' step,time,visual "$(grep -v '^#' form.csv | head -n 1)"
same 'its rows' 'base,- 1,8 2,10.1 3,12.7 4,16 5,20.2 6,25.4 7,32' \
    "$(grep -v '^#' form.csv | sed 1d | cut -d , -f 1,2 | tr '\n' ' ' | sed 's/ $//')"
case ${MAKE_SCANS:?names the maker of scans} in /*) ;; *) MAKE_SCANS=$top/$MAKE_SCANS ;; esac
demo=$top/stepwedges/demo
"$MAKE_SCANS" "$demo/wedge.scene" wedge.tif "$demo/dark.scene" dark.tif
# The same densities as a wedge on paper: a film wedge tells nothing of a print.
sed 's/density: transmission/density: reflection/' "$demo/wedge.csv" >wedge.csv
run scanner wedge.tif --wedge wedge.csv --dark dark.tif -o scanner.json --quiet
{
    printf '%s\n' 'size 900 500' 'scanner 0.93 0.0035 0.0006 1' 'noise 0.0003 0.0016 0.0025' 'blur 0.7' 'seed 11' \
        'glass 3.3' 'box 450 260 840 400 1.2 0.06'
    printf 'strip 450 200 700 160 1.2'
    for t in 8 10.1 12.7 16 20.2 25.4 32; do
        awk "BEGIN { printf \" %.4f\", 0.06 + 2 / (1 + 10 ^ (-3 * log($t / 20) / log(10))) }"
    done
    echo
} >paper.scene
"$MAKE_SCANS" paper.scene paper.tif
run measure paper.tif --steps 7 --spot base=450,400,30 --scanner scanner.json --through form.csv -o scanned.csv
exits 0 'the scan of a strip and of bare paper'
run strip read scanned.csv --aim 0.62 --json
exits 0 'a strip from its scan'
near 'its time' "$(truth 0.62)" "$(value out best.time)" 0.5

finish
