# SPDX-License-Identifier: GPL-3.0-or-later
# The family of curves with the one foretold among them; beneath, contrast against development time with its band,
# then speed and base+fog. What is drawn comes from src/out/plot_develop.c as variables and tables.

set multiplot
set border 15 lc rgb '#808080'
set tics out nomirror scale 0.6 textcolor rgb '#000000'
set grid back lt 1 lc rgb '#d4d4d4' lw 0.8
# Each time has a dash and an ink of its own: the plot must read in black.
array dash[6] = ['solid', '(8,4)', '(2,3)', '(12,3,2,3)', '(16,5)', '(4,2)']
array ink[6] = ['#000000', '#1f4e9e', '#b3202c', '#1a7037', '#606060', '#7a3e9d']
set style line 1 lw 1.5 dt solid lc rgb ink[1]
do for [k = 0:8] {
  set style line 1 + 6 * k lw 1.5 dt solid lc rgb ink[1]
  set style line 2 + 6 * k lw 1.5 dt (8,4) lc rgb ink[2]
  set style line 3 + 6 * k lw 1.5 dt (2,3) lc rgb ink[3]
  set style line 4 + 6 * k lw 1.5 dt (12,3,2,3) lc rgb ink[4]
  set style line 5 + 6 * k lw 1.5 dt (16,5) lc rgb ink[5]
  set style line 6 + 6 * k lw 1.5 dt (4,2) lc rgb ink[6]
}

set lmargin at screen family_left
set rmargin at screen family_right
set bmargin at screen family_bottom
set tmargin at screen family_top
set xrange [x_from:x_to]
set yrange [y_from:y_to]
set xtics 0.3
set ytics 0.3
set format x '%.1f'
set format y '%.2f'
set xlabel x_label
set ylabel 'density'
set label 1 'Curves of the times developed' at graph 0, graph 1 offset 0,1 left noenhanced
set key at graph 0.02, graph 0.98 left top Left reverse samplen 4 spacing 1.2 noenhanced opaque
plot \
  for [k = 1:n_curves] $curves using ($1 == k - 1 ? $2 : NaN):3 with lines ls k title curve_name[k], \
  for [k = 1:n_foretold > 0] $foretold using 1:2 with lines lw 4 dt (6,6) lc rgb '#909090' title foretold_name
unset label 1
unset key

if (has_law) {
  set lmargin at screen contrast_left
  set rmargin at screen contrast_right
  set bmargin at screen contrast_bottom
  set tmargin at screen contrast_top
  set xrange [t_from:t_to]
  set yrange [c_from:c_to]
  set xtics autofreq
  set ytics autofreq
  set format x '%g'
  set xlabel 'development time (min)'
  set ylabel contrast_label
  set label 1 'Growth of contrast, with its 95 % band; dotted: past the times developed' at graph 0, graph 1 offset 0,1 left noenhanced
  if (has_time) {
    set arrow 1 from time_low, graph 0 to time_low, graph 1 nohead lw 0.8 dt (3,3) lc rgb '#404040'
    set arrow 2 from time_high, graph 0 to time_high, graph 1 nohead lw 0.8 dt (3,3) lc rgb '#404040'
    set arrow 3 from time, graph 0 to time, graph 1 nohead lw 1.6 dt 1 lc rgb '#000000'
    late = time_high > t_from + 0.7 * (t_to - t_from)
    if (late) {
      set label 2 time_text at time_low, graph 0 offset -0.6,0.7 right noenhanced
    } else {
      set label 2 time_text at time_high, graph 0 offset 0.6,0.7 left noenhanced
    }
  }
  set label 3 aim_text at graph 0.99, first aim offset 0,0.6 right noenhanced textcolor rgb '#1a7037'
  plot \
    $law using 1:3:4 with filledcurves fs solid noborder lc rgb '#e4e4e4' notitle, \
    $law using ($1 >= measured_from && $1 <= measured_to ? $1 : NaN):2 with lines lw 1.8 dt 1 lc rgb '#000000' notitle, \
    $law using ($1 <= measured_from ? $1 : NaN):2 with lines lw 1.8 dt (2,4) lc rgb '#000000' notitle, \
    $law using ($1 >= measured_to ? $1 : NaN):2 with lines lw 1.8 dt (2,4) lc rgb '#000000' notitle, \
    aim with lines lw 1.4 dt (8,4) lc rgb '#1a7037' notitle, \
    $contrasts using 1:2:3:4 with yerrorbars pt 6 ps 1.0 lw 1.3 lc rgb '#000000' notitle
  unset arrow 1
  unset arrow 2
  unset arrow 3
  unset label 2
  unset label 3

  set bmargin at screen speed_bottom
  set tmargin at screen speed_top
  set lmargin at screen speed_left
  set rmargin at screen speed_right
  set label 1 (n_speeds > 0 ? 'Speed gained over the longest time' : 'Speeds are not compared') at graph 0, graph 1 offset 0,1 left noenhanced
  set ylabel 'stops'
  set format y '%g'
  set yrange [s_from:s_to]
  set ytics autofreq
  plot NaN notitle, \
    for [k = 1:n_speeds > 0] $speeds using 1:2 with lines lw 1.0 lc rgb '#808080' notitle, \
    for [k = 1:n_speeds > 0] $speeds using 1:2:3:4 with yerrorbars pt 6 ps 1.0 lw 1.3 lc rgb '#000000' notitle
  set lmargin at screen fog_left
  set rmargin at screen fog_right
  set label 1 'Base+fog' at graph 0, graph 1 offset 0,1 left noenhanced
  set ylabel 'density'
  set yrange [f_from:f_to]
  plot NaN notitle, \
    for [k = 1:n_fogs > 0] $fogs using 1:2 with lines lw 1.0 lc rgb '#808080' notitle, \
    for [k = 1:n_fogs > 0] $fogs using 1:2:3:4 with yerrorbars pt 6 ps 1.0 lw 1.3 lc rgb '#000000' notitle
}
unset multiplot
