#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# spectra.sh - CGATS files with spectra go where readings go. The samples are greys, whose density is the
# same through every filter (definition), so that the same figures come out as of the densities typed in;
# and a measured ramp of one ink (outside data, folder cgats), whose densities differ by status.
data=${WEDGEWORK_DATA:-../shared/data}
case $data in /*) ;; *) data=$(pwd)/$data ;; esac
. tests/support/cli.sh

# spectra COLUMN - a table of ours on standard input as CGATS: its keys, its labels and exposures, and of
# each density a flat spectrum in percent. The label is what COLUMN (step or tone) says.
spectra() {
    awk -F , -v column="$1" '
        BEGIN { print "CGATS.17" }
        /^#/ { print; next }
        !header++ { kind = toupper($2); label = column == "tone" ? "SAMPLE_NAME" : "SAMPLE_ID"
            exposed = kind == "WEDGE" || kind == "TIME"
            if (exposed) printf "KEYWORD \"%s\"\n", kind
            printf "BEGIN_DATA_FORMAT\n%s", label; if (exposed) printf " %s", kind
            for (nm = 380; nm <= 730; nm += 10) printf " SPECTRAL_NM SPECTRAL_PCT"
            printf "\nEND_DATA_FORMAT\nBEGIN_DATA\n"; next }
        { printf "\"%s\"", $1; if (exposed) printf " %s", $2 == "" ? "-" : $2
          for (nm = 380; nm <= 730; nm += 10) printf " %d %.8f", nm, 100 * exp(-log(10) * $NF)
          printf "\n" }
        END { print "END_DATA" }'
}

# A film: the figures of its densities, and a word on how they came
fast='--resamples 100'
film >film.csv
spectra step <film.csv >film.txt
run fit film.csv $fast -o typed.json
exits 0 'densities'
run fit film.txt $fast -o made.json
exits 0 'spectra'
has 'the note says what was made' out 'densities of status visual are made'
has 'and why no others' out 'no density status is given'
same 'status' visual "$(value made.json status)"
for figure in gamma average_gradient base_fog speed_point contrast_index; do
    near "$figure" "$(value typed.json channels.visual.$figure.value)" \
        "$(value made.json channels.visual.$figure.value)" 0.001
done
sed 's/^CGATS.17/&\n# status: M/' film.txt >masked.txt
run fit masked.txt $fast --json
exits 0 'spectra in status M'
for channel in red green blue; do
    near "$channel" "$(value typed.json channels.visual.gamma.value)" \
        "$(value out channels.$channel.gamma.value)" 0.001
done

# A wedge, a negative and papers
{ echo '# material: wedge'; echo 'step,visual'; awk -F , '/^[0-9]/ { print $1 "," $2 }' film.csv; } |
    spectra step >wedge.txt
awk -F , '/^[0-9]/ { print $1 "," $3; next } /^base/ { print "base,0.21"; next } /^step/ { print "step,visual"; next } 1' \
    film.csv >steps.csv
run fit steps.csv --through wedge.txt $fast --json
exits 0 'through a wedge of spectra'
near 'speed point' "$(value typed.json channels.visual.speed_point.value)" \
    "$(value out channels.visual.speed_point.value)" 1e-4
for of in A T; do
    paper 2 2.53 | spectra step | sed "s/^CGATS.17/&\n# status: $of/" >paper.txt
    run fit paper.txt $fast -o paper-$of.json
    exits 0 "a paper in status $of"
    same "status $of stays" $of "$(value paper-$of.json status)"
done
for of in A E visual; do
    sed "/^# material/d; /^# density/d; /^# emulsion/d; s/status: T/status: $of/" paper.txt >which.txt
    run fit which.txt $fast
    exits 0 'what it is, nothing says'
    has 'film is taken, which is told' out "prints are read in status $of as well as films"
done
run fit paper.txt $fast
holds 'a paper is not' test "$(grep -c 'taken for a film' out)" -eq 0
printf 'tone,visual\nwall,1.05\ncloud,1.20\nshadow,0.40\n' >negative.csv
spectra tone <negative.csv >negative.txt
run print negative.csv --paper paper-A.json --place wall=0.25 --json
exits 0 'a negative'
wanted=$(value out choice.time)
run print negative.txt --paper paper-A.json --place wall=0.25 --json
exits 0 'a negative of spectra'
near 'the same seconds' "$wanted" "$(value out choice.time)" 0.01
refuses 3 "papers read in status A and in status T can't be compared; read them alike" \
    print negative.txt --paper paper-A.json --paper paper-T.json --place wall=0.25
run print negative.txt --paper paper-A.json --place wall=0.25 -o recipe.json
printf '# material: print\n# status: T\ntone,visual\nwall,0.31\nshadow,1.50\n' | spectra tone >print.txt
run print negative.txt --paper paper-A.json --place wall=0.25 --result print.txt
exits 3 'a print in another status than its paper'
has 'says so' err 'the print was read in status T and its paper'\''s curve in status A'

# Whatever table it is, what its reader found is told where its densities go
# told NAME WORDS - in the text, on one line
told() { tr '\n' ' ' <out | tr -s ' ' >line; has "$1" line "$2: densities of status visual are made of spectra"; }
: "${MAKE_SCANS:?names the maker of scans}"
"$MAKE_SCANS" "$top/stepwedges/demo/wedge.scene" wedge.tif || bad 'make_scans'
spectra step <"$top/stepwedges/demo/wedge.csv" >scanned.txt
run scanner wedge.tif --wedge scanned.txt
exits 0 'a scan of a wedge of spectra'
told 'to a scanner' 'Readings of the wedge'
run measure wedge.tif --wedge scanned.txt
exits 0 'measured by it'
told 'to a reading' 'Readings of the wedge'
{
    printf '%s\n' '# name: Invented Paper' '# material: paper' '# status: visual' 'step,time,visual' 'base,,0.06'
    for t in 1 1.5 2 3 4 6 8 12 16; do
        awk -v t=$t 'BEGIN { print t "," t "," 0.06 + 2.04 / (1 + (0.31 * t / 10) ^ -2.53) }'
    done
} | spectra step >flash.txt
paper 2 2.53 >typed.csv
run fit typed.csv $fast -o paper-typed.json
run print negative.csv --paper paper-typed.json --place wall=0.25 --flash flash.txt
holds 'flashes of spectra' test "$status" -le 1
told 'to a plan' 'Readings of the flash'

# What cannot be made is refused with what to do
sed 's/^CGATS.17/&\n# status: printing/' film.txt >printing.txt
refuses 3 'printing.txt: densities of status printing cannot be made of spectra; give status A, M, T, E or visual' \
    fit printing.txt

# A measured ramp: each status has densities of its own, and visual ones in common
ramp=$data/cgats/cyan_ramp_decimal_comma_spectral_pairs.txt
if [ -r "$ramp" ]; then
    awk 'BEGIN { print "# material: wedge\nstep,visual"; n = split("0 5 10 15 20 25 30 40 50 60 70 80 90 95 100", s, " ")
        for (i = 1; i <= n; i++) printf "%s,%.2f\n", s[i], 2.05 - i * 0.1 }' >ramp-wedge.csv
    for of in A T; do
        sed "1s/\$/\n# status: $of/" "$ramp" >ramp-$of.txt
        run fit ramp-$of.txt --through ramp-wedge.csv --resamples 20 --json
        exits 0 "ramp, status $of"
        cp out ramp-$of.json
    done
    near 'visual in common' "$(value ramp-A.json channels.visual.points.0.1)" \
        "$(value ramp-T.json channels.visual.points.0.1)" 1e-12
    # Sums over the first sample's 36 values and the public products, by hand: 0.1321 and 0.1625.
    near 'red in A' 0.1321 "$(value ramp-A.json channels.red.points.0.1)" 0.00006
    near 'red in T' 0.1625 "$(value ramp-T.json channels.red.points.0.1)" 0.00006
else
    skip 'the measured ramp is not there; WEDGEWORK_DATA names its folder'
fi
finish
