#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# curves.sh - every curve digitised from makers' data sheets (outside data, folder curves; index.json
# there names each sheet) goes through fit: at most 0.02 D rms is left on any, at most 0.01 D on the
# median one (the issue's own demand), and net points agree with reference_values.csv of that folder,
# made with SciPy by others, within the tolerance of two digitisations: 0.03 log H, 0.02 D or 3 %.
. tests/support/cli.sh
. "$support/curves.sh"

at_most() { awk "BEGIN { exit !($1 <= $2) }"; }

# readings FILE CHANNEL PROCESS MATERIAL D_MIN - base row: the least density, as the reference has it
readings() {
    printf '%s\n' "# process: $3" "# material: $4" '# exposure unit: lux second' \
        '# emulsion: black-and-white' 'step,logh,visual' "base,,$5"
    awk -F , -v channel="$2" 'NR > 1 && $1 == channel { printf "%d,%s,%s\n", NR - 1, $2, $3 }' \
        "$curves/$1"
}

: >rms
sed 1d "$curves/reference_values.csv" | tr -d '\r' >wanted
while IFS=, read -r path channel n d_min d_max range secant straight steep linear pchip average \
    difference speed box r_linear r_pchip rest; do
    file=${path##*/}
    process=negative material=film
    case $file in
    *provia*) process=reversal ;;
    *polymax* | *crystal* | *endura*) material=paper ;;
    esac
    readings "$file" "$channel" $process $material "$d_min" >one.csv
    run fit one.csv --resamples 20 --json
    exits 0 "$file $channel"
    v=channels.visual
    left=$(value out $v.residual_rms)
    echo "$left" >>rms
    holds "$file $channel leaves $left D rms" at_most "$left" 0.02
    if [ $process$material = negativefilm ]; then
        near "$file $channel, net 0.10" "$linear" "$(value out $v.speed_point.value)" 0.03
        # A print film's sheet gives no such difference.
        [ -z "$difference" ] || near "$file $channel, D gained over 1.30" "$difference" \
            "$(value out speed.condition.density_difference)" 0.03
    fi
    if [ -n "$r_pchip" ] && [ $material = paper ]; then
        near "$file $channel, R" "$r_pchip" "$(value out $v.iso_range.value)" 6
    fi
done <wanted
median=$(sort -n rms | awk '{ v[NR] = $1 } END { print NR % 2 ? v[(NR + 1) / 2] : (v[NR / 2] + v[NR / 2 + 1]) / 2 }')
holds "the median curve leaves $median D rms" at_most "$median" 0.01
finish
