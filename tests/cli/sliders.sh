#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# sliders.sh - sliders of a page in a real browser (Chromium, headless): what the page shows where they stand is what the
# program says of the same settings. The expected values are the program's own, as its JSON has them; that those are right
# is for the tests of each command. Sources: Content Security Policy Level 3 (only a script of the named hash runs),
# HTML Living Standard (a range input is moved by the arrow keys).
. tests/support/cli.sh
if ! command -v chromium >/dev/null; then
    skip 'Chromium is not installed, so no slider was moved in it'
    finish
    exit 0
fi
: "${BROWSE:?names the program that opens pages}"

look() {
    page=$1
    shift
    "$BROWSE" "$WORK/profile" "$page" "$@" >seen 2>err || bad "the browser opens $page" "$(cat err)"
}
line() { sed -n "$1p" seen; }

film 'Heron film' >film.csv
film 'Second film' | awk -F , -v OFS=, '/^[0-9]/ { $3 = sprintf("%.2f", 0.21 + 0.8 * ($3 - 0.21)) } { print }' >second.csv
paper 2 2.6 >paper2.csv
paper 3 3.4 >paper3.csv
for name in film second paper2 paper3; do
    run fit "$name.csv" --resamples 20 -o "$name.json" --quiet
    exits 0 "$name"
done
curves='--film film.json --film second.json --paper paper2.json --paper paper3.json'
# shellcheck disable=SC2086
run tones $curves --expose 0.33 --flare 0.0041 --place 1=0.12 --report tones.html --json
exits 0 'tones of two films on two papers'
cp out asked.json

# Moves sliders, given as {name: value}, as a hand does: the browser puts each on its steps.
move='const move = to => { for (const [name, value] of Object.entries(to)) {
    const input = document.getElementById("set-" + name);
    input.value = value;
    input.dispatchEvent(new Event("input", { bubbles: true })); } };'
# A line a tone: log H, film, print, looks, L*, gradient, each to six decimals or -; then what becomes of it.
rows='[...document.querySelectorAll("#moved-rows tr")].map(row => [...row.querySelectorAll("td")].map(cell =>
    cell.querySelector("data")?.value ?? cell.textContent.replaceAll(" ", "_")).join(" ")).join("\n")'
options='document.getElementById("moved-options").textContent'

# same_rows NAME SHOWN JSON - all rows of a page against those of the program; prints the greatest difference of each.
same_rows() {
    awk -f "$support/json.awk" "$3" | awk -F '\t' '
        match($1, /^rows\.[0-9]+\./) { split($1, part, "."); row = part[2]
            sub(/^rows\.[0-9]+\./, "", $1); v[row, $1] = $2; if (row + 0 >= n) n = row + 1 }
        function of(row, key) { return (row, key) in v && v[row, key] != "null" ? v[row, key] : "-" }
        END { for (i = 0; i < n; i++) { fate = of(i, "fate"); gsub(/ /, "_", fate)
            print of(i, "film_logh"), of(i, "negative"), of(i, "print"), of(i, "viewed"), of(i, "lightness"),
                of(i, "gradient"), fate } }' >told
    paste -d ' ' "$2" told | awk '
        # of log H, three densities, L*, gradient
        BEGIN { split("0.001 0.001 0.001 0.001 0.1 0.005", within, " ") }
        NF != 14 { print "line " NR " has " NF " figures"; exit }
        { for (k = 1; k <= 6; k++) {
            if (($k == "-") != ($(k + 7) == "-")) print "row " NR ", figure " k ": " $k " and " $(k + 7)
            d = $k - $(k + 7); if (d < 0) d = -d
            if (d > within[k]) print "row " NR ", figure " k ": " $k " and " $(k + 7) }
          if ($7 != $14) print "row " NR ": " $7 " and " $14 }
        END { if (NR == 0) print "no rows" }' >differs
    same "$1" '' "$(cat differs)"
}

look tones.html eval 'document.getElementById("sliders").hidden' eval "$rows" eval "$options"
same 'the script shows the sliders' false "$(line 1)"
sed '1d;$d' seen >shown
same_rows 'unmoved they say what was asked for' shown asked.json
same 'and name it' '--expose 0.33 --flare 0.0041 --enlarger-flare 0 --viewing-flare 0 --place 1=0.12' "$(sed -n '$p' seen)"

# moved NAME SETTINGS FILM PAPER [LEAST] - with the options that the page names, the program says the same.
moved() {
    look tones.html eval "$move move($2); $rows" eval "$options"
    sed '$d' seen >shown
    options_shown=$(sed -n '$p' seen)
    # shellcheck disable=SC2086
    run tones --film "$3" --paper "$4" $options_shown --json
    exits 0 "$1: the program takes $options_shown"
    cp out told.json
    same_rows "$1" shown told.json
}
moved 'film exposed more' '{expose: 1.5}' film.json paper2.json
moved 'film exposed less, so that shadows die' '{expose: -2.25}' film.json paper2.json
moved 'print exposed more' '{print: 0.75}' film.json paper2.json
moved 'print exposed less' '{print: -0.5}' film.json paper2.json
moved 'flare of the camera' '{flare: 0.025}' film.json paper2.json
moved 'flare of the enlarger' '{enlarger: 0.03}' film.json paper2.json
moved 'flare of the viewing light' '{viewing: 0.0155}' film.json paper2.json
moved 'other paper' '{chain: 2}' film.json paper3.json
moved 'other film' '{chain: 1}' second.json paper2.json
moved 'all together' '{chain: 3, expose: 0.8, print: 0.3, flare: 0.01, enlarger: 0.005, viewing: 0.01}' second.json paper3.json

# What no slider moves is kept: the options named stand in place of their like only.
kept='--film film.json --paper paper2.json --subject-range 1.9 --callier 1.2 --detail 0.5'
# shellcheck disable=SC2086
run tones $kept --report kept.html
exits 0 'a denser image, a shorter scene, a stricter eye'
look kept.html eval "$move move({enlarger: 0.02, print: 0.25}); $rows" eval "$options"
sed '$d' seen >shown
# shellcheck disable=SC2086,SC2046
run tones $kept $(sed -n '$p' seen) --json
exits 0 'which the program takes besides'
cp out told.json
same_rows 'and says what the page shows' shown told.json

# Where the program refuses, the page shows no figures and says why.
look tones.html eval "$move move({expose: 4}); $rows" eval 'document.getElementById("moved-says").textContent' eval "$options"
same 'a placed tone beyond the film has no rows' '' "$(line 1)"
has 'and the page says so' seen 'falls outside what was measured of the film'
run tones --film film.json --paper paper2.json --expose 4 --flare 0.0041 --place 1=0.12
holds 'as the program does' test "$status" -ge 2
has 'for the same reason' err 'outside its measured range'

# In colour, each layer is a choice of its own; slides on a paper for slides.
{
    printf '%s\n' '# material: film' '# emulsion: colour negative' '# log h0: 0' 'step,wedge,red,green,blue'
    sed -n '/^[0-9]/s/,\([^,]*\)$/,\1,\1,\1/p' film.csv
} >colour.csv
run fit colour.csv --resamples 20 -o colour.json --quiet
exits 0 'a colour film'
run fit "$top/stepwedges/demo/colour-paper.csv" --resamples 20 -o colour-paper.json --quiet
exits 0 'a colour paper'
run tones --film colour.json --paper colour-paper.json --report colour.html --json
exits 0 'tones in colour'
cp out colour-asked.json
look colour.html eval "$rows" eval 'String(document.getElementById("set-chain").length)'
sed '$d' seen >shown
same 'three layers to choose from' 3 "$(sed -n '$p' seen)"
same_rows 'it begins with the green one, as the program does' shown colour-asked.json

# The hand: arrow keys move a focused slider by a step; the button takes all back.
look tones.html eval 'document.getElementById("set-print").focus()' key ArrowRight key ArrowRight \
    eval 'document.getElementById("of-print").textContent' eval 'document.getElementById("set-print").ariaValueText' \
    eval 'const before = document.getElementById("asked-line").getAttribute("d"), drawn = () =>
        document.getElementById("moved-line").getAttribute("d"); drawn() == before' \
    eval 'document.getElementById("set-back").click(); drawn() == before'
same 'two arrows are a tenth of a stop' '+0.10 stops' "$(line 2)"
same 'which is read out with its unit' '+0.10 stops' "$(line 3)"
same 'the line leaves where it was' false "$(line 4)"
same 'and the button takes it back' true "$(line 5)"
same 'no complaint' '' "$(line '6,$')"

# What is not the page's own script does not run, and the page can be read without.
sed "s|^'use strict';|window.other = 1;|" tones.html >other.html
look other.html eval 'String(window.other) + document.getElementById("sliders").hidden' eval 'document.querySelector("h1").textContent'
same 'a changed script is refused and the sliders stay away' undefinedtrue "$(line 1)"
has 'the rest can be read' seen "of the scene's"
has 'the browser says that the policy forbids it' seen 'Content Security Policy'
finish
