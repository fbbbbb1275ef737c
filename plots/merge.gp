# SPDX-License-Identifier: GPL-3.0-or-later
# Noise of one pixel, in density, against density below full scale: of the shorter scan, and of the one
# that two were merged into. What is drawn comes from src/out/plot_scan_merge.c as variables and a table.

# Channels: red, green, blue, visual. Told apart by line and colour, so that black will do.
set style line 1 lw 2.0 dt (12,4) lc rgb '#b3202c'
set style line 2 lw 2.0 dt 1 lc rgb '#1a7037'
set style line 3 lw 2.0 dt (12,3,2,3) lc rgb '#2446b5'
set style line 4 lw 2.0 dt 1 lc rgb '#000000'

set border 15 lc rgb '#808080'
set tics out nomirror scale 0.6 textcolor rgb '#000000'
set grid back lt 1 lc rgb '#d4d4d4' lw 0.8
set lmargin at screen main_left
set rmargin at screen main_right
set bmargin at screen main_bottom
set tmargin at screen main_top
set xrange [x_from:x_to]
set yrange [y_from:y_to]
set logscale y
set format x '%.2f'
set format y '%g'
set xtics x_to - x_from > 3.05 ? 0.6 : 0.3
set xlabel "density below the shorter scan's full scale (D)"
set ylabel 'noise of one pixel, 1 sd (D)'
set label 1 'signal = noise' at graph 0.015, first signal_is_noise offset 0,0.6 left front

set key at screen 0.5, screen 0.03 center bottom horizontal Left reverse samplen 4 noenhanced maxrows 2
plot \
  signal_is_noise with lines lw 1.2 lc rgb '#808080' notitle, \
  for [c = 0:3] $noise using (column(1) == c ? column(2) : NaN):4 with lines ls (c + 1) notitle, \
  for [c = 0:3] $noise using (column(1) == c ? column(2) : NaN):3 with lines ls (c + 1) lw 1.0 notitle, \
  for [c = 1:4] for [k = 1:(legend_text[c] ne '')] NaN with lines ls c title legend_text[c], \
  NaN with lines lw 1.0 lc rgb '#000000' title 'thin: the shorter scan alone'
