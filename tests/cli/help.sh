#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# help.sh - help, man page, completion and the README's table are made from one table of commands, and
# the parser knows what they promise (architecture: one table; interface: these documents exist).
. tests/support/cli.sh

run help
exits 0 'help'
holds 'help says nothing on standard error' test ! -s err
cp out help.txt
commands=$(sed -n 's/^  \([a-z]*\) [-A-Z[].*/\1/p' help.txt | grep -v '^wedgework$' | sort -u)
run --help
same '--help is help' "$(cat help.txt)" "$(cat out)"
run --version
exits 0 '--version'
same 'version' "wedgework $(sed -n 's/^#define WW_VERSION "\(.*\)"/\1/p' \
    "$top/include/wedgework/start.h")" "$(cat out)"
same 'commands that exist, each with its file' "$commands" \
    "$(ls "$top/src/cli" | sed -n 's/^cmd_\(.*\)\.c$/\1/p' | sort)"

run help --man
exits 0 'help --man'
cp out man.1
run help --completion
exits 0 'help --completion'
cp out completion.bash
run help --readme
exits 0 'help --readme'
cp out readme.md

# A value that each option takes; without a row here, a new option fails the test.
value_of() {
    case $2:$1 in
    control:--strip) echo 7; return ;;
    print:--process | print:--machine | balance:--process | balance:--machine)
        echo 'left --control nowhere.db'; return ;;
    esac
    case $1 in
    --through | --paper | --wedge | --flash | --split | --print | --refine | --limits) echo nowhere.csv ;;
    --reference) echo nowhere.csv ;;
    --log | --control) echo nowhere.db ;;
    --process | --machine | --lot) echo left ;;
    --date) echo 2026-11-30 ;;
    --baseline) echo 12 ;;
    --slow) echo cusum ;;
    --text | --why) echo cleaned ;;
    --scanner | --offset) echo nowhere.json ;;
    --ring | --from | --to) echo nowhere.csv ;;
    --pack) echo 50Y35M ;;
    --time) echo 11.5 ;;
    --tone | --burn) echo sky ;;
    --filter-step) echo 5 ;;
    --head-scale) echo 1.5 ;;
    --dark | --apply) echo nowhere.tif ;;
    --white) echo match ;;
    --strip) echo 12,7,317,91 ;;
    --centre) echo 17.3 ;;
    --step) echo 1/6 ;;
    --count) echo 9 ;;
    --aim) echo 0.13 ;;
    --steps) echo 19 ;;
    --spot) echo cloud=31.5,27,4.5 ;;
    --page | --jobs) echo 3 ;;
    --overlay) echo look.png ;;
    --model) echo spline ;;
    --log-h0) echo -0.731 ;;
    --resamples) echo 137 ;;
    --seed) echo 31 ;;
    --place) case ${2-} in tones) echo 2.5=0.71 ;; *) echo cloud=0.13 ;; esac ;;
    --student) echo 7 ;;
    --material) echo paper ;;
    --fault) echo any ;;
    --answers) echo answers.txt ;;
    --result) echo nowhere.csv ;;
    --recipe) echo nowhere.json ;;
    --test) echo 12.5:cloud=0.21 ;;
    --from-scale) echo '3.5 --scale 7.3' ;;
    --scale) echo '7.3 --from-scale 3.5' ;;
    --from-aperture) echo '5.6 --aperture 11' ;;
    --aperture) echo '11 --from-aperture 5.6' ;;
    --callier) echo 1.37 ;;
    --enlarger-flare) echo 0.013 ;;
    --dry-down) echo 8.5 ;;
    --timer-step) echo 0.25 ;;
    --reciprocity) echo 1.15 ;;
    --keep) echo cloud ;;
    --separate) echo 0.013 ;;
    --repeatability) echo 0.021 ;;
    --film) echo nowhere.json ;;
    --subject-range) echo 1.9 ;;
    --flare | --viewing-flare) echo 0.006 ;;
    --expose) echo -1.5 ;;
    --detail) echo 0.17 ;;
    --wanted) echo nowhere.csv ;;
    --slope) echo 1.12 ;;
    --contrast-index) echo 0.57 ;;
    --density-range) echo 1.13 ;;
    --temperature) echo 21.5 ;;
    --metered-index) echo 160 ;;
    --below) echo 3.7 ;;
    -o) echo written.json ;;
    --plot) echo plot.svg ;;
    --report) echo page.html ;;
    *) echo unknown ;;
    esac
}

# What a command needs beside an option.
beside() {
    case $1:$2 in
    scanner:--wedge | measure:--wedge | measure:--steps | measure:--spot | measure:--whole) ;;
    scanner:*) echo '--wedge nowhere.csv' ;;
    develop:--contrast-index | develop:--metered-index) ;;
    develop:--density-range) echo '--subject-range 1.9' ;;
    develop:--subject-range) echo '--density-range 1.13' ;;
    develop:--flare) echo '--density-range 1.13 --subject-range 1.9' ;;
    develop:--below) echo '--metered-index 160' ;;
    develop:*) echo '--contrast-index 0.57' ;;
    compare:--scanner) echo '--strip 12,7,317,91' ;;
    compare:--page) echo '--strip 12,7,317,91 --scanner nowhere.json' ;;
    compare:--spot | compare:--strip) echo '--scanner nowhere.json' ;;
    scan:--scanner) ;;
    scan:--merge) echo '-o made.tif' ;;
    scan:--densities) echo '--scanner nowhere.json -o made.tif' ;;
    scan:--page) echo '--densities --scanner nowhere.json -o made.tif' ;;
    scan:*) echo '--scanner nowhere.json' ;;
    measure:--through) echo '--steps 19 --scanner nowhere.json' ;;
    measure:-o) echo '--whole' ;;
    measure:*) echo '--steps 19' ;;
    balance:--from | balance:--to | balance:--recipe | balance:--offset | balance:--from-scale | balance:--scale) ;;
    balance:--paper) echo '--aim nowhere.csv --pack 60Y --time 11' ;;
    balance:--aim) echo '--paper nowhere.json --pack 60Y --time 11' ;;
    balance:--pack) echo '--paper nowhere.json --aim nowhere.csv --time 11' ;;
    balance:--time) echo '--paper nowhere.json --aim nowhere.csv --pack 60Y' ;;
    balance:*) echo '--paper nowhere.json --aim nowhere.csv --pack 60Y --time 11' ;;
    match:--aim) echo '--print nowhere.csv' ;;
    match:--print) echo '--aim nowhere.csv' ;;
    match:--apply) echo '--aim nowhere.csv --print nowhere.csv -o made.tif' ;;
    match:--page) echo '--aim nowhere.csv --print nowhere.csv --apply nowhere.tif -o made.tif' ;;
    match:*) echo '--aim nowhere.csv --print nowhere.csv' ;;
    control:--log) ;;
    control:*) echo '--log nowhere.db' ;;
    tones:--film | tones:--wanted) echo '--paper nowhere.json' ;;
    tones:--paper) echo '--film nowhere.json' ;;
    tones:--slope) echo '--wanted straight --paper nowhere.json' ;;
    tones:*) echo '--film nowhere.json --paper nowhere.json' ;;
    lesson:--seed | lesson:--class) ;;
    lesson:*) echo '--seed 31' ;;
    strip:--centre | strip:--aim) ;;
    strip:--step | strip:--count) echo '--centre 17.3' ;;
    strip:*) echo '--aim 0.13' ;;
    esac
}

# The operand: what the command shall do, where it does several things, and a file that is missed.
operand() {
    case $1:$2 in
    balance:--from) echo '--to nowhere.csv --pack 60Y --time 11' ;;
    balance:--to) echo '--from nowhere.csv --pack 60Y --time 11' ;;
    balance:--offset | balance:--from-scale | balance:--scale) echo '--recipe nowhere.json' ;;
    balance:--recipe) echo '--from nowhere.csv --to nowhere.csv' ;;
    control:--strip | control:--deleted) echo chart ;;
    control:--text) echo note ;;
    control:--why) echo baseline ;;
    control:*) echo 'add nowhere.csv' ;;
    strip:--centre | strip:--step | strip:--count) echo plan ;;
    strip:*) echo 'read nowhere.csv' ;;
    compare:*) echo 'nowhere.csv not-there.csv' ;;
    scan:--merge) echo 'nowhere.tif not-there.tif' ;;
    match:* | tones:*) ;;
    match:*) ;;
    lesson:--class) echo 'nowhere.csv not-there.csv' ;;
    lesson:*) ;;
    *) echo nowhere.csv ;;
    esac
}

for command in $commands; do
    run help "$command"
    exits 0 "help $command"
    cp out "of-$command.txt"
    run "$command" --help
    same "$command --help is help $command" "$(cat "of-$command.txt")" "$(cat out)"
    run "$command" --no-such-option --help more and more
    same "--help comes before all else with $command" "$(cat "of-$command.txt")" "$(cat out)"
    same "lines of help $command fit a terminal" '' \
        "$(grep -v '^  wedgework' "of-$command.txt" | awk 'length($0) > 80')"
    options=$(sed -n 's/^  \(--*[a-z][-a-z0-9]*\).*/\1/p' "of-$command.txt")
    holds "help $command lists options" test -n "$options"
    for option in $options; do
        has "$option in the man page" man.1 "fB$(echo "$option" | sed 's/-/\\-/g')\\fR"
        holds "$option of $command in the completion" \
            grep -qE "^ *$command\) options='(.* )?${option}[ ']" completion.bash
        [ "$command" = help ] && continue
        # The parser takes it, and goes on to miss the file.
        if grep -qE "^  $option( [A-Z]|\$)" "of-$command.txt" && \
            ! grep -qE "^  $option [A-Z]" "of-$command.txt"; then
            given=$option
        elif grep -qE "^  $option  " "of-$command.txt"; then
            given=$option
        else
            given="$option $(value_of "$option" "$command")"
        fi
        [ "$option" = --help ] && continue
        # shellcheck disable=SC2086
        run "$command" $(operand "$command" "$option") $given $(beside "$command" "$option")
        case "$(operand "$command" "$option") $(beside "$command" "$option")" in *nowhere*) missed=3 ;; *) missed=0 ;; esac
        exits $missed "$command takes $given"
        case $option in --*)
            # shellcheck disable=SC2046
            run "$command" $(echo "$given" | sed 's/ /=/') $(operand "$command" "$option") \
                $(beside "$command" "$option")
            exits $missed "$command takes it with = as well: $option" ;;
        esac
    done
    grep -q "^| \`$command\` |" readme.md || [ "$command" = help ] || bad "$command in the README's table"
done
same 'the README lists no other command' "$(echo "$commands" | grep -v '^help$')" \
    "$(sed -n 's/^| `\([a-z]*\)` |.*/\1/p' readme.md | sort)"

# The README's table is the program's
if grep -q '<!-- commands -->' "$top/README.md" 2>/dev/null; then
    same 'the README has the table that the program makes' "$(cat readme.md)" \
        "$(sed -n '/<!-- commands -->/,/<!-- \/commands -->/p' "$top/README.md" | grep '^|')"
else
    skip 'README.md has no <!-- commands --> yet'
fi

# Exit statuses of interface §1
for status in 0 1 2 3 4 70; do
    has "help explains exit status $status" help.txt "$(printf '  %-22s  ' "$status")"
    has "so does the man page" man.1 ".B $status"
done

# Man page: no warning from what reads it
if command -v groff >/dev/null; then
    same 'groff has nothing against the man page' '' "$(groff -man -Tutf8 -ww -z man.1 2>&1)"
    holds 'the man page can be read' sh -c 'groff -man -Tascii -P-cbou man.1 | grep -q "EXIT STATUS"'
else
    skip 'groff is not installed'
fi
if command -v mandoc >/dev/null; then
    same 'mandoc has nothing against it but the missing date' '' \
        "$(mandoc -T lint -W warning man.1 2>&1 | grep -v 'missing date')"
fi
holds 'no line of the man page is taken as a request by accident' \
    sh -c '! grep -E "^[.'"'"']" man.1 | grep -vqE "^[.](TH|SH|SS|PP|TP|B|br|nf|fi|RS|RE|\\\\\")"'

# complete WORD... - what bash offers for the last word
complete_in_bash() {
    bash -c 'source ./completion.bash; COMP_WORDS=("$@"); COMP_CWORD=$((${#COMP_WORDS[@]} - 1))
        _wedgework 2>&1; printf "%s\n" "${COMPREPLY[@]}" | sort | tr "\n" " "' complete "$@"
}
if command -v bash >/dev/null; then
    mkdir folder
    : >folder/film.csv
    holds 'bash reads the completion without a word' sh -c 'test -z "$(bash -u ./completion.bash 2>&1)"'
    same 'completes a command' 'print ' "$(complete_in_bash wedgework pr)"
    same 'lists the commands' "$(echo "$commands" | tr '\n' ' ')" "$(complete_in_bash wedgework '')"
    same 'completes an option' '--resamples ' "$(complete_in_bash wedgework fit --res)"
    same 'offers options of this command only' '' "$(complete_in_bash wedgework fit --pla | tr -d ' ')"
    same 'completes words of an option' 'toe-line toe-line-shoulder ' \
        "$(complete_in_bash wedgework fit --model toe)"
    same 'and after =' 'spline ' "$(complete_in_bash wedgework fit --model = s)"
    same 'and right after =' 'logistic spline toe-line toe-line-shoulder ' \
        "$(complete_in_bash wedgework fit --model =)"
    same 'completes files' 'folder/film.csv ' "$(complete_in_bash wedgework fit folder/f)"
    same 'completes files of an option' 'folder/film.csv ' \
        "$(complete_in_bash wedgework print n.csv --paper folder/f)"
    same 'offers nothing for a number' '' "$(complete_in_bash wedgework fit --seed '' | tr -d ' ')"
    same 'completes a command for help' 'fit ' "$(complete_in_bash wedgework help f)"
    same 'finds the command behind an option with a value' '--model ' \
        "$(complete_in_bash wedgework --report page.html fit --mo)"
else
    skip 'bash is not installed'
fi
finish
