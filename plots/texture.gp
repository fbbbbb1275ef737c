# SPDX-License-Identifier: GPL-3.0-or-later
# Contrast that an edge leaves at each frequency, and grain place by place, of scans beside each other.
# What is drawn comes from src/out/plot_texture.c as variables and tables.

set multiplot
set border 15 lc rgb '#808080'
set tics out nomirror scale 0.6 textcolor rgb '#000000'
set grid back lt 1 lc rgb '#d4d4d4' lw 0.8
set format x '%g'
# Each scan has a mark and a dash of its own: the plot must read in black.
array mark[12] = [7, 6, 5, 4, 9, 8, 11, 10, 13, 12, 1, 2]
array ink[12] = ['#000000', '#b3202c', '#1f4e9e', '#1a7037', '#000000', '#b3202c', '#1f4e9e', '#1a7037', '#000000', '#b3202c', '#1f4e9e', '#1a7037']
do for [s = 1:12] {
  set style line s lw 1.6 pt mark[s] ps 1.1 lc rgb ink[s]
}
do for [k = 0:2] {
  set style line 1 + 4 * k dt solid
  set style line 2 + 4 * k dt (8,4)
  set style line 3 + 4 * k dt (2,3)
  set style line 4 + 4 * k dt (12,3,2,3)
}
set key at graph 0.98, graph 0.97 right top Left reverse samplen 4 spacing 1.3 noenhanced opaque

if (has_edge) {
  set lmargin at screen edge_left
  set rmargin at screen edge_right
  set bmargin at screen edge_bottom
  set tmargin at screen edge_top
  set xrange [0:x_to]
  set yrange [0:1.1]
  set ytics 0.25
  set format y '%.2f'
  set xlabel 'cycles/mm'
  set ylabel 'contrast of the edge (MTF)'
  set label 1 'marks: where half is left, with its 95 % interval' at graph 0, graph 1 offset 0,0.7 left noenhanced
  plot \
    0.5 with lines lw 0.8 dt (3,3) lc rgb '#404040' notitle, \
    for [s = 0:n_scans - 1] $mtf using (column(1) == s ? column(2) : NaN):3 with lines ls (s + 1) notitle, \
    for [s = 0:n_scans - 1] $half using (column(1) == s ? column(2) : NaN):3:4 with xerrorbars ls (s + 1) dt 1 notitle, \
    for [s = 0:n_scans - 1] NaN with linespoints ls (s + 1) title scan_name[s + 1]
  unset label 1
}

if (has_grain) {
  set lmargin at screen grain_left
  set rmargin at screen grain_right
  set bmargin at screen grain_bottom
  set tmargin at screen grain_top
  set xrange [0.5:n_places + 0.5]
  set yrange [0:grain_to]
  set ytics autofreq
  set format y '%g'
  set xtics () scale 0
  do for [i = 1:n_places] {
    set xtics add (place[i] i)
  }
  set xlabel 'place'
  set ylabel 'grain, 1000 sd of D through 48 µm'
  if (has_edge) {
    unset key
  }
  plot for [s = 0:n_scans - 1] $grain using (column(1) == s ? column(2) : NaN):3:4 with yerrorbars ls (s + 1) dt 1 title scan_name[s + 1]
}
unset multiplot
