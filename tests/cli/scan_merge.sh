#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# scan_merge.sh - two exposures become one, and a scan a picture of densities. Scenes are drawn by the model itself:
# code / 65535 = dark + k (10^-D + flare), variance of a pixel read^2 + shot^2 L. What is expected is computed from
# these numbers by hand; a mean with weights of least variance has 1 / (1 / v_s + 1 / v_l).
. tests/support/cli.sh
: "${MAKE_SCANS:?names the maker of scans}"
make_scans() { "$MAKE_SCANS" "$@" || bad "make_scans $*"; }
calc() { awk "BEGIN { printf \"%.12g\", $1 }"; }
flare=0.001 dark=0.0005 read=0.0006 shot=0.002 wide=''
wide=$(awk 'BEGIN { for (i = 0; i < 21; i++) printf " %.4f", 0.05 + 0.15 * i }')

# negative NAME K SEED [RIGHT] [GAMMA] - one negative at an exposure, displaced by so many pixels
negative() {
    r=${4:-0}
    printf '%s\n' 'size 480 360' "scanner $2 $flare $dark ${5:-1}" "noise $read $shot 0" "seed $3" 'channels 3' \
        'resolution 40' 'glass 0.05' "fade $((240 + r)) 90 460 160 0 0.2 2.4" "disc $((120 + r)) 80 30 1.1" \
        "disc $((330 + r)) 110 42 0.5" "disc $((400 + r)) 60 17 1.4" \
        "strip $((240 + r)) 190 440 30 0 0.3 1.2 0.6 1.5 0.4 1.0 0.7 1.9 0.5 1.3" \
        "box $((120 + r)) 280 100 100 0 2.0" "box $((240 + r)) 280 100 100 0 0.2" "box $((360 + r)) 280 100 100 0 1.0" \
        >"$1.scene"
    make_scans "$1.scene" "$1.tif"
}
spots='--spot dense=120,280,40 --spot thin=240,280,40 --spot middle=360,280,40'
light() { calc "$1 * (10 ^ -$2 + $flare)"; } # K D: beyond dark
code() { calc "65535 * ($(light "$1" "$2") + $dark)"; }
negative short 0.8 1
negative long 3.2 2

# 1. Merged: light of the shorter scan, noise of the best
run scan --merge short.tif long.tif -o merged.tif --json
exits 0 'merged'
same 'kind' 'scan merge' "$(value out kind)"
same 'the longer' long.tif "$(value out longer)"
for channel in red green blue; do
    near "$channel, stops" 2 "$(value out channels.$channel.stops.value)" 0.01
    near "$channel, black is the same light in both" "$(calc "$dark * (1 - 4)")" \
        "$(value out channels.$channel.offset)" 0.0002
done
near 'read noise' $read "$(value out channels.green.read)" 0.00012
near 'shot noise' $shot "$(value out channels.green.shot)" 0.0002
cp out merge.json
# shellcheck disable=SC2086
run measure merged.tif $spots --json
cp out read.json
near 'resolution is kept, px a mm' 40 "$(value read.json px_per_mm)" 0.001
near '16 bits' 16 "$(value read.json bits)" 0
i=0
for density in 2.0 0.2 1.0; do
    near "D $density, code" "$(code 0.8 $density)" "$(value read.json rows.$i.code.green)" \
        "$(calc "3 + 0.001 * $(code 0.8 $density)")"
    i=$((i + 1))
done
variance() { calc "($read ^ 2 + $shot ^ 2 * $1 * $(light 0.8 "$2")) / $1 ^ 2 + (1 / 65535) ^ 2 / 12"; } # RATIO D
both() { calc "65535 / sqrt(1 / $(variance 1 "$1") + 1 / $(variance 4 "$1"))"; }
near 'dense: noise of both' 1 "$(calc "$(value read.json rows.0.sd.green) / $(both 2.0)")" 0.1
near 'thin, clipped in the longer: noise of the shorter' 1 \
    "$(calc "$(value read.json rows.1.sd.green) / (65535 * sqrt($(variance 1 0.2)))")" 0.1
near 'middle: noise of both' 1 "$(calc "$(value read.json rows.2.sd.green) / $(both 1.0)")" 0.1
dense=$(calc "10 * $(calc "-log($(light 0.8 2.0)) / log(10)") + 0.5")
near 'and so it was foretold' "$(calc "$(both 2.0) / 65535 / (log(10) * 0.8 * 10 ^ -2)")" \
    "$(value merge.json "channels.green.noise.${dense%.*}.merged")" 0.002
# The other way round
run scan --merge long.tif short.tif -o other.tif --quiet
exits 0 'the other way round'
holds 'the same file' cmp merged.tif other.tif
holds 'quiet' test ! -s out
holds 'nothing beside it' test -z "$(find . -name '.wedgework*')"

# 2. Words
run scan --merge short.tif long.tif -o merged.tif --plot merge.svg --report merge.html
if command -v gnuplot >/dev/null; then
    exits 0 'plot and page'
    has 'a plot' merge.svg '<svg'
    has 'in the page, too' merge.html '<svg'
else
    skip 'gnuplot is not installed'
fi
has 'a page' merge.html '<h1>Merged, 2.00 stops apart if codes are light: '
# The darkest hundredth of the 172800 px is the last 0.05 D of the fade, 73600 px over 2.2 D: D 2.35
# and more, -log10(0.8 (10^-2.35 + 0.001) + 0.0005) = 2.31 below full scale.
has 'the act, at the darkest' out \
    'Merged, 2.00 stops apart if codes are light: noise of a pixel 2.30 D below full'
has 'what the offset is' out 'Offset is what the longer scan has beside so many times the'
has 'why' out "Why: 'long.tif' got more light than 'short.tif', measured at "
has 'codes are taken as light' out 'Nothing says how codes are encoded: they are taken as light.'

# 3. Codes of a power of 2.2, by a scanner file
printf '%s\n' 'size 640 300' "scanner 0.8 $flare $dark 2.2" "noise $read $shot 0" 'channels 3' 'seed 71' 'glass 0' \
    "strip 320 150 570 130 -1.2$wide" >wedge.scene
{ echo step,visual; printf '%s\n' $wide | awk '{ print NR "," $0 }'; } >wedge.csv
make_scans wedge.scene wedge.tif
run scanner wedge.tif --wedge wedge.csv -o power.json --quiet
exits 0 'calibrated'
negative coded-short 0.8 3 0 2.2
negative coded-long 3.2 4 0 2.2
run scan --merge coded-short.tif coded-long.tif --scanner power.json -o coded.tif --json
exits 0 'by a scanner file'
same 'its noise' 'scanner file' "$(value out noise_from)"
near 'stops' 2 "$(value out channels.green.stops.value)" 0.02
has 'their noise bears it out' out 'near a power of 2.2, by the scanner file, and the scans bear it out'
# shellcheck disable=SC2086
run measure coded.tif $spots --json
near 'dense, in the same encoding' "$(calc "65535 * ($(code 0.8 2.0) / 65535) ^ (1 / 2.2)")" \
    "$(value out rows.0.code.green)" 40
near 'thin' "$(calc "65535 * ($(code 0.8 0.2) / 65535) ^ (1 / 2.2)")" "$(value out rows.1.code.green)" 60

run scan --merge coded-short.tif coded-long.tif -o kept.tif
exits 3 'codes taken as light that are none'
has 'told by their noise' err 'coded-long.tif: its codes are no light: their noise falls where they rise ('
run scan --merge short.tif long.tif --scanner power.json -o kept.tif
exits 1 'light taken for encoded'
has 'whose word it is' out "is the scanner file's word,"
has 'what if codes are light: 2 stops' out '2.0 stops apart, not 4.'
has 'told: dark, to a power, is in no proportion' out 'apart, but not in one proportion at all levels: noise'
cp short.tif again.tif
run scan --merge short.tif again.tif -o kept.tif
exits 3 'one scan twice'
has 'told' err ".tif: has the very noise of '"

{ cat long.scene; echo 'disc 300 130 5 2.8'; } >dusty.scene
make_scans dusty.scene dusty.tif
run scan --merge short.tif dusty.tif -o kept.tif --json
exits 1 'dust in one of them'
same 'places of 64 x 64 px, of which 300,130 is in that from 256,128' 288,160 "$(value out differ.x),$(value out differ.y)"
near 'places' 1 "$(value out differ.places)" 0
has 'told' out 'has something moved between them, or dust come or gone?'

# 4. Densities
run scan --densities coded-short.tif --scanner power.json -o densities.tif --json
exits 0 'densities'
same 'kind' 'scan densities' "$(value out kind)"
near 'scale' 10000 "$(value out scale)" 0
near 'zero' 5000 "$(value out zero)" 0
near 'nothing beyond the calibration' 0 "$(value out channels.green.denser)" 0.001
# Beyond the wedge's last step by what that may be off by, 99.9 % of the normal distribution.
near 'the wedge ends there, but for its doubt' \
    "$(calc "3.05 + 3.2905 / 1.9600 * $(value power.json channels.green.doubt.0)")" \
    "$(value out channels.green.dense)" 0.002
# shellcheck disable=SC2086
run measure densities.tif $spots --json
i=0
for density in 2.0 0.2 1.0; do
    near "D $density" "$density" "$(calc "($(value out rows.$i.code.green) - 5000) / 10000")" 0.02
    i=$((i + 1))
done
near 'resolution is kept, px a mm' 40 "$(value out px_per_mm)" 0.001
run scan --densities coded-short.tif --scanner power.json -o densities.tif --report densities.html
has 'the act' out 'Densities written in 16 bits, code = 10000 D + 5000; trust +-'
has 'a page' densities.html '<h1>Densities written in 16 bits, '
has 'what it says of itself' densities.tif 'densities: code = 10000 D + 5000'
has 'whether settings are the same' out 'Nothing in this scan shows whether exposure'
run scan --densities coded-long.tif --scanner power.json -o densities.tif
exits 1 'lighter than open light was: another exposure'
has 'all are off' out 'code = 10000 D + 5000; all of them are off'
has 'and why' out ') are lighter than open light was when'

# 5. What is refused leaves nothing, and an old file as it was
mkdir kept
echo old >kept/out.tif
negative moved 3.2 2 2
run scan --merge short.tif moved.tif -o kept/out.tif
exits 3 'two pixels apart'
has 'told' err 'moved.tif: lies 2.0 px to the right of the other scan'
has 'and why' err ': more than 1 px, and merging would blur edges; scan both without touching film or holder'
# 48 drops in 96 x 72 px, that lie 2 px further right in the second
drops() { awk -v moved="$1" 'BEGIN { for (i = 0; i < 48; i++)
    print "disc", 30 + moved + 12 * (i % 8) + i * 7 % 5, 165 + 12 * int(i / 8) + i * 3 % 4, 3, 0.4 + i * 5 % 7 / 10 }'; }
{ cat short.scene; drops 0; } >drops.scene
{ cat long.scene; drops 2; } >slipped.scene
make_scans drops.scene drops.tif
make_scans slipped.scene slipped.tif
run scan --merge drops.tif slipped.tif -o kept/out.tif
exits 3 'a part slipped by two pixels'
has 'told' err 'slipped.tif: lies '
near 'px' 2 "$(sed -n 's/.*slipped.tif: lies \([0-9.]*\) px to the right.*/\1/p' err)" 0.4
has 'where' err '(middle left of the picture), but not as a whole: more than 1 px'
has 'what to do' err 'scan both again without touching it in between, flattened, and merge then'
head -c 300000 long.tif >cut.tif
run scan --merge short.tif cut.tif -o kept/out.tif
exits 3 'a file cut short'
has 'told' err 'cut.tif: '
negative far 800 5
run scan --merge short.tif far.tif -o kept/out.tif
exits 3 'no tone that both hold'
has 'told' err 'too few for the ratio of the exposures'
refuses 3 "wedge.tif: is of 640 x 300 px, but 'short.tif' of 480 x 360; scan both with one frame and resolution" \
    scan --merge short.tif wedge.tif -o kept/out.tif
sed 's/^channels 3/bits 8/' long.scene >eight.scene
make_scans eight.scene eight.tif
run scan --merge short.tif eight.tif -o kept/out.tif
exits 3 'grey to colour'
run scan --densities eight.tif --scanner power.json -o kept/out.tif
exits 3 'a scan of other settings than those of the scanner file'
same 'the old file' old "$(cat kept/out.tif)"
same 'nothing else' out.tif "$(ls -A kept)"
(
    ulimit -f 200
    run scan --merge short.tif long.tif -o kept/out.tif
    exits 4 'no room' >room.log
)
has 'no room' room.log 'ok no room'
has 'told' err 'kept/out.tif: cannot be written: File too large; it takes 1.1 MB, and no file may be larger than 102 kB'
same 'the old file' old "$(cat kept/out.tif)"
same 'nothing else' out.tif "$(ls -A kept)"

# 6. A signal, whenever it comes: the old file or the whole new one, and nothing else
for pause in 0.01 0.03 0.06 0.1 0.2 0.4; do
    "$WEDGEWORK" scan --merge short.tif long.tif -o kept/out.tif --quiet &
    process=$!
    sleep $pause
    kill -TERM $process 2>/dev/null
    wait $process 2>/dev/null
    same "nothing else, after $pause s" out.tif "$(ls -A kept)"
    if [ "$(head -c 3 kept/out.tif)" = old ]; then good "old, after $pause s"; else
        holds "whole, after $pause s" cmp kept/out.tif merged.tif; fi
done

# 7. Wrong use
refuses 2 'scan needs a file; write wedgework scan NEG.csv --scanner S.json' scan
refuses 2 'scan --merge needs two scans; write wedgework scan --merge A.tif B.tif -o OUT.tif' scan --merge short.tif -o x.tif
refuses 2 "'merged.tif' is one too many for scan --merge; merge two scans at a time" \
    scan --merge short.tif long.tif merged.tif -o x.tif
refuses 2 'scan --densities needs a file; write wedgework scan --densities IN.tif --scanner S.json -o OUT.tif' \
    scan --densities --scanner power.json -o x.tif
refuses 2 "'long.tif' is one too many for scan; plan for one negative at a time" \
    scan short.tif long.tif --scanner power.json
refuses 2 "'./short.tif' is given twice; give two scans of the negative, one exposed longer" \
    scan --merge short.tif ./short.tif -o x.tif
refuses 2 'no -o says where the TIFF file goes; give -o OUT.tif' scan --merge short.tif long.tif
refuses 2 'a TIFF file cannot go to standard output; name a file, -o OUT.tif' scan --merge short.tif long.tif -o -
refuses 2 "-o would overwrite the input 'short.tif'; give it another name" scan --merge short.tif long.tif -o short.tif
refuses 2 "-o would overwrite the input 'short.tif'; give it another name" \
    scan --densities short.tif --scanner power.json -o ./short.tif
refuses 2 'no --scanner is given; give the scanner file that `scanner -o` wrote' scan --densities short.tif -o x.tif
refuses 2 '--merge and --densities are two tasks; give one of them' scan --merge --densities short.tif long.tif -o x.tif
refuses 2 '--keep plays no part in merging; leave it out' scan --merge short.tif long.tif --keep cloud -o x.tif
refuses 2 '--separate plays no part in densities; leave it out' \
    scan --densities short.tif --scanner power.json --separate 0.01 -o x.tif
refuses 2 '--page plays no part in a plan; leave it out' scan wedge.csv --scanner power.json --page 2
run scan --merge short.tif - -o x.tif
exits 3 'a scan is no stream'
run scan --merge short.tif nowhere.tif -o x.tif
exits 3 'a scan that is not there'
run scan --densities wedge.csv --scanner power.json -o x.tif
exits 3 'no scan at all'
run scan --densities short.tif --scanner power.json -o nowhere/x.tif
exits 4 'no such folder'
holds 'nothing was written' test ! -e x.tif
finish
