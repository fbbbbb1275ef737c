# SPDX-License-Identifier: GPL-3.0-or-later
# Practice readings on equal axes with a grid of 0.30, as one would plot them by hand: no curve, since that is the task.
# What is drawn comes from src/out/plot_lesson.c as variables and tables.

set border 15 lc rgb '#808080'
set tics out nomirror scale 0.6 textcolor rgb '#000000'
set grid back lt 1 lc rgb '#d4d4d4' lw 0.8
set lmargin at screen main_left
set rmargin at screen main_right
set bmargin at screen main_bottom
set tmargin at screen main_top
set xrange [x_from:x_to]
set yrange [y_from:y_to]
set xtics 0.3
set ytics 0.3
set format x '%.1f'
set format y '%.1f'
set xlabel x_label
set ylabel 'density'
set key top left Left reverse samplen 3 spacing 1.3 noenhanced opaque
plot \
  base with lines lw 1.2 dt (8,4) lc rgb '#1f4e9e' title 'base as read', \
  $readings using 2:3 with points pt 6 ps 1.1 lw 1.4 lc rgb '#000000' title 'readings as given'
