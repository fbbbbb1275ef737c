#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# develop.sh - the time for a contrast, what goes with it, and what is not told. Expected values: the law of
# development, gamma = gamma_inf (1 - e^(-k (t - t0))), in closed form; five development times of one film,
# digitised from its data sheet (outside data, folder curves; index.json there names the sheet).
. tests/support/cli.sh
. "$support/curves.sh"

# law INFINITY RATE START TIME - contrast by the law
law() { awk -v g="$1" -v k="$2" -v s="$3" -v t="$4" 'BEGIN { printf "%.6f", g * (1 - exp(-k * (t - s))) }'; }

# curve MINUTES CONTRAST [HALF [TEMPERATURE [SPEED_POINT [EXTRA]]]] - a curve file whose figures are these: a straight
# line with a toe, of that gamma; every contrast has the same value, give or take HALF (95 %)
curve() {
    awk -v t="$1" -v c="$2" -v half="${3:-0.004}" -v temperature="${4:-20}" -v x="${5:--2}" -v extra="${6-}" 'BEGIN {
        printf "{ \"wedgework\": 1, \"kind\": \"curve\", \"name\": \"Invented\", \"material\": \"film\", \"process\": \"negative\",\n"
        printf "  \"emulsion\": \"black-and-white\", \"exposure_unit\": \"lux second\", \"log_h0\": 0, \"development_time\": %s,\n", t
        if (temperature != "none") printf "  \"temperature\": %s,\n", temperature
        printf "  %s\n  \"channels\": { \"visual\": { \"model\": \"toe-line\",\n", extra
        printf "    \"parameters\": { \"base_fog\": 0.2, \"gamma\": %s, \"toe_position\": -2.1, \"toe_softness\": 0.1 },\n", c
        print "    \"covariance\": [[1e-6,0,0,0],[0,1e-6,0,0],[0,0,1e-6,0],[0,0,0,1e-6]], \"domain\": [-3, 0.5],"
        print "    \"points\": [[-3, 0.2, null], [0.5, 1.5, null]], \"residual_sd\": 0.005, \"suspect\": [],"
        for (i = split("gamma average_gradient contrast_index", f, " "); i > 0; i--)
            printf "    \"%s\": { \"value\": %s, \"low\": %.6f, \"high\": %.6f, \"how\": \"fitted\" },\n", f[i], c, c - half, c + half
        printf "    \"base_fog\": { \"value\": 0.2, \"low\": 0.19, \"high\": 0.21, \"how\": \"measured\" },\n"
        printf "    \"speed_point\": { \"value\": %s, \"low\": %.4f, \"high\": %.4f, \"how\": \"fitted\" } } } }\n", x, x - 0.02, x + 0.02
    }'
}
between() { awk "BEGIN { exit !($1 <= $2 && $2 <= $3) }"; }
# rounds NAME TRUTH PATH - the interval of a quantity of the last result holds the truth
rounds() { holds "$1" between "$(value out "$3.low")" "$2" "$(value out "$3.high")"; }

# 1. Three times: gamma 0.50 at 5 min, 0.75 at 10 min (closed form: gamma_inf 1.000, k 0.138629 a minute, 6.6096 min
# for 0.60, 0.62107 at 7 min)
for t in 5 10 15; do curve $t "$(law 1 0.1386294361 0 $t)" 0.004 20 "$(awk "BEGIN { print -1.7 - 0.02 * $t }")" >c$t.json; done
run develop c5.json c10.json c15.json --contrast-index 0.60 --json
exits 0 'three times'
same 'kind' 'development plan' "$(value out kind)"
near 'time for 0.60' 6.6096 "$(value out time.value)" 0.0005
near 'gamma infinity' 1 "$(value out gamma_infinity.value)" 0.0001
near 'rate' 0.138629 "$(value out rate.value)" 0.0001
same 'when it begins takes four times' null "$(value out start)"
near 'rows: time' 10 "$(value out rows.1.time)" 1e-9
near 'rows: contrast index' 0.75 "$(value out rows.1.contrast_index)" 1e-6
near 'rows: speed gained' "$(awk 'BEGIN { print -0.1 / (log(2) / log(10)) }')" "$(value out rows.1.speed_stops)" 1e-4
cp out whole.json
run develop c15.json c5.json c10.json --contrast-index 0.60 --json
holds 'the order of files does not count' cmp out whole.json
run develop c5.json c10.json c15.json --contrast-index 0.62107 --json -o plan.json
near 'time for 0.62107' 7 "$(value out time.value)" 0.0005
holds '-o writes what --json prints' cmp out plan.json

# 2. Two: 0.56 at 6 min, 0.78 at 12 min (closed form: gamma_inf 0.922353, k 0.155718, 0.656968 at 8 min)
curve 6 0.56 >six.json
curve 12 0.78 >twelve.json
run develop six.json twelve.json --contrast-index 0.656968 --json
exits 0 'two times'
near 'straight against log time' "$(awk 'BEGIN { print 6 * 2 ^ ((0.656968 - 0.56) / (0.78 - 0.56)) }')" "$(value out time.value)" 0.0005
near 'near the law that begins at once' 8 "$(value out time.value)" 0.25
rounds 'whose time the interval holds' 8 time
same 'gamma infinity is not told' null "$(value out gamma_infinity)"
same 'nor the rate' null "$(value out rate)"
has 'but as what would be' out 'contrast would level off at 0.922, at a rate of 0.1557 a minute'
run develop six.json twelve.json --contrast-index 0.656968
has 'first sentence: 6 min times two to the 0.441, on 5 s' out 'Develop 8 min 10 s ('

# 3. Four times: t0
for t in 4 6 9 14; do curve $t "$(law 0.95 0.17 1.2 $t)" 0.002 >t$t.json; done
run develop t4.json t6.json t9.json t14.json --contrast-index 0.5 --json
near 't0 of four times' 1.2 "$(value out start.value)" 0.01
near 'their gamma infinity' 0.95 "$(value out gamma_infinity.value)" 0.002
near 'their time' "$(awk 'BEGIN { print 1.2 - log(1 - 0.5 / 0.95) / 0.17 }')" "$(value out time.value)" 0.002

# 4. No further than a quarter past what was developed
run develop c5.json c10.json c15.json --contrast-index 0.90 --json
exits 0 'within a quarter past the last'
same 'marked' extrapolated "$(value out time.how)"
run develop c5.json c10.json c15.json --contrast-index 0.94 --json
exits 1 'beyond a quarter'
same 'no time' null "$(value out time)"
same 'what is wrong' longer "$(value out place)"
near 'what to develop next' "$(awk 'BEGIN { print -log(0.06) / 0.1386294361 }')" "$(value out next)" 0.01
run develop c5.json c10.json c15.json --contrast-index 0.94
has 'in words' out 'Next, develop a strip for 20 min 30 s'
run develop c5.json c10.json c15.json --contrast-index 0.30 --json
exits 1 'too short'
same 'which end' shorter "$(value out place)"
run develop c5.json c10.json c15.json --contrast-index 1.20
exits 1 'more than it ever gets'
has 'what it levels off at' out 'contrast levels off at 1.00'

# 5. Curves that are off
curve 8 0.40 >off.json
run develop c5.json off.json c10.json c15.json --contrast-index 0.60
has 'falls' out "'off.json' (8 min) has less contrast"
has 'scatters' out 'The curves scatter about the law of development by'
curve 9 0.44 >c9.json
curve 5 0.50 >c5b.json
run develop c5b.json c9.json --contrast-index 0.50 --json
exits 1 'contrast that falls'
same 'has no time' level "$(value out place)"

# 6. Temperature, from the user's own pairs: 1.4 times as fast 4 degrees up
curve 5 "$(law 1 0.1386294361 0 7)" 0.004 24 >warm.json
run develop c5.json c10.json c15.json warm.json --contrast-index 0.60 --temperature 24 --json
exits 0 'at another temperature'
near 'time there' "$(awk 'BEGIN { print 6.6096 / 1.4 }')" "$(value out time.value)" 0.005
near '10 degrees' "$(awk 'BEGIN { b = log(1.4) / (1 / 293.15 - 1 / 297.15); print exp(b * (1 / 293.15 - 1 / 303.15)) }')" \
    "$(value out by_temperature.factor_10.value)" 0.01
run develop c5.json c10.json c15.json --contrast-index 0.60 --temperature 24
exits 1 'without a pair'
has 'says what to develop' out 'is 6 min 35 s. Next, develop a strip at 24 C.'
run develop c5.json c10.json c15.json warm.json --contrast-index 0.60 --temperature 26 --json
exits 1 'too far from both'

# 7. Subjects: a straight line gives the density range that its slope says, over net 0.10
for t in 5 10 15; do
    g=$(law 1 0.1386294361 0 $t)
    { echo '# material: film'; echo '# process: negative'; echo "# development time: $t"; echo '# temperature: 20'; echo 'step,logh,visual'; echo 'base,,0.200'
      awk -v g="$g" 'BEGIN { for (i = 0; i <= 24; i++) { x = -0.3 + 0.15 * i; printf "%d,%.2f,%.4f\n", i + 1, x, 0.2 + g * 0.02 * log(1 + exp(x / 0.02)) } }'; } >"line$t.csv"
    run fit "line$t.csv" --resamples 50 -o "line$t.json"
done
run develop line5.json line10.json line15.json --density-range 1.26 --subject-range 2.1 --json
exits 0 'a density range'
near 'gradient wanted' 0.6 "$(value out aim.value)" 1e-9
near 'its time' 6.6096 "$(value out time.value)" 0.02
near 'N is the same' "$(value out time.value)" "$(value out ranges.2.time.value)" 1e-6
near 'N+1, a stop less: gradient' "$(awk 'BEGIN { print 1.26 / (2.1 - log(2) / log(10)) }')" "$(value out ranges.3.gradient)" 1e-5
near 'N+1: time' "$(awk 'BEGIN { print -log(1 - 1.26 / (2.1 - log(2) / log(10))) / 0.1386294361 }')" "$(value out ranges.3.time.value)" 0.03
run develop line5.json line10.json line15.json --density-range 1.26 --subject-range 2.1 --flare 0.01 --json
near 'flare' "$(awk 'BEGIN { print -log((10 ^ -2.1 + 0.01) / 1.01) / log(10) }')" "$(value out aim.film_range)" 1e-5

# 8. The film's own index: net 0.10 at stop -2.5 of a grey card metered at 200, and ten times under it
{ echo '# material: film'; echo '# emulsion: black-and-white'; echo '# development time: 8'; echo 'step,stop,visual'; echo 'base,,0.250'
  awk 'BEGIN { for (i = 0; i < 12; i++) { s = -0.5 * i; printf "%d,%g,%.4f\n", i + 1, s, 0.25 + 0.1 * 10 ^ (0.8 * (s + 2.5) * log(2) / log(10)) } }'; } >camera.csv
run fit camera.csv --resamples 200 -o camera.json
run develop camera.json --metered-index 200 --json
exits 0 'an exposure index alone'
near 'index' "$(awk 'BEGIN { print 200 * 2 ^ (2.5 - log(10) / log(2)) }')" "$(value out exposure_index.value)" 2
rounds 'its interval' "$(awk 'BEGIN { print 200 * 2 ^ (2.5 - log(10) / log(2)) }')" exposure_index
run develop camera.json --metered-index 200 --below 4 --json
near 'a shadow placed four stops under' "$(awk 'BEGIN { print 200 * 2 ^ (2.5 - 4) }')" "$(value out exposure_index.value)" 1.5
run develop c5.json --metered-index 200
exits 1 'no series in stops'

# 9. Refusals
refuses 2 'develop needs a contrast to aim at; give --contrast-index X, or --density-range X with --subject-range Y (or --metered-index N for an exposure index alone)' develop c5.json c10.json
refuses 2 '--density-range needs --subject-range beside it: a density range is of a subject' develop c5.json c10.json --density-range 1.2
refuses 2 '--contrast-index and --density-range ask for two contrasts; give one of them' develop c5.json c10.json --contrast-index 0.6 --density-range 1.2 --subject-range 2
refuses 3 'c5.json: all curves at one temperature were developed for 5 min; how contrast grows takes two times at least: develop one more strip' develop c5.json c5b.json --contrast-index 0.6
refuses 3 'c10.json: this curve is given twice; give each strip once, and a time developed twice as the two curves that it has' develop c5.json c10.json c10.json --contrast-index 0.6
sed 's/"development_time": 10,//' c10.json >timeless.json
refuses 3 "timeless.json: this curve does not say how long its film was developed; write '# development time: MINUTES' into its readings and fit them again" develop c5.json timeless.json --contrast-index 0.6
sed 's/Invented/Other/' c10.json >other.json
refuses 3 "other.json: the film here is 'Other', and of the first curve 'Invented'; plan from curves that have it in common" develop c5.json other.json --contrast-index 0.6
curve 10 0.75 0.004 none >cool.json
refuses 3 "cool.json: this curve does not say its temperature, and the first one does; write '# temperature: C' into the readings of all of them, or of none" develop c5.json cool.json --contrast-index 0.6
sed 's/"film"/"paper"/' c10.json >paper.json
refuses 3 'paper.json: this is a curve of paper; development for a contrast is planned from curves of film' develop c5.json paper.json --contrast-index 0.6

# 10. Plot and page
if command -v gnuplot >/dev/null 2>&1; then
    run develop c5.json c10.json c15.json --contrast-index 0.60 --plot d.svg --report d.html --quiet
    exits 0 'plot and page'
    has 'what the plot is of' d.svg 'Growth of contrast'
    has 'the page has the act' d.html 'Develop 6 min 35 s'
else
    skip 'plot and page: gnuplot is not installed'
fi

# 11. Five times of one film: contrast rises, and an inner time left out is foretold within 10 %
if [ -n "${curves-}" ] && [ -d "$curves" ]; then
    for t in 4 5 6 9 12; do
        { echo '# material: film'; echo '# process: negative'; echo "# development time: $t"; echo 'step,logh,visual'
          awk -F , 'NR > 1 { printf "%d,%s,%s\n", NR - 1, $2, $3 }' "$curves/kodak_5222_dev_$t.csv"; } >"film$t.csv"
        run fit "film$t.csv" --resamples 200 -o "film$t.json"
    done
    run develop film4.json film5.json film6.json film9.json film12.json --contrast-index 0.6 --json
    exits 0 'five times of a film'
    for i in 1 2 3 4; do
        holds "contrast rises, $i" between "$(value out rows.$((i - 1)).contrast_index)" "$(value out rows.$i.contrast_index)" 9
    done
    for t in 5 6 9; do
        others=''
        for o in 4 5 6 9 12; do [ "$o" -eq $t ] || others="$others film$o.json"; done
        # shellcheck disable=SC2086
        run develop $others --contrast-index "$(value film$t.json channels.visual.contrast_index.value)" --json
        near "$t min left out" $t "$(value out time.value)" "$(awk "BEGIN { print 0.1 * $t }")"
    done
fi
finish
