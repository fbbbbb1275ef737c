# SPDX-License-Identifier: GPL-3.0-or-later
# A class's readings over each other on equal axes; those that depart have marks and names of their own.
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
array mark[8] = [7, 5, 9, 11, 13, 6, 4, 8]
array ink[4] = ['#b3202c', '#1f4e9e', '#1a7037', '#000000']
# A key for more names than fit stands for none.
n_named = n_departs > 12 ? 12 : n_departs
set key top left Left reverse samplen 3 spacing 1.2 noenhanced opaque
plot \
  for [k = 1:n_class > 0] $class using 2:3 with linespoints pt 6 ps 0.5 lw 0.8 lc rgb '#909090' title 'the class', \
  for [k = 1:n_departs] $departs using (column(1) == k ? column(2) : NaN):3 with linespoints \
    pt mark[(k - 1) % 8 + 1] ps 1.0 lw 1.4 lc rgb ink[(k - 1) % 4 + 1] title (k <= n_named ? name[k] : '')
