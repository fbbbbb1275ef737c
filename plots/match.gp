# SPDX-License-Identifier: GPL-3.0-or-later
# Densities of a print against what is sent to it, as it is and through a correction, over those of the
# aim; beneath, the correction. What is drawn comes from src/out/plot_match.c as variables and a table.

# Channels: red, green, blue, gray. Told apart by colour and mark, which is hollow on the output as it is; aim,
# output and correction by line.
array colour[4] = ['#b3202c', '#1a7037', '#2446b5', '#000000']
array mark[4] = [5, 9, 7, 6]
array word[4] = ['red', 'green', 'blue', 'gray']

set border 15 lc rgb '#808080'
set tics out nomirror scale 0.6 textcolor rgb '#000000'
set grid back lt 1 lc rgb '#d4d4d4' lw 0.8
set xrange [white_at:black_at]
set xtics step
set multiplot

set lmargin at screen main_left
set rmargin at screen main_right
set bmargin at screen main_bottom
set tmargin at screen main_top
set yrange [y_from:y_to]
set ytics 0.3
set format y '%.2f'
set format x ''
set ylabel 'density (D)'
set key at screen 0.5, screen 0.01 center bottom vertical maxcols 1 Left reverse samplen 4 noenhanced
plot \
  for [c = 3 * colours:3] $scale using (column(1) == c ? column(2) : NaN):4 with lines lw 1.4 dt (3,4) \
      lc rgb colour[c + 1] notitle, \
  for [c = 0:3 * colours - 1] $scale using (column(1) == c ? column(2) : NaN):4 with linespoints pi 20 \
      lw 1.4 dt (3,4) pt mark[c + 1] - 1 ps 0.8 lc rgb colour[c + 1] notitle, \
  for [c = 0:3] $scale using (column(1) == c ? column(2) : NaN):3 with lines lw 3.6 dt 1 \
      lc rgb '#b8b8b8' notitle, \
  for [c = 0:3] $scale using (column(1) == c ? column(2) : NaN):5 with linespoints pi 10 lw 1.4 dt 1 \
      pt mark[c + 1] ps 0.6 lc rgb colour[c + 1] notitle, \
  NaN with lines lw 3.6 lc rgb '#b8b8b8' title aim_text, \
  NaN with lines lw 1.4 dt (3,4) lc rgb '#000000' title 'this output as it is', \
  NaN with lines lw 1.4 dt 1 lc rgb '#000000' title 'through the curve, as foretold', \
  for [c = 1:3 * colours] NaN with points pt mark[c] ps 0.8 lc rgb colour[c] title word[c]

unset key
set bmargin at screen low_bottom
set tmargin at screen low_top
set lmargin at screen low_left
set rmargin at screen low_right
set yrange [white_at:black_at]
set ytics step
set format y number
set format x number
set xlabel in_text
set ylabel send_text
plot \
  x with lines lw 1.0 dt (6,3) lc rgb '#808080' notitle, \
  for [c = 0:3] $scale using (column(1) == c ? column(2) : NaN):6 with linespoints pi 10 lw 1.4 dt 1 \
      pt mark[c + 1] ps 0.6 lc rgb colour[c + 1] notitle
unset multiplot
