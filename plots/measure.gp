# SPDX-License-Identifier: GPL-3.0-or-later
# Densities by step or spot, and the share of pixels that was left out of each beneath.
# What is drawn comes from src/out/plot_measured.c as variables and tables.

# Channels: red, green, blue, visual. Told apart by line, mark and colour, so that black will do.
set style line 1 lw 1.6 dt (12,4) lc rgb '#b3202c' pt 4 ps 0.8
set style line 2 lw 1.6 dt 1 lc rgb '#1a7037' pt 8 ps 0.9
set style line 3 lw 1.6 dt (3,3) lc rgb '#2446b5' pt 6 ps 0.8
set style line 4 lw 1.6 dt 1 lc rgb '#000000' pt 6 ps 0.8
array channel[4] = ['red', 'green', 'blue', 'visual']

set multiplot
set border 15 lc rgb '#808080'
set tics out nomirror scale 0.6 textcolor rgb '#000000'
set grid back lt 1 lc rgb '#d4d4d4' lw 0.8
set xrange [0:n_steps + 1]

set lmargin at screen main_left
set rmargin at screen main_right
set bmargin at screen main_bottom
set tmargin at screen main_top
set yrange [y_from:y_to]
set xtics 1
set format x ''
set format y '%.2f'
set ytics y_to - y_from > 3.05 ? 0.6 : 0.3
set ylabel y_label
set label 1 title_text at graph 0, graph 1 offset 0,1 left noenhanced
# A title widens the key even where it is not plotted.
over_title = n_over > 0 ? 'beyond the wedge' : ''
# Below everything: beside or inside the panel it would hide what it explains.
set key at screen 0.5, screen 0.012 center bottom horizontal Left reverse samplen 3 maxrows 1 noenhanced
plot \
  for [c = 0:4 * joined - 1] $values using (column(1) == c ? column(2) : NaN):3 \
      with lines ls (c + 1) lw 1.0 notitle, \
  for [c = 0:4 * calibrated - 1] $values using (column(1) == c ? column(2) : NaN):3:4 \
      with yerrorbars ls (c + 1) lw 1.2 dt 1 pt 0 notitle, \
  for [c = 0:3] $values using (column(1) == c ? column(2) : NaN):3 with points ls (c + 1) notitle, \
  for [c = 0:4 * n_over - 1] $over using (column(1) == c ? column(2) : NaN):(y_to - 0.24):(0):(0.2) \
      with vectors filled head ls (c + 1) lw 1.4 dt 1 notitle, \
  for [c = 0:4 * n_over - 1] $over using (column(1) == c ? column(2) : NaN):(y_to - 0.24) \
      with points ls (c + 1) notitle, \
  for [c = 0:3] for [k = 1:has[c + 1]] NaN with linespoints ls (c + 1) title channel[c + 1], \
  for [k = 1:n_over] NaN with points pt 9 ps 1.0 lc rgb '#000000' title over_title
unset label 1

set lmargin at screen out_left
set rmargin at screen out_right
set bmargin at screen out_bottom
set tmargin at screen out_top
set yrange [0:out_limit]
set ytics out_limit / 2
set format y '%g'
set xlabel x_label offset 0,-0.8 - (name_rows - 1)
set ylabel 'left out (%)'
do for [k = 1:n_names] {
  set label 100 + k name[k] at name_at[k], graph 0 offset 0,-1 - (k - 1) % name_rows center noenhanced
}
unset key
plot $out using 1:2 with impulses lw 5 lc rgb '#606060'
unset multiplot
