#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# scanner.sh - a scanner whose light, flare, dark, noise and encoding are known is found again. The scans are
# made by tests/support/make_scans from scenes; what a scene says is the outside value (closed form):
#   code / 65535 = (dark + k (10^-D + flare))^(1/gamma)
# Tolerances are those of the means: noise of a pixel / root of the pixels, and the wedge's own errors.
. tests/support/cli.sh
: "${MAKE_SCANS:?names the maker of scans}"
scenes=$top/stepwedges/demo
make_scans() { "$MAKE_SCANS" "$@" || bad "make_scans $*"; }

# steps N FIRST GAP - densities of a wedge that is true to itself
steps() { awk -v n="$1" -v first="$2" -v gap="$3" 'BEGIN { for (i = 0; i < n; i++) printf " %.4f", first + gap * i }'; }
# wedge_csv DENSITY... - and its certificate
wedge_csv() {
    printf '%s\n' '# material: wedge' '# wedge: certified' '# wedge sd: 0.001' 'step,visual'
    for density; do
        n=$((${n:-0} + 1))
        echo "$n,$density"
    done
    n=0
}
# within NAME TRUTH FILE QUANTITY - the interval holds the truth
within() {
    low=$(value "$3" "$4.low") high=$(value "$3" "$4.high")
    holds "$1: $2 in $low to $high" awk "BEGIN { exit !($low <= $2 && $2 <= $high) }"
}

# 1. The demonstration's wedge, askew, with dust and a hair, beside open light
make_scans "$scenes/wedge.scene" wedge.tif "$scenes/dark.scene" dark.tif
run scanner wedge.tif --wedge "$scenes/wedge.csv" --dark dark.tif -o s.json
exits 0 'a wedge and a scan without light'
has 'says how far it sees' out 'This scanner sees to density'
v=channels.visual
same 'kind' scanner "$(value s.json kind)"
same 'bits' 16 "$(value s.json bits)"
near 'codes are light' 1 "$(value s.json encoding.gamma)" 0
near 'k' 0.93 "$(value s.json $v.k)" 0.004
near 'flare' 0.0035 "$(value s.json $v.flare.value)" 2e-5
within 'flare' 0.0035 s.json $v.flare
# Noise that is cut off at code 0, two sd below dark, raises the mean by 0.0085 sd = 2.5e-6.
near 'dark' 0.0006 "$(value s.json $v.dark.value)" 5e-6
within 'dark' 0.0006 s.json $v.dark
near 'read noise' 0.0003 "$(value s.json $v.noise.read)" 2e-5
near 'shot noise' 0.0016 "$(value s.json $v.noise.shot)" 1e-4
near 'fixed pattern' 0.0025 "$(value s.json $v.noise.fixed)" 3e-4
# Each step read again through the calibration: the wedge's own errors are 0.003 (1 sd), kept by 3.5 of them
worst=$(awk -f "$support/json.awk" s.json | awk -F '\t' '
    $1 ~ /steps\.[0-9]+\.density$/ { d = $2 } $1 ~ /steps\.[0-9]+\.fitted$/ { e = $2 - d; if (e < 0) e = -e; if (e > w) w = e }
    END { print w + 0 }')
near 'the steps' 0 "$worst" 0.0105
run scanner wedge.tif --wedge "$scenes/wedge.csv" --dark dark.tif --json
holds '-o writes what --json prints' cmp out s.json
run scanner wedge.tif --wedge "$scenes/wedge.csv" --dark dark.tif --strip 40,120,830,270 --json
near 'looking where the wedge is finds the same' "$(value s.json $v.k)" "$(value out $v.k)" 0.0005
# On the second page of a file; the scan without light is on the first of another
make_scans "$scenes/dark.scene" pages.tif "$scenes/wedge.scene" pages.tif \
    "$scenes/dark.scene" dark2.tif "$scenes/wedge.scene" dark2.tif
run scanner pages.tif --page 2 --wedge "$scenes/wedge.csv" --dark dark2.tif --json
exits 0 'a page'
same 'the same wedge' "$(value s.json $v.k)" "$(value out $v.k)"
has 'the other page was not asked for' out 'Of the scan without light, page 1 of 2 was read; save another as a file of its own.'
run scanner dark2.tif --wedge "$scenes/wedge.csv"
exits 3 'page 1 where none is asked for'
# Two steps exchanged, in the file and on the glass: said, and nothing is put right in silence
awk -F, '$1 == 7 { seven = $2; next } $1 == 8 { print "7," $2; print "8," seven; next } { print }' \
    "$scenes/wedge.csv" >exchanged.csv
awk '$1 == "strip" { was = $13; $13 = $14; $14 = was } { print }' "$scenes/wedge.scene" >exchanged.scene
make_scans exchanged.scene exchanged.tif
said='Steps 7 and 8 (visual) look swapped, in the wedge file or on the glass: each reads the density of the other.'
run scanner wedge.tif --wedge exchanged.csv --json
exits 0 'two rows exchanged'
has 'which is said' out "$said"
same 'both are left out' '7 8' "$(value out $v.suspect.0) $(value out $v.suspect.1)"
run scanner exchanged.tif --wedge "$scenes/wedge.csv" --json
exits 0 'two steps exchanged on the glass'
has 'which is said, too' out "$said"

# Without a scan without light, flare and dark are one constant, and the flare's interval holds every way to share it
run scanner wedge.tif --wedge "$scenes/wedge.csv" --json
near 'all of it is flare' "$(awk 'BEGIN { print 0.0035 + 0.0006 / 0.93 }')" "$(value out $v.flare.value)" 2e-5
within 'flare, dark not known' 0.0035 out $v.flare
within 'dark, not known' 0.0006 out $v.dark

# 2. Where signal/noise falls to 1 within the wedge: k 10^-D = sqrt(read^2 + shot^2 L + (fixed L)^2), L = k (10^-D + flare)
densities=$(steps 21 0.05 0.15)
# shellcheck disable=SC2086
wedge_csv $densities >w.csv
scene() { # scanner and noise lines
    printf '%s\n' 'size 700 320' "$1" "$2" 'seed 71' 'glass 0.3' "strip 350 160 630 150 1.1$densities"
}
scene 'scanner 0.9 0.004 0.0008 1' 'noise 0.002 0.002 0.003' >noisy.scene
make_scans noisy.scene noisy.tif
run scanner noisy.tif --wedge w.csv --json
exits 0 'a noisy scanner'
truth=$(awk 'function snr(d,  s, l) { s = 0.9 * exp(-d * log(10)); l = s + 0.9 * 0.004
        return s / sqrt(0.002^2 + 0.002^2 * l + (0.003 * l)^2) }
    BEGIN { a = 0; b = 5; for (i = 0; i < 60; i++) { m = (a + b) / 2; if (snr(m) > 1) a = m; else b = m } print a }')
near 'sees to density' "$truth" "$(value out $v.dmax.value)" 0.03
same 'by the noise, not by the wedge' fitted "$(value out $v.dmax.how)"

# 3. Encoded scans: a power, and in 8 bit; three channels with densities of their own
scene 'scanner 0.9 0.004 0.0 2.2' 'noise 0.0003 0.0016 0.0025' >power.scene
{ scene 'scanner 0.9 0.004 0.0 2.2' 'noise 0.0003 0.0016 0.0025' | sed 's/^seed/bits 8\nseed/'; } >eight.scene
{ scene 'scanner 0.9 0.004 0.0 1' 'noise 0.0003 0.0016 0.0025' |
    sed 's/^seed/channels 3\nfactors 1 1.04 0.97\nseed/'; } >colour.scene
make_scans power.scene power.tif eight.scene eight.tif colour.scene colour.tif
run scanner power.tif --wedge w.csv --json
near 'a power is found' 2.2 "$(value out encoding.gamma)" 0.01
cp out power.json
run scanner eight.tif --wedge w.csv --json
near 'and in 8 bit' 2.2 "$(value out encoding.gamma)" 0.03
same 'bits of it' 8 "$(value out bits)"
{ printf '%s\n' '# material: wedge' '# wedge: certified' '# wedge sd: 0.001' 'step,red,green,blue'
    for density in $densities; do
        n=$((n + 1))
        awk -v n=$n -v d="$density" 'BEGIN { printf "%d,%.4f,%.4f,%.4f\n", n, d, 1.04 * d, 0.97 * d }'
    done; } >rgb.csv
run scanner colour.tif --wedge rgb.csv --json
exits 0 'three channels'
for channel in red green blue; do
    near "k, $channel" 0.9 "$(value out channels.$channel.k)" 0.002
    near "flare, $channel" 0.004 "$(value out channels.$channel.flare.value)" 3e-5
done

# 8 bit without an encoding: k 10^-D is a code where D = log10(0.9 * 255); rounding and what little noise there is take up
# to 0.1 D more, whether or not the last steps fell between two codes
{ scene 'scanner 0.9 0.004 0.0 1' 'noise 0.0002 0.0008 0.001' | sed 's/^seed/bits 8\nseed/'; } >plain.scene
make_scans plain.scene plain.tif
run scanner plain.tif --wedge w.csv --strip 20,60,660,200
exits 0 'plain 8 bit'
has 'a code is named where it is coarse' out 'bits are too coarse there'
holds 'the wedge is not to blame' sh -c "! grep -q 'Before all else' out"
run scanner plain.tif --wedge w.csv --strip 20,60,660,200 --json
near 'it sees no further than a code' 2.32 "$(value out $v.dmax.value)" 0.1

# Light that the wedge's first step clips (1.5 10^-0.05 of white) is told once, by the calibration
scene 'scanner 1.5 0.004 0.0 1' 'noise 0.0003 0.0016 0.0025' >clipped.scene
make_scans clipped.scene clipped.tif
run scanner clipped.tif --wedge w.csv --json
same 'a clipped step' 1 "$(value out $v.clipped.0)"
same 'is told once' 1 "$(grep -c 'clipped at' out)"

# A tone curve that no power of light is (here: every other step of the file 0.3 D denser): the file is written, says so,
# and what is read by it does
awk -F, -v OFS=, '/^[0-9]/ && $1 % 4 == 1 { $2 += 0.3 } 1' w.csv >bent.csv
run scanner wedge.tif --wedge bent.csv -o bent.json
exits 1 'a wedge that the model does not fit'
holds 'its first line says so' sh -c 'head -n 1 out | grep -q "^Trust nothing that is read by this calibration"'
holds 'no trust is claimed' sh -c "! grep -q 'to be trusted' out"
run measure wedge.tif --wedge w.csv --scanner bent.json
exits 1 'what is read by such a file'
has 'is called off' out 'All densities here are off'

# 4. What cannot be
refuses 2 'scanner needs the densities of the wedge in the scan; give --wedge WEDGE.csv' scanner wedge.tif
refuses 2 "--strip: '1,2,3' is no region: there are not 4 numbers between commas; write X,Y,W,H in whole pixels, for instance 100,50,2400,600" \
    scanner wedge.tif --wedge w.csv --strip 1,2,3
refuses 3 'nowhere.tif: there is no such file; check the name' scanner nowhere.tif --wedge w.csv
sed '$d' w.csv >short.csv
run scanner wedge.tif --wedge short.csv -o new.json
exits 3 'a wedge file with a step less'
has 'says what was found' err 'wedgework: wedge.tif: found 21 steps where '
holds 'nothing is written' test ! -e new.json
run scanner dark.tif --wedge w.csv
exits 3 'a scan without a wedge'
run scanner power.tif --wedge w.csv --dark eight.tif
exits 3 'a dark scan with other settings'
cp w.csv c.csv
refuses 2 "-o would overwrite the input 'c.csv'; give it another name" scanner wedge.tif --wedge c.csv -o c.csv
finish
