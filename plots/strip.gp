# SPDX-License-Identifier: GPL-3.0-or-later
# Density against log time with the aim, the time found and its interval; beneath, the strip to expose.
# What is drawn comes from src/out/plot_strip.c as variables and tables.

set multiplot
set border 15 lc rgb '#808080'
set tics out nomirror scale 0.6 textcolor rgb '#000000'

if (has_main) {
  set lmargin at screen main_left
  set rmargin at screen main_right
  set bmargin at screen main_bottom
  set tmargin at screen main_top
  set xrange [x_from:x_to]
  set yrange [y_from:y_to]
  set grid back lt 1 lc rgb '#d4d4d4' lw 0.8
  # A tenth of a decade is a third of a stop; longer strips take whole stops.
  array nice[10] = [1, 1.25, 1.6, 2, 2.5, 3.2, 4, 5, 6.3, 8]
  set xtics ()
  do for [k = -2:4] {
    do for [i = 1:10:(x_to - x_from > 1.3 ? 3 : 1)] {
      set xtics add (sprintf('%g', nice[i] * 10**k) log10(nice[i]) + k)
    }
  }
  span = y_to - y_from
  set ytics span > 1.6 ? 0.3 : span > 0.7 ? 0.1 : 0.05
  set format y '%.2f'
  set xlabel x_label
  set ylabel y_label
  set label 1 title_text at graph 0, graph 1 offset 0,2 left noenhanced
  if (has_best) {
    set object 1 rect from best_low, graph 0 to best_high, graph 1 behind fs solid noborder fc rgb '#e4e4e4'
    set arrow 1 from best_low, graph 0 to best_low, graph 1 nohead lw 0.8 dt (3,3) lc rgb '#404040'
    set arrow 2 from best_high, graph 0 to best_high, graph 1 nohead lw 0.8 dt (3,3) lc rgb '#404040'
    set arrow 3 from best, graph 0 to best, graph 1 nohead lw 1.6 dt 1 lc rgb '#000000'
    set label 2 best_text at best, graph 1 offset 0,0.6 center noenhanced
  }
  unset key
  plot \
    for [k = 1:has_line] $line using 1:($2 - $3):($2 + $3) with filledcurves fs pattern 4 noborder lc rgb '#909090', \
    for [k = 1:has_line] $line using 1:2 with lines lw 1.8 dt 1 lc rgb '#000000', \
    for [k = 1:has_level] level with lines lw 1.4 dt (8,4) lc rgb '#1a7037', \
    for [k = 1:level_change > 0] level + level_change with lines lw 1.0 dt (2,3) lc rgb '#b3202c', \
    $steps using 1:($4 == 0 || $4 == 3 ? $2 : NaN):3 with yerrorbars pt 6 ps 1.0 lw 1.3 lc rgb '#000000', \
    for [k = 1:n_out_of_order > 0] $steps using 1:($4 == 1 ? $2 : NaN) with points pt 2 ps 1.4 lw 1.8 lc rgb '#b3202c', \
    for [k = 1:n_changed > 0] $steps using 1:($4 == 2 ? $2 : NaN):3 with yerrorbars pt 9 ps 1.3 lw 1.3 lc rgb '#b3202c', \
    for [k = 1:n_suspect > 0] $steps using 1:($4 == 3 ? $2 : NaN) with points pt 6 ps 2.2 lw 1.6 lc rgb '#b3202c'
  unset label 1
  unset label 2
  unset object 1
  unset arrow 1
  unset arrow 2
  unset arrow 3
}

if (n_pieces > 0) {
  set lmargin at screen strip_left
  set rmargin at screen strip_right
  set bmargin at screen strip_bottom
  set tmargin at screen strip_top
  unset key
  unset grid
  unset ytics
  unset ylabel
  unset xtics
  unset xlabel
  unset border
  set xrange [0.5:n_pieces + 0.5]
  set yrange [0:1]
  small = n_pieces > 12 ? 7 : 10
  set label 4 (has_main ? strip_title : title_text) at graph 0, graph 1 offset 0,(has_main ? 2.1 : 2.4) left noenhanced
  do for [i = 1:n_pieces] {
    set label 100 + i piece_all[i] at i, 1 offset 0,0.7 center noenhanced font sprintf(',%d', small)
    set label 200 + i piece_added[i] at i, 0 offset 0,-0.9 center noenhanced font sprintf(',%d', small)
  }
  set label 5 'above: in all; below: the whole strip, then what is added after covering the piece before' \
      at graph 0.5, graph 0 offset 0,-2.3 center noenhanced font ',10'
  plot $pieces using 1:(0.5):($1 - 0.5):($1 + 0.5):(0):(1):(65536 * int($2) + 256 * int($2) + int($2)) \
      with boxxyerror lc rgb variable fs solid border lc rgb '#000000' notitle
}

# The legend has a panel of its own below, in two columns of the same kind.
if (has_main) {
  set lmargin at screen main_left
  set rmargin at screen main_right
  set bmargin at screen 0
  set tmargin at screen legend_top
  unset border
  unset tics
  unset grid
  unset xlabel
  unset ylabel
  do for [i = 1:n_pieces] {
    unset label 100 + i
    unset label 200 + i
  }
  unset label 4
  unset label 5
  set xrange [0:1]
  set yrange [0:1]
  set key at graph 0, graph 1 left top Left reverse samplen 3 spacing 1.2 noenhanced
  plot \
    NaN with points pt 6 ps 1.0 lw 1.3 lc rgb '#000000' title 'step, give or take its 95 % error', \
    for [k = 1:has_line] NaN with lines lw 1.8 dt 1 lc rgb '#000000' title 'line through the steps used', \
    for [k = 1:has_line] NaN with boxes fs pattern 4 noborder lc rgb '#909090' title 'the same, its 95 % error', \
    for [k = 1:n_changed > 0] NaN with points pt 9 ps 1.3 lc rgb '#b3202c' title 'changed step', \
    for [k = 1:n_out_of_order > 0] NaN with points pt 2 ps 1.4 lw 1.8 lc rgb '#b3202c' title 'step out of order'
  set key at graph 0.52, graph 1 left top Left reverse samplen 3 spacing 1.2 noenhanced
  plot \
    for [k = 1:has_level] NaN with lines lw 1.4 dt (8,4) lc rgb '#1a7037' title level_text, \
    for [k = 1:level_change > 0] NaN with lines lw 1.0 dt (2,3) lc rgb '#b3202c' title 'over this it is a change', \
    for [k = 1:has_best] NaN with lines lw 9 lc rgb '#e4e4e4' title interval_text, \
    for [k = 1:n_suspect > 0] NaN with points pt 6 ps 2.2 lw 1.6 lc rgb '#b3202c' title 'suspect step', \
    NaN notitle
}
unset multiplot
