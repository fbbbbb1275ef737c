#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# recipe.sh - a stored plan made again, and what the last print teaches. The paper is a logistic curve in
# closed form, exposed in seconds and rounded to 0.01 D (paper in tests/support/cli.sh); prints are made of
# it by the same form. Factors of time are closed forms: size ((m2+1)/(m1+1))^2, aperture (N2/N1)^2.
. tests/support/cli.sh
paper 2 2.53 >paper.csv
run fit paper.csv --resamples 100 -o paper.json
sed 's/^# contrast: 2$/&\n# lot: late/' paper.csv >lot.csv
run fit lot.csv --resamples 100 -o lot.json
printf '%s\n' '# name: Quay' '# material: negative' '# density: transmission' 'tone,part,visual' 'base,,0.24' \
    'shadow,,0.41' 'wall,,0.78' 'sail,,1.05' 'cloud,thin,1.18' 'cloud,dense,1.32' >negative.csv
# prints TIME LOGH [FOG] - the print that came out in TIME, with so much more log H, or density that fades
prints() { awk -v t="$1" -v more="$2" -v fog="${3:-0}" 'BEGIN {
    print "# material: print\n# exposure time: " t "\ntone,visual\nbase,0.06"
    n = split("shadow 0.41 wall 0.78 sail 1.05 cloud 1.25", a, " ")
    for (i = 1; i < n; i += 2) {
        net = 2.04 / (1 + 10 ^ (-2.53 * (log(t) / log(10) - a[i + 1] + more - 1)))
        printf "%s,%.2f\n", a[i], 0.06 + net + fog * (1 - net / 2.04)
    } }'; }
# plan FILE - the choice and the papers, without the notes
plan() { awk -f "$support/json.awk" "$1" | grep '^choice\.\|^papers\.'; }
product() { awk "BEGIN { printf \"%.6f\", ($1) * ($2) }"; }

# Round trip: the same plan, and the same recipe again
set -- --place cloud=0.10 --test 40:cloud=0.20 --from-scale 2 --scale 3 --callier 1.05 --repeatability 0.01
run print negative.csv --paper paper.json "$@" -o first.json --quiet
exits 0 'stored'
run print --recipe first.json -o second.json --quiet
exits 0 'made again, without NEG.csv'
holds 'the same document' cmp first.json second.json
run print --recipe first.json --json
holds '--json is what -o writes' cmp first.json out
run print negative.csv --recipe first.json --quiet -o third.json
same 'NEG.csv given anew: the same plan' "$(plan first.json)" "$(plan third.json)"
run print - --recipe first.json --json --quiet
exits 3 'an empty NEG.csv replaces the stored one'

# Overrides
first=$(value first.json choice.time)
for m in 2 3 4 5; do
    run print --recipe first.json --scale $m --json
    near "size $m: 9:16:25:36" "$(product "$first" "($m + 1) ^ 2 / 16")" "$(value out choice.time)" 1e-6
done
run print --recipe first.json --from-aperture 8 --aperture 11 --json
near 'aperture, a full stop' "$(product "$first" 2)" "$(value out choice.time)" 1e-6
refuses 2 '--aperture needs --from-aperture beside it: the recipe does not say what its papers or test print were exposed at; give both' \
    print --recipe first.json --aperture 11
refuses 2 '--from-scale 3 contradicts the recipe, whose papers or test print were exposed at 2; give --scale alone, or a new --paper or --test with both' \
    print --recipe first.json --from-scale 3 --scale 4
run print --recipe first.json --place cloud=0.12 --json
holds 'the same tone placed anew drops nothing' test "$(grep -c 'no longer placed' out)" -eq 0
near 'another place' 0.12 "$(awk -f "$support/json.awk" out | sed -n 's/^inputs\.places\.0\.aim\t//p')" 0
run print --recipe first.json --place wall=0.7 --json
has 'what a new place drops is said' out "no longer placed: 'cloud' at 0.1."
run print --recipe first.json --paper lot.json --json
same 'another lot has no test print' '' "$(awk -f "$support/json.awk" out | sed -n 's/^inputs\.tests\.0\.time\t//p')"
has 'which is said' out 'on another paper or lot'
run print --recipe first.json --paper paper.json --json
same 'the same paper keeps it' 40 "$(awk -f "$support/json.awk" out | sed -n 's/^inputs\.tests\.0\.time\t//p')"

# Moves of the hand: two dodges of half a stop are -1.27 stop
sed 's/"moves": \[\]/"moves": [{"tone": "shadow", "stops": -0.5}, {"tone": "shadow", "stops": -0.5}]/' \
    first.json >moved.json
run print --recipe moved.json --json
hand=$(awk -f "$support/json.awk" out | sed -n 's/^choice\.tones\.[0-9]*\.hand_stops\t\(-.*\)/\1/p')
near 'two dodges of half a stop' -1.2716 "$hand" 1e-4
run print --recipe moved.json --scale 5
has 'and they stay so at another size' out 'by hand the shadow -1 1/4'
sed 's/"moves": \[\]/"move": []/' first.json >slip.json
refuses 3 "slip.json: key 'inputs' has a key 'move', which is not known here; correct it, or take it out" \
    print --recipe slip.json
refuses 2 'print needs a file; write wedgework print NEG.csv, or - for standard input, or give a stored plan with --recipe' print

# Results: a lamp that gives 0.3 stop more
run print negative.csv --paper paper.json --place cloud=0.10 -o plan.json --quiet
time=$(awk "BEGIN { printf \"%.1f\", $(value plan.json choice.time) }")
prints "$time" 0.0903 >print.csv
run print --recipe plan.json --result print.csv -o next.json --json
exits 0 'explained'
same 'the cause' exposure "$(value next.json miss.cause)"
near '0.0903 log H' 0.0903 "$(value next.json miss.learned.log_h)" 0.01
near 'the time is shorter by it' "$(product "$time" '10 ^ -0.0903')" "$(value next.json choice.time)" "$(product "$time" 0.03)"
same 'stored' 1 "$(value next.json inputs.offsets.0.prints)"
run print negative.csv --paper paper.json --place cloud=0.10 --result print.csv --json
near 'the same without a recipe' "$(value next.json choice.time)" "$(value out choice.time)" 1e-9
# The next print, made to that: as foretold, and two prints stand behind it
time=$(awk "BEGIN { printf \"%.1f\", $(value next.json choice.time) }")
prints "$time" 0.0903 >print2.csv
run print --recipe next.json --result print2.csv -o last.json --json
same 'as foretold' nothing "$(value last.json miss.cause)"
same 'two prints' 2 "$(value last.json inputs.offsets.0.prints)"
holds 'and less doubt' awk "BEGIN { exit !($(value last.json miss.learned.sd) < $(value next.json miss.learned.sd)) }"
run print --recipe next.json --result print2.csv
has 'said' out 'came out as foretold'
holds 'the act first' sh -c "head -n 1 out | grep -q '^Grade 2 (Invented Paper), '"
run print --recipe next.json --result print2.csv --report page.html --quiet
has 'and on the page' page.html 'The last print'

# Fog: up in the light tones alone; one tone alone: open, and the tone that would tell is named
time=$(awk "BEGIN { printf \"%.1f\", $(value plan.json choice.time) }")
prints "$time" 0 0.08 >fog.csv
run print --recipe plan.json --result fog.csv --json
same 'fog or flare' 'light end' "$(value out miss.cause)"
same 'nothing is learned of the paper' '' "$(value out inputs.offsets.0.prints)"
near 'and the time stands' "$(value plan.json choice.time)" "$(value out choice.time)" 1e-9
prints "$time" 0.15 | grep -v 'shadow\|wall\|sail' >one.csv
run print --recipe plan.json --result one.csv
holds 'open' sh -c "tr -s ' \n' ' ' <out | grep -q 'leave it open\. Either .* or .* Read .wall. on the print'"

# What does not belong to the plan
sed 's/^wall/boat/' print.csv >boat.csv
run print --recipe plan.json --result boat.csv
exits 3 'a tone that the negative lacks'
has 'named' err "'boat'"
sed 's/^# material: print/&\n# relative to: base/' print.csv >base.csv
refuses 3 "base.csv: a print is read by reflection, absolute or relative to its white; these readings are relative to a film's base" \
    print --recipe plan.json --result base.csv
sed 's/^# material: print/&\n# contrast: 5/' print.csv >five.csv
refuses 3 "five.csv: the print is on contrast '5', which no paper of the plan is; give that paper's curve with --paper, or correct the print's contrast" \
    print --recipe plan.json --result five.csv
run print negative.csv --place cloud=0.10 --result print.csv
exits 3 'a plan without a time'
has 'the remedy' err '--test SECONDS:TONE=DENSITY'
finish
