#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# scans.sh WEDGEWORK FOLDER - whole processes on invented scans, side by side in one run: this program, a bare read
# loop, and libvips and NumPy (with tifffile) where they are installed. Rounds are interleaved; each figure is the
# median of its rounds, each ratio the median of the ratios within a round. The files come from the page cache, so
# that the disk plays no part. Needs 1.7 GB in FOLDER, given back at the end.
set -eu
wedgework=$1 folder=$2 here=tests/bench rounds=${ROUNDS:-5}
mkdir -p "$folder"
trap 'rm -f "$folder"/*.tif "$folder/wedge.csv" "$folder/scanner.json"' EXIT
cc=${CC:-cc}
# shellcheck disable=SC2046
$cc -O2 -o "$folder/make" $here/scan_make.c $(pkg-config --cflags --libs libtiff-4) -lm
$cc -O2 -o "$folder/floor" $here/scan_floor.c -pthread
$cc -O2 -o "$folder/copy" $here/scan_copy.c
vips='' numpy=''
if pkg-config --exists vips; then
    # shellcheck disable=SC2046
    $cc -O2 -o "$folder/vips" $here/scan_vips.c $(pkg-config --cflags --libs vips) && vips=$folder/vips
fi
for python in /usr/bin/python3 python3; do
    [ -n "$numpy" ] || ! $python -c 'import numpy, tifffile' 2>/dev/null ||
        numpy="$python $here/scan_numpy.py"
done
[ -n "$vips" ] || echo 'libvips is not installed (libvips-dev): left out'
[ -n "$numpy" ] || echo 'NumPy with tifffile is not installed (python3-numpy, python3-tifffile): left out'

# seconds COMMAND... - wall-clock time of the whole process
seconds() {
    local start=$EPOCHREALTIME
    "$@" >/dev/null
    local end=$EPOCHREALTIME
    echo "$start $end" | tr , . | awk '{ printf "%.6f\n", $2 - $1 }'
}

# tell NAME - a line of the table, of the lines "WHO SECONDS" of all rounds.
tell() {
    awk -v name="$1" '
        function median(list, n,    i, j, t) {
            for (i = 2; i <= n; i++)
                for (j = i; j > 1 && list[j] < list[j - 1]; j--) {
                    t = list[j]; list[j] = list[j - 1]; list[j - 1] = t
                }
            return n % 2 ? list[(n + 1) / 2] : (list[n / 2] + list[n / 2 + 1]) / 2
        }
        { n[$1]++; time[$1, n[$1]] = $2 }
        function of(who, by,    i, list) {
            for (i = 1; i <= n[who]; i++)
                list[i] = time[who, i] / (by ? time["this", i] : 1)
            return n[who] ? sprintf(by ? "%.2f" : "%.0f", median(list, n[who]) * (by ? 1 : 1000)) : "-"
        }
        END {
            printf "%-44s %7s %7s %7s %7s   %7s %7s %7s\n", name, of("this", 0), of("floor", 0),
                of("vips", 0), of("numpy", 0), of("floor", 1), of("vips", 1), of("numpy", 1)
        }'
}

# compare NAME FILE patches|whole WEDGEWORK-OPTIONS...
compare() {
    local name=$1 file=$2 what=$3
    local with_numpy=$numpy
    shift 3
    # NumPy's reader does not know every codec.
    [ -z "$numpy" ] || $numpy "$file" "$what" >/dev/null 2>&1 || with_numpy=
    for _ in $(seq "$rounds"); do
        echo "this $(seconds "$wedgework" measure "$file" "$@" --json)"
        echo "floor $(seconds "$folder/floor" "$file")"
        [ -z "$vips" ] || echo "vips $(seconds $vips "$file" "$what")"
        [ -z "$with_numpy" ] || echo "numpy $(seconds $with_numpy "$file" "$what")"
    done | tell "$name"
}

# against_copy NAME WEDGEWORK-OPTIONS FILE... - a TIFF file made of scans, beside reading them and writing as much.
against_copy() {
    local name=$1 options=$2
    shift 2
    for _ in $(seq "$rounds"); do
        # shellcheck disable=SC2086
        echo "this $(seconds "$wedgework" scan $options "$@" -o "$folder/made.tif" --quiet)"
        echo "floor $(seconds "$folder/copy" "$folder/copied.tif" "$@")"
    done | tell "$name"
}

"$folder/make" "$folder/wedge.tif" 2400 1330 strips
"$folder/make" "$folder/big.tif" 13000 13000 strips
"$folder/make" "$folder/tiles.tif" 7100 7100 tiles
"$folder/make" "$folder/lzw.tif" 7100 7100 lzw
printf '%-44s %7s %7s %7s %7s   %7s %7s %7s\n' 'milliseconds; then times as long as this' this floor libvips \
    NumPy floor libvips NumPy
compare '21 steps, 19 MB, found by itself' "$folder/wedge.tif" patches --steps 21
compare '21 steps, 19 MB, --strip' "$folder/wedge.tif" patches --steps 21 --strip 0,500,2400,330
compare '21 steps, 1 GB, found by itself' "$folder/big.tif" patches --steps 21
compare '21 steps, 1 GB, --strip' "$folder/big.tif" patches --steps 21 --strip 0,5000,13000,3000
compare 'whole scan, 1 GB' "$folder/big.tif" whole --whole
compare 'whole scan, 300 MB in deflated tiles' "$folder/tiles.tif" whole --whole
compare 'whole scan, 300 MB in LZW strips' "$folder/lzw.tif" whole --whole
rm "$folder/big.tif" "$folder/tiles.tif" "$folder/lzw.tif"

"$folder/make" "$folder/long.tif" 7100 7100 strips
"$folder/make" "$folder/short.tif" 7100 7100 strips 0.25
"$folder/make" "$folder/steps.tif" 2400 1330 strips 0.25
awk 'BEGIN { print "step,visual"; for (i = 0; i < 21; i++) print i + 1 "," 0.05 + 0.15 * i }' >"$folder/wedge.csv"
"$wedgework" scanner "$folder/steps.tif" --wedge "$folder/wedge.csv" -o "$folder/scanner.json" --quiet
printf '\n%-44s %7s %7s %31s\n' 'the same, and what copying is of it' this copy copy
against_copy 'two scans of 300 MB merged into one' --merge "$folder/long.tif" "$folder/short.tif"
against_copy 'a scan of 300 MB as densities' "--densities --scanner $folder/scanner.json" "$folder/short.tif"
