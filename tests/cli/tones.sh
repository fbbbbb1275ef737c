#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# tones.sh - the scene is followed through film and paper to the eye, and back from a wanted print. Expected values: the
# closed forms of an invented film and paper (support/cli.sh), worked out anew by awk; curves digitised from data sheets
# (outside data), followed by straight lines between their points.
. tests/support/cli.sh
demo=$top/stepwedges/demo

film 'Heron film' >film.csv
paper 2 2.6 >paper.csv
run fit film.csv --resamples 20 -o film.json --quiet
exits 0 'a film'
run fit paper.csv --resamples 20 -o paper.json --quiet
exits 0 'a paper'

# 1. By closed form. The darkest tone, 2.2 below white, lies on the film's speed point but for flare; white prints at net
# 0.04. closed STOPS - film log H, film density, print density, L* and gradient of a tone.
closed() {
    awk -v s="$1" -v f="${2:-0}" -v v="${3:-0}" 'function lg(x) { return log(x) / log(10) }
        function density(x) { return 0.21 + 1.94 / (1 + 10 ^ (-0.93 * (1.2 + x))) }
        function flare(d, f) { return -lg((10 ^ -d + f) / (1 + f)) }
        function print_of(x) { return 0.06 + 2.04 / (1 + 10 ^ (-2.6 * (x - 1))) }
        function look(l) { return flare(print_of(k - density(white - flare(-l, f))), v) }
        BEGIN {
            white = -1.2 - lg(18.4) / 0.93 + 2.2
            k = 1 - lg(2.04 / 0.04 - 1) / 2.6 + density(white)
            l = s * lg(2)
            x = white - flare(-l, f)
            y = 10 ^ -look(l)
            lightness = y > 216 / 24389 ? 116 * y ^ (1 / 3) - 16 : y * 24389 / 27
            print x, density(x), print_of(k - density(x)), lightness, (look(l - 1e-4) - look(l + 1e-4)) / 2e-4
        }'
}
run tones --film film.json --paper paper.json --json -o tones.json
exits 0 'film and paper'
holds '-o writes what --json prints' cmp out tones.json
same 'kind' tones "$(value out kind)"
follow() { # ROW STOPS - one row against its closed form; fits follow readings of two decimals
    # shellcheck disable=SC2046
    set -- "$1" "$2" $(closed "$2" "${3:-0}" "${4:-0}")
    near "film log H at $2" "$3" "$(value out "rows.$1.film_logh")" 0.02
    near "film density at $2" "$4" "$(value out "rows.$1.negative")" 0.02
    near "print density at $2" "$5" "$(value out "rows.$1.print")" 0.04
    near "lightness at $2" "$6" "$(value out "rows.$1.lightness")" 2
    near "gradient at $2" "$7" "$(value out "rows.$1.gradient")" 0.06
}
for stop in 0 1 3 5 7; do
    follow "$stop" "-$stop"
done
run tones --film film.json --paper paper.json --flare 0.004 --viewing-flare 0.01 --json
exits 0 'with flare'
for stop in 0 2 4 6; do
    follow "$stop" "-$stop" 0.004 0.01
done
near 'gradients of links multiply' "$(value out rows.4.gradient)" \
    "$(awk -v a="$(value out rows.4.links.camera)" -v b="$(value out rows.4.links.film)" \
        -v c="$(value out rows.4.links.enlarger)" -v d="$(value out rows.4.links.paper)" \
        -v e="$(value out rows.4.links.viewing)" 'BEGIN { printf "%.9f", a * b * c * d * e }')" 1e-6

# A placed tone prints where it was placed
run tones --film film.json --paper paper.json --place 3=0.75 --json
near 'placed' 0.81 "$(value out rows.3.print)" 0.005

# 2. Its first sentence, and the outputs
run tones --film film.json --paper paper.json --plot t.svg --report t.html
exits 0 'text, plot, page'
holds 'what is kept' grep -qE "^Of the scene's 7.3 stops [0-9.]+ keep their detail, trust \\+-[0-9.]+; the lightest" out
has 'which link' out 'toe of the paper'
has 'the links of grey' out 'x enlarger 1.00 x paper'
if command -v gnuplot >/dev/null; then
    has 'plot' t.svg 'what comes of it'
    has 'plot in the page' t.html '<svg '
fi
has 'page' t.html '<title>Tones from the scene to the eye</title>'
run tones --film film.json --paper paper.json -o - --quiet
same 'to standard output' tones "$(value out kind)"

# 3. The way back: what the chain prints is wanted, and takes the film's own densities
{
    printf '# material: print\nstep,logh,visual\n'
    i=0
    while [ $i -lt 9 ]; do
        echo "$i,$(value tones.json rows.$i.scene),$(value tones.json rows.$i.viewed)"
        i=$((i + 1))
    done
} >wanted.csv
run tones --wanted wanted.csv --film film.json --paper paper.json --json
exits 0 'wanted'
near 'the film itself, where a print tells it' 0 "$(value out wanted.worst)" 0.001
same 'all had' 9 "$(value out wanted.had)"

# A straight print is more than this paper has; the film that gives the rest is a table that `fit` takes
run tones --wanted straight --slope 1.1 --paper paper.json -o needed.csv --json
exits 1 'not all of it can be had'
cp out wanted.json
same 'slope' 1.1 "$(value wanted.json wanted.slope)"
same 'why' 'darker than the paper was measured' "$(value wanted.json wanted.rows.22.want)"
run fit needed.csv --resamples 20 -o needed.json --quiet
exits 0 'the film for it, fitted'
run tones --wanted straight --slope 1.1 --paper paper.json
holds 'in words' grep -q "^A film of slope" out
has 'and what cannot' out 'What cannot be had'

# 4. Overlays and refusals
paper 4 4.1 >hard.csv
run fit hard.csv --resamples 20 -o hard.json --quiet
run tones --film film.json --paper paper.json --paper hard.json
exits 0 'two papers'
has 'beside each other' out 'Beside each other'
refuses 3 'paper.json: this is the curve of a paper; --film takes curves of films' \
    tones --film paper.json --paper paper.json
refuses 3 'film.json: this is the curve of a film; --paper takes curves of papers' \
    tones --film film.json --paper film.json
refuses 2 'no --paper is given; give the curve file of a paper, as `fit` writes it' tones --film film.json
refuses 2 'no --film is given; give the curve file of a film, or --wanted with the print that a film is looked for' \
    tones --paper paper.json
refuses 2 '--slope plays no part without --wanted straight; leave it out' \
    tones --film film.json --paper paper.json --slope 1.1
refuses 2 '--place plays no part with --wanted; leave it out' \
    tones --wanted straight --paper paper.json --place 0=0.1
refuses 2 'only the film of a wanted print is written as a table (.csv); give a name that ends in .json' \
    tones --film film.json --paper paper.json -o tones.csv
run tones --film film.json --paper paper.json --place cloud=0.13
exits 2 'a place without stops'
has 'says how' err "'cloud=0.13' is not STOPS=DENSITY"
run tones --film film.json --paper paper.json --callier 9
exits 2 'no such factor'
printf '# material: print\nstep,time,visual\n1,3,0.4\n2,6,0.9\n' >seconds.csv
refuses 3 'seconds.csv: no column says which tone of the scene a row is; give stop (0 is white, -1 a stop darker) or logh (log10 of luminance over white)' \
    tones --wanted seconds.csv --paper paper.json

# 5. In colour: the demonstration's paper, and a film that is all of one curve
{
    printf '%s\n' '# material: film' '# emulsion: colour negative' '# log h0: 0' 'step,wedge,red,green,blue'
    sed 1,6d film.csv | awk -F , '$1 != "base" { print $1 "," $2 "," $3 "," $3 + 0.3 "," $3 + 0.6 }
        $1 == "base" { print "base,,0.21,0.51,0.81" }'
} >colour.csv
run fit colour.csv --resamples 20 -o colour.json --quiet
exits 0 'a colour film'
run fit "$demo/colour-paper.csv" --resamples 20 -o colour-paper.json --quiet
exits 0 'a colour paper'
run tones --film colour.json --paper colour-paper.json --json
exits 0 'in colour'
same 'red' red "$(value out chains.0.paper_channel)"
same 'rows are those of green' "$(value out chains.1.rows.2.print)" "$(value out rows.2.print)"
run tones --film colour.json --paper paper.json
exits 3 'a colour film on this paper'
has 'says why' err 'which of its colours the paper sees is not known'

# 6. Real curves: a film developed for 6 and for 9 minutes on a paper of grade 2, each digitised from its maker's sheet.
. "$support/curves.sh"
readings() { # FILE MATERIAL
    awk -F , -v m="$2" 'NR > 1 { x[NR] = $2; d[NR] = $3; if (NR == 2 || $3 < least) least = $3 }
        END { print "# material: " m "\n# process: negative\nstep,logh,visual\nbase,," least
            for (i = 2; i <= NR; i++) print i - 1 "," x[i] "," d[i] }' "$curves/$1"
}
# lines FILM PAPER STOPS... - film and print densities, by straight lines between the points
lines() {
    awk -F , -v rows="$3" 'function at(x, xs, ds, n,   i) {
            for (i = 2; i <= n; i++) if (x <= xs[i]) break
            if (i > n || x < xs[1]) return -9
            return ds[i - 1] + (x - xs[i - 1]) * (ds[i] - ds[i - 1]) / (xs[i] - xs[i - 1]) }
        function back(d, xs, ds, n,   i) {
            for (i = 2; i <= n; i++) if (ds[i - 1] <= d && d < ds[i])
                return xs[i - 1] + (d - ds[i - 1]) * (xs[i] - xs[i - 1]) / (ds[i] - ds[i - 1]) }
        FNR == 1 { part++; next }
        part == 1 { fx[++nf] = $2; fd[nf] = $3; if (nf == 1 || $3 < base) base = $3 }
        part == 2 { px[++np] = $2; pd[np] = $3; if (np == 1 || $3 < paper) paper = $3 }
        END {
            white = back(base + 0.1, fx, fd, nf) + 1.8
            k = back(paper + 0.04, px, pd, np) + at(white, fx, fd, nf)
            for (i = 0; i < rows; i++) {
                d = at(white - i * log(2) / log(10), fx, fd, nf)
                print d, at(k - d, px, pd, np)
            } }' "$curves/$1" "$curves/$2"
}
readings kodak_polymax_fine_art_paper_grade_2.csv paper >real-paper.csv
run fit real-paper.csv --resamples 20 -o real-paper.json --quiet
exits 0 'a real paper'
for time in 6 9; do
    readings kodak_5222_dev_$time.csv film >real.csv
    run fit real.csv --resamples 20 -o real.json --quiet
    exits 0 "a real film, $time min"
    run tones --film real.json --paper real-paper.json --subject-range 1.8 --json
    exits 0 "on the paper, $time min"
    lines kodak_5222_dev_$time.csv kodak_polymax_fine_art_paper_grade_2.csv 5 >want
    i=0
    while read -r negative print; do
        near "$time min, film, $i stops below white" "$negative" "$(value out rows.$i.negative)" 0.03
        near "$time min, print, $i stops below white" "$print" "$(value out rows.$i.print)" 0.09
        i=$((i + 1))
    done <want
done
finish
