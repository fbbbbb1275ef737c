#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# split.sh - two exposures through a soft and a hard filter, from prints of a wedge made so. The paper is one of
# two emulsions that was never made, in closed form: through t_s and t_h seconds emulsion k gets
# H = soft_k t_s + hard_k t_h and gives range_k / (1 + H^(-1 / 0.0369)), H to the base 10. Readings to 0.01.
. tests/support/cli.sh
cat >paper.awk <<'EOF'
function one(h, range) { return h > 0 ? range / (1 + h ^ (-1 / (2.302585 * 0.085))) : 0 }
function net(s, h) { return one(s / 10 + h / 12, 1.0) + one(s / 45 + h / 12, 1.05) }
EOF
# table SHARE... - prints of 150 s in all
table() {
    printf '%s\n' '# name: Invented VC' '# material: paper' '# density: reflection' '# wedge: certified' \
        'step,wedge,soft,hard,visual' 'base,,,,0.06'
    for share in "$@"; do
        awk -v share="$share" "$(cat paper.awk)"'
        BEGIN { for (i = 0; i < 21; i++) {
            w = 0.05 + 0.1 * i; l = 150 * 10 ^ -w
            printf "%d,%.2f,%g,%g,%.2f\n", i + 1, w, 150 * share, 150 * (1 - share), 0.06 + net(share * l, (1 - share) * l)
        } }'
    done
}
# truth SOFT HARD DENSITY - net density under both exposures
truth() { awk -v s="$1" -v h="$2" -v d="$3" "$(cat paper.awk)"'BEGIN { printf "%.4f", net(s * 10 ^ -d, h * 10 ^ -d) }'; }
table 1 0.75 0.5 0.25 0 >split.csv
printf '%s\n' '# material: negative' '# density: transmission' 'tone,part,visual' 'base,,0.24' \
    'shadow,,0.52' 'wall,,1.08' 'cloud,thin,1.30' 'cloud,dense,1.42' >negative.csv
places='--place wall=0.25 --place shadow=1.65 --place cloud=0.12'

# shellcheck disable=SC2086
run print negative.csv --split split.csv $places --json
exits 0 'a plan from splits alone'
cp out plan.json
soft=$(value plan.json choice.split.soft) hard=$(value plan.json choice.split.hard)
same 'five measured and one between' 6 "$(awk -f "$support/json.awk" plan.json | grep -c '^papers\.[0-9]*\.contrast')"
same 'it was drawn between two' true "$(value plan.json choice.interpolated)"
near 'both make the time' "$(value plan.json choice.time)" "$(awk "BEGIN { printf \"%.9f\", $soft + $hard }")" 1e-6
near 'wall at its aim, by the paper itself' 0.25 "$(truth "$soft" "$hard" 1.08)" 0.01
near 'shadow at its aim, by the paper itself' 1.65 "$(truth "$soft" "$hard" 0.52)" 0.03
# tone TONE KEY - of the choice
tone() {
    awk -f "$support/json.awk" plan.json | awk -F '\t' -v tone="$1" -v key="$2" '
        $1 ~ /^choice\.tones\.[0-9]+\.tone$/ { here = $2 == tone; at = $1; sub(/tone$/, "", at) }
        here && $1 == at key { print $2; exit }'
}
more=$(tone cloud soft_burn.seconds)
near 'the cloud burned through the soft filter alone' 0.12 \
    "$(truth "$(awk "BEGIN { print $soft + $more }")" "$hard" 1.36)" 0.01
near 'and what is left of its detail' "$(awk "BEGIN { print $(truth "$(awk "BEGIN { print $soft + $more }")" "$hard" 1.30) - \
    $(truth "$(awk "BEGIN { print $soft + $more }")" "$hard" 1.42) }")" "$(tone cloud soft_burn.separation)" 0.012

# shellcheck disable=SC2086
run print negative.csv --split split.csv $places
exits 0 'text'
holds 'the act names both exposures, and the soft burn' sh -c "sed '/^Why/,\$d' out | tr '\n' ' ' |
    grep -qE '^Soft [0-9]+ % \(Invented VC\), [0-9.]+ s in all: soft [0-9.]+ s, hard [0-9.]+ s; burn the cloud \+[0-9/ ]+ stop \(soft [0-9.]+ s, hard [0-9.]+ s more; or soft alone [0-9.]+ s\)'"
has 'both exposures of every split' out 'The two exposures of a split'
has 'a table of the soft burns' out 'Burning through the softer filter'
has 'where it was drawn' out 'was not measured: it is drawn between'
same 'lines fit 80 columns' '' "$(LC_ALL=C.UTF-8 awk 'length($0) > 80' out)"

# Beside papers that were given
paper 2 2.53 >paper.csv
run fit paper.csv --resamples 100 -o paper.json
# shellcheck disable=SC2086
run print negative.csv --paper paper.json --split split.csv $places --json
same 'beside a paper' 7 "$(awk -f "$support/json.awk" out | grep -c '^papers\.[0-9]*\.contrast')"

# A negative beyond the table: the end that was measured stands
sed 's/shadow,,0.52/shadow,,0.95/' negative.csv >short.csv
run print short.csv --split split.csv --place wall=0.25 --place shadow=1.65
holds 'the hardest stands' sh -c "head -n 2 out | grep -q 'ard alone (Invented VC)'"
holds 'and why' sh -c "tr '\n' ' ' <out | tr -s ' ' | grep -q 'are less than any share of the split table takes'"

# What is no split table is refused, with the reason
table 1 >one.csv
refuses 3 'one.csv: the split table has the steps of one share of soft only, so there is nothing to choose between; print the wedge with other shares of the seconds too, from soft alone to hard alone' \
    print negative.csv --split one.csv
sed 's/wedge,soft,hard/logh,soft,hard/' split.csv >logh.csv
refuses 3 "logh.csv: a split table is made of prints of a step wedge; give the density of its steps in a column 'wedge'" \
    print negative.csv --split logh.csv
cut -d, -f1-3,5 split.csv >soft.csv
refuses 3 "soft.csv: a split table gives the seconds through each filter in columns 'soft' and 'hard', and 'hard' is not here" \
    print negative.csv --split soft.csv
sed '12s/,0,/,-,/' split.csv >gap.csv
refuses 3 "gap.csv:12: step '6' of the split table has no seconds in 'hard'; write 0 where that filter was not used" \
    print negative.csv --split gap.csv
{ sed -n '1,6p' split.csv; awk -F, -v OFS=, '$3 == 150 { $2 = 2.10 - $2; print }' split.csv
    awk -F, '$3 == 0 { print }' split.csv; } >down.csv
run print negative.csv --split down.csv
exits 3 'density that falls with light'
has 'which pair' err "down.csv: 'soft alone' of the split table: "
sed 's/^# material: paper/# material: film/; s/reflection/transmission/' split.csv >film.csv
refuses 3 'film.csv: a split table is paper, read by reflection, absolute or relative to white; these readings are film' \
    print negative.csv --split film.csv

if command -v gnuplot >/dev/null; then
    # shellcheck disable=SC2086
    run print negative.csv --split split.csv $places --plot plan.svg --report plan.html --quiet
    exits 0 'a plot and a page'
    has 'the card has both exposures' plan.html ', hard '
    has 'and the soft burn' plan.html 'or through the soft filter alone'
    holds 'the plot is of the split' grep -q 'soft [0-9]* %' plan.svg
else
    skip 'gnuplot is not installed'
fi
finish
