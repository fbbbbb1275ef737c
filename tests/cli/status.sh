#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# status.sh - every exit status of interface §1 that a user can cause: 0 done, 1 not held, 2 wrong use
# (options.sh has all of them), 3 bad or missing input, 4 refused (outputs.sh). 70 is our own bug.
. tests/support/cli.sh
film >film.csv
paper 2 2.53 >paper.csv
run fit film.csv --resamples 50 -o film.json
exits 0 'a film'
run fit paper.csv --resamples 50 -o paper.json
exits 0 'a paper'

# One line on standard error, with the program, the file, a remedy after a semicolon; nothing on stdout.
complains() {
    wanted=$1 name=$2 file=$3
    exits "$wanted" "$name"
    same "$name: one line" 1 "$(wc -l <err | tr -d ' ')"
    holds "$name: names the file" grep -q "^wedgework: $file:[0-9]*:* *" err
    holds "$name: says what to do" grep -q '; ' err
    holds "$name: prints nothing" test ! -s out
}

# 3: input that is missing, of another kind, broken
run fit nowhere.csv
complains 3 'no such file' nowhere.csv
mkdir folder
run fit folder
complains 3 'a folder' folder
: >empty.csv
run fit empty.csv
complains 3 'an empty file' empty.csv
head -c 4096 "$WEDGEWORK" >binary.csv
run fit binary.csv
complains 3 'a program' binary.csv
sed 's/^7,.*/7,0.95,1.2x/' film.csv >letter.csv
run fit letter.csv
complains 3 'a letter in a number' letter.csv
line=$(grep -n 1.2x letter.csv | cut -d : -f 1)
has 'is found on its line' err "wedgework: letter.csv:$line: "
has 'and named' err '1.2x'
run fit film.json
same 'a curve for readings' 'wedgework: film.json: this is a JSON document (a curve file?), not readings; give the CSV that it was made from' "$(cat err)"
exits 3 'a curve for readings'
run print film.csv --paper paper.csv
same 'readings for a curve' 'wedgework: paper.csv: these are readings, and a curve file is wanted here; run `wedgework fit` on them first and give what its -o writes' "$(cat err)"
exits 3 'readings for a curve'
printf '{"wedgework": 1, "kind": "curve"' >cut.json
run print film.csv --paper cut.json
complains 3 'a curve file cut off' cut.json
"$WEDGEWORK" fit - <empty.csv >out 2>err
status=$?
ran='fit - <empty.csv'
complains 3 'nothing on standard input' 'standard input'

# 3: readings that do not carry the answer, or may not be combined
printf 'tone,visual\ncloud,1.32\nwall,0.71\n' >negative.csv
run fit negative.csv
exits 3 'readings without exposure'
run fit film.csv --through film.csv
exits 3 'a wedge for readings that have their exposures'
run print negative.csv --paper paper.json --place clowd=0.10
exits 3 'a placed tone that is not there'
has 'is named' err 'clowd'

# 1: the result is complete, and says that something cannot be held. 0.04 of detail in the film's cloud
# on the toe, at 0.03 above white, where the paper's slope is 2.53 ln 10 * 0.03 (1 - 0.03 / 2.04) =
# 0.17: 0.007 are left of it, and under 0.02 a cloud is lost.
printf '%s\n' 'tone,part,visual' 'cloud,thin,1.30' 'cloud,dense,1.34' 'wall,,0.50' >toe.csv
run print toe.csv --paper paper.json --place cloud=0.03 --json
exits 1 'what cannot be held'
holds 'the result is complete all the same' test "$(value out kind)" = 'print plan'
same 'and says so' false "$(value out choice.holds)"
run print toe.csv --paper paper.json --place cloud=0.03 --quiet
exits 1 '--quiet keeps the status'
finish
