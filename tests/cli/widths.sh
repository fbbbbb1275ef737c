#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# widths.sh - wedges whose steps are not alike in width, as the column width says: scanner --wedge, measure --wedge and
# measure --steps --through. Expected places, densities and numbers are the scene's own (closed form).
. tests/support/cli.sh
: "${MAKE_SCANS:?names the maker of scans}"
widths='3 1 1.2 2.5 1 1 1.7 0.8 2 1.1 1.4 2.2 1'
# The dense end lies left, turned by 3 degrees: step 13 first
echo "$widths" | awk '{ line = ""
    for (i = NF; i >= 1; i--) line = line " " $i " " 0.05 + 0.18 * (i - 1)
    print "size 900 360\nscanner 0.9 0.003 0 1\nnoise 0.0002 0.0012 0.002\nseed 3\nglass 0.3"
    print "uneven 450 180 800 150 3" line }' >u.scene
"$MAKE_SCANS" u.scene u.tif || bad 'a scan'
echo "$widths" | awk '{ print "# wedge: certified\nstep,width,visual"
    for (i = 1; i <= NF; i++) printf "%d,%.2f,%.2f\n", i, 12.5 * $i, 0.05 + 0.18 * (i - 1) }' >wedge.csv

run scanner u.tif --wedge wedge.csv -o s.json
exits 0 'calibrated'
near 'k' 0.9 "$(value s.json channels.visual.k)" 0.002
near 'flare' 0.003 "$(value s.json channels.visual.flare.value)" 3e-5
run measure u.tif --wedge wedge.csv --json
exits 0 'measured'
# Middle of step k, px from the strip's middle: length 800 shared by the widths, the last step first
echo "$widths" | awk '{ for (i = 1; i <= NF; i++) sum += $i
    at = 400
    for (i = 1; i <= NF; i++) { w = 800 * $i / sum; u = at - w / 2; at -= w
        print 450 + u * cos(3 * atan2(0, -1) / 180), 180 + u * sin(3 * atan2(0, -1) / 180), 0.6 * w } }' >places
i=0
while read -r x y length; do
    near "step $((i + 1)) lies at x" "$x" "$(value out rows.$i.centre.0)" 1
    near "and y" "$y" "$(value out rows.$i.centre.1)" 1
    near "and is so long" "$length" "$(awk -v a="$(value out rows.$i.corners.0.0)" -v b="$(value out rows.$i.corners.0.1)" \
        -v c="$(value out rows.$i.corners.1.0)" -v d="$(value out rows.$i.corners.1.1)" \
        'BEGIN { print sqrt((a - c) ^ 2 + (b - d) ^ 2) }')" 1
    i=$((i + 1))
done <places
same 'all steps' 13 "$i"
same 'no complaint about widths' '' "$(grep 'as wide as' out)"

# A film exposed through that wedge: its own steps, numbered from the left, where the wedge's step 1 lies right
run measure u.tif --steps 13 --reverse --scanner s.json --through wedge.csv -o film.csv
exits 0 'through'
same 'no complaint' '' "$(grep 'as wide as' out)"
same 'exposures are the wedge densities' '0.05 2.21' \
    "$(sed -n 's/^1,\([^,]*\),.*/\1/p' film.csv) $(sed -n 's/^13,\([^,]*\),.*/\1/p' film.csv)"
near 'and a density beside one' 1.13 "$(sed -n 's/^7,[^,]*,\([^,]*\),.*/\1/p' film.csv)" 0.01
run measure u.tif --steps 13 --scanner s.json --through wedge.csv
exits 0 'numbered from the wrong end'
has 'the widths tell' out "from the other end"
{ sed -n '1,2p' wedge.csv; sed -n '3,$p' wedge.csv | sort -rn; } >turned.csv
run measure u.tif --steps 13 --scanner s.json --through turned.csv
exits 3 'rows in another order than the numbers'
has 'which is said' err "turned.csv:3: --steps numbers the steps from 1 to 13"
sed '$d' wedge.csv >short.csv
run measure u.tif --steps 13 --reverse --scanner s.json --through short.csv
exits 3 'through a wedge of fewer steps'

# Widths that are none
sed 's/^4,[^,]*,/4,,/' wedge.csv >some.csv
refuses 3 "some.csv:6: step '4' has no width, but step '1' has one; give that of every step, or of none" \
    measure u.tif --wedge some.csv
sed 's/^4,[^,]*,/4,0,/' wedge.csv >zero.csv
run measure u.tif --wedge zero.csv
exits 3 'a width of 0'
sed 's/^7,[^,]*,/7,90,/' wedge.csv >other.csv
run measure u.tif --wedge other.csv -o none.json
exits 3 'a wrong width'
has 'is told' err 'step 7 of them, given as 90.00 wide, is 21.'
sed 's/^glass.*/glass 3/' u.scene >dark.scene
"$MAKE_SCANS" dark.scene dark.tif || bad 'a scan'
for wrong in 1,90:37. 4,15:30. 12,14:27. 13,60:12.; do
    step=${wrong%%,*} given=${wrong#*,}
    sed "s/^$step,[^,]*,/$step,${given%:*},/" wedge.csv >other.csv
    run measure dark.tif --wedge other.csv -o none.json
    exits 3 "a wrong width of step $step"
    has 'is told' err "step $step of them, given as ${given%:*}.00 wide, is ${given#*:}"
done
holds 'and nothing is written' test ! -e none.json
finish
