#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# measure.sh - scans become readings. The scans are drawn from scenes of known densities
# (tests/support/make_scans.c); expected are the scenes' densities. The real scan and its patch values are outside data:
# six strips of exposed film, values by its owner's software (see the data's README).
. tests/support/cli.sh
: "${MAKE_SCANS:?names the maker of scans}"
case $MAKE_SCANS in /*) ;; *) MAKE_SCANS=$top/$MAKE_SCANS ;; esac
demo=$top/stepwedges/demo
"$MAKE_SCANS" "$demo/wedge.scene" wedge.tif "$demo/dark.scene" dark.tif \
    "$demo/strip.scene" strip.tif "$demo/negative.scene" negative.tif
cp "$demo/wedge.csv" wedge.csv
run scanner wedge.tif --wedge wedge.csv --dark dark.tif -o s.json
exits 0 'calibrated'

# The strip's densities stand in its scene, thin end first, which lies left.
run measure strip.tif --steps 21 --scanner s.json -o film.csv --json
exits 0 'a strip'
same 'kind' readings "$(value out kind)"
same 'steps' 21 "$(value out wedge.steps)"
near 'its angle' -1.6 "$(value out wedge.angle)" 0.2
i=0
for density in $(sed -n 's/^strip 446 190 790 170 -1.6 //p' "$demo/strip.scene"); do
    near "step $((i + 1))" "$density" "$(value out rows.$i.density.visual)" 0.01
    i=$((i + 1))
done
same 'all steps' 21 "$i"
has 'a scanner is no densitometer' film.csv '# status: scanner'
same 'its rows' 21 "$(grep -c '^[0-9]' film.csv)"
run measure strip.tif --steps 21 --scanner s.json --json --jobs 1
cp out one.json
run measure strip.tif --steps 21 --scanner s.json --json --jobs 7
holds 'the same for any number of threads' cmp out one.json
run measure strip.tif --steps 21 --reverse --scanner s.json --json
same 'from the other end' "$(value one.json rows.20.density.visual)" "$(value out rows.0.density.visual)"
run measure wedge.tif --wedge wedge.csv --scanner s.json --json
exits 0 'a known wedge'
near 'its thinnest step' 0.05 "$(value out rows.0.density.visual)" 0.02
run measure strip.tif --steps 21 --reverse --scanner s.json --through wedge.csv -o through.csv
exits 0 'through'
has 'the column is there' through.csv 'wedge'

# The base beside the strip, in the same call: one table, as the fit takes it. Its density stands in the scene.
run measure strip.tif --steps 21 --reverse --spot base=450,410,40 --spot margin=750,400,30 --scanner s.json --json -o both.csv
exits 0 'a strip and spots'
same 'its steps' 21 "$(value out wedge.steps)"
same 'a spot is a tone' base "$(value out rows.21.tone)"
near 'the base' 0.24 "$(value out rows.21.density.visual)" 0.01
same 'steps and base are rows' 22 "$(grep -c '^[0-9b]' both.csv)"
has 'another spot is none, and is named' both.csv "# note: Spot 'margin' is no row of the readings"
holds 'but a note' sh -c "! grep -q '^margin' both.csv"
cat "$demo/film.txt" both.csv >both-film.csv
run fit both-film.csv --through wedge.csv --json
exits 0 'the fit takes it'
near 'with the base that was read' 0.24 "$(value out channels.visual.base_fog.value)" 0.01
same 'so it says' measured "$(value out channels.visual.base_fog.how)"
run measure strip.tif --steps 21 --reverse --spot glass=750,400,30 --scanner s.json
exits 1 'what is named glass and is none'
has 'is told' out 'darker than open light was when'
run measure strip.tif --steps 21 --spot base=450,410,40 --whole
exits 2 'but not the whole'

for steps in 19 23; do
    run measure strip.tif --steps $steps -o none.json
    exits 3 "not $steps steps"
    has "what was found in place of $steps" err 'strip.tif: found 21 steps'
    holds 'nothing is written' test ! -e none.json
done
run measure negative.tif --steps 21
exits 3 'a picture is no wedge'
run measure dark.tif --steps 11
exits 3 'darkness is no wedge'

# Other settings than those of the calibration. The wedge's scene, drawn anew: in 8 bit, encoded by a power of 2.2 in
# 16, and with less light by 0.03 D and by 0.01 D (a share of 10^-0.03 and 10^-0.01 of 0.93).
grep -v '^bits' "$demo/wedge.scene" | sed 's/^seed/bits 8\nseed/' >eight.scene
sed 's/^scanner .*/scanner 0.93 0.0035 0.0006 2.2/' "$demo/wedge.scene" >encoded.scene
sed 's/^scanner .*/scanner 0.86794 0.0035 0.0006 1/' "$demo/wedge.scene" >darker.scene
sed 's/^scanner .*/scanner 0.90883 0.0035 0.0006 1/' "$demo/wedge.scene" >nearly.scene
# The demonstration's strip on bare glass, with 0.025 D more light (0.985 for 0.93), and with so much that glass is clipped.
sed 's/^scanner .*/scanner 0.993 0.0035 0.0006 1/; s/^noise .*/noise 0.0003 0.0005 0.0005/; s/^glass .*/glass 0/' \
    "$demo/strip.scene" >brighter.scene
sed 's/^scanner .*/scanner 1.2 0.0035 0.0006 1/; s/^glass .*/glass 0/' "$demo/strip.scene" >brightest.scene
for scene in eight encoded darker nearly brighter brightest; do "$MAKE_SCANS" $scene.scene $scene.tif || bad "scan $scene"; done
run measure eight.tif --wedge wedge.csv --scanner s.json -o none.csv
exits 3 'another bit depth'
has 'is told by its bits' err "eight.tif: the scan has 8 bits a sample, but the scanner file was made from 'wedge.tif' with 16"
run measure eight.tif --whole --scanner s.json -o none.csv
exits 3 'for a whole scan, too'
run measure encoded.tif --wedge wedge.csv --scanner s.json -o none.csv
exits 3 'another encoding'
has 'is told by the wedge' err 'times as steep as it is: either the strip on the glass is not that wedge (then give --steps), or the codes of this scan are encoded otherwise'
holds 'nothing is written' test ! -e none.csv
run measure darker.tif --wedge wedge.csv --scanner s.json
exits 1 'a base that is 0.03 D darker than it was'
holds 'the first line says so' sh -c 'head -n 1 out | grep -q "^All densities here are off, as a note says: "'
has 'is warned of' out 'reads 0.03 D denser than'
run measure brighter.tif --steps 21 --scanner s.json --json
exits 1 'a strip in 0.028 D more light'
has 'is told by the glass beside it' out 'Beside the strip the scan is 0.03 D lighter than open light was'
same 'no doubt is given' null "$(value out rows.3.standard_error.visual)"
run measure brightest.tif --steps 21 --scanner s.json
exits 1 'a strip whose glass is clipped'
holds 'the first line says so' sh -c 'head -n 1 out | grep -q "^All densities here are off, as a note says: "'
run measure brightest.tif --steps 21 --scanner s.json --json
has 'is told by how much at least' out 'the scan is at least 0.03 D lighter than open light was'
run measure nearly.tif --wedge wedge.csv --scanner s.json
exits 0 'a base that is 0.01 D darker'
holds 'is borne' sh -c "! grep -q 'when the scanner was calibrated' out"
run measure wedge.tif --wedge wedge.csv --scanner s.json
holds 'and so is the scan itself' sh -c "! grep -q 'when the scanner was calibrated' out"

# One step more in the file than lies on the glass, whose dark passes for it: what decided is told, by file and number.
{ cat wedge.csv; echo 22,3.20; } >more.csv
run measure wedge.tif --wedge more.csv --scanner s.json --json
exits 0 'a wedge of one step more'
has 'is told by its file' out 'decided by the number of steps in more.csv, 22; count those on the glass'

# Two strips on the glass: of one number of steps none is taken but by --strip; of two numbers the other is told
densities=$(sed -n 's/^strip 446 190 790 170 -1.6 //p' "$demo/strip.scene")
{ sed -e 's/^size.*/size 900 760/' "$demo/strip.scene"; echo "strip 440 550 760 150 1.5 $densities"; } >twice.scene
{ sed -e 's/^size.*/size 900 760/' "$demo/strip.scene"
    echo 'strip 440 550 760 150 1.5 0.3 0.5 0.7 0.9 1.1 1.3 1.5 1.7 1.9 2.1 2.3'; } >other.scene
"$MAKE_SCANS" twice.scene twice.tif other.scene other.tif || bad 'two strips'
run measure twice.tif --steps 21 --scanner s.json -o none.csv
exits 3 'two strips'
has 'are told' err 'more than one strip of 21 steps lies there; choose with --strip '
sed -n 's/.*choose with --strip \([^ ]*\) or --strip \([^ ]*\)$/\1 \2/p' err | tr ' ' '\n' >places
while read -r place; do
    run measure twice.tif --steps 21 --scanner s.json --strip "$place" --json
    exits 0 "one is read in $place"
    near 'a step of it' "$(echo "$densities" | cut -d ' ' -f 9)" "$(value out rows.8.density.visual)" 0.01
done <places
same 'two places' 2 "$(wc -l <places)"
for steps in 11 21; do
    run measure other.tif --steps $steps --scanner s.json --json
    exits 0 "the one of $steps steps"
    has 'the other is told' out "Another strip, of $((32 - steps)) steps, lies about "
done

# Two steps exchanged in a strip of 0.15 D a step: with flare and dark as light, by log10((10^-1.55 + 0.0035 + 0.0006 / 0.93) /
# (10^-1.7 + 0.0035 + 0.0006 / 0.93)) = 0.128 D
{ sed '/^strip/d' "$demo/strip.scene"
    echo 'strip 446 190 790 170 -1.6 0.2 0.35 0.5 0.65 0.8 0.95 1.1 1.25 1.4 1.7 1.55 1.85 2 2.15 2.3'; } >exchanged.scene
"$MAKE_SCANS" exchanged.scene exchanged.tif || bad 'exchanged steps'
run measure exchanged.tif --steps 15 --scanner s.json --json
exits 0 'two steps exchanged'
has 'are told' out "Step '11': out of order with the step before it, by 0.13 D of light"
near 'and read as they lie' 1.70 "$(value out rows.9.density.visual)" 0.01
run measure strip.tif --steps 21 --scanner s.json --json
holds 'in order nothing is said' sh -c "! grep -q 'out of order' out"

# A file of two pages
"$MAKE_SCANS" "$demo/strip.scene" pages.tif "$demo/negative.scene" pages.tif || bad 'two pages'
run measure pages.tif --steps 21 --scanner s.json
exits 0 'the first of two pages'
has 'which is said' out 'Page 1 of 2 was read; --page chooses another.'
run measure pages.tif --steps 21 --scanner s.json --page 1
holds 'unless it was asked for' sh -c "! grep -q 'Page 1' out"
run measure pages.tif --whole
has 'of a whole scan, too' out 'Page 1 of 2 was read; --page chooses another.'
run measure pages.tif --steps 21 --page 2
exits 3 'the strip is not on the other'

# The legend of a plot of three channels is one row: its words stand at one height
if command -v gnuplot >/dev/null; then
    sed 's/^seed/channels 3\nfactors 1 1.04 0.97\nseed/' "$demo/strip.scene" >rgb.scene
    "$MAKE_SCANS" rgb.scene rgb.tif || bad 'scan rgb'
    run measure rgb.tif --steps 21 --plot rgb.svg --quiet
    same 'one row of three words' '3 1' "$(awk '
        /translate\(/ { y = $0; sub(/.*translate\([^,]*,/, "", y); sub(/\).*/, "", y) }
        /<text>(red|green|blue)</ { n++; if (!(y in at)) rows++; at[y] = 1 }
        END { print n + 0, rows + 0 }' rgb.svg)"
fi

# Spots and the whole
run measure negative.tif --spot wall=515,300,14 --spot cloud/dense=374,108,24 --scanner s.json --json
exits 0 'spots'
near 'wall' 1.08 "$(value out rows.0.density.visual)" 0.01
near 'cloud' 1.49 "$(value out rows.1.density.visual)" 0.01
run measure negative.tif --whole --scanner s.json --json
exits 0 'the whole'
same 'kind of it' histogram "$(value out kind)"
same 'every pixel' 450000 "$(value out pixels)"
run measure negative.tif --spot edge=2,2,10
exits 3 'a spot reaches outside'

# Spots that are no one tone: over the edge between steps 11 and 12 (0.8559 and 0.9581, 0.10 D apart), where less than
# half or nothing at all is left out, and beside it, where a quarter is. Trust grows, and then there is no density.
run measure strip.tif --spot even=446,190,10 --spot beside=458,190,16 --spot near=462,190,16 --spot across=465,190,16 \
    --scanner s.json --json
exits 0 'spots over an edge'
near 'on one step' 0.856 "$(value out rows.0.density.visual)" 0.01
near 'is as sure as the certificate and the light of two scans' 0.0056 "$(value out rows.0.standard_error.visual)" 0.0005
near 'a quarter left out' 0.27 "$(value out rows.1.rejected)" 0.05
near 'makes it as doubtful' 0.014 "$(value out rows.1.standard_error.visual)" 0.005
same 'nearly half left out' null "$(value out rows.2.density.visual)"
same 'across' null "$(value out rows.3.density.visual)"
has 'is told' out "so it has no one density and none is given; move it onto one even tone"
# Light that was clipped, and lighter than open light: the scanner's line of that scene with 1.07 times the light.
printf '%s\n' 'size 300 100' 'scanner 0.995 0.0035 0.0006 1' 'noise 0.0003 0.0016 0.0025' 'seed 7' 'glass 0.4' \
    'disc 50 50 40 -0.02' 'disc 150 50 40 0.01' >light.scene
"$MAKE_SCANS" light.scene light.tif || bad 'scan light'
run measure light.tif --spot clipped=50,50,30 --spot light=150,50,30 --spot grey=250,50,30 --scanner s.json --json
exits 1 'too much light'
same 'clipped: no density' null "$(value out rows.0.density.visual)"
same 'and not over, which is dense' '' "$(value out rows.0.over.0)"
near 'but less than that of white, and its doubt' -0.03 "$(value out rows.0.less_than.visual)" 0.021
has 'in words' out "Spot 'clipped': 100 % of the pixels are clipped at the greatest code, so there is no density but"
has 'lighter than open light' out 'lighter than open light was when the scanner was calibrated'
run measure light.tif --spot clipped=50,50,30 --spot grey=250,50,30 --scanner s.json -o light.csv
holds 'the first line says so' sh -c 'head -n 1 out | grep -q "^All densities here are off, as a note says: "'
has 'missing in the table' light.csv 'clipped,-'
holds 'no doubt to trust it by' sh -c "! grep -q sd_visual light.csv"
has 'and told there' light.csv "# note: Spot 'clipped': 100 % of the pixels are clipped"
run measure light.tif strip.tif --whole --scanner s.json
exits 1 'one of two is off'

# Several: one line each; a bad one does not stop the rest
echo nonsense >bad.tif
run measure strip.tif bad.tif negative.tif --whole --json -o several
exits 3 'one of three is bad'
same 'two results' 2 "$(wc -l <out | tr -d ' ')"
has 'the bad one is named' err 'wedgework: bad.tif: '
holds 'a file each' test -s several/strip.json -a -s several/negative.json
if command -v gnuplot >/dev/null; then
    run measure strip.tif --steps 21 --overlay look.png --quiet
    exits 0 'an overlay'
    holds 'it is a picture' sh -c "head -c 4 look.png | grep -q PNG"
else
    skip 'gnuplot is not installed'
fi

# Wrong use
run measure strip.tif
exits 2 'what is to be read?'
run measure strip.tif --steps 21 --whole
exits 2 'one way at a time'
run measure strip.tif --spot nowhere
exits 2 'a spot without a place'
run measure strip.tif --steps 21 --strip 0,0,0,9
exits 2 'an empty rectangle'
run measure strip.tif --steps 21 --page 2
exits 3 'no such page'
refuses 3 "strip.tif: the region 0,0,99999,99999 (x, y, width, height) does not lie in the picture of 900 x 500 px; give one that does" \
    measure strip.tif --steps 21 --strip 0,0,99999,99999
run measure strip.tif --steps 21 -o codes.csv
exits 2 'codes are no readings'

# The real scan: 1 % of the published means; boxes are row, column, rows, columns of the middle of each strip.
real=${WEDGEWORK_DATA:-$top/../shared/data}/scans
if [ -r "$real/film20240620_002.tif" ]; then
    grep '^film20240620_002,' "$real/expected_patches.csv" >rows.csv
    while IFS=, read -r _ dose row col rows cols red green blue _; do
        x=$((col + cols / 2)) y=$((row + rows / 2)) r=$((rows / 2))
        run measure "$real/film20240620_002.tif" --spot "d=$x,$y,$r" --json
        exits 0 "dose $dose"
        for channel in red:$red green:$green blue:$blue; do
            near "dose $dose, ${channel%:*}" "${channel#*:}" \
                "$(value out rows.0.code.${channel%:*})" "$(awk "BEGIN { print 0.01 * ${channel#*:} }")"
        done
    done <rows.csv
else
    skip "no scan in the outside data ($real)"
fi
finish
