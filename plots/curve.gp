# SPDX-License-Identifier: GPL-3.0-or-later
# Density against log H on equal axes, the construction of each figure, residuals beneath.
# What is drawn comes from src/out/plot_curve.c and plot_construct.c as variables and tables.

# Channels: red, green, blue, visual. Told apart by line, mark and colour, so that black will do.
set style line 1 lw 2.0 dt (12,4) lc rgb '#b3202c' pt 4 ps 0.7
set style line 2 lw 2.0 dt 1 lc rgb '#1a7037' pt 8 ps 0.8
set style line 3 lw 2.0 dt (3,3) lc rgb '#2446b5' pt 6 ps 0.7
set style line 4 lw 2.0 dt 1 lc rgb '#000000' pt 6 ps 0.7

# Constructions: base+fog, speed point, gamma, average gradient, contrast index, range; 10: a heading.
set style line 10 lw 1.0 dt 1 lc rgb '#ffffff' pt 0
set style line 11 lw 1.4 dt (2,5) lc rgb '#000000' pt 0
set style line 12 lw 1.2 dt (6,3) lc rgb '#404040' pt 2 ps 1.3
set style line 13 lw 1.2 dt 1 lc rgb '#909090' pt 1 ps 1.3
set style line 14 lw 1.6 dt (10,5) lc rgb '#505050' pt 13 ps 1.0
set style line 15 lw 1.2 dt (10,4,2,4) lc rgb '#505050' pt 7 ps 0.6
set style line 16 lw 1.6 dt (1,3) lc rgb '#000000' pt 0

set style textbox opaque noborder fillcolor rgb '#ffffff' margins 0.6,0.4

set multiplot
set border 15 lc rgb '#808080'
set tics out nomirror scale 0.6 textcolor rgb '#000000'
set grid xtics mxtics ytics mytics back lt 1 lc rgb '#d4d4d4' lw 0.8, lt 1 lc rgb '#d4d4d4' lw 0.8
set format '%.2f'
set xrange [x_from:x_to]
set xtics x_step
set mxtics int(x_step / 0.3 + 0.5)

set lmargin at screen main_left
set rmargin at screen main_right
set bmargin at screen main_bottom
set tmargin at screen main_top
set size ratio -1
set yrange [y_from:y_to]
set ytics y_step
set mytics int(y_step / 0.3 + 0.5)
set ylabel 'density'
set label 1 title_text at graph 0, graph 1 offset 0,1 left noenhanced
unset key

# A suspect's name stands on the side of the curve that it strayed to.
do for [k = 1:n_suspect_names] {
  lift = suspect_above[k] ? 0.6 : -0.6
  if (suspect_left[k]) {
    set label 1 + k suspect_name[k] at suspect_x[k], suspect_y[k] offset -1.4, lift right front boxed noenhanced
  } else {
    set label 1 + k suspect_name[k] at suspect_x[k], suspect_y[k] offset 1.4, lift left front boxed noenhanced
  }
}

plot \
  for [k = 1:6 * n_construct] $construct using (column(1) == k ? column(2) : NaN):3 \
      with lines ls (10 + k) notitle, \
  for [c = 0:4 * n_points - 1] $points using (column(1) == c ? column(2) : NaN):3:4 \
      with yerrorbars ls (c + 1) lw 1 dt 1 notitle, \
  for [c = 0:4 * n_moved - 1] $moved using (column(1) == c ? column(2) : NaN):3:4 \
      with yerrorbars ls (c + 1) lw 1 dt 1 pt 10 ps 0.9 notitle, \
  for [c = 0:4 * n_curve - 1] $curve using (column(1) == c ? column(2) : NaN):3 \
      with lines ls (c + 1) notitle, \
  for [c = 0:4 * n_unfitted - 1] $unfitted using (column(1) == c ? column(2) : NaN):3 \
      with points ls (c + 1) lc rgb '#909090' notitle, \
  for [k = 1:n_over] $over using 2:(column(3) + 0.02):(0):(0.09) \
      with vectors filled head lw 1.6 lc rgb '#000000' notitle, \
  for [k = 1:6 * n_mark] $mark using (column(1) == k ? column(2) : NaN):3 \
      with points ls (10 + k) lc rgb '#000000' notitle, \
  for [k = 1:n_suspect] $suspect using 2:3 with points pt 6 ps 2.0 lw 1.6 lc rgb '#000000' notitle, \
  for [k = 1:n_suspect] $suspect using 2:3 with points pt 2 ps 0.9 lw 1.6 lc rgb '#000000' notitle

set size noratio
set lmargin at screen residual_left
set rmargin at screen residual_right
set bmargin at screen residual_bottom
set tmargin at screen residual_top
unset label
set yrange [-residual_limit:residual_limit]
set format y '%+.2f'
set ytics residual_limit / 2
if (residual_limit == 0.02 || residual_limit == 0.06) { set ytics residual_limit }
set mytics 2
set xlabel x_label noenhanced
set ylabel 'reading - curve'

plot \
  0 with lines lw 1.2 lc rgb '#000000' notitle, \
  for [c = 0:4 * n_points * (n_channels == 1) - 1] $points \
      using (column(1) == c ? column(2) : NaN):5:4 with yerrorbars ls (c + 1) lw 1 dt 1 notitle, \
  for [c = 0:4 * n_points * (n_channels > 1) - 1] $points \
      using (column(1) == c ? column(2) : NaN):5 with points ls (c + 1) lw 1.2 notitle, \
  for [c = 0:4 * n_moved * (n_channels == 1) - 1] $moved \
      using (column(1) == c ? column(2) : NaN):5:4 \
      with yerrorbars ls (c + 1) lw 1 dt 1 pt 10 ps 0.9 notitle, \
  for [c = 0:4 * n_moved * (n_channels > 1) - 1] $moved \
      using (column(1) == c ? column(2) : NaN):5 \
      with points ls (c + 1) lw 1.2 pt 10 ps 0.9 notitle, \
  for [k = 1:n_suspect] $suspect using 2:4 with points pt 6 ps 2.0 lw 1.6 lc rgb '#000000' notitle, \
  for [k = 1:n_suspect] $suspect using 2:4 with points pt 2 ps 0.9 lw 1.6 lc rgb '#000000' notitle, \
  for [k = 1:n_suspect] $suspect using 2:4:(sprintf('%+.2f', column(5))) \
      with labels offset 1.4,0 left boxed notitle

# The legend has a panel of its own, as high as the canvas: gnuplot drops what does not fit beside a plot.
set lmargin at screen main_right
set rmargin at screen 1
set bmargin at screen 0
set tmargin at screen main_top
unset border
unset tics
unset grid
unset xlabel
unset ylabel
set yrange [0:1]
set key at graph 0, graph 1 left top Left reverse samplen 3 spacing 1.4 noenhanced
plot \
  for [k = 1:n_legend] NaN with linespoints \
      ls (legend_class[k] < 0 ? -legend_class[k] : 10 + legend_class[k]) title legend_text[k], \
  for [k = 1:n_suspect] NaN with points pt 6 ps 2.0 lw 1.6 lc rgb '#000000' \
      title 'suspect reading, kept out of the curve', \
  for [k = 1:n_moved] NaN with points pt 10 ps 0.9 lc rgb '#000000' \
      title 'reading moved one step along the strip', \
  for [k = 1:n_over] NaN with points pt 9 ps 1.0 lc rgb '#000000' \
      title 'beyond the instrument, at least this dense', \
  for [k = 1:n_unfitted] NaN with points pt 6 ps 0.7 lc rgb '#909090' \
      title 'reading not fitted'
unset multiplot
