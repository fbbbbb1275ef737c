# SPDX-License-Identifier: GPL-3.0-or-later
# The paper's three curves with each grey of the print, its aim and the next print on them.
# What is drawn comes from src/out/plot_balance.c as variables and tables.

array colour[3] = ['#b3202c', '#1a7037', '#1f5fa8']
array name[3] = ['red', 'green', 'blue']
array dashes[3] = [1, 2, 3]

set multiplot
set border 15 lc rgb '#808080'
set tics out nomirror scale 0.6 textcolor rgb '#000000'
set lmargin at screen main_left
set rmargin at screen main_right
set bmargin at screen main_bottom
set tmargin at screen main_top
set xrange [x_from:x_to]
set yrange [y_from:y_to]
set grid back lt 1 lc rgb '#d4d4d4' lw 0.8
set xtics 0.3
set ytics 0.3
set format '%.1f'
set xlabel x_label
set ylabel 'density'
set label 1 title_text at graph 0, graph 1 offset 0,2 left noenhanced
unset key
# A thin line goes along the marks of each grey of the print, to its number beside the panel; on a
# copy in grey the dashes of the curves tell the colours.
plot \
  for [k = 1:(names > 0)] $thread using 1:2 with lines lw 0.8 lc rgb '#909090', \
  for [c = 0:2] $curve using 2:($1 == c ? $3 : NaN) with lines lw 1.8 dt dashes[c + 1] lc rgb colour[c + 1], \
  for [c = 0:2] $aim using 2:($1 == c ? $3 : NaN) with points pt 1 ps 2.0 lw 1.6 lc rgb colour[c + 1], \
  for [c = 0:2] $print using 2:($1 == c ? $3 : NaN) with points pt 6 ps 1.3 lw 1.6 lc rgb colour[c + 1], \
  for [c = 0:2 * has_next] $next using 2:($1 == c ? $3 : NaN) with points pt 7 ps 0.8 lc rgb colour[c + 1], \
  for [k = 1:(names > 0)] $thread using 1:2:($3 > 0 ? sprintf('%d', $3) : '') with labels left offset 0.6,0 noenhanced
unset label 1

# The legend has a panel of its own below.
set bmargin at screen 0
set tmargin at screen legend_top
unset border
unset tics
unset grid
unset xlabel
unset ylabel
set xrange [0:1]
set yrange [0:1]
set key at graph 0, graph 1 left top Left reverse samplen 3 spacing 1.2 noenhanced
plot for [c = 1:3] NaN with lines lw 1.8 dt dashes[c] lc rgb colour[c] title name[c]
do for [i = 1:names] {
  set label i grey[i] at screen main_left, screen names_top - line_high * (i - 1) left noenhanced
}
set key at graph 0.52, graph 1 left top Left reverse samplen 3 spacing 1.2 noenhanced
plot \
  NaN with points pt 6 ps 1.3 lw 1.6 lc rgb '#000000' title 'this print', \
  NaN with points pt 1 ps 2.0 lw 1.6 lc rgb '#000000' title 'its aim', \
  for [k = 1:has_next] NaN with points pt 7 ps 0.8 lc rgb '#000000' title 'next print, as set', \
  NaN notitle
unset multiplot
