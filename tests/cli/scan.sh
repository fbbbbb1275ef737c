#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# scan.sh - exposures of scans. A masked film is drawn at the exposures that were planned for it: base at 95 %
# within 0.1 stop, signal-to-noise within 20 % (the issue's aims). The rest is closed form: without flare and
# dark, stops = log2(0.95 / (k 10^-base)), light at the cloud 0.95 10^(base - cloud), signal-to-noise that over
# the read noise, told apart 2.8 / (ln 10 snr sqrt n).
data=${WEDGEWORK_DATA:-../shared/data}
case $data in /*) ;; *) data=$(pwd)/$data ;; esac
. tests/support/cli.sh
: "${MAKE_SCANS:?names the maker of scans}"
make_scans() { "$MAKE_SCANS" "$@" || bad "make_scans $*"; }
calc() { awk "BEGIN { printf \"%.12g\", $1 }"; }

# 1. From a wedge to the scan: base .32/.63/.72, cloud 1.22/1.67/1.93 as one film's process note has them
light='0.002 0 1'
noise='noise 0.0008 0.002 0.003'
wide=$(awk 'BEGIN { for (i = 0; i < 21; i++) printf " %.4f", 0.05 + 0.15 * i }')
printf '%s\n' 'size 640 300' "scanner 0.9 $light" "$noise" 'channels 3' 'seed 71' 'glass 0' \
    "strip 320 150 570 130 -1.2$wide" >wedge.scene
{ echo step,visual; printf '%s\n' $wide | awk '{ print NR "," $0 }'; } >wedge.csv
film() { # NAME K - the negative as a scanner of that k sees it
    printf '%s\n' 'size 400 300' "scanner $2 $light" "$noise" 'channels 3' 'factors 1 1.96875 2.25' 'seed 72' \
        'glass 0.32' 'box 100 150 150 200 0 0.45' 'box 300 150 150 200 0 0.6' 'disc 300 150 50 0.85' >"$1.scene"
    make_scans "$1.scene" "$1.tif"
}
spots='--spot base=200,25,20 --spot shadow=100,150,40 --spot cloud=300,150,40'
make_scans wedge.scene wedge.tif
film preview 0.9
run scanner wedge.tif --wedge wedge.csv -o s.json
exits 0 'calibrated'
# shellcheck disable=SC2086
run measure preview.tif $spots --scanner s.json -o neg.csv
exits 0 'the negative, from a preview'
run scan neg.csv --scanner s.json --json -o plan.json
exits 0 'planned'
holds 'what -o writes is what --json prints' cmp out plan.json
same 'kind' 'scan plan' "$(value out kind)"
same 'holds' true "$(value out holds)"
same 'the mask leaves least to blue' blue "$(value out weakest)"
near 'light' "$(calc '10 ^ 0.40')" "$(value out channels.blue.light)" 0.05
for channel in red green blue; do
    case $channel in red) base=0.32 cloud=0.85 ;; green) base=0.63 cloud=1.6734 ;; *) base=0.72 cloud=1.9125 ;; esac
    stops=$(value plan.json channels.$channel.stops)
    k=$(calc "0.9 * 2 ^ ($stops)")
    film $channel "$k"
    # shellcheck disable=SC2086
    run measure $channel.tif $spots --json
    near "$channel base, stops off" 0 "$(calc "log($(value out rows.0.code.$channel) / 65535 / 0.95) / log(2)")" 0.1
    near "$channel cloud, code" "$(value out rows.2.code.$channel)" \
        "$(value plan.json channels.$channel.highlight_code)" 200
    snr=$(calc "65535 * $k * 10 ^ -$cloud / $(value out rows.2.sd.$channel)")
    near "$channel, signal-to-noise to that of the pixels" 1 \
        "$(calc "$(value plan.json channels.$channel.highlight_snr) / $snr")" 0.2
    near "$channel, told apart" "$(calc "2.8 / log(10) / $snr")" \
        "$(value plan.json channels.$channel.separable)" "$(calc "0.2 * 2.8 / log(10) / $snr")"
    near "$channel base code" 62258.25 "$(value plan.json channels.$channel.base_code)" 0.01
done
run scan neg.csv --scanner s.json
has 'channels apart' out 'Open up 1.1 stops (red 1.1, green 2.2, blue 2.5) from the'
has 'or coloured light' out 'or colour the light'

# In 8 bits, where rounding is most of the noise: the calibration has seen it, and it counts once. The variance of
# a pixel is that of the scene's own line and 1/12 of a code squared.
printf '%s\n' 'size 640 300' 'scanner 0.9 0.002 0 1' 'noise 0.0005 0.001 0.002' 'bits 8' 'seed 71' 'glass 0' \
    "strip 320 150 570 130 -1.2$(printf '%s\n' $wide | head -n 15 | tr '\n' ' ' | sed 's/^/ /')" >coarse.scene
make_scans coarse.scene coarse.tif
head -n 16 wedge.csv >coarse.csv
run scanner coarse.tif --wedge coarse.csv -o coarse.json --quiet
exits 0 'calibrated in 8 bits'
printf '%s\n' '# status: scanner' tone,visual base,0.30 cloud,1.20 >two.csv
run scan two.csv --scanner coarse.json --json
k=$(calc "0.9 * 2 ^ $(value out channels.visual.stops)")
signal=$(calc "$k * 10 ^ -1.2") beyond=$(calc "$k * (10 ^ -1.2 + 0.002)")
snr=$(calc "$signal / sqrt(0.0005 ^ 2 + 0.001 ^ 2 * $beyond + (0.002 * $beyond) ^ 2 + (1 / 255) ^ 2 / 12)")
near 'signal-to-noise of 8 bits, to that of the pixels' 1 \
    "$(calc "$(value out channels.visual.highlight_snr) / $snr")" 0.2

# 2. What measure --whole printed, in densities and in codes
run measure preview.tif --whole --scanner s.json --json
cp out whole.json
run scan whole.json --scanner s.json --keep p99 --json
exits 0 'a whole scan'
same 'its thinnest pixels stand in for the base' p0.1 "$(value out channels.red.base)"
same 'kept' p99 "$(value out channels.red.highlight)"
near 'nearly the stops of the spots' "$(value plan.json channels.red.stops)" "$(value out channels.red.stops)" 0.1
near 'cloud' 0.85 "$(value out channels.red.highlight_density)" 0.03
cp out densities.json
run measure preview.tif --whole --json
cp out whole.json
run scan whole.json --scanner s.json --keep p99 --json
exits 0 'and its codes'
near 'the same stops' "$(value densities.json channels.blue.stops)" "$(value out channels.blue.stops)" 0.01
# A preview with four times the light of the wedge's: its base is lighter than any step of the wedge
film bright 3.6
# shellcheck disable=SC2086
run measure bright.tif $spots --scanner s.json -o bright.csv
refuses 3 "bright.csv:$(grep -n '^base' bright.csv | cut -d : -f 1): the film's base has no red density, and it sets the \
exposure; read it again (where a scan was too light for it, at the exposure of the wedge's), or take the row out and the \
thinnest tone stands in" scan bright.csv --scanner s.json
refuses 2 'standard input can be read only once; name a file in place of one -' scan - --scanner -

# 3. Closed form: a scanner by hand
scanner() { # NAME K READ CHANNEL... - without flare and dark, calibrated from D 0 to 3.2
    name=$1 k=$2 read=$3
    shift 3
    echo "$@" | awk -v k="$k" -v read="$read" '{
        printf "{\"wedgework\": 1, \"kind\": \"scanner\", \"bits\": 16, \"white\": 65535, \"encoding\": "
        printf "{\"gamma\": 1, \"low\": 1, \"high\": 1, \"how\": \"given\"}, \"channels\": {"
        for (c = 1; c <= NF; c++) {
            printf "%s\"%s\": {\"k\": %s, \"noise\": {\"read\": %s, ", (c > 1 ? ", " : ""), $c, k, read
            printf "\"shot\": 0, \"fixed\": 0}, \"residual_sd\": 0, \"worst_residual\": 0, \"curve\": ["
            for (i = 0; i < 17; i++)
                printf "%s[%.9f, %.1f]", i ? ", " : "", 65535 * k * 10 ^ -(3.2 - 0.2 * i), 3.2 - 0.2 * i
            printf "], \"doubt\": [0.006"
            for (i = 1; i < 17; i++)
                printf ", 0.006"
            printf "], \"steps\": []}"
        }
        print "}}" }' >"$name"
}
scanner hand.json 0.475 0.001 visual
printf '%s\n' '# material: negative' '# status: scanner' tone,part,visual base,,0.30 wall,,0.9 cloud,thin,1.22 \
    cloud,dense,1.30 >neg.csv
run scan neg.csv --scanner hand.json --json
exits 0 'closed form'
near 'stops' "$(calc '(0.30 + log(2) / log(10)) / (log(2) / log(10))')" "$(value out channels.visual.stops)" 1e-6
near 'signal-to-noise' 95 "$(value out channels.visual.highlight_snr)" 1e-6
near 'separable' "$(calc '2.8 / log(10) / 95')" "$(value out channels.visual.separable)" 1e-9
near 'of so many pixels' 1 "$(value out channels.visual.n)" 0
near 'one code of 8 bits' "$(calc 'log(25.225 / 24.225) / log(10)')" "$(value out channels.visual.code_steps.8)" 1e-9
near 'one code of 12 bits' "$(calc 'log(1 + 1 / 389.025) / log(10)')" "$(value out channels.visual.code_steps.12)" 1e-9
near 'passes' 1 "$(value out passes)" 0
near 'no second' 0 "$(value out channels.visual.second_pass_stops)" 0
run scan neg.csv --scanner hand.json
cat >want <<'END'
Open up 2.0 stops from the wedge's scan: one scan tells 0.010 D apart in 'cloud'
over 3 x 3 pixels; trust +-0.1 stop.
Why: 'base' stands at 95 % of full scale, just under clipping; there 'cloud'
(1.30 D, visual) has a signal-to-noise of 95: 0.013 D is told apart at one
pixel, 0.0043 D over 3 x 3; on the film it holds 0.08 D, 6.2 times what a pixel
tells.
END
head -n 6 out >first
holds 'first sentences' cmp want first
# A stop more halves the noise; merged, 1 / (1 + 4) of the variance is left: 0.0043 becomes 0.0019
run scan neg.csv --scanner hand.json --separate 0.0022
exits 0 'a second scan'
cat >want <<'END'
Open up 2.0 stops from the wedge's scan, then scan again with 1.0 stop more:
both tell 0.0022 D apart in 'cloud' over 3 x 3 pixels, the second needed from
1.01 D (visual) on; trust +-0.1 stop.
END
head -n 3 out >first
holds 'told' cmp want first
run scan neg.csv --scanner hand.json --separate 0.0022 --json
near 'passes' 2 "$(value out passes)" 0
near 'a stop' 1 "$(value out channels.visual.second_pass_stops)" 1e-9
near 'switch' "$(calc '0.30 + log(0.95 / (2.8 * 0.001 / (3 * log(10) * 0.0022))) / log(10)')" \
    "$(value out channels.visual.switch_density)" 1e-6
near 'or four scans' 4 "$(value out channels.visual.average)" 0
near 'told by both' "$(calc '2.8 / (3 * log(10) * 95) / sqrt(5)')" "$(value out channels.visual.second_told)" 1e-6
near 'less noise' "$(calc 'sqrt(5)')" "$(value out channels.visual.second_gain)" 1e-3
# In units of what one scan tells at the base, 2.8 0.001 / (3 ln 10 0.95), the cloud is 10 and 0.001 is r = 2.34. m scans,
# merged with n of t stops more, tell 10 / (1 + 4^t) sqrt(1 / m + 4^t / n) of it: of one and one 2 1/3 stops do (1.95).
# They clip up to 0.95 / 0.98 2^t, of which the first tells 4.9, 0.0021 D. Two of each with 1 2/3 stops tell 2.12 and 2.18.
run scan neg.csv --scanner hand.json --separate 0.001 --json
exits 0 'thinner tones may be told less'
same 'of the first, of the second' '1 1' "$(value out first_passes) $(value out second_passes)"
near 'stops more' "$(calc '7 / 3')" "$(value out channels.visual.second_pass_stops)" 1e-9
near 'told between' "$(calc '2.8 * 0.001 / (3 * log(10) * 0.98) * 2 ^ (7 / 3)')" \
    "$(value out channels.visual.between_told)" 1e-6
same 'throughout' '2 2' "$(value out throughout.first_passes) $(value out throughout.second_passes)"
near 'with stops more' "$(calc '5 / 3')" "$(value out throughout.second_pass_stops)" 1e-9
run scan neg.csv --scanner hand.json --separate 0.001
cat >want <<'END'
Open up 2.0 stops from the wedge's scan, then scan again with 2.3 stops more:
both tell 0.0010 D apart in 'cloud' over 3 x 3 pixels, the second needed from
1.09 D (visual) on; trust +-0.1 stop.
END
head -n 3 out >first
holds 'told' cmp want first
tr '\n' ' ' <out | tr -s ' ' >line
has 'what thinner tones get' line "nearly so, are told to 0.0021 D at worst (visual)"
has 'what they would take' line 'merge the mean of 2 of the first exposure with the mean of 2 of one with 1.7 stops more'
# Three times the noise, r = 0.78: one and 3 with 3 stops tell 10 / 65 sqrt(1 + 64 / 3) = 0.73; no 16 tell all
scanner noisy.json 0.475 0.003 visual
run scan neg.csv --scanner noisy.json --separate 0.001 --json
exits 0 'two exposures, averaged'
same 'way' both "$(value out way)"
same 'of the first, of the second' '1 3' "$(value out first_passes) $(value out second_passes)"
near 'stops more' 3 "$(value out channels.visual.second_pass_stops)" 1e-9
run scan neg.csv --scanner noisy.json --separate 0.001
cat >want <<'END'
Open up 2.0 stops from the wedge's scan, then average 3 with 3.0 stops more:
together they tell 0.0010 D apart in 'cloud' over 3 x 3 pixels, the later ones
needed from 1.29 D (visual) on; trust +-0.1 stop.
END
head -n 3 out >first
holds 'told' cmp want first
run scan neg.csv --scanner hand.json --keep wall --json
same 'another tone' wall "$(value out channels.visual.highlight)"
# Noise of 0.2 is more than the light at the cloud, 0.095; it is reached at 0.30 + log10(0.95 / 0.2)
scanner blind.json 0.475 0.2 visual
run scan neg.csv --scanner blind.json
exits 1 'a scanner that does not see the cloud'
cat >want <<'END'
Open up 2.0 stops from the wedge's scan, but this scanner does not see 'cloud'
(1.30 D, visual) in one scan: it stops seeing at 0.98 D (visual); trust +-0.1
stop.
END
head -n 3 out >first
holds 'told' cmp want first
run scan neg.csv --scanner blind.json --json
same 'and holds is false' false "$(value out holds)"

# 4. A real scan: six film strips whose mean codes were published with it. As if light were all that a code says (k 1,
# no flare), the lightest strip goes from its code to 95 %, and the others rise with it.
if [ -r "$data/scans/film20240620_002.tif" ]; then
    scanner one.json 1 0.001 red green blue
    run measure "$data/scans/film20240620_002.tif" --spot base=435,92,11 --spot cloud=444,570,11 \
        --scanner one.json -o strips.csv
    exits 0 'read'
    run scan strips.csv --scanner one.json --json
    exits 0 'planned'
    near 'red' "$(calc 'log(0.95 * 65535 / 42522.31) / log(2)')" "$(value out channels.red.stops)" 0.02
    near 'blue' "$(calc 'log(0.95 * 65535 / 32441.44) / log(2)')" "$(value out channels.blue.stops)" 0.02
    near 'the densest strip rises with it' "$(calc '0.95 * 65535 * 15488.16 / 42522.31')" \
        "$(value out channels.red.highlight_code)" 300
else
    skip 'the outside scans are not there; WEDGEWORK_DATA names their folder'
fi

# 5. Plot and page, and what is refused
run scan neg.csv --scanner hand.json --separate 0.0022 --plot plan.svg --report plan.html
if command -v gnuplot >/dev/null; then
    exits 0 'plot and page'
    has 'a plot' plan.svg '<svg'
    has 'in the page, too' plan.html '<svg'
else
    skip 'gnuplot is not installed'
fi
has 'a page' plan.html '<h1>Open up 2.0 stops'
sed 's/^base,,0.30/base,,-0.05/' neg.csv >off.csv
run scan off.csv --scanner hand.json
exits 1 'a base clearer than open light'
has 'said first' out 'All densities here are off, as a note says: '
refuses 2 'no --scanner is given; give the scanner file that `scanner -o` wrote' scan neg.csv
refuses 3 "neg.csv: there is no tone 'sky' with a visual density to keep; the tones with one are: base, wall, cloud" \
    scan neg.csv --scanner hand.json --keep sky
run scan neg.csv --scanner hand.json --separate 0
exits 2 'no difference at all'
finish
