#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# flash.sh - a flash of the whole sheet, from a strip of flashes on bare paper. The paper is the logistic one
# of tests/support/cli.sh, so that what a flash does to a tone is a closed form: H adds to H, and
# net(H) = 2.04 / (1 + (H / 10)^-2.53), H in seconds. A second of flash is worth 0.31 s of the picture's light.
. tests/support/cli.sh
paper 2 2.53 >paper.csv
run fit paper.csv --resamples 100 -o paper.json
exits 0 'the paper'
printf '%s\n' '# material: negative' '# density: transmission' 'tone,part,visual' 'base,,0.24' \
    'shadow,,0.41' 'wall,,0.78' 'cloud,thin,1.32' 'cloud,dense,1.48' >negative.csv

# strip FROM COUNT - flashes in half stops from FROM seconds on
strip() {
    printf '%s\n' '# name: Invented Paper' '# material: paper' '# density: reflection' 'step,time,visual'
    awk -v from="$1" -v count="$2" 'BEGIN {
        print "base,,0.06"
        for (i = 0; i < count; i++) {
            t = from * 2 ^ (i / 2)
            printf "%d,%.4f,%.2f\n", i + 1, t, 0.06 + 2.04 / (1 + (0.31 * t / 10) ^ -2.53)
        } }'
}
strip 1 12 >flash.csv
plan() { run print negative.csv --paper paper.json --place wall=0.40 --flash flash.csv "$@"; }

plan --json
exits 0 'a plan with a flash'
cp out plan.json
# tone TONE KEY - of the choice
tone() {
    awk -f "$support/json.awk" plan.json | awk -F '\t' -v tone="$1" -v key="$2" '
        $1 ~ /^choice\.tones\.[0-9]+\.tone$/ { here = $2 == tone; at = $1; sub(/tone$/, "", at) }
        here && $1 == at key { print $2; exit }'
}
time=$(value plan.json choice.flash.time)
# The exposure of a tone, in seconds on the paper: wall at 0.40 fixes it.
net() { awk -v d="$1" -v flash="$2" 'BEGIN {
    h = 10 * (2.04 / 0.40 - 1) ^ (-1 / 2.53) * 10 ^ (0.78 - d) + flash
    printf "%.4f", 2.04 / (1 + (h / 10) ^ -2.53) }'; }
holds 'it leaves paper white' awk "BEGIN { exit !(2.04 / (1 + (0.31 * $time / 10) ^ -2.53) < 0.015) }"
holds 'and could not be much longer' awk "BEGIN { exit !(2.04 / (1 + (0.31 * 1.5 * $time / 10) ^ -2.53) > 0.01) }"
near 'its log H on the paper' "$(awk "BEGIN { print log(0.31 * $time) / log(10) }")" "$(value plan.json choice.flash.log_h.value)" 0.02
for place in shadow:0.41 wall:0.78 cloud:1.40; do
    near "${place%:*} with the flash: H adds to H" "$(net "${place#*:}" "$(awk "BEGIN { print 0.31 * $time }")")" \
        "$(tone "${place%:*}" flash.print)" 0.012
done
lit=$(awk "BEGIN { print 0.31 * $time }")
near "what the flash leaves of the cloud's detail" "$(awk "BEGIN { print $(net 1.32 "$lit") - $(net 1.48 "$lit") }")" \
    "$(tone cloud flash.separation)" 0.005
holds 'less is left to burn' awk "BEGIN { exit !($(tone cloud flash.burn_stops) < $(tone cloud burn.stops)) }"

plan
exits 0 'text'
holds 'flash against burn, and what white pays, in a sentence' sh -c "sed '/^\$/,\$d' out | tr '\n' ' ' |
    grep -qE 'Flashed [0-9.]+ s and not burned, the cloud parts by 0\.[0-9]{2} D, where the burn parts it by 0\.[0-9]{2}; white greys by 0\.0[01][0-9] \(0\.000 to 0\.0[0-9]{2}\) D\.'"
has 'a table of both' out 'With a flash in place of burning'
has 'and no more than a flash can do' out 'blocked on the film'
same 'lines fit 80 columns' '' "$(LC_ALL=C.UTF-8 awk 'length($0) > 80' out)"

# Strips that tell of no flash name the next one; the plan stands all the same.
strip 0.5 3 >flash.csv
plan
exits 0 'all white'
has 'which strip to make next' out 'No flash: up to its longest'
strip 30 5 >flash.csv
plan --json
exits 0 'all grey'
same 'no flash' null "$(value out choice.flash)"
holds 'said' grep -q 'No flash: from its shortest' out

# What is no flash strip is refused.
strip 1 5 | sed 's/step,time/step,stop/' >stops.csv
refuses 3 "stops.csv: a flash strip gives the seconds of each flash in a column 'time'" \
    print negative.csv --paper paper.json --flash stops.csv
grep -v '^base' flash.csv >bare.csv
refuses 3 "bare.csv: a flash is judged by what it leaves on paper white, which is not here; read it in a row 'base', or say that the readings are relative to white" \
    print negative.csv --paper paper.json --flash bare.csv
refuses 3 'nowhere.csv: there is no such file; check the name' print negative.csv --paper paper.json --flash nowhere.csv
"$WEDGEWORK" print negative.csv --paper paper.json --flash - --json <flash.csv >piped 2>err
run print negative.csv --paper paper.json --flash flash.csv --json
same 'a flash strip from standard input' "$(cat out)" "$(cat piped)"
finish
