#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# colour.sh - colour negatives, colour papers and a slide film, digitised from data sheets (outside data,
# folder curves; index.json there names each sheet): all channels of each through fit, in one table. What
# is found is held against the sheet's own points, joined by straight lines. Two digitisations of one
# sheet differ by 0.01 to 0.02 D: so 0.04 in log H, and 4 CC between two channels.
. tests/support/cli.sh
. "$support/curves.sh"

# points SHEET 'EXPRESSION' - of density(c, x), the log_h(c, D) that is reached first, and least[c]
points() {
    tr -d '\r' <"$curves/$1.csv" | sed 1d | sort -t , -k 1,1 -k 2,2g | awk -F , '
        function between(x, x1, x2, y1, y2) { return y1 + (y2 - y1) * (x - x1) / (x2 - x1) }
        function density(c, x,   i) {
            for (i = 2; i < n[c] && u[c, i] < x; i++);
            return between(x, u[c, i - 1], u[c, i], d[c, i - 1], d[c, i])
        }
        function log_h(c, y,   i) {
            if (d[c, 1] < d[c, n[c]]) for (i = 2; i < n[c] && d[c, i] < y; i++);
            else for (i = n[c]; i > 2 && d[c, i - 1] < y; i--);
            return between(y, d[c, i - 1], d[c, i], u[c, i - 1], u[c, i])
        }
        function foot(c) { return log_h(c, least[c] + 0.15) }
        function max(a, b) { return a > b ? a : b }
        function log_speed() { # sqrt 2 / Hm, the mean of green and of the slowest layer: ISO 5800, from memory
            return log(2) / 2 / log(10) - (foot("green") + max(max(foot("red"), foot("green")), foot("blue"))) / 2
        }
        function from_green(c, x) { return density(c, x) - density("green", x) }
        function over_green(c, net) { return log_h(c, least[c] + net) - log_h("green", least["green"] + net) }
        { c = $1 == "r" ? "red" : $1 == "g" ? "green" : "blue"
          i = ++n[c]; u[c, i] = $2; d[c, i] = $3 + 0
          if (i == 1 || d[c, i] < least[c]) least[c] = d[c, i] }
        END { printf "%.4f", '"$2"' }'
}

# readings SHEET KEY... - a row each of the channels points, for their exposures differ; base: the least
readings() {
    sheet=$1
    shift
    printf '# %s\n' "$@"
    echo 'step,logh,red,green,blue'
    echo "base,,$(points "$sheet" 'least["red"]'),$(points "$sheet" 'least["green"]'),$(points "$sheet" 'least["blue"]')"
    tr -d '\r' <"$curves/$sheet.csv" | awk -F , -v OFS=, 'NR > 1 {
        print $1 (NR - 1), $2, $1 == "r" ? $3 : "", $1 == "g" ? $3 : "", $1 == "b" ? $3 : "" }'
}

# crossover SHEET EXPRESSION - what the points have at the place that fit names, in percent
crossover() {
    c=$(value "$1.json" crossover.channel)
    at=$(value "$1.json" crossover.at)
    middle=$(value "$1.json" crossover.middle)
    near "$1, crossover of $c" \
        "$(points "$1" "100 * ($2(\"$c\", $at - $3) - $2(\"$c\", $middle - $3))")" \
        "$(value "$1.json" crossover.worst_cc.value)" "$4"
}

# A negative's mask is in the base+fog of each channel; speed by green and the slowest layer.
for sheet in kodak_gold_200 fuji_pro_160s fuji_superia_x_tra_400; do
    readings $sheet 'material: film' 'process: negative' 'emulsion: colour negative' 'status: M' \
        'exposure unit: lux second' >$sheet.csv
    run fit $sheet.csv --resamples 100 -o $sheet.json
    exits 0 "$sheet"
    for c in red green blue; do
        least=$(points $sheet "least[\"$c\"]")
        near "$sheet, $c base+fog" "$least" "$(value $sheet.json channels.$c.base_fog.value)" 1e-6
        holds "$sheet, the text has it" grep -q "^$c  *$(printf %.2f "$least") " out
        near "$sheet, $c speed point" "$(points $sheet "foot(\"$c\")")" \
            "$(value $sheet.json channels.$c.speed_point.value)" 0.04
    done
    same "$sheet, standard" 'ISO 5800' "$(value $sheet.json speed.standard)"
    near "$sheet, log of the speed" "$(points $sheet 'log_speed()')" \
        "$(awk "BEGIN { print log($(value $sheet.json speed.exact)) / log(10) }")" 0.04
    crossover $sheet from_green 0 4
done

# A colour paper: crossover in log H between channels at one net density.
for sheet in kodak_supra_endura_paper fuji_crystal_archive_pro_pdii; do
    readings $sheet 'material: paper' 'process: negative' 'status: A' >$sheet.csv
    run fit $sheet.csv --resamples 100 -o $sheet.json
    exits 0 "$sheet"
    crossover $sheet over_green "$(value $sheet.json channels.green.base_fog.value)" 4
done

# A slide film: density falls with exposure, and its points are counted from D-min.
sheet=fuji_provia_100f
readings $sheet 'material: film' 'process: reversal' 'emulsion: colour reversal' 'status: A' \
    'exposure unit: lux second' >$sheet.csv
run fit $sheet.csv --resamples 100 -o $sheet.json
exits 0 "$sheet"
for c in red green blue; do
    near "$sheet, $c at 0.20 over D-min" "$(points $sheet "log_h(\"$c\", least[\"$c\"] + 0.2)")" \
        "$(value $sheet.json channels.$c.speed_point.value)" 0.04
done
crossover $sheet from_green 0 4
same "$sheet, no speed without visual densities" null "$(value $sheet.json speed)"
sed 's/^# process: .*/# process: negative/' $sheet.csv >wrong.csv
run fit wrong.csv --resamples 100
exits 3 'a slide film as a negative'
has 'says that it falls' err 'falls where exposure rises'
finish
