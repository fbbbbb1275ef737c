# SPDX-License-Identifier: GPL-3.0-or-later
# Density of each print against what was sent, the scales over each other; beneath, a strip of tones a print as
# it will look in a room. What is drawn comes from src/out/plot_compare.c as variables and tables.

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
span = y_to - y_from
set ytics span > 1.6 ? 0.3 : span > 0.7 ? 0.1 : 0.05
set format x '%g'
set format y '%.2f'
set xlabel x_label
set ylabel y_label
# Each print has a mark and a dash of its own: the plot must read in black.
array mark[12] = [7, 6, 5, 4, 9, 8, 11, 10, 13, 12, 1, 2]
array dash[12] = ['solid', '(8,4)', '(2,3)', '(12,3,2,3)', 'solid', '(8,4)', '(2,3)', '(12,3,2,3)', 'solid', '(8,4)', '(2,3)', '(12,3,2,3)']
array ink[12] = ['#000000', '#b3202c', '#1f4e9e', '#1a7037', '#000000', '#b3202c', '#1f4e9e', '#1a7037', '#000000', '#b3202c', '#1f4e9e', '#1a7037']
do for [p = 1:12] {
  set style line p lw 1.6 pt mark[p] ps 1.0 lc rgb ink[p]
}
set style line 1 dt solid
do for [k = 0:2] {
  set style line 1 + 4 * k dt solid
  set style line 2 + 4 * k dt (8,4)
  set style line 3 + 4 * k dt (2,3)
  set style line 4 + 4 * k dt (12,3,2,3)
}
set key at graph 0.02, graph 0.98 left top Left reverse samplen 4 spacing 1.3 noenhanced opaque
plot \
  for [p = 0:n_prints - 1] $scale using (column(1) == p ? column(2) : NaN):3:4 \
      with yerrorbars ls (p + 1) lw 1 dt 1 notitle, \
  for [p = 0:n_prints - 1] $scale using (column(1) == p ? column(2) : 1/0):3 \
      with linespoints ls (p + 1) title print_name[p + 1]

set lmargin at screen strips_left
set rmargin at screen strips_right
set bmargin at screen strips_bottom
set tmargin at screen strips_top
unset key
unset grid
unset tics
unset xlabel
unset ylabel
unset border
set yrange [0:n_prints]
set label 1 strips_text at graph 0, graph 1 offset 0,0.9 left noenhanced
do for [p = 1:n_prints] {
  set label 1 + p print_name[p] at x_from, n_prints - p + strip_share left offset 0,0.8 noenhanced
}
plot $patches using 2:(0):2:3:(n_prints - 1 - $1):(n_prints - 1 - $1 + strip_share):(65536 * int($4) + 256 * int($5) + int($6)) \
    with boxxyerror lc rgb variable fs solid border lc rgb '#808080' notitle
unset multiplot
