# SPDX-License-Identifier: GPL-3.0-or-later
# A control chart a measure over one axis of dates: deviations from the aim, channel by channel, with
# their limits. What is drawn comes from src/out/plot_control.c as variables and tables.

set multiplot
set border 15 lc rgb '#808080'
set tics out nomirror scale 0.6 textcolor rgb '#000000'
# Each channel has a mark and a dash of its own: the chart must read in black. The last is what has none.
# A limit's dash is long, and its channel's.
array ink[5] = ['#b3202c', '#1a7037', '#1f4e9e', '#000000', '#000000']
set style line 1 lw 1.3 pt 4 ps 0.8 lc rgb ink[1] dt (8,4)
set style line 2 lw 1.3 pt 6 ps 0.8 lc rgb ink[2] dt 1
set style line 3 lw 1.3 pt 8 ps 0.9 lc rgb ink[3] dt (2,3)
set style line 4 lw 1.3 pt 7 ps 0.7 lc rgb ink[4] dt 1
set style line 5 lw 1.3 pt 5 ps 0.7 lc rgb ink[5] dt 1
set style line 11 lw 1.5 lc rgb ink[1] dt (16,6)
set style line 12 lw 1.5 lc rgb ink[2] dt (16,4,3,4)
set style line 13 lw 1.5 lc rgb ink[3] dt (5,5)
set style line 14 lw 1.5 lc rgb ink[4] dt (16,6)
set style line 15 lw 1.5 lc rgb ink[5] dt (16,6)
set lmargin at screen main_left
set rmargin at screen main_right
set xrange [x_from:x_to]
set format y '%+.2f'
set xtics x_step format '' timedate
set grid ytics back lt 1 lc rgb '#e0e0e0' lw 0.8
unset key

do for [k = 1:n_panels] {
  set bmargin at screen panel_bottom[k]
  set tmargin at screen panel_top[k]
  set yrange [panel_from[k]:panel_to[k]]
  span = panel_to[k] - panel_from[k]
  set ytics span > 0.8 ? 0.2 : span > 0.4 ? 0.1 : span > 0.16 ? 0.05 : 0.02
  if (k == n_panels) {
    set xtics x_step format '%Y-%m-%d' timedate
    set xlabel 'date of the strip'
  }
  set label 1 panel_name[k] at graph 0, graph 1 offset 0.3,0.5 left noenhanced
  set label 4 (panel_apart[k] ? 'D apart' : 'D off its aim') at graph 1, graph 1 offset -0.3,0.5 right noenhanced font ',9'
  if (k == 1) {
    set label 2 title_text at screen main_left, screen 1 offset 0,-1.2 left noenhanced
  }
  do for [l = 1:n_lots] {
    if (has_base[l]) {
      set object 100 + l rect from base_from[l], graph 0 to base_to[l], graph 1 behind fs solid noborder fc rgb '#ececec'
    }
    if (l > 1) {
      set arrow 100 + l from lot_begins[l], graph 0 to lot_begins[l], graph 1 nohead lw 1.2 dt (4,4) lc rgb '#404040'
    }
    if (k == 1) {
      set label 100 + l lot_name[l] at lot_begins[l], graph 1 offset 0.4,1.5 left noenhanced font ',9'
    }
  }
  plot \
    0 with lines lw 0.8 dt 1 lc rgb '#808080', \
    for [c = 0:4] $limits using 3:($1 == k - 1 && $2 == c && $6 == 0 ? $5 : NaN):($4 - $3):(0) \
        with vectors nohead ls (11 + c), \
    for [c = 0:4] $limits using 3:($1 == k - 1 && $2 == c && $6 == 2 ? $5 : NaN):($4 - $3):(0) \
        with vectors nohead lw 0.9 dt (2,4) lc rgb ink[c + 1], \
    for [c = 0:4] $limits using 3:($1 == k - 1 && $2 == c && $6 == 1 ? $5 : NaN):($4 - $3):(0) \
        with vectors nohead lw 0.7 dt 1 lc rgb ink[c + 1], \
    for [c = 0:4] $points using 3:($1 == k - 1 && $2 == c ? $4 : NaN) with linespoints ls (c + 1), \
    $points using 3:($1 == k - 1 && $6 > 0 ? $4 : NaN) with points pt 6 ps 2.2 lw 2 lc rgb '#000000', \
    $points using 3:($1 == k - 1 && $6 < 0 ? $4 : NaN) with points pt 12 ps 1.9 lw 1.1 lc rgb '#606060', \
    $points using 3:($1 == k - 1 && $6 == 2 ? $4 : NaN):(sprintf('%d', $5)) \
        with labels left offset 1.1,0 noenhanced font ',9'
  do for [l = 1:n_lots] {
    unset object 100 + l
    unset arrow 100 + l
    unset label 100 + l
  }
  unset label 2
}

# The legend has a panel of its own below, in two columns.
set bmargin at screen 0
set tmargin at screen legend_top
unset border
unset tics
unset grid
unset xlabel
unset label 1
unset label 4
set xrange [0:1]
set yrange [0:1]
set key at graph 0, graph 1 left top Left reverse samplen 3.5 spacing 1.15 noenhanced
plot \
  for [i = 1:seen_red] NaN with linespoints ls 1 title 'red', \
  for [i = 1:seen_green] NaN with linespoints ls 2 title 'green', \
  for [i = 1:seen_blue] NaN with linespoints ls 3 title 'blue', \
  for [i = 1:seen_visual] NaN with linespoints ls 4 title 'visual', \
  for [i = 1:seen_spread] NaN with linespoints ls 5 title 'how far colours are apart', \
  NaN notitle
set key at graph 0.48, graph 1 left top Left reverse samplen 3.5 spacing 1.15 noenhanced
plot \
  NaN with lines lw 1.5 dt (10,5) lc rgb '#000000' title 'limit (thin: action limit; solid: mean), in its channel''s ink', \
  NaN with points pt 6 ps 2.2 lw 2 lc rgb '#000000' title 'beyond its limit, with the number of the strip', \
  NaN with points pt 12 ps 1.9 lw 1.1 lc rgb '#606060' title 'warns', \
  NaN with lines lw 9 lc rgb '#ececec' title 'strips that the limits are made of', \
  NaN notitle
unset multiplot
