#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# outputs.sh - where results go, and that nothing is spoilt on the way: interface §1 (one document on
# stdout and in the file; whole files or the old ones; exit status 4 where the system refuses).
. tests/support/cli.sh
film >film.csv
fast='--resamples 50'

# shellcheck disable=SC2086
fit() { run fit film.csv $fast "$@"; }
untouched() { same "$1: the input is untouched" "$(film)" "$(cat film.csv)"; }
stdout_refused='standard output: cannot be written'

# The same result by every way
fit --json
exits 0 'fit --json'
cp out direct.json
fit -o written.json
exits 0 'fit -o'
holds '-o writes what --json prints' cmp direct.json written.json
holds 'the text is printed beside it' test -s out
fit -o -
holds '-o - prints it' cmp direct.json out
fit --json -o both.json
holds '--json beside -o prints it' cmp direct.json out
holds 'and writes it' cmp direct.json both.json
fit --quiet -o quiet.json
holds '--quiet prints nothing' test ! -s out -a ! -s err
holds 'and writes all the same' cmp direct.json quiet.json
fit --quiet --json
holds '--quiet does not silence --json' cmp direct.json out
fit --quiet
exits 0 '--quiet alone'
holds 'prints nothing' test ! -s out
# shellcheck disable=SC2086
"$WEDGEWORK" fit - $fast --json <film.csv >out 2>err
same 'standard input gives the same' "$(cat direct.json)" "$(cat out)"
# shellcheck disable=SC2086
cat film.csv | "$WEDGEWORK" fit --json $fast - >out 2>err
same 'a pipe too' "$(cat direct.json)" "$(cat out)"
# shellcheck disable=SC2086
"$WEDGEWORK" fit film.csv $fast -o same.json >same.json
holds 'a file that is also standard output is written once' cmp direct.json same.json
fit --report page.html
exits 0 '--report'
holds 'is a page' grep -qi '<html' page.html

# Two results for one place
both='would both go to standard output; give a file to one'
one='would both write one file; give each its own'
refuses 2 "--json and -o $both" fit film.csv --json -o -
refuses 2 "-o and --json $both" fit film.csv -o - --json
refuses 2 '--report cannot go to standard output; name a file, --report FILE.html' fit film.csv --report -
refuses 2 "-o and --report $one" fit film.csv -o new --report ./new
refuses 2 "--plot and --report $one" fit film.csv --plot new.svg --report "$PWD/new.svg"
ln -s written.json link.json
ln written.json hard.json
refuses 2 "-o and --report $one" fit film.csv -o written.json --report link.json
refuses 2 "-o and --report $one" fit film.csv -o written.json --report hard.json
holds 'two results may both go to the null device' "$WEDGEWORK" fit film.csv --resamples 50 --quiet -o /dev/null --report /dev/null
"$WEDGEWORK" fit film.csv --report p.html >p.html 2>err
same 'a page over standard output' 'wedgework: --report and standard output would be one file; give --report its own' "$(cat err)"
run fit film.csv --plot plot.txt
exits 2 'a plot of no known kind'
has 'is told so' err 'wedgework: --plot: '

# An output over an input
over="would overwrite the input 'film.csv'; give it another name"
ln -s film.csv film-link.csv
ln film.csv film-hard.csv
film >wedge.csv
refuses 2 "-o $over" fit film.csv -o film.csv
refuses 2 "-o $over" fit film.csv -o ./film.csv
refuses 2 "-o $over" fit film.csv -o "$PWD/../${PWD##*/}/film.csv"
refuses 2 "-o $over" fit film.csv -o film-link.csv
refuses 2 "-o $over" fit film.csv -o film-hard.csv
refuses 2 "--report $over" fit film.csv --report film.csv
refuses 2 "-o would overwrite the input 'wedge.csv'; give it another name" fit film.csv --through wedge.csv -o wedge.csv
refuses 2 "-o would overwrite the input 'written.json'; give it another name" print film.csv --paper written.json -o written.json
"$WEDGEWORK" fit - -o film.csv <film.csv >out 2>err
same 'standard input is an input too' "wedgework: -o would overwrite the input '-'; give it another name" "$(cat err)"
refuses 2 'standard input can be read only once; name a file in place of one -' fit - --through -
refuses 2 'standard input can be read only once; name a file in place of one -' print film.csv --paper - --paper=-
untouched 'after all that'

# What the system refuses
echo old >old.json
refuses 4 'missing/c.json: cannot make a file in this folder: No such file or directory' fit film.csv --resamples 50 -o missing/c.json
mkdir folder
run fit film.csv --resamples 50 -o folder
exits 4 'a folder as output'
holds 'nothing is printed where a file could not be written' test ! -s out
if [ -w /dev/full ]; then
    for arguments in "fit film.csv $fast" "fit film.csv $fast --json" "fit film.csv $fast -o -" help \
        'help fit' 'help --man' 'help --completion' 'help --readme' --version --help; do
        # shellcheck disable=SC2086
        "$WEDGEWORK" $arguments >/dev/full 2>err
        same "full device, status: $arguments" 4 $?
        same "full device, message: $arguments" "wedgework: $stdout_refused: No space left on device; it takes N kB, and the \
disk is full: make room there, or name a file on another" "$(sed 's/takes [0-9]* kB/takes N kB/' err)"
    done
    run fit film.csv --resamples 50 -o /dev/full
    exits 4 '-o on a full device'
else
    skip '/dev/full is not there'
fi
"$WEDGEWORK" help >&- 2>err
same 'closed standard output, status' 4 $?
same 'closed standard output, message' "wedgework: $stdout_refused: Bad file descriptor" "$(cat err)"
{ sleep 1; "$WEDGEWORK" help 2>err; echo $? >status; } | true
same 'reader gone, status' 4 "$(cat status)"
same 'reader gone, message' "wedgework: $stdout_refused: Broken pipe" "$(cat err)"
# shellcheck disable=SC2086
"$WEDGEWORK" fit film.csv $fast -o closed.json >&- 2>&-
same 'every stream closed, status' 4 $?
holds 'and no message in the file' cmp direct.json closed.json
# shellcheck disable=SC2086
"$WEDGEWORK" fit - $fast <&- >out 2>err
status=$?
ran='fit - <&-'
holds 'standard input closed is no data' test $status -ne 0 -a $status -ne 70 -a -s err
{ (ulimit -f 0; "$WEDGEWORK" fit film.csv --resamples 50 -o old.json --quiet; echo "status $?") 2>&1; } | cat >limited
has 'a limit on file size is a refusal' limited 'status 4'
has 'and is explained' limited 'wedgework: old.json: cannot be written: File too large; it takes'
has 'with the limit' limited 'larger than 0 kB (ulimit -f): raise that limit'
same 'the old file is still there' old "$(cat old.json)"
same 'nothing is left behind' '' "$(find . -name '.?*')"

# Permissions; root would not be refused, so another user is asked
mkdir -m 777 locked
echo old >locked/old.json
chmod 444 locked/old.json film.csv
chmod 555 locked
as_other=
[ "$(id -u)" -ne 0 ] || as_other='setpriv --reuid=65534 --regid=65534 --clear-groups'
if [ -z "$as_other" ] || $as_other "$WEDGEWORK" --version >/dev/null 2>&1; then
    for file in locked/old.json locked/new.json; do
        # shellcheck disable=SC2086
        $as_other "$WEDGEWORK" fit film.csv $fast -o $file >out 2>err
        same "write-protected: $file" 4 $?
        has 'and says why' err "wedgework: $file: "
        has 'in words' err 'Permission denied'
        holds 'and prints nothing' test ! -s out
    done
    same 'the protected file is the old one' old "$(cat locked/old.json)"
    same 'and alone' old.json "$(ls -A locked)"
else
    skip 'another user may not start the program here'
fi
chmod 755 locked

# gnuplot missing: the rest is given, exit status 4
mkdir nothing
# shellcheck disable=SC2086
PATH=$PWD/nothing "$WEDGEWORK" fit film.csv $fast --plot none.svg -o rest.json >out 2>err
same 'no gnuplot, status' 4 $?
holds 'no gnuplot, message' grep -q '^wedgework: .*gnuplot' err
holds 'no gnuplot: the file is written' cmp direct.json rest.json
holds 'no gnuplot: the text is printed' test -s out
holds 'no gnuplot: no empty plot is left' test ! -e none.svg
# shellcheck disable=SC2086
PATH=$PWD/nothing "$WEDGEWORK" fit film.csv $fast --report none.html >out 2>err
same 'a page without gnuplot, status' 4 $?
holds 'is a page all the same' grep -qi '<html' none.html
if command -v gnuplot >/dev/null; then
    fit --plot plot.svg
    exits 0 '--plot'
    holds 'is a drawing' grep -q '<svg' plot.svg
else
    skip 'gnuplot is not installed'
fi

# Colour on a terminal only
escape=$(printf '\033')
# on_terminal SETTINGS... - the text as a terminal gets it
on_terminal() {
    script -qec "env $* '$WEDGEWORK' fit film.csv $fast" /dev/null </dev/null 2>&1
}
if command -v script >/dev/null && on_terminal TERM=xterm >/dev/null; then
    holds 'a terminal gets colour' sh -c 'case $1 in *"$2"*) ;; *) exit 1 ;; esac' x "$(on_terminal -u NO_COLOR TERM=xterm)" "$escape"
    for settings in 'NO_COLOR=1 TERM=xterm' 'TERM=dumb' '-u TERM'; do
        # shellcheck disable=SC2086
        holds "none with $settings" sh -c 'case $1 in *"$2"*) exit 1 ;; esac' x "$(on_terminal $settings)" "$escape"
    done
    holds 'an empty NO_COLOR is none' sh -c 'case $1 in *"$2"*) ;; *) exit 1 ;; esac' x "$(on_terminal NO_COLOR= TERM=xterm)" "$escape"
else
    skip 'script(1), which makes a terminal, is not installed'
fi
# shellcheck disable=SC2086
TERM=xterm "$WEDGEWORK" fit film.csv $fast >out
holds 'a file gets none' sh -c '! grep -q "$1" out' x "$escape"

# Locale: a German one is made where none is installed
mkdir locale
german='LC_ALL=de_DE.UTF-8'
if [ "$(env $german locale decimal_point 2>/dev/null)" != , ] && command -v localedef >/dev/null; then
    localedef -i de_DE -f UTF-8 ./locale/de_DE.UTF-8 >/dev/null 2>&1
    german="$german LOCPATH=$PWD/locale"
fi
# shellcheck disable=SC2086
if [ "$(env $german locale decimal_point 2>/dev/null)" = , ]; then
    env $german "$WEDGEWORK" fit film.csv $fast --json >out 2>err
    holds 'a locale with a decimal comma changes no document' cmp direct.json out
    "$WEDGEWORK" fit film.csv $fast >text 2>err
    env $german "$WEDGEWORK" fit film.csv $fast >out 2>err
    holds 'nor a text' cmp text out
    if [ -e plot.svg ]; then
        env $german "$WEDGEWORK" fit film.csv $fast --quiet --plot german.svg 2>err
        holds 'nor a plot' cmp plot.svg german.svg
    fi
    env $german "$WEDGEWORK" print film.csv --callier 1,5 >out 2>err
    same 'a comma is refused in every locale' 2 $?
else
    skip 'no locale with a decimal comma here, nor localedef to make one'
fi
# A signal while files are written waits until they are there
if command -v gnuplot >/dev/null; then
    mkdir drawer cut
    printf '%s\n' '#!/bin/sh' 'kill -INT $PPID' "exec $(command -v gnuplot) \"\$@\"" >drawer/gnuplot
    chmod +x drawer/gnuplot
    (PATH=$PWD/drawer:$PATH exec "$WEDGEWORK" fit film.csv --resamples 50 --quiet --plot cut/p.svg -o cut/c.json) \
        >out 2>err </dev/null
    same 'it ends the program' 130 $?
    same 'with all files, and no other' 'c.json p.svg' "$(ls -A cut | tr '\n' ' ' | sed 's/ $//')"
    has 'each whole' cut/p.svg '</svg>'
else
    skip 'gnuplot is not installed'
fi

finish
