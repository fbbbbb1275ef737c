#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# fit.sh - readings to figures from end to end. The readings are a logistic curve in closed form rounded
# to 0.01 D (see film and paper in tests/support/cli.sh), and so are the expected values; definitions
# as in interface conventions. Tolerances: 0.02 in slopes and D, 0.03 in log H, for the rounding.
. tests/support/cli.sh
film >film.csv
fast='--resamples 100'

run fit film.csv $fast --json
exits 0 'fit'
cp out film.json
holds 'is one JSON document' sh -c "awk -f '$support/json.awk' film.json >/dev/null"
same 'kind' curve "$(value film.json kind)"
same 'name' 'Invented Film' "$(value film.json name)"
v=channels.visual
near 'base+fog is the base row' 0.21 "$(value film.json $v.base_fog.value)" 0.0051
same 'base+fog was measured' measured "$(value film.json $v.base_fog.how)"
# net(x) = 1.94 / (1 + 10^(-0.93 (x + 1.2))); its inverse x(d) = -1.2 - log10(1.94 / d - 1) / 0.93
closed() { awk "function lg(x) { return log(x) / log(10) }
    function net(x) { return 1.94 / (1 + 10 ^ (-0.93 * (x + 1.2))) }
    function at(d) { return -1.2 - lg(1.94 / d - 1) / 0.93 }
    BEGIN { printf \"%.4f\", $1 }"; }
speed_point=$(closed 'at(0.10)')
near 'speed point' "$speed_point" "$(value film.json $v.speed_point.value)" 0.03
gradient=$(closed '(net(at(0.10) + 1.5) - 0.10) / 1.5')
near 'average gradient' "$gradient" "$(value film.json $v.average_gradient.value)" 0.02
near 'its first end-point' "$speed_point" "$(value film.json $v.average_gradient.between.0)" 0.03
near 'its second' "$(closed 'at(0.10) + 1.5')" "$(value film.json $v.average_gradient.between.1)" 0.03
# Local slope is 4 p (1 - p) of the steepest, p = net / 1.94: at 0.95 of it p = 0.5 +- sqrt(0.05) / 2
gamma=$(closed '1.94 * sqrt(0.05) / (at(1.94 * (0.5 + sqrt(0.05) / 2)) - at(1.94 * (0.5 - sqrt(0.05) / 2)))')
near 'gamma' "$gamma" "$(value film.json $v.gamma.value)" 0.02
same 'no D-max where the slope has not fallen to a fifth' null "$(value film.json $v.dmax)"
same 'no speed without lux seconds' null "$(value film.json speed)"
same 'no suspect among clean readings' '' "$(value film.json $v.suspect.0.step)"
for figure in base_fog gamma average_gradient speed_point; do
    holds "the interval holds the value: $figure" awk "BEGIN { exit !($(value film.json $v.$figure.low) <= \
        $(value film.json $v.$figure.value) && $(value film.json $v.$figure.value) <= $(value film.json $v.$figure.high)) }"
done

# Options
run fit film.csv $fast --json
holds 'the same input gives the same bytes' cmp film.json out
run fit film.csv $fast --json --seed 1
holds 'seed 1 is the default' cmp film.json out
run fit film.csv $fast --json --seed 2
holds 'another seed draws anew' sh -c '! cmp -s film.json out'
near 'and moves no value' "$(value film.json $v.gamma.value)" "$(value out $v.gamma.value)" 1e-12
run fit film.csv $fast --json --log-h0 0.731
near '--log-h0 shifts log H' "$(closed 'at(0.10) + 0.731')" "$(value out $v.speed_point.value)" 0.03
near 'and nothing else' "$(value film.json $v.average_gradient.value)" "$(value out $v.average_gradient.value)" 1e-6
for model in logistic toe-line-shoulder spline; do
    run fit film.csv $fast --json --model $model
    same "--model $model" $model "$(value out $v.model)"
    near "the gradient does not hang on the model: $model" "$gradient" \
        "$(value out $v.average_gradient.value)" 0.02
done
awk -F , '/^[0-9]/ { print $1 "," $3; next } /^base/ { print "base,0.21"; next } /^step/ { print "step,visual"; next } 1' \
    film.csv >steps.csv
{ echo '# material: wedge'; echo 'step,visual'; awk -F , '/^[0-9]/ { print $1 "," $2 }' film.csv; } >wedge.csv
run fit steps.csv --through wedge.csv $fast --json
exits 0 '--through'
near 'gives the exposures' "$(value film.json $v.speed_point.value)" "$(value out $v.speed_point.value)" 1e-6

# A black-and-white film read in colours: whose speed it is, or whose is missing
{ echo '# emulsion: black-and-white'; echo '# exposure unit: lux second'; cat film.csv; } |
    awk -F , -v OFS=, '/^step/ { print $1, $2, "red,green"; next } NF > 2 { print $1, $2, $3, $3; next } 1' >rg.csv
run fit rg.csv $fast
exits 0 'a film in red and green'
has 'the note says whose speed it is' out 'the speed is that of'
sed 's/red,green/red,blue/' rg.csv >rb.csv
run fit rb.csv $fast --json
exits 0 'a film in red and blue'
same 'has no speed' null "$(value out speed)"
has 'the note says why' out 'judged by green, which has no curve'

# A slip of 0.15 D in one reading is named and does not move the result
awk -F , -v OFS=, '$1 == "11" { $3 = sprintf("%.2f", $3 + 0.15) } 1' film.csv >slip.csv
run fit slip.csv $fast --json
exits 0 'a slip'
same 'is named with its step' 11 "$(value out $v.suspect.0.step)"
near 'and size' 0.15 "$(value out $v.suspect.0.residual)" 0.02
near 'and moves nothing' "$(value film.json $v.average_gradient.value)" "$(value out $v.average_gradient.value)" 0.01
run fit slip.csv $fast
has 'the text names it' out 11

# A slip of 0.39 D in one of two readings of a step: the mean hides it, the note does not
awk -F , -v OFS=, '{ print } NF > 2 && $1 + 0 > 0 {
    $3 = sprintf("%.2f", $3 + ($1 == "11" ? 0.39 : 0.01)); print }' film.csv >twice.csv
run fit twice.csv $fast --json
exits 0 'two readings a step'
has 'the step whose readings differ is named' out 'step 11: its two readings, '

# Too few steps
head -n 10 film.csv >few.csv
run fit few.csv $fast
exits 0 'three steps are no error'
holds 'the text says what is missing' test -s out
run fit few.csv $fast --json
same 'there is no gamma' null "$(value out $v.gamma)"
holds 'and a note' test -n "$(value out notes.0)"

# Nothing at all: neither a curve nor a base
grep -v '^base' few.csv >none.csv
run fit none.csv $fast -o none.json
exits 3 'three steps without a base'
has 'the message says which readings would do' err 'at least 5'
holds 'no file is left' test ! -e none.json

# More distinct steps than a curve takes
awk 'BEGIN { print "step,wedge,visual"; for (i = 0; i < 1001; i++) printf "%d,%.4f,%.3f\n", i, i * 0.002, 2 - i * 0.001 }' >many.csv
run fit many.csv $fast
exits 3 'a thousand and one steps'
has 'the message names the file' err 'many.csv: 1001 readings'

# A paper, in seconds: D = 0.06 + 2.04 / (1 + 10^(-2.53 (log t - 1)))
paper 2 2.53 >paper.csv
run fit paper.csv $fast --json
exits 0 'a paper'
near 'R' "$(awk 'function lg(x) { return log(x) / log(10) }
    BEGIN { print 100 * (lg(2.04 / 0.04 - 1) - lg(1 / 0.9 - 1)) / 2.53 }')" "$(value out $v.iso_range.value)" 3
same 'no P without lux seconds' null "$(value out $v.paper_speed)"
near 'D-min' 0.06 "$(value out $v.base_fog.value)" 0.0051

# The text: first the finding; every line fits the terminal; no escape codes in a file
run fit film.csv $fast
exits 0 'text'
echo "Gamma $gamma, average gradient $gradient between log H $speed_point and $(closed 'at(0.10) + 1.5'); no speed." >expected.txt
tr '\n' ' ' <out | sed 's/ ([-0-9.]* to [-0-9.]*)//g; s/; no speed\..*/; no speed./' >found.txt
echo >>found.txt
text_like 'the first sentence' expected.txt found.txt 0.03 0
same 'lines fit 80 columns' '' "$(LC_ALL=C.UTF-8 awk 'length($0) > 80' out)"
holds 'the text ends with a line end' sh -c 'test "$(tail -c 1 out | od -An -c | tr -d " ")" = "\n"'
finish
