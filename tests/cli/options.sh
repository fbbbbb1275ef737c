#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# options.sh - how the command line is read: interface conventions (exit status 2 is wrong use; long
# options with a space or '='; `--` ends options; nothing abbreviated).
. tests/support/cli.sh
printf 'step,wedge,visual\n1,0.05,2\n' >r.csv
usage='write wedgework COMMAND [OPTION...] [FILE...], or see `wedgework help`'

# No command, no such command
refuses 2 "no command given; $usage"
refuses 2 "no command beside the options; $usage" --quiet
refuses 2 'there is no command '"'fot'"'; did you mean fit?' fot r.csv
refuses 2 "there is no command 'Fit'; did you mean fit?" Fit
refuses 2 "there is no command 'pritn'; did you mean print?" pritn
refuses 2 "there is no command 'zzz'; \`wedgework help\` lists them" zzz
refuses 2 "there is no command ''; \`wedgework help\` lists them" ''

# Unknown options, and those of another command
refuses 2 'fit has no option '"'--modle'"'; did you mean --model?' fit r.csv --modle spline
refuses 2 "fit has no option '--resamp'; did you mean --resamples?" fit r.csv --resamp 100
refuses 2 "fit has no option '-json'; did you mean --json?" fit r.csv -json
refuses 2 "fit has no option '--xyzzy'; \`wedgework help fit\` lists them, and -- goes before a file with such a name" fit r.csv --xyzzy
refuses 2 "--place is an option of print, not of fit; leave it out, or see \`wedgework help fit\`" fit r.csv --place cloud=0.1
refuses 2 "'-oC.json' is no option; a space parts -o from its file: -o C.json" fit r.csv -oC.json
refuses 2 "'-o=C.json' is no option; a space parts -o from its file: -o FILE" fit r.csv -o=C.json

# Values
refuses 2 '--model needs a value; write --model NAME' fit r.csv --model
refuses 2 '--through needs a value; write --through WEDGE.csv' fit r.csv --through --json
refuses 2 '--through needs a value; write --through WEDGE.csv' fit r.csv --through -o c.json
refuses 2 'the value of --model is empty; give --model NAME' fit r.csv --model=
refuses 2 'the value of -o is empty; give -o C.json' fit r.csv -o ''
refuses 2 '--json takes no value; write --json alone' fit r.csv --json=yes
refuses 2 '--model stands twice; give it once' fit r.csv --model spline --model=spline
refuses 2 '--quiet stands twice; give it once' fit --quiet r.csv --quiet
refuses 2 "--model knows no 'splin'; did you mean spline?" fit r.csv --model splin
refuses 2 "--model knows no 'parabola'; take one of logistic, toe-line-shoulder, toe-line, spline" fit r.csv --model parabola

# Numbers
refuses 2 "--log-h0: '1,5' is not a number; give a number" fit r.csv --log-h0 1,5
refuses 2 "--seed cannot be '1.5'; give a whole number from 0 to 4294967295" fit r.csv --seed 1.5
for wrong in '--log-h0=1,5' '--log-h0=O.5' '--log-h0=nan' '--log-h0=0x1p3' '--seed=1.5' '--seed=-1' \
    '--seed=1e99' '--resamples=x' '--resamples=-5' '--resamples=2.5'; do
    run fit r.csv "$wrong"
    exits 2 "refused: $wrong"
    has "says which: $wrong" err "wedgework: ${wrong%%=*}"
done
for wrong in --callier=0 --callier=100 --enlarger-flare=1 --enlarger-flare=-0.1 --dry-down=99.999 \
    --dry-down=-1 --reciprocity=0.9 --reciprocity=3 --timer-step=0 --timer-step=1000 --repeatability=-0.01 --repeatability=1e300 \
    '--aperture=1e9 --from-aperture=8' '--scale=1e300 --from-scale=4' '--from-scale=0 --scale=2' '--aperture=-8 --from-aperture=8'; do
    # shellcheck disable=SC2086
    run print r.csv $wrong
    exits 2 "refused: $wrong"
    has "says which: $wrong" err "wedgework: ${wrong%%=*} cannot be"
done
refuses 2 "--timer-step cannot be '0'; give a number from 0.001 to 60" print r.csv --timer-step 0
refuses 2 "--enlarger-flare cannot be '1'; give a number from 0 to under 1" print r.csv --enlarger-flare 1

# print's own forms
refuses 2 "--place: 'x' is not a number; write for instance --place cloud=0.10" print r.csv --place cloud=x
refuses 2 "--test: 'x' is not a number; write for instance --test 12:cloud=0.20" print r.csv --test x:cloud=0.1
refuses 2 "--place: 'cloud' is not TONE=DENSITY; write for instance --place cloud=0.10" print r.csv --place cloud
refuses 2 "--place: '=0.1' is not TONE=DENSITY; write for instance --place cloud=0.10" print r.csv --place =0.1
refuses 2 "--place: 'cloud' is placed twice; place it once" print r.csv --place cloud=0.1 --place cloud=0.2
refuses 2 '--test is given 3 times; give one test print, or two on either side of the aim' \
    print r.csv --test 1:cloud=0.1 --test 2:cloud=0.2 --test 3:cloud=0.3
refuses 2 "--test: '12' is not SECONDS:TONE=DENSITY; write for instance --test 12:cloud=0.20" print r.csv --test 12
refuses 2 "--test: 'cloud' is not TONE=DENSITY; write for instance --test 12:cloud=0.20" print r.csv --test 12:cloud
refuses 2 "--test: the time of '0:cloud=0.2' is not within 0.01 to 100000 s; give the seconds that the test print had" print r.csv --test 0:cloud=0.2
refuses 2 "--test: the time of '1e-9:cloud=0.2' is not within 0.01 to 100000 s; give the seconds that the test print had" print r.csv --test 1e-9:cloud=0.2
refuses 2 '--scale needs --from-scale beside it: one says what was, the other what shall be; give both' print r.csv --scale 8
refuses 2 '--from-aperture needs --aperture beside it: one says what was, the other what shall be; give both' print r.csv --from-aperture 8
for wrong in --place=cloud= --place=cloud=x --test=x:cloud=0.2 --test=:cloud=0.2 --test=12:cloud=; do
    run print r.csv "$wrong"
    exits 2 "refused: $wrong"
    has "says which: $wrong" err "wedgework: ${wrong%%=*}: "
done

# Files
refuses 2 'fit needs a file; write wedgework fit R.csv, or - for standard input' fit
refuses 2 "'b.csv' is one too many for fit; fit one file at a time" fit r.csv b.csv
refuses 2 'a file name is empty; give R.csv' fit ''
refuses 2 "'print' is one too many for help; ask for help on one command at a time" help fit print
refuses 2 'help gives one thing at a time; name a command or one option' help fit --man
refuses 2 "there is no command 'zzz' to give help on; \`wedgework help\` lists them" help zzz

refuses 2 "'p.json' is one too many for print; put --paper before every paper, and print one negative at a time" print r.csv --paper o.json p.json

# A file called like an option, options before the command, and after `--`
refuses 3 '--json: there is no such file; check the name' fit -- --json
refuses 3 'nowhere.csv: there is no such file; check the name' --quiet --model spline fit nowhere.csv
refuses 2 "'--quiet' is one too many for fit; fit one file at a time" fit -- r.csv --quiet

# Nothing from outside reaches the terminal as it is
run fit "$(printf 'a\033[31mb.csv')"
exits 3 'control characters in a name'
holds 'are not repeated' sh -c "! grep -q \"\$(printf '\\033')\" err"
run "$(printf 'f\033[31mt')"
holds 'nor those of a command' sh -c "! grep -q \"\$(printf '\\033')\" err"
finish
