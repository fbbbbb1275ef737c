#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# lesson.sh - practice readings are handed out without their answers, and the answers work every figure from the
# hidden curve. Expected values: the answers' own hidden numbers by closed forms of awk, and what `fit` finds.
. tests/support/cli.sh

# 1. Same seed, same files; nothing betrays the truth
run lesson --seed 4711 --material film -o a.csv --answers a.json
exits 0 'a lesson'
has 'its task' out 'find its base+fog, speed point'
lacks() { if grep -q "$3" "$2"; then bad "$1" "$(grep "$3" "$2")"; else good "$1"; fi; }
lacks 'no seed in what is handed out' a.csv 4711
lacks 'nor in the text' out 4711
run lesson --seed 4711 --material film -o b.csv --answers b.json --quiet
holds 'the same readings' cmp a.csv b.csv
holds 'the same answers' cmp a.json b.json
run lesson --seed 4712 --material film -o c.csv --quiet
holds 'another seed, another film' sh -c '! cmp -s a.csv c.csv'
run lesson --seed 4711 --material film -o -
holds '-o - is the table alone' cmp out a.csv

# 2. The straight line of the hidden curve: D = base + gamma (log H - toe) between the bends
for key in base_fog gamma toe toe_half shoulder shoulder_half; do
    eval "$key=$(value a.json hidden.$key)"
done
checked=0 i=1
while [ $i -le 21 ]; do
    x=$(value a.json rows.$i.log_h)
    if awk "BEGIN { exit !($x > $toe + $toe_half && $x < $shoulder - $shoulder_half) }"; then
        near "hidden density at $x" "$(awk "BEGIN { print $base_fog + $gamma * ($x - $toe) }")" \
            "$(value a.json rows.$i.hidden)" 1e-6
        checked=$((checked + 1))
    fi
    i=$((i + 1))
done
holds 'some steps lie on it' test $checked -ge 4
same 'the first figure' base_fog "$(value a.json figures.0.figure)"
near 'its hidden value' "$base_fog" "$(value a.json figures.0.hidden.value)" 1e-9
# The speed point by its own working
for side in hidden sound; do
    for key in base x1 D1 x2 D2; do
        eval "v_$key=$(value a.json figures.1.$side.numbers.$key)"
    done
    near "speed point, $side" "$(awk "BEGIN { print $v_x1 + ($v_base + 0.10 - $v_D1) / ($v_D2 - $v_D1) * ($v_x2 - $v_x1) }")" \
        "$(value a.json figures.1.$side.value)" 1e-4
done
# fit comes to the hidden truth within its doubt (and more, since one interval in twenty misses)
run fit a.csv --json
near 'gamma by fit' "$(value a.json figures.3.hidden.value)" "$(value out channels.visual.gamma.value)" 0.06
near 'speed point by fit' "$(value a.json figures.1.hidden.value)" "$(value out channels.visual.speed_point.value)" 0.10

# 3. Faults, as `fit` meets them
run lesson --seed 4711 --fault decimal-comma -o comma.csv --answers comma.txt --quiet
has 'the answers say it' comma.txt 'typed with a comma'
run fit comma.csv
exits 3 'a comma too many'
has 'with its remedy' err 'if the commas are decimal ones'
run lesson --seed 4711 --fault reversed-wedge -o reversed.csv --quiet
run fit reversed.csv
exits 3 'a wedge reversed'
has 'with its direction' err 'check the exposure column'
run lesson --seed 4711 --material film --fault wrong-zero -o zero.csv --quiet
run fit zero.csv
exits 0 'a wrong zero'
tr -s '\n ' '  ' <out >flat
has 'told' flat 'which no film does; if the instrument was set to zero on it'
run lesson --seed 4 --material paper --fault swapped-rows -o swapped.csv --answers swapped.json --quiet
step=$(value swapped.json fault.step)
run fit swapped.csv --json
same 'rows exchanged' "swapped $step" \
    "$(value out channels.visual.suspect.0.cause) $(value out channels.visual.suspect.0.step)"
run lesson --seed 9 --fault any --answers any.json --quiet
holds 'any fault is one' test "$(value any.json fault.name)" != none

# 4. A class: eight read one film, the ninth copied the third, the tenth missed a step
for k in 1 2 3 4 5 6 7 8; do
    run lesson --seed 12 --material film --student $k -o s$k.csv --quiet
done
cp s3.csv s9.csv
run lesson --seed 12 --material film --student 10 --fault missed-step -o s10.csv --quiet
run lesson --class s1.csv s2.csv s3.csv s4.csv s5.csv s6.csv s7.csv s8.csv s9.csv s10.csv --json -o class.json
exits 0 'a class'
holds '-o writes what --json prints' cmp out class.json
same 'the copy' 's3.csv s9.csv' "$(value out copied.0.files.0) $(value out copied.0.files.1)"
same 'and no other' '' "$(value out copied.1.files.0)"
same 'students' 10 "$(value out figures.3.n)"
run lesson --seed 12 --material film --answers class-truth.json --quiet
near 'median of the base' "$(value class-truth.json hidden.base_fog)" "$(value class.json figures.0.median)" 0.02
near 'median gamma' "$(value class-truth.json figures.3.hidden.value)" "$(value class.json figures.3.median)" 0.04
run lesson --class s1.csv s2.csv
has 'two files cannot tell' out 'cannot be told of two files'
lacks 'so nothing is told of chance' out 'than chance allows'
run lesson --class s1.csv s2.csv s3.csv s9.csv
has 'in words' out "'s3.csv' and 's9.csv' agree in 22 of 22 rows"

# 5. Refusals
refuses 2 'lesson needs a seed; give --seed N, any whole number from 1 on' lesson
run lesson --seed 0
exits 2 'seed 0'
run lesson --seed 3 --fault dust
exits 2 'a fault that there is none of'
run lesson film.csv --seed 3
exits 2 'it reads no file'
run lesson --class s1.csv
exits 2 'a class of one'
run lesson --class s1.csv s2.csv --seed 4
exits 2 'a class has no seed'
run lesson --seed 3 -o same.csv --answers same.csv
exits 2 'both into one file'
holds 'which is not there' test ! -e same.csv
run lesson --seed 3 --answers nowhere/answers.json -o kept.csv
exits 4 'answers that cannot be written'
holds 'then nothing is handed out' test ! -e kept.csv
finish
