#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# scans.sh - measure's options and files (interface §1, §5): what goes together, where results of one scan and
# of several go, that nothing is spoilt; and a wedge of other densities than the one that calibrated, upright, in
# three channels, to 2.5. Expected densities, places and codes are the scenes' own (closed form):
#   code = 65535 (dark + k (10^-D + flare))
. tests/support/cli.sh
: "${MAKE_SCANS:?names the maker of scans}"
make_scans() { "$MAKE_SCANS" "$@" || bad "make_scans $*"; }
steps() { awk -v n="$1" -v first="$2" -v gap="$3" 'BEGIN { for (i = 0; i < n; i++) printf " %.4f", first + gap * i }'; }
table() { # NAME... - columns step and these, from lines of densities
    echo "step,$1"
    awk '{ print NR "," $0 }'
}
how='scanner 0.9 0.003 0.0 1
noise 0.0002 0.0012 0.002
channels 3
factors 1 1.04 0.97'
# The scanner's own wedge, on open light
wide=$(steps 21 0.05 0.15)
printf '%s\n' 'size 640 300' "$how" 'seed 81' 'glass 0' "strip 320 150 570 130 -2.2$wide" >wedge.scene
# Another: 11 steps, upright, the dense end at the top, on dark glass. Steps are 42 px long.
other=$(steps 11 0.137 0.2363)
turned=$(for d in $other; do echo "$d"; done | sort -rn | tr '\n' ' ')
printf '%s\n' 'size 320 520' "$how" 'seed 82' 'glass 3.4' "strip 160 260 462 110 90 $turned" 'dust 20' >other.scene
# No noise, four tones in known shares: 0.1, 0.2, 0.3, 0.4 of 60000 px
printf '%s\n' 'size 300 200' 'scanner 0.9 0.003 0 1' 'glass 0.4' 'box 15 100 30 200 0 2.0' \
    'box 60 100 60 200 0 1.3' 'box 135 100 90 200 0 0.9' >tones.scene
make_scans wedge.scene wedge.tif other.scene other.tif tones.scene tones.tif
{ for d in $wide; do awk -v d="$d" 'BEGIN { printf "%.4f,%.4f,%.4f\n", d, 1.04 * d, 0.97 * d }'; done; } |
    table red,green,blue >wedge.csv
{ for d in $other; do echo "$d"; done; } | table visual >other.csv
run scanner wedge.tif --wedge wedge.csv -o s.json
exits 0 'calibrated in three channels'

# Another wedge, its direction from its densities
run measure other.tif --wedge other.csv --scanner s.json --json -o other-read.csv
exits 0 'an upright wedge'
cp out other.json
same 'upright' true "$(value other.json wedge.upright)"
same 'its thin end lies below' true "$(value other.json wedge.reversed)"
i=0
for d in $other; do
    same "label $((i + 1))" "$((i + 1))" "$(value other.json rows.$i.step)"
    near "place of step $((i + 1)): across" 160 "$(value other.json rows.$i.centre.0)" 1
    near "along" "$((470 - 42 * i))" "$(value other.json rows.$i.centre.1)" 1
    for channel in red:1 green:1.04 blue:0.97; do
        near "density of step $((i + 1)), ${channel%:*}" "$(awk "BEGIN { print $d * ${channel#*:} }")" \
            "$(value other.json rows.$i.density.${channel%:*})" 0.01
    done
    i=$((i + 1))
done
same 'the readings have the three' 'step,red,green,blue,sd_red,sd_green,sd_blue' "$(grep '^step' other-read.csv)"
run measure other.tif --steps 11 --scanner s.json -o -
exits 0 '-o -'
same 'gives the readings' "$(sed -n 's/^1,\([^,]*\),.*/\1/p' out)" "$(sed -n 's/^11,\([^,]*\),.*/\1/p' other-read.csv)"
holds 'and nothing else' sh -c '! grep -v -E "^(#|step|[0-9])" out'
run measure other.tif --steps 11 --scanner s.json --quiet --overlay one.png -o q.csv
holds '--quiet prints nothing' test ! -s out -a -s q.csv

# A print's strip by a scanner file that a film wedge made
{ echo '# density: transmission'; cat wedge.csv; } >film-wedge.csv
{ printf '%s\n' '# material: strip' '# density: reflection' 'step,time,visual'
  awk 'BEGIN { for (i = 1; i <= 11; i++) print i "," 2 * i "," }'; } >plan.csv
run scanner wedge.tif --wedge film-wedge.csv -o film-scanner.json
run measure other.tif --steps 11 --scanner film-scanner.json --through plan.csv -o print-strip.csv
exits 1 'a print by a film wedge'
holds 'the first line says that densities are off' sh -c 'head -n 1 out | grep -q "^All densities here are off, as a note says: "'
has 'which is said' print-strip.csv '# note: The strip has reflection densities, but the scanner file was made with a wedge of transmission'
has 'what the plan says of the strip' print-strip.csv '# material: strip'
has 'goes along' print-strip.csv '# density: reflection'

# The whole, without noise: percentiles by definition
run measure tones.tif --whole --json
exits 0 'the whole'
code() { awk "BEGIN { printf \"%.0f\", 65535 * 0.9 * (exp(-$1 * log(10)) + 0.003) }"; }
for row in min:2.0 p0.1:2.0 p1:2.0 median:0.9 p99:0.4 p99.9:0.4 max:0.4; do
    near "code of ${row%:*}" "$(code "${row#*:}")" "$(value out "channels.visual.${row%:*}")" 0.51
done
run measure tones.tif --whole --json --strip 0,0,30,200
same 'of a rectangle' "6000 $(code 2.0)" "$(value out pixels) $(value out channels.visual.max)"
run measure tones.tif --whole -o whole.json
has 'without --json, -o is the same document' whole.json '"histogram"'
holds 'and the text is printed' test -s out

# Several scans
run measure other.tif wedge.tif --steps 11 --scanner s.json
exits 3 'one has other steps'
has 'which is told' err 'wedgework: wedge.tif: found 21 steps'
run measure wedge.tif nowhere.tif other.tif tones.tif --whole
exits 3 'one is not there'
same 'the others are told' 3 "$(grep -c 'Every pixel was counted' out)"
same 'each below its own name' 'wedge.tif: other.tif: tones.tif:' "$(grep -B 1 -E '^(Code|Density|Codes) .*(without|to)' out | grep 'tif' | tr '\n' ' ' | sed 's/ $//')"
same 'apart by an empty line' 2 "$(grep -B 1 -E '^(wedge|other|tones).tif:$' out | grep -c '^$')"
same 'its message is one line' 'wedgework: nowhere.tif: there is no such file; check the name' "$(cat err)"
run measure other.tif wedge.tif --whole --scanner s.json -o made --quiet
exits 0 'a folder is made'
holds 'and holds a document each' test -s made/other.json -a -s made/wedge.json -a ! -s out
for file in new.csv new.JSON sub/new.json; do
    refuses 2 "-o: several scans have a file each, in one folder, and '$file' is the name of a file; give the folder's name, as in -o results" \
        measure other.tif wedge.tif --whole -o $file
    holds 'and nothing is made' test ! -e $file
done
refuses 2 "--overlay: several scans have a file each, in one folder, and 'look.png' is the name of a file; give the folder's name, as in --overlay results" \
    measure other.tif wedge.tif --steps 11 --overlay look.png
mkdir odd.csv
run measure other.tif wedge.tif --whole -o odd.csv --quiet
exits 0 'a folder that is there may be called anything'
run measure other.tif other.tif --steps 11 --scanner s.json -o made
exits 2 'one name for two'
run measure other.tif wedge.tif --spot base=20,20,9 --scanner s.json -o made
exits 0 'spots of several'
holds 'are readings' grep -q '^base' made/wedge.csv
run measure other.tif wedge.tif --spot base=20,20,9 -o made --quiet
holds 'without a scanner file they are codes' grep -q '"code"' made/wedge.json
mkdir sub
cp other.tif sub/other.tif
refuses 2 "-o: two scans would both be written to 'made/other.json'; measure them one at a time, or give them names of their own" \
    measure other.tif sub/other.tif --steps 11 -o made
refuses 2 "-o would overwrite the input 'wedge.csv'; give it another name" measure wedge.tif other.tif --wedge wedge.csv --scanner s.json -o .
: >plain
run measure other.tif wedge.tif --whole -o plain
exits 4 'a file where a folder is wanted'
holds 'is left alone' grep -q '"scanner"' s.json
if command -v gnuplot >/dev/null; then
    run measure other.tif wedge.tif --spot base=20,20,9 --overlay looks --quiet
    exits 0 'overlays of several'
    holds 'one each' test -s looks/other.png -a -s looks/wedge.png
else
    skip 'gnuplot is not installed'
fi
mkdir bin
PATH_kept=$PATH
PATH=$(pwd)/bin
"$WEDGEWORK" measure other.tif --steps 11 --scanner s.json --overlay plain.png -o plain.csv >out 2>err
status=$?
PATH=$PATH_kept
same 'without gnuplot the overlay is missing' 4 "$status"
has 'which is said' err gnuplot
holds 'and all else is given' test -s out -a -s plain.csv -a ! -e plain.png

# Wrong use
ways='give one of --wedge WEDGE.csv, --steps N, --spot NAME=X,Y,R or --whole'
refuses 2 "measure needs to know what is to be read; $ways" measure other.tif
refuses 2 '--wedge and --whole are two ways to measure a scan; give one' measure other.tif --whole --wedge other.csv
refuses 2 '--spot and --whole are two ways to measure a scan; give one' measure other.tif --spot a=9,9,5 --whole
refuses 2 '--reverse does not go with --wedge: it numbers steps that --steps found; leave it out' measure other.tif --wedge other.csv --reverse
refuses 2 '--overlay does not go with --whole: of a whole scan there is nothing to draw; leave it out' measure other.tif --whole --overlay o.png
refuses 2 '--strip does not go with --spot: spots have their own places; leave it out' measure other.tif --spot a=9,9,5 --strip 0,0,9,9
refuses 2 '--through puts exposures beside densities, and codes become densities by a scanner file alone; give --scanner S.json' measure other.tif --steps 11 --through other.csv
refuses 2 '-o writes densities, and codes become densities by a scanner file alone; give --scanner S.json, or -o FILE.json for the codes' measure other.tif --steps 11 -o r.csv
refuses 2 '--plot shows one scan; give one scan at a time' measure other.tif wedge.tif --whole --plot p.svg
refuses 2 'several scans have several results, and -o - has room for one; give -o a folder, or take --json' measure other.tif wedge.tif --whole -o -
refuses 2 'a scan is read in several places at once and cannot come from standard input; name a file' measure - --whole
spot='write NAME=X,Y,R in pixels, for instance cloud=1210,344,20'
refuses 2 "--spot: 'cloud' is no spot with a name; $spot" measure other.tif --spot cloud
refuses 2 "--spot: '=1,2,3' is no spot with a name; $spot" measure other.tif --spot =1,2,3
refuses 2 "--spot: 'a=1,2' is no spot: there are not 3 numbers between commas; $spot" measure other.tif --spot a=1,2
refuses 2 "--spot: 'a=1,2,3,4' is no spot: there are not 3 numbers between commas; $spot" measure other.tif --spot a=1,2,3,4
refuses 2 "--spot: 'a=1,x,3' is no spot: 'x' is not a number; $spot" measure other.tif --spot a=1,x,3
refuses 2 "--spot: 'a=1,2,0' lies outside, or has a radius not above 0; $spot" measure other.tif --spot a=1,2,0
region='write X,Y,W,H in whole pixels, for instance 100,50,2400,600'
refuses 2 "--strip: '1,2,0,4' is no region; $region" measure other.tif --steps 11 --strip 1,2,0,4
refuses 2 "--strip: '1.5,2,3,4' is no region; $region" measure other.tif --steps 11 --strip 1.5,2,3,4
refuses 2 "--steps cannot be '2'; give a whole number from 3 to 250" measure other.tif --steps 2
run measure other.tif --steps 11 --overlay look.jpg
exits 2 'an overlay that is no PNG'
run measure other.tif --steps 11 --scanner wedge.csv
exits 3 'readings for a scanner file'
run measure tones.tif --whole --scanner s.json
exits 3 'a grey scan by a scanner of three channels'
run measure other.tif --steps 11 --scanner s.json --through wedge.csv
exits 3 'through a wedge of other steps'

# A bar on a terminal, after a second: with so many scans that they take longer than that
if command -v script >/dev/null; then
    for n in 60 400 2400; do
        many=$(i=0; while [ $i -lt $n ]; do echo other.tif; i=$((i + 1)); done | tr '\n' ' ')
        script -qec "'$WEDGEWORK' measure $many --steps 11 --json" /dev/null >terminal </dev/null 2>&1
        ! grep -q 'scan [0-9]* of' terminal || break
    done
    holds 'a bar' grep -q "scan [0-9]* of $n \[#*\.*\] *[0-9]* %" terminal
    holds 'without colours' sh -c "! grep -q \"\$(printf '\\033')\" terminal"
    script -qec "'$WEDGEWORK' measure $many --steps 11 --overlay bars" /dev/null >terminal </dev/null 2>&1
    same 'names that clash on a terminal' 1 "$(grep -c 'two scans would' terminal)"
    script -qec "'$WEDGEWORK' measure $many --steps 11 --quiet" /dev/null >terminal </dev/null 2>&1
    holds 'none with --quiet' test ! -s terminal
else
    skip 'script(1) is not installed'
fi
# shellcheck disable=SC2086
run measure other.tif other.tif --steps 11 --json
holds 'no bar in a file' test ! -s err
finish
