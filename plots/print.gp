# SPDX-License-Identifier: GPL-3.0-or-later
# The paper's curve with the negative's tones dropped onto it, the toe enlarged, the slope beneath.
# What is drawn comes from src/out/plot_print.c as variables and tables.

set style line 1 lw 2.0 dt 1 lc rgb '#000000'
set style line 2 lw 1.0 dt (4,3) lc rgb '#404040' pt 7 ps 0.8
set style line 3 lw 1.8 dt 1 lc rgb '#1f5fa8' pt 12 ps 1.4
set style line 4 lw 1.0 dt 1 lc rgb '#1f5fa8'

set multiplot
set border 15 lc rgb '#808080'
set tics out nomirror scale 0.6 textcolor rgb '#000000'
set grid back lt 1 lc rgb '#d4d4d4' lw 0.8
set format '%.2f'
unset key
set clip two

# The whole curve. Local work goes along log H first, which is what it adds or takes away, and then
# to the curve.
set lmargin at screen main_left
set rmargin at screen main_right
set bmargin at screen main_bottom
set tmargin at screen main_top
set size ratio -1
set xrange [x_from:x_to]
set yrange [0:y_to]
set xtics x_step
set ytics 0.3
set ylabel 'density above paper (D)'
set label 1 title_text at screen main_left, 1 offset 0,-1.2 left noenhanced
do for [k = 1:n_main_ticks] {
  set arrow 100 + k from main_x[k], main_y[k] to main_x[k], y_to nohead ls 2
  if (strlen(main_name[k]) > 0) {
    set arrow 300 + k from main_x[k], y_to to main_at[k], graph 1.03 nohead ls 2
    set label 100 + k main_name[k] at main_at[k], graph 1.04 rotate by 90 left noenhanced
  }
}
plot \
  $curve using 1:2 with lines ls 1, \
  for [k = 1:n_main_ticks > 0] $main_ticks using 1:2 with points ls 2, \
  for [k = 1:n_local > 0] $local using 1:2:(column(3) - column(1)):(0) with vectors filled head ls 3, \
  for [k = 1:n_local > 0] $local using 3:2:(0):(column(4) - column(2)) with vectors nohead ls 4, \
  for [k = 1:n_local > 0] $local using 3:4 with points ls 3

unset label 1
do for [k = 1:n_main_ticks] {
  unset arrow 100 + k
  unset arrow 300 + k
  unset label 100 + k
}

# The toe, and the legend below it.
set size noratio
set lmargin at screen toe_left
set rmargin at screen toe_right
set bmargin at screen toe_bottom
set tmargin at screen toe_top
set xrange [toe_from:toe_to]
set yrange [0:toe_density]
set xtics toe_to - toe_from > 1.3 ? 0.4 : toe_to - toe_from > 0.65 ? 0.2 : 0.1
set ytics 0.05
set ylabel 'toe, enlarged (D)'
do for [k = 1:n_toe_ticks] {
  set arrow 100 + k from toe_x[k], toe_y[k] to toe_x[k], graph 1 nohead ls 2
  if (strlen(toe_name[k]) > 0) {
    set arrow 300 + k from toe_x[k], graph 1 to toe_at[k], graph 1.06 nohead ls 2
    set label 100 + k toe_name[k] at toe_at[k], graph 1.08 rotate by 90 left noenhanced
  }
}
set key at screen toe_left, toe_bottom - 0.06 left top Left reverse samplen 3 spacing 1.4
plot \
  $curve using 1:2 with lines ls 1 notitle, \
  for [k = 1:n_toe_ticks > 0] $toe_ticks using 1:2 with points ls 2 notitle, \
  for [k = 1:n_local > 0] $local using 1:2:(column(3) - column(1)):(0) \
      with vectors filled head ls 3 notitle, \
  for [k = 1:n_local > 0] $local using 3:2:(0):(column(4) - column(2)) \
      with vectors nohead ls 4 notitle, \
  for [k = 1:n_local > 0] $local using 3:4 with points ls 3 notitle, \
  NaN with lines ls 1 title curve_title, \
  NaN with linespoints ls 2 title 'tone in the straight print', \
  for [k = 1:n_local > 0] NaN with linespoints ls 3 title 'burned or dodged: this much log H', \
  for [k = 1:n_beyond > 0] NaN with lines lc rgb '#ffffff' \
      title sprintf('%d %s', n_beyond, beyond_title), \
  for [k = 1:n_unnamed > 0] NaN with lines lc rgb '#ffffff' \
      title sprintf('%d without room for a name', n_unnamed)

do for [k = 1:n_toe_ticks] {
  unset arrow 100 + k
  unset arrow 300 + k
  unset label 100 + k
}

# The slope at every exposure: where it is low, tones that differ on the film do not in the print.
unset key
set lmargin at screen slope_left
set rmargin at screen slope_right
set bmargin at screen slope_bottom
set tmargin at screen slope_top
set xrange [x_from:x_to]
set yrange [0:*]
set xtics x_step
set ytics autofreq
set format y '%.1f'
set xlabel x_label noenhanced
set ylabel 'local slope'
do for [k = 1:n_main_ticks] {
  set arrow 100 + k from main_x[k], graph 0 to main_x[k], graph 1 nohead ls 2
}
plot $curve using 1:3 with lines ls 1
unset multiplot
