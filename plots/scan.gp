# SPDX-License-Identifier: GPL-3.0-or-later
# Noise of one pixel, in density, against density, with the negative's tones. What is drawn comes
# from src/out/plot_scan_plan.c as variables and tables.

# Channels: red, green, blue, visual. Told apart by line, mark and colour, so that black will do.
set style line 1 lw 2.0 dt (12,4) lc rgb '#b3202c' pt 5 ps 0.9
set style line 2 lw 2.0 dt 1 lc rgb '#1a7037' pt 9 ps 1.0
set style line 3 lw 2.0 dt (12,3,2,3) lc rgb '#2446b5' pt 7 ps 0.9
set style line 4 lw 2.0 dt 1 lc rgb '#000000' pt 7 ps 0.9

set border 15 lc rgb '#808080'
set tics out nomirror scale 0.6 textcolor rgb '#000000'
set grid back lt 1 lc rgb '#d4d4d4' lw 0.8
set lmargin at screen main_left
set rmargin at screen main_right
set bmargin at screen main_bottom
set tmargin at screen main_top
set xrange [x_from:x_to]
set yrange [y_from:y_to]
set logscale y
set format x '%.2f'
set format y '%g'
set xtics x_to - x_from > 3.05 ? 0.6 : 0.3
set xlabel 'density of the negative (D)'
set ylabel 'noise of one pixel, 1 sd (D)'

# Names stand above; a line leads down to the density, and on to the curve.
do for [i = 1:n_names] {
    set label i name[i] at first name_at[i], graph 1.045 rotate by 90 left noenhanced
    set arrow i from first name_at[i], graph 1.035 to first name_d[i], graph 1 nohead lw 0.8 lc rgb '#606060'
    set arrow 1000 + i from first name_d[i], graph 1 to first name_d[i], graph 0 nohead lw 0.8 \
        lc rgb '#b0b0b0' back
}
set label 2000 names_text at graph 0, graph 1.27 left
set label 2001 'signal = noise' at graph 0.015, first signal_is_noise offset 0,0.6 left front
if (told_right) {
    set label 2002 told_text at graph 0.985, first told offset 0,-0.7 right front
} else {
    set label 2002 told_text at graph 0.015, first told offset 0,0.6 left front
}

set key at screen 0.5, screen 0.02 center bottom horizontal Left reverse samplen 4 noenhanced maxrows 2
plot \
  signal_is_noise with lines lw 1.2 lc rgb '#808080' notitle, \
  told with lines lw 1.2 lc rgb '#808080' notitle, \
  for [c = 0:3] $one using (column(1) == c && column(4) == 0 ? column(2) : NaN):3 \
      with lines ls (c + 1) notitle, \
  for [c = 0:3] $one using (column(1) == c && column(4) > 0 ? column(2) : NaN):3 \
      with lines ls (c + 1) dt (1,5) notitle, \
  for [c = 0:4 * (more_text ne '') - 1] \
      $more using (column(1) == c && column(4) == 0 ? column(2) : NaN):3 \
      with lines ls (c + 1) lw 1.0 notitle, \
  for [c = 0:4 * (more_text ne '') - 1] \
      $more using (column(1) == c && column(4) > 0 ? column(2) : NaN):3 \
      with lines ls (c + 1) lw 1.0 dt (1,5) notitle, \
  for [c = 0:3] $ends using (column(1) == c ? column(2) : NaN):3 \
      with points ls (c + 1) pt 2 ps 1.1 lw 1.6 notitle, \
  for [c = 0:3] $tones using (column(1) == c ? column(2) : NaN):3 with points ls (c + 1) notitle, \
  for [c = 0:3] $tones using (column(1) == c && column(4) > 0 ? column(2) : NaN):3 \
      with points pt 6 ps 2.2 lw 1.4 lc rgb '#000000' notitle, \
  for [c = 1:4] for [k = 1:(legend_text[c] ne '')] NaN with linespoints ls c title legend_text[c], \
  NaN with points pt 6 ps 2.2 lw 1.4 lc rgb '#000000' title 'to be kept', \
  for [k = 1:(more_text ne '')] NaN with lines lw 1.0 lc rgb '#000000' title more_text, \
  for [k = 1:n_beyond > 0] NaN with linespoints lw 2.0 dt (1,5) pt 2 ps 1.1 lc rgb '#000000' \
      title 'dotted: beyond the wedge'
