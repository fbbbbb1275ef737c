#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# chain.sh - fit and print one after the other on real curves, digitised from data sheets: a film at five
# development times, papers of grades 0, 2 and 4 (outside data, folder curves; index.json there names
# each sheet). Expected values: reference_values.csv of that folder, made with SciPy by others.
# Tolerance of two digitisations of one sheet: 0.03 in log H, so 4 in R from both of its ends.
. tests/support/cli.sh
. "$support/curves.sh"

# reference FILE COLUMN
reference() {
    awk -F , -v file="$1" -v column="$2" '
        NR == 1 { for (i = 1; i <= NF; i++) if ($i == column) at = i; next }
        { sub(/.*\//, "", $1) }
        $1 == file { print $at; exit }' "$curves/reference_values.csv"
}

# readings FILE MATERIAL CONTRAST - the sheet as readings; the base is the reference's, the least density
readings() {
    printf '%s\n' "# name: $1" "# material: $2" "# contrast: $3" '# process: negative' \
        'step,logh,visual'
    echo "base,,$(reference "$1" d_min)"
    awk -F , 'NR > 1 { printf "%d,%s,%s\n", NR - 1, $2, $3 }' "$curves/$1"
}

rises() { awk "BEGIN { exit !($1 < $2) }"; }
v=channels.visual
before=0
for minutes in 4 5 6 9 12; do
    file=kodak_5222_dev_$minutes.csv
    readings "$file" film '' | grep -v '^# contrast' >"$file"
    run fit "$file" --resamples 50 --json
    exits 0 "film, $minutes min"
    near "speed point, $minutes min" "$(reference "$file" 'logH_at_dmin+0.10_linear')" \
        "$(value out $v.speed_point.value)" 0.03
    gamma=$(value out $v.gamma.value)
    holds "gamma rises with development, $minutes min" rises "$before" "$gamma"
    before=$gamma
done

for grade in 0 2 4; do
    file=kodak_polymax_fine_art_paper_grade_$grade.csv
    readings "$file" paper $grade >"$file"
    run fit "$file" --resamples 50 -o "grade$grade.json"
    exits 0 "paper, grade $grade"
    near "R, grade $grade" "$(reference "$file" paper_range_R_pchip)" \
        "$(value "grade$grade.json" $v.iso_range.value)" 4
done

# A negative whose range is a paper's own goes onto that paper: its densest tone to 0.04 above white,
# its thinnest to 90 % of net D-max, which are the ends of R.
papers='--paper grade0.json --paper grade2.json --paper grade4.json'
for grade in 0 2 4; do
    r=$(reference kodak_polymax_fine_art_paper_grade_$grade.csv paper_range_R_pchip)
    { echo '# material: negative'; echo 'tone,visual'; echo 'shadow,0.31'
      awk "BEGIN { printf \"cloud,%.2f\\n\", 0.31 + $r / 100 }"; } >negative.csv
    # shellcheck disable=SC2086
    run print negative.csv $papers --place cloud=0.04 --test 11:cloud=0.04 --json
    holds "printed, range $r" test "$status" -le 1
    same "a range of $r goes on grade $grade" $grade "$(value out choice.contrast)"
    near 'the test print had the aim: its time stands' 11 "$(value out choice.time)" 0.05
done
finish
