#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# compare.sh - prints, curves and displays are compared, re-runs judged, and what is not one scale is refused. Expected
# values: differences by hand; CIEDE2000 of two lightnesses in closed form; published curves with the figures of others.
data=${WEDGEWORK_DATA:-../shared/data}
case $data in /*) ;; *) data=$(pwd)/$data ;; esac
. tests/support/cli.sh
demo=$top/stepwedges/demo

# 1. The demonstration's prints
run compare "$demo/scale-gloss.csv" "$demo/scale-rag.csv" --json
exits 0 'two prints'
same 'kind' comparison "$(value out kind)"
near 'black' -0.55 "$(value out pairs.0.black.value)" 1e-9
near 'worst' -0.55 "$(value out pairs.0.worst)" 1e-9
near 'light' 0.04 "$(value out pairs.0.regions.light)" 1e-9
near 'in reach' -0.13 "$(value out pairs.0.in_reach.value)" 1e-9
same 'a' 'Saltmarsh Gloss, enlarged' "$(value out pairs.0.a)"
same 'no limits' null "$(value out pairs.0.within)"
same 'what stays' 'white black hue' \
    "$(value out pairs.0.never.0) $(value out pairs.0.never.1) $(value out pairs.0.never.2)"
run compare "$demo/scale-gloss.csv" "$demo/scale-rag.csv"
cat >want <<'END'
'Warm rag, pigment' against 'Saltmarsh Gloss, enlarged': black 0.55 D lighter,
which no curve takes away; of the tones that it can print, at most 0.13 D
END
head -n 2 out >first
holds 'its first sentence' cmp want first
has 'in a room' out 'With 1 % of white from the room upon both, the blacks are 0.31 D apart.'

# 2. A display: 6500 K, and what the eye takes it for
run compare "$demo/scale-gloss.csv" "$demo/scale-screen.csv" --json -o c.json
exits 0 'a display'
holds '-o writes what --json prints' cmp out c.json
near 'its white' 6504 "$(value out prints.1.temperature)" 65
near 'Y 26 of 120 against D 0.75 above white' -0.086 "$(value out pairs.0.tones.5.difference.visual)" 1e-3
run compare "$demo/scale-gloss.csv" "$demo/scale-screen.csv"
has 'too cool' out 'the eye takes the display for too cool'

# 3. A re-run
run compare "$demo/scale-rag.csv" "$demo/scale-rerun.csv" --limits "$demo/agreed.csv" --json
exits 1 'beyond its limits'
same 'within' false "$(value out pairs.0.within)"
near 'carry' 0.07 "$(value out pairs.0.offset.dark)" 1e-9
run compare "$demo/scale-rag.csv" "$demo/scale-rerun.csv" --limits "$demo/agreed.csv"
has 'carry, in words' out 'carry to the next run'
run compare "$demo/scale-rag.csv" "$demo/scale-rag.csv" --limits "$demo/agreed.csv"
exits 0 'the same print'
has 'within' out 'is within all 8 limits, 1 of them in doubt.'
printf 'limit,most\ndrift,0.03\n' >drift.csv
run compare "$demo/scale-rag.csv" "$demo/scale-rerun.csv" --limits drift.csv
exits 1 'what was not read is not within'
has 'says so' out 'The limit drift cannot be judged'
printf 'limit,most\nwite,0.03\n' >slip.csv
refuses 3 "slip.csv:2: 'wite' is no limit; limits are white, black, light, middle, dark, drift, de2000_mean, de2000_max and neutral_ab" \
    compare "$demo/scale-rag.csv" "$demo/scale-rerun.csv" --limits slip.csv

# 4. CIEDE2000 of two greys that differ in lightness alone: dL / S_L, S_L of their mean (the formula)
printf 'step,L,a,b\n1,60,0,0\n2,30,0,0\n' >a.csv
printf 'step,L,a,b\n1,62,0,0\n2,29,0,0\n' >b.csv
run compare a.csv b.csv --json
lightness() { awk -v a="$1" -v b="$2" 'BEGIN { m = (a + b) / 2 - 50; d = a > b ? a - b : b - a
    print d / (1 + 0.015 * m * m / sqrt(20 + m * m)) }'; }
near 'the lighter' "$(lightness 60 62)" "$(value out pairs.0.tones.0.de2000)" 1e-6
near 'the darker' "$(lightness 30 29)" "$(value out pairs.0.tones.1.de2000)" 1e-6

# Greys of one lightness that turn: the first sentence tells it, though no density does. Whites alike, so that all of a*, b*
# that differs at black is drift.
printf 'step,value,L,a,b\n1,1,96,0,2\n2,0.5,53.5,0,2\n3,0,11,0,2\n' >a.csv
printf 'step,value,L,a,b\n1,1,96,0,2\n2,0.5,53.5,-3.5,-0.5\n3,0,11,-7,-3\n' >b.csv
run compare a.csv b.csv
tr -s '\n ' '  ' <out >flat
has 'its first sentence' flat 'D; in colour at most CIEDE2000 9.5 at tone 3, trust +-0.6. Why:'
holds 'drift' grep -qF 'a* -7.0 at tone 3, b* -5.0 at tone 3' flat
run compare a.csv b.csv --json
near 'drift of a*' -7 "$(value out 'pairs.0.drift.a*.value')" 1e-9

# A re-run read down to 0.5 only: its black is not known. Tones of a picture have no paper white.
printf '# name: Run 1\nstep,value,visual\n1,1,0.08\n2,0.75,0.2\n3,0.5,0.42\n4,0.25,0.8\n5,0,1.6\n' >a.csv
printf '# name: Run 2\nstep,value,visual\n1,1,0.08\n2,0.75,0.2\n3,0.5,0.42\n' >b.csv
run compare a.csv b.csv
has 'no black, in words' out "'Run 2' against 'Run 1': black not read; no tone differs by 0.01 D, trust"
tr -s '\n ' '  ' <out >flat
has 'why' flat "'Run 2' runs from 0.08 to at least 0.42 D; 3 tones were compared"
holds 'its row' grep -q '^Run 2 *0.08 *>= 0.42 *>= 0.34 ' out
holds 'that of the one read' grep -q '^Run 1 *0.08 *1.60 *1.52 ' out
printf 'limit,most\nblack,0.05\n' >limits.csv
run compare a.csv b.csv --limits limits.csv
has 'breaks no limit' out "'Run 2' is not shown to be within the one limit."
printf '# name: T1\ntone,visual\nsky,0.10\nwall,0.5\ncoat,2.0\n' >a.csv
printf '# name: T2\ntone,visual\nsky,0.16\nwall,0.5\ncoat,1.6\n' >b.csv
run compare a.csv b.csv
tr -s '\n ' '  ' <out >flat
has 'of all' flat "'T2' against 'T1': at most 0.40 D lighter at tone coat"
holds 'all in reach' sh -c '! grep -q "out of reach\|no tone differs\|no curve" out'
# The only tone that differs is out of reach: the sentence says of which it speaks.
printf '# name: A\nstep,value,visual\nbase,,0.05\n1,0.5,0.5\n2,0,2.0\n' >a.csv
printf '# name: B\nstep,value,visual\nbase,,0.05\n1,0.5,0.5\n2,0,1.6\n' >b.csv
run compare a.csv b.csv
tr -s '\n ' '  ' <out >flat
has 'of the others' flat 'of the tones that it can print, none differs by 0.01 D, trust'

# 5. Not one scale
printf '# status: A\nstep,visual\n1,0.1\n2,1.0\n' >a.csv
printf '# status: T\nstep,visual\n1,0.1\n2,1.0\n' >t.csv
refuses 3 "'a.csv' was read in status A and 't.csv' in status T, which are not one scale; read both in one of them" \
    compare a.csv t.csv
refuses 2 'compare needs two files at least; write wedgework compare A B..., or - for standard input' compare a.csv
run compare a.csv missing.csv
exits 3 'a file that is not there'
# Shares of 1 in a column of per cent would make a gradient 100 times too steep
printf 'gray,visual\n0,0.08\n0.5,0.7\n1,1.6\n' >shares.csv
refuses 3 'shares.csv:4: gray is 1 here, the most of the scale, and 100 % is full tone; if these are shares of 1, write 100 times as much' \
    compare shares.csv shares.csv
# No light has such a chromaticity: its colour would be missing from the comparison
printf 'value,Y,x,y\n1,100,0.31,0.33\n0.5,20,0.9,0.33\n0,0.3,0.31,0.33\n' >screen.csv
refuses 3 'screen.csv:3: x 0.9, y 0.33 is no chromaticity: y is above 0, x not below it, and both together no more than 1; correct the reading' \
    compare screen.csv screen.csv

# 6. Published curves (outside data): white and black of the curves are those of others within two digitisations
reference=$data/curves/reference_values.csv
if [ -r "$reference" ]; then
    for paper in fuji_crystal_archive_pro_pdii kodak_supra_endura_paper; do
        {
            printf '%s\n' '# material: paper' '# density: reflection' '# status: A' "# name: $paper" 'step,logh,red,green,blue'
            awk -F , 'NR > 1 { printf "%d,%s,%s,%s,%s\n", NR, $2, $1 == "r" ? $3 : "-",
                $1 == "g" ? $3 : "-", $1 == "b" ? $3 : "-" }' "$data/curves/$paper.csv"
        } >$paper.csv
        run fit $paper.csv --resamples 20 -o $paper.json --quiet
        exits 0 "fit of $paper"
    done
    run compare fuji_crystal_archive_pro_pdii.json kodak_supra_endura_paper.json --json --plot papers.svg
    exits 0 'two colour papers'
    i=0
    for paper in fuji_crystal_archive_pro_pdii kodak_supra_endura_paper; do
        near "white of $paper" "$(awk -F , -v f="$paper.csv" '$1 ~ f && $2 == "g" { print $4 }' "$reference")" \
            "$(value out prints.$i.white)" 0.03
        near "range of $paper" "$(awk -F , -v f="$paper.csv" '$1 ~ f && $2 == "g" { print $6 }' "$reference")" \
            "$(value out prints.$i.range)" 0.12
        i=$((i + 1))
    done
    holds 'a plot' test -s papers.svg
else
    skip 'the outside curves are not there; WEDGEWORK_DATA names their folder'
fi

# 7. A press's ramps in ISO 28178 text (outside data): against themselves nothing differs, in density or colour
ramps=$data/cgats/density_ramps_DRGBV_LAB.txt
if [ -r "$ramps" ]; then
    run compare "$ramps" "$ramps" --json
    exits 0 'ramps'
    near 'worst' 0 "$(value out pairs.0.worst)" 1e-12
    near 'CIEDE2000' 0 "$(value out pairs.0.de2000.max)" 1e-9
    near 'lightest' 0.056 "$(value out prints.0.white)" 0.002
    # Spectra alone, against what the instrument made of them itself, to 0.01
    spectra=$data/cgats/cyan_ramp_decimal_comma_spectral_pairs.txt
    sed 's/LAB_/ODD_/g' "$spectra" >spectra.txt
    run compare "$spectra" spectra.txt --json
    exits 0 'spectra'
    near 'CIEDE2000 of spectra' 0 "$(value out pairs.0.de2000.max)" 0.02
    has 'what they are made of' out "'spectra.txt': L*, a*, b* (D50, 2 degrees) are made of spectra"
else
    skip 'the outside ISO 28178 files are not there; WEDGEWORK_DATA names their folder'
fi

# 8. Grain and edges of scans: noise alone, whose sd in density is READ / (ln 10 k 10^-D); an edge that runs evenly over
# 1 + 2 BLUR px, whose MTF50 is 0.60335 cycles over that width and whose 10 to 90 % are 0.8 of it
scene() {
    printf '%s\n' 'size 500 300' "seed $1" 'scanner 0.93 0.0035 0.0006 1' "noise $2 0 0" "blur $3" \
        'resolution 47.24' 'glass 0.30' 'box 120 150 220 280 0 0.70' 'box 420 150 120 400 5 1.20'
}
scene 41 0.0020 1 >sharp.scene
scene 42 0.0040 2 >soft.scene
holds 'scans' "${MAKE_SCANS:?names the maker of scans}" sharp.scene sharp.tif soft.scene soft.tif \
    "$demo/wedge.scene" wedge.tif
run scanner wedge.tif --wedge "$demo/wedge.csv" -o s.json --quiet
exits 0 'a scanner'
run compare sharp.tif soft.tif --spot grey=120,150,100 --strip 310,60,100,180 --scanner s.json --json
exits 0 'two scans'
i=0
for scan in '0.0020 3' '0.0040 5'; do
    set -- $scan
    sd=$(awk -v r="$1" 'BEGIN { print r / (log(10) * 0.93 * 10 ^ -0.70) }')
    near "sd of scan $i" "$sd" "$(value out scans.$i.spots.0.sd)" "$(awk "BEGIN { print 0.03 * $sd }")"
    rms=$(awk -v sd="$sd" 'BEGIN { print 1000 * sd * sqrt((1000 / 47.24) ^ 2 / 1809.557) }')
    near "RMS of scan $i" "$rms" "$(value out scans.$i.spots.0.rms.value)" "$(awk "BEGIN { print 0.03 * $rms }")"
    mtf50=$(awk -v w="$2" 'BEGIN { print 0.60335 / w * 47.24 }')
    near "MTF50 of scan $i" "$mtf50" "$(value out scans.$i.edge.mtf50.value)" "$(awk "BEGIN { print 0.03 * $mtf50 }")"
    width=$(awk -v w="$2" 'BEGIN { print 0.8 * w * 1000 / 47.24 }')
    near "width of scan $i" "$width" "$(value out scans.$i.edge.width_um.value)" "$(awk "BEGIN { print 0.05 * $width }")"
    i=$((i + 1))
done
if command -v gnuplot >/dev/null 2>&1; then
    run compare sharp.tif soft.tif --spot grey=120,150,100 --strip 310,60,100,180 --scanner s.json --quiet \
        --plot scans.svg --report scans.html
    exits 0 'plot and page of scans'
    holds 'a plot of scans' grep -q 'contrast of the edge' scans.svg
    holds 'a page of scans' grep -q '<svg ' scans.html
else
    skip 'plot and page of scans: gnuplot is not installed'
fi
run compare sharp.tif soft.tif --spot grey=120,150,100 --scanner s.json
has 'in words' out "'soft.tif' beside 'sharp.tif' is grainier"
refuses 2 'no --scanner is given; give the scanner file that `scanner -o` wrote' \
    compare sharp.tif soft.tif --spot grey=120,150,100
refuses 2 "--spot names two places 'grey'; give each a name of its own" \
    compare sharp.tif soft.tif --spot grey=120,150,100 --spot grey=60,50,10 --scanner s.json
refuses 2 '--limits goes with readings, not with --spot or --strip of scans; leave it out' \
    compare sharp.tif soft.tif --spot grey=120,150,100 --scanner s.json --limits drift.csv
refuses 2 '--scanner goes with scans; say with --spot or --strip what is to be read of them, or leave it out' \
    compare a.csv b.csv --scanner s.json
finish
