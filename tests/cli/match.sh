#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# match.sh - an output is made to print as another. Both are invented, and known in closed form, as u runs from bare
# paper to full: light, D = 0.05 - log10(v + (1 - v) (1 - u)^2.2), v = 10^-2.10, black 2.15; dots that gain,
# D = -log10((1 - c) 10^-0.07 + c 10^-1.62), c = u + 0.72 u (1 - u). Readings are these, rounded to 0.01.
. tests/support/cli.sh
: "${MAKE_SCANS:?names the maker of scans}"
printers='function log10(x) { return log(x) / log(10) }
function light(u) { return 0.05 - log10(10^-2.1 + (1 - 10^-2.1) * (1 - u)^2.2) }
function dots(u,   c) { c = u + 0.72 * u * (1 - u); return -log10((1 - c) * 10^-0.07 + c * 10^-1.62) }
function dry(u,   c) { c = u + 0.2 * u * (1 - u); return -log10((1 - c) * 10^-0.07 + c * 10^-1.62) }'
calc() { awk "$printers BEGIN { printf \"%.12g\", $1 }"; }

# readings NAME FUNCTION COLUMN - 21 greys
readings() {
    awk "$printers BEGIN {
        print \"# name: $1\n# material: print\n# density: reflection\n# status: visual\n$3,visual\"
        for (i = 0; i <= 20; i++)
            printf \"%g,%.2f\n\", \"$3\" == \"gray\" ? 5 * i : 1 - i / 20, $2(i / 20)
    }"
}
readings laser light value >laser.csv
readings rag dots value >rag.csv
readings laser light gray >laser-gray.csv
readings rag dots gray >rag-gray.csv

# sent FILE VALUE - what a table of values sends in place of it, by straight lines
sent() {
    awk -F , -v v="$2" '/^[0-9]/ { if ($1 >= v - 1e-9) { t = $1 > x ? (v - x) / ($1 - x) : 1; print y + t * ($2 - y); exit }
        x = $1; y = $2 }' "$1"
}

# 1. The curve: 0.02 D in the light half, above each paper's own white
run match --aim laser.csv --print rag.csv -o curve.csv --json
exits 0 'a curve'
cp out curve.json
same 'kind' correction "$(value curve.json kind)"
same 'of' value "$(value curve.json control)"
for v in 1 0.95 0.9 0.8 0.7 0.6 0.5 0.4; do
    near "value $v" "$(calc "light(1 - $v) + 0.02")" "$(calc "dots(1 - $(sent curve.csv $v))")" 0.02
done
same 'white stays white' 1 "$(sent curve.csv 1)"
same 'black becomes black' 0 "$(sent curve.csv 0)"
near 'the worst is black' "$(calc 'dots(1) - light(1) - 0.02')" "$(value curve.json worst)" 0.02
near 'there' 0 "$(value curve.json worst_at.in)" 0.002
near 'light tones' 0 "$(value curve.json regions.light)" 0.01
near 'middle tones' 0 "$(value curve.json regions.middle)" 0.01
near 'dark tones' -0.55 "$(value curve.json regions.dark)" 0.02
near 'as in the table' "$(sent curve.csv 0.501960784)" "$(value curve.json channels.gray.128.1)" 0.000002
holds 'rising' awk -F , '/^[0-9]/ { if ($2 < y) exit 1; y = $2 }' curve.csv
run match --aim laser.csv --print rag.csv
exits 0 'as text'
has 'the act' out 'Send gray through this curve: tones up to 1.00 D above white come out as the'
has 'the blacks' out "The blacks cannot match: this output's"
has 'from where on' out 'on tones are lighter than the aim by over 0.02 D'

# 2. Per cent, and densities themselves
run match --aim laser-gray.csv --print rag-gray.csv -o gray.csv --quiet
exits 0 'per cent'
run match --aim laser-gray.csv --print rag-gray.csv
has 'what per cent are' out '100 % is full ink, black, here and in a .csv; a .cube and an .icc hold the'
near 'the same curve' "$(calc "100 * (1 - $(sent curve.csv 0.6))")" "$(sent gray.csv 40)" 0.01
run match --aim laser.csv --print rag.csv --white match --json
exits 1 'densities themselves are out of reach'
same 'says so' false "$(value out holds)"
run match --aim rag.csv --print laser.csv --white match --json -o back.csv
exits 0 'and the other way round within it'
for v in 0.8 0.5 0.2 0; do
    near "absolute, value $v" "$(calc "dots(1 - $v)")" "$(calc "light(1 - $(sent back.csv $v))")" 0.02
done

# 3. Equal steps of L* (CIE 15: 116 Y^(1/3) - 16), a curve file, standard input
run match --aim lightness --print rag.csv -o steps.csv --quiet
exits 0 'equal steps'
lightness() { calc "116 * (10 ^ -$1) ^ (1 / 3) - 16"; }
for v in 0.75 0.5 0.25; do
    near "L* at $v" "$(calc "$(lightness 1.62) + $v * ($(lightness 0.07) - $(lightness 1.62))")" \
        "$(lightness "$(calc "dots(1 - $(sent steps.csv $v))")")" 0.7
done
{ echo 'logh,visual'; awk 'BEGIN { for (i = 0; i <= 20; i++)
    printf "%g,%.3f\n", i / 10, 0.08 + 2 / (1 + exp(-5 * (i / 10 - 1))) }'; } >paper.csv
run fit paper.csv -o paper.json --quiet
run match --aim paper.json --print laser.csv -o paper-curve.csv --quiet
exits 0 'a curve file'
paper() { calc "2 / (1 + exp(-5 * (2 * (1 - $1) - 1))) - 2 / (1 + exp(5)) + 0.05"; }
for v in 0.8 0.6 0.5; do
    near "as the paper, $v" "$(paper $v)" "$(calc "light(1 - $(sent paper-curve.csv $v))")" 0.02
done
ran='wedgework match --aim -'
"$WEDGEWORK" match --aim - --print rag.csv -o - --quiet <laser.csv >piped.csv 2>err
same 'standard input, standard output' "$(cat curve.csv)" "$(cat piped.csv)"

# 4. A second pass: the corrected print came out of an output whose dots gain much less than before
awk -F , "$printers"' NR == FNR { if (/^[0-9]/) { x[n] = $1; y[n++] = $2 } next }
    /^[0-9]/ { for (i = 1; i < n - 1 && x[i] < $1; i++); t = ($1 - x[i - 1]) / (x[i] - x[i - 1])
        printf "%s,%.2f\n", $1, dry(1 - (y[i - 1] + t * (y[i] - y[i - 1]))); next } { print }' \
    curve.csv rag.csv >second.csv
run match --aim laser.csv --print rag.csv --refine second.csv -o refined.csv
exits 0 'refined'
has 'what moved' out 'The corrected print moved what is known of this output by'
for v in 0.9 0.7 0.5; do
    near "refined, $v" "$(calc "light(1 - $v) + 0.02")" "$(calc "dry(1 - $(sent refined.csv $v))")" 0.02
done

run match --aim laser.csv --print rag.csv --refine rag.csv
exits 3 'a print without the curve'
has 'asks for it' err 'was it sent through the curve?'
refuses 3 "laser.csv: black is 2.15 D here, and the output's most is 1.62 D, beyond which no curve leads: is this the corrected print? Print the scale of greys on this output with the curve, and read that" \
    match --aim laser.csv --print rag.csv --refine laser.csv

awk -F , '/^0.5,/ { print $1 ",0.90"; next } { print }' rag.csv >off.csv
run match --aim laser.csv --print off.csv
exits 0 'a reading that is off'
has 'of which file' out "'off.csv': The reading at 0.5 is "
# From 0.5 on each reading is the next patch's, and the last one's was read twice.
awk -F , '/^[0-9]/ { v[n + 0] = $1; d[n++ + 0] = $2; next } { print }
    END { for (i = 0; i < n; i++) printf "%s,%s\n", v[i], d[i < 10 ? i : i + 1 < n ? i + 1 : n - 1] }' rag.csv >slipped.csv
run match --aim laser.csv --print slipped.csv
exits 1 'a row that slipped'
has 'is said first' out "A step was skipped near 0.50 in 'slipped.csv': look at the rows there, or read"
run match --aim laser.csv --print slipped.csv --json
same 'and in JSON' 'skipped 0.5 true' \
    "$(value out slip.step) $(value out slip.from) $(value out slip.taken)"
holds 'with a doubt of both' awk -v d="$(value out doubt)" 'BEGIN { exit !(d > 0.04) }'
awk -F , '/^[0-9]/ { print $1 ",0.50"; next } { print }' rag.csv >flat.csv
refuses 3 'flat.csv: density is 0.50 D in every grey: a flat column is no scale; look whether it is the right one, or read the greys again' \
    match --aim laser.csv --print flat.csv

# 5. Files that others read
run match --aim laser.csv --print rag.csv -o curve.cube --quiet
exits 0 'a cube'
run match --aim laser.csv --print rag.csv -o curve.icc --quiet
exits 0 'a device link'
# The package belongs to Debian's own Python; another may stand before that on the path.
python=python3
"$python" -c 'import PyOpenColorIO' 2>/dev/null || python=/usr/bin/python3
if "$python" -c 'import PyOpenColorIO' 2>/dev/null; then
    for v in 0 0.1 0.25 0.5 0.8 1; do
        near "the cube, read by another, $v" "$(sent curve.csv $v)" "$("$python" - "$v" <<'END'
import sys, PyOpenColorIO as o
cube = o.FileTransform(src='curve.cube', interpolation=o.INTERP_LINEAR)
v = float(sys.argv[1])
print(o.Config.CreateRaw().getProcessor(cube).getDefaultCPUProcessor().applyRGB([v, v, v])[1])
END
)" 0.0001
    done
else
    skip 'the cube, read by another: python3-pyopencolorio is not installed'
fi
if command -v transicc >/dev/null 2>&1; then
    for v in 0 0.1 0.25 0.5 0.8 1; do
        near "the link, read by another, $v" "$(calc "255 * $(sent curve.csv $v)")" \
            "$(calc "255 * $v" | transicc -v0 -l curve.icc 2>/dev/null | tail -n 1)" 0.02
    done
else
    skip 'the link, read by another: liblcms2-utils is not installed'
fi

# 6. A picture
printf '%s\n' 'size 400 300' 'scanner 0.9 0 0 1' 'noise 0 0 0' 'seed 1' 'channels 3' 'resolution 40' 'glass 0.05' \
    'box 100 150 80 80 0 0.1' 'box 200 150 80 80 0 0.4' 'box 300 150 80 80 0 1.1' >picture.scene
"$MAKE_SCANS" picture.scene picture.tif || bad 'make_scans'
spots='--spot a=100,150,30 --spot b=200,150,30 --spot c=300,150,30'
# shellcheck disable=SC2086
{
    run match --aim laser.csv --print rag.csv --apply picture.tif -o sent.tif --json
    exits 0 'a picture'
    run measure picture.tif $spots --json
    cp out before.json
    run measure sent.tif $spots --json
    cp out after.json
}
for i in 0 1 2; do
    code=$(value before.json rows.$i.code.green)
    near "patch $i" "$(calc "65535 * $(sent curve.csv "$(calc "$code / 65535")")")" \
        "$(value after.json rows.$i.code.green)" 1
done
near 'resolution is kept' 40 "$(value after.json px_per_mm)" 0.001
near '16 bits' 16 "$(value after.json bits)" 0

"$MAKE_SCANS" picture.scene pages.tif picture.scene pages.tif || bad 'two pages'
run match --aim laser.csv --print rag.csv --apply pages.tif -o page.tif --page 2 --quiet
exits 0 'a page'
rm -f page.tif

# 7. What cannot be done
refuses 2 'pages.tif: the file has 2 pages, and one is sent through the curve; say which with --page' \
    match --aim laser.csv --print rag.csv --apply pages.tif -o page.tif --quiet
holds 'no file of it' test ! -e page.tif
refuses 2 'no --aim is given; give readings of the print to be matched, a curve file, or the word lightness' \
    match --print rag.csv
refuses 2 'no --print is given; give readings of the output that is to match it' match --aim laser.csv
refuses 2 "a correction cannot be written as 'c.txt'; give a name that ends in .csv, .cube, .icc or .json" \
    match --aim laser.csv --print rag.csv -o c.txt
refuses 2 "a correction cannot be written as 'c.tif'; give a name that ends in .csv, .cube, .icc or .json, or the \
picture too: --apply IN.tif" match --aim laser.csv --print rag.csv -o c.tif
refuses 2 'no -o says where the TIFF file goes; give -o OUT.tif' match --aim laser.csv --print rag.csv --apply picture.tif
refuses 2 "--apply makes a TIFF file, and -o says 'c.csv'; give -o OUT.tif, and the curve by a run without --apply" \
    match --aim laser.csv --print rag.csv --apply picture.tif -o c.csv
refuses 2 '--page plays no part without --apply; leave it out' match --aim laser.csv --print rag.csv --page 2
refuses 3 "laser-gray.csv: gray is sent here, value to the print; give both as values or both in per cent" \
    match --aim laser-gray.csv --print rag.csv
sed 's/visual$/M/;s/status: .*/status: M/;s/^value,M/value,visual/' rag.csv >m.csv
refuses 3 'm.csv: this is read in status M, the other in visual, and no constant makes one of the other; read both alike' \
    match --aim laser.csv --print m.csv
refuses 3 'curve.csv: this is a correction that match wrote, no readings of a print; give the readings of the print that is to be matched' \
    match --aim curve.csv --print rag.csv
head -n 16 rag.csv >half.csv
refuses 3 'half.csv: the scale is read from 1 to 0.5 only, and nothing is guessed beyond; read the black that it prints' \
    match --aim laser.csv --print half.csv
holds 'nothing was left behind' test ! -e c.txt -a ! -e c.tif -a ! -e c.csv
printf 'gray,visual\n0,0.08\n0.25,0.3\n0.5,0.7\n0.75,1.1\n1,1.6\n' >shares.csv
refuses 3 'shares.csv:6: gray is 1 here, the most of the scale, and 100 % is full tone; if these are shares of 1, write 100 times as much' \
    match --aim lightness --print shares.csv
printf 'cyan,visual\n0,0.08\n50,0.7\n100,1.6\n' >cyan.csv
refuses 3 'cyan.csv: no column says what was sent; add value (0 black to 1 white) or gray (0 to 100 %, black ink), or value_red, value_green and value_blue or cyan, magenta and yellow, alike in a row' \
    match --aim lightness --print cyan.csv

# 8. Curves for red, green and blue
awk "$printers"' BEGIN { print "value_red,value_green,value_blue,red,green,blue"
    for (i = 0; i <= 20; i++) { u = i / 20; v = 1 - u
        printf "%g,%g,%g,%.2f,%.2f,%.2f\n", v, v, v, dots(u), light(u), dots(u * 0.9 + u * u * 0.1) } }' >rgb.csv
awk "$printers"' BEGIN { print "value_red,value_green,value_blue,red,green,blue"
    for (i = 0; i <= 20; i++) { u = i / 20; v = 1 - u
        printf "%g,%g,%g,%.2f,%.2f,%.2f\n", v, v, v, light(u), light(u), light(u) } }' >rgb-aim.csv
run match --aim rgb-aim.csv --print rgb.csv -o rgb.csv.csv --json
exits 0 'three curves'
near 'red as gray' "$(sent curve.csv 0.5)" "$(awk -F , '$1 == "0.501961" { print $2 }' rgb.csv.csv)" 0.01
near 'green as it was' 0.501961 "$(awk -F , '$1 == "0.501961" { print $3 }' rgb.csv.csv)" 0.005
run match --aim rgb-aim.csv --print rgb.csv --apply picture.tif -o rgb.tif --quiet
exits 0 'on a picture'
run match --aim lightness --print rgb.csv --json
exits 3 'equal steps of three colours'

# 9. A display, of 120 v^2.2 + 0.1 cd/m2, previews the print: densities above its own white, down to the print's black
awk "$printers"' BEGIN { print "# material: screen\nvalue,Y,x,y"
    for (i = 0; i <= 20; i++)
        printf "%g,%.4g,0.3127,0.3290\n", 1 - i / 20, 120 * (1 - i / 20)^2.2 + 0.1 }' >screen.csv
run match --aim rag.csv --print screen.csv -o preview.csv --json
exits 0 'a preview'
for v in 1 0.8 0.6 0.4 0.2 0; do
    near "shown at $v" "$(calc "dots(1 - $v) - 0.07")" \
        "$(calc "log10(120.1 / (120 * $(sent preview.csv $v)^2.2 + 0.1))")" 0.02
done
refuses 3 'screen.csv: densities are relative to white, and --white match needs absolute ones; read them so, or leave --white match out' \
    match --aim rag.csv --print screen.csv --white match

if command -v gnuplot >/dev/null 2>&1; then
    run match --aim rgb-aim.csv --print rgb.csv --plot curve.svg --report curve.html --quiet
    exits 0 'plot and page'
    holds 'a plot' grep -q 'as foretold' curve.svg
    holds 'a page' grep -q '<svg ' curve.html
else
    skip 'plot and page: gnuplot is not installed'
fi
finish
