# SPDX-License-Identifier: GPL-3.0-or-later
# Above, the share of a scan's pixels in each bin of density; below, the share that are no denser, on
# the scale of the normal distribution, which spreads both ends. What is drawn comes from src/out/plot_whole.c as variables and tables.

# Channels: red, green, blue, visual. Told apart by line, mark and colour, so that black will do.
set style line 1 lw 1.8 dt (12,4) lc rgb '#b3202c' pt 4 ps 1.0
set style line 2 lw 1.8 dt 1 lc rgb '#1a7037' pt 8 ps 1.1
set style line 3 lw 1.8 dt (3,3) lc rgb '#2446b5' pt 6 ps 1.0
set style line 4 lw 1.8 dt 1 lc rgb '#000000' pt 6 ps 1.0
array channel[4] = ['red', 'green', 'blue', 'visual']

set border 15 lc rgb '#808080'
set tics out nomirror scale 0.6 textcolor rgb '#000000'
set grid back lt 1 lc rgb '#d4d4d4' lw 0.8
set multiplot

set lmargin at screen bins_left
set rmargin at screen bins_right
set bmargin at screen bins_bottom
set tmargin at screen bins_top
set xrange [x_from:x_to]
set yrange [0:*]
set format x '%.2f'
set format y '%.3g'
unset xlabel
set xtics x_to - x_from > 3.05 ? 0.6 : 0.3
set ylabel bins_label
set label 1 title_text at graph 0, graph 1 offset 0,1 left noenhanced
unset key
plot for [c = 0:3] $bins using (column(1) == c ? column(2) : NaN):3 with steps ls (c + 1) notitle
unset label 1

set format y '%h'
set lmargin at screen main_left
set rmargin at screen main_right
set bmargin at screen main_bottom
set tmargin at screen main_top
set xrange [x_from:x_to]
set yrange [-end_place - 0.4:end_place + 0.4]
set format x '%.2f'
set xtics x_to - x_from > 3.05 ? 0.6 : 0.3
set ytics (first_name -end_place, '0.1 %%' -3.0902, '1 %%' -2.3263, '10 %%' -1.2816, \
    '50 %%' 0, '90 %%' 1.2816, '99 %%' 2.3263, '99.9 %%' 3.0902, last_name end_place)
set xlabel x_label
set ylabel y_label
set key at screen 0.5, screen 0.02 center bottom horizontal Left reverse samplen 4 maxrows 1 noenhanced
plot \
  for [c = 0:3] $sums using (column(1) == c ? column(2) : NaN):(invnorm(column(3))) with lines ls (c + 1) notitle, \
  for [c = 0:3] $shares using (column(1) == c && column(4) > 0 ? column(2) : NaN):3:4 \
      with xerrorbars ls (c + 1) lw 1.2 dt 1 pt 0 notitle, \
  for [c = 0:3] $shares using (column(1) == c ? column(2) : NaN):3 with points ls (c + 1) notitle, \
  for [c = 0:3] for [k = 1:has[c + 1]] NaN with linespoints ls (c + 1) title channel[c + 1]
unset multiplot
