#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# control.sh - strips are entered, judged and drawn; nothing is lost, whatever happens to the log. Outside values:
# NIST/SEMATECH 6.3.2.2 (a hundredth of it, as densities), and the worked film strip (contrasts 0.86, 1.01, 1.05).
. tests/support/cli.sh

# reference, strip DATE VALUE - a grey strip with the one step LD
reference() { printf '%s\n' '# material: strip' 'step,visual,correction_visual' 'LD,0.48,0.02'; }
strip() { printf '%s\n' "# date: $1" 'step,visual' "LD,$2"; }

# 1. Limits from history: NIST 6.3.2.2
reference >ref.csv
strip 2026-11-01 0.496 >s.csv
run control add s.csv --log nist.db
exits 2 'the first strip needs a reference'
says 'and says so' 'the first strip of a process needs its reference; give --reference REF.csv, the readings of the reference strip'
holds 'nothing was made' test ! -e nist.db
run control add s.csv --log nist.db --reference ref.csv
exits 0 'the first strip'
has 'not judged' out 'Not judged yet: strip 1 of 2026-11-01 has no limits'
has 'no limits yet' out '1 of the 10 strips'
day=2
for value in 0.476 0.499 0.513 0.478 0.512 0.526 0.524 0.536 0.521; do
    strip "2026-11-$(printf %02d $day)" $value >s.csv
    run control add s.csv --log nist.db --quiet
    day=$((day + 1))
done
exits 0 'the tenth strip'
run control list --log nist.db --json
same 'kind' control "$(value out kind)"
same 'state' 'in control' "$(value out state)"
near 'centre' 0.5081 "$(value out limits.LD.visual.centre)" 1e-9
near 'upper limit' 0.558041 "$(value out limits.LD.visual.upper)" 1e-6
near 'lower limit' 0.458159 "$(value out limits.LD.visual.lower)" 1e-6
near 'aim: reference and correction' 0.50 "$(value out limits.LD.visual.aim)" 1e-9
same 'from' history "$(value out limits.LD.visual.from)"
strip 2026-11-11 0.559 >s.csv
run control add s.csv --log nist.db --json
exits 1 'beyond a limit is out of control'
same 'state' 'out of control' "$(value out state)"
same 'rule' 'beyond the limit' "$(value out rules.0.rule)"
run control list --log nist.db
exits 1 'and stays so'
cat >want <<'END'
Out of control: strip 11 of 2026-11-11 reads LD visual +0.059 D off its aim, its
limit +0.058. Stop, and confirm with a second strip before you change anything.
LD visual is 0.559 D; its aim is 0.50, limits are 0.458 to 0.558 (the mean of 10
strips +-3 sigma); it is beyond by 0.001, which one reading's error (+-0.02) may
be: read it again first.
END
head -n 5 out >first
holds 'its first sentences' cmp want first
has 'the list' out '   11  2026-11-11  -    out of control  +0.059  LD visual  beyond'
run control note --log nist.db --text 'developer renewed' --strip 11 --date 2026-11-12
exits 0 'a note'
has 'shown' out '2026-11-12     11  developer renewed'
run control delete --log nist.db --strip 11 --why 'read from the wrong end'
exits 0 'a strip taken out'
has 'stays in the log' out 'read from the wrong end'
run control list --log nist.db
exits 0 'does not count'
has 'and that is said' out '1 strip was taken out'
run control delete --log nist.db --strip 11 --why again
exits 3 'twice'
run control delete --log nist.db --strip 12 --why again
exits 3 'no such strip'
run control baseline --log nist.db --baseline 12
exits 3 'a baseline of more than there is'
run control baseline --log nist.db --why 'after the summer'
exits 0 'a baseline'
run control chart --log nist.db --slow ewma --json
exits 0 'a chart'
same 'slow' ewma "$(value out slow)"
strip 2026-11-12 0.52 >s.csv
run control add s.csv --log nist.db --baseline 15
exits 2 'limits that stand are not made anew by the way'

# 2. Colour, with limits of the user's own
cat >ref.csv <<'END'
# lot: 4127
# status: M
step,tone,red,green,blue
1,D-min,0.32,0.63,0.72
2,LD,0.44,0.76,0.98
3,HD,1.30,1.77,2.03
END
cat >limits.csv <<'END'
measure,channel,action,control
D-min,,+0.03,+0.05
LD,,0.06,0.08
HD-LD,,0.07,0.09
LD spread,,,0.09
END
sed 's/,D-min,/,/; s/,LD,/,/; s/,HD,/,/; s/step,tone/step/' ref.csv >good.csv
run control add good.csv --log film.db --reference ref.csv --limits limits.csv --process film --machine left \
    --date 2026-11-01 --json
exits 0 'a strip like its reference'
near 'contrast' 0.86 "$(value out rows.0.values.HD-LD.red.value)" 1e-9
near 'contrast' 1.01 "$(value out rows.0.values.HD-LD.green.value)" 1e-9
near 'contrast' 1.05 "$(value out rows.0.values.HD-LD.blue.value)" 1e-9
same 'from' user "$(value out limits.LD.green.from)"
near 'upper' 0.84 "$(value out limits.LD.green.upper)" 1e-9
same 'one side' null "$(value out limits.D-min.green.lower)"
sed 's/^2,0.44,/2,0.54,/' good.csv >bad.csv
run control add bad.csv --log film.db --date 2026-11-02 --lot 4127
exits 1 'LD red is 0.10 off'
has 'LD' out 'reads LD red +0.10 D off its'
has 'possible causes' out 'Possible causes, none of them found'
run control add bad.csv --log film.db --date 2026-11-03
exits 1 'again'
has 'confirmed' out 'The strip before it says so too'
run control add good.csv --log film.db --date 2026-11-04 --lot 4128
exits 3 'another lot'
run control add good.csv --log film.db --date 2026-11-04 --process paper --reference ref.csv
exits 0 'another process'
has 'is said' out "A process 'paper' begins"
run control list --log film.db
exits 1 'the worst of several'
has 'each by name' out 'Out of control: film, left.'
run control chart --log film.db
exits 2 'which one'
run control chart --log film.db --process film --strip 1
exits 0 'an earlier strip'
run control list --log film.db --process slides
exits 3 'no such process'
run control add good.csv --log film.db --process film --date 31.11.2026
exits 2 'no date'
sed 's/^# status: M/# date: yesterday/' good.csv >undated.csv
run control add undated.csv --log film.db --process film
exits 3 'no date in the readings'

# 3. Files that are no log, and what has to be left alone
cp s.csv text.db
refuses 3 'text.db: this is no control log but another kind of file; it was left as it is. Give --log the log, or a new name to begin one' \
    control list --log text.db
run control add good.csv --log text.db --reference ref.csv
exits 3 'nothing is added to it'
holds 'left as it was' cmp s.csv text.db
refuses 3 'none.db: there is no such log; `control add` begins one' control list --log none.db
refuses 2 'control list needs a log; give --log FILE.db' control list
refuses 2 'a control log is kept in a file; give --log a name in place of -' control list --log -
run control list --log nist.db --report nist.db
exits 2 'the log is not overwritten by a page'

# 4. Plot and page
if command -v gnuplot >/dev/null 2>&1; then
    run control chart --log film.db --process film --plot chart.svg --report chart.html --quiet
    exits 1 'drawn'
    has 'a plot' chart.svg '<svg'
    has 'a page' chart.html '<title>Process control</title>'
else
    skip 'no gnuplot'
fi

# 4b. What depends on the process says it first, and takes how well it repeats: ten strips that go up and down by
# 0.0188 D have a sigma of 1/60 D
printf '%s\n' '# density: reflection' step,visual LD,0.70 >pref.csv
for n in 1 2 3 4 5 6 7 8 9 10; do
    printf '%s\n' "# date: 2026-11-$(printf %02d $n)" step,visual "LD,$([ $((n % 2)) = 0 ] && echo 0.7188 || echo 0.7)" >s.csv
    run control add s.csv --log paper.db --reference pref.csv --quiet
done
paper 2 3 >paper.csv
run fit paper.csv -o paper.json --quiet
printf '%s\n' '# material: negative' tone,visual base,0.2 shadow,0.4 wall,0.8 cloud,1.2 >neg.csv
run print neg.csv --paper paper.json --place wall=0.6 --control paper.db --json
exits 0 'in control'
cp out with.json
run print neg.csv --paper paper.json --place wall=0.6 --repeatability 0.0166666666666667 --json
same 'the same doubt as by --repeatability' "$(value out choice.doubt_stops | cut -c 1-8)" \
    "$(value with.json choice.doubt_stops | cut -c 1-8)"
has 'and says so' with.json 'repeats to 0.017 D'
run print neg.csv --paper paper.json --place wall=0.6 --control paper.db --repeatability 0.05 --json
has 'which --repeatability comes before' out 'gives way to --repeatability'
printf '%s\n' '# date: 2026-11-11' step,visual LD,0.80 >s.csv
run control add s.csv --log paper.db --quiet
run print neg.csv --paper paper.json --place wall=0.6 --control paper.db
exits 1 'out of control'
head -n 1 out >first
has 'before any other advice' first 'The process comes first. Out of control: strip 11'
sed '1i# lot: B' pref.csv >pref-b.csv
printf '%s\n' '# date: 2026-11-12' '# lot: B' step,visual LD,0.81 >s.csv
run control add s.csv --log paper.db --reference pref-b.csv
has 'the first of another lot is not judged' out 'Not judged yet: strip 12'
run print neg.csv --paper paper.json --place wall=0.6 --control paper.db
exits 1 'and clears nothing'
has 'what was out is told' out 'The process comes first. Out of control: strip 11'
run print neg.csv --paper paper.json --place wall=0.6 --control none.db
exits 3 'no log'
run print neg.csv --paper paper.json --place wall=0.6 --process paper
exits 2 'a process of no log'
demo=$top/stepwedges/demo
run fit "$demo/colour-paper.csv" -o colour.json --quiet
run balance "$demo/colour-print.csv" --paper colour.json --aim "$demo/colour-aim.csv" --pack 60Y45M --time 11 --control paper.db
exits 1 'balance, out of control'
head -n 1 out >first
has 'says it first' first 'The process comes first. Out of control'

# 4c. The whole log as a table, and back
run control export --log film.db -o film.csv --quiet
exits 0 'export'
run control import film.csv --log copy.db
exits 0 'import'
has 'how many' out 'Entered: 4 strips; 0 were in the log already.'
run control export --log copy.db
holds 'the same log' cmp film.csv out
run control import film.csv --log copy.db
has 'nothing twice' out 'Entered: 0 strips; 4 were in the log already.'
run control import s.csv --log copy.db
exits 3 'no such table'

# 5. Several at once: every strip is there, each once
: >lost
for writer in 1 2 3; do
    (for strip in 1 2 3 4 5 6; do
        "$WEDGEWORK" control add good.csv --log busy.db --reference ref.csv --quiet \
            --date "2026-11-0$writer" >/dev/null 2>>lost || echo "$writer $strip" >>lost
    done) &
done
wait
same 'no writer was refused' '' "$(cat lost)"
run control list --log busy.db --json
same 'eighteen strips' 18 "$(grep -c '"strip": [0-9]*,$' out | awk '{ print $1 - 1 }')"

# 6. Killed at any moment: what is there is whole, and what was told is there
told=0
for pause in 0.002 0.004 0.006 0.008 0.010 0.012 0.014 0.016 0.02 0.03 0.04 0.06; do
    "$WEDGEWORK" control add good.csv --log killed.db --reference ref.csv --quiet --date 2026-11-05 \
        >/dev/null 2>&1 &
    add=$!
    sleep $pause
    kill -9 $add 2>/dev/null
    wait $add 2>/dev/null && told=$((told + 1))
done
if [ -e killed.db ]; then
    run control list --log killed.db --json
    exits 0 'the log is whole'
    there=$(grep -c '"date": "2026-11-05"' out)
    holds "what was told is there: $told of $there" test "$there" -ge "$told"
else
    good 'killed before there was a log'
fi
run control add good.csv --log killed.db --reference ref.csv --date 2026-11-06
exits 0 'and goes on'

# 7. No room: nothing that was there is lost, and what was told is there
rows() { grep -c '"date": "20' "$1"; }
cp film.db full.db
run control list --log full.db --json
before=$(rows out)
size=$(wc -c <full.db)
(ulimit -f $((size / 512)) && i=0 && while [ $i -lt 400 ]; do
    "$WEDGEWORK" control add good.csv --log full.db --process film --machine left --date 2026-11-07 \
        --quiet >/dev/null 2>full.err
    full=$?
    [ $full -eq 0 ] || break
    i=$((i + 1))
done; echo "$full $i" >full.said)
read -r full told <full.said
same 'the system refused' 4 "$full"
has 'and it is said which file' full.err 'full.db: '
run control list --log full.db --json
same 'strips that are there' $((before + told)) "$(rows out)"
holds 'nothing else lies there' test ! -e full.db-journal
finish
