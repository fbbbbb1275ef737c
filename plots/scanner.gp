# SPDX-License-Identifier: GPL-3.0-or-later
# Density against log code with the fitted model, what it leaves of each step, noise against density.
# What is drawn comes from src/out/plot_scanner.c as variables and tables.

# Channels: red, green, blue, visual. Told apart by line, mark and colour, so that black will do.
set style line 1 lw 2.0 dt (12,4) lc rgb '#b3202c' pt 4 ps 0.8
set style line 2 lw 2.0 dt 1 lc rgb '#1a7037' pt 8 ps 0.9
set style line 3 lw 2.0 dt (3,3) lc rgb '#2446b5' pt 6 ps 0.8
set style line 4 lw 2.0 dt 1 lc rgb '#000000' pt 6 ps 0.8

set style textbox opaque noborder fillcolor rgb '#ffffff' margins 0.6,0.4

set multiplot
set border 15 lc rgb '#808080'
set tics out nomirror scale 0.6 textcolor rgb '#000000'
set grid back lt 1 lc rgb '#d4d4d4' lw 0.8
unset key
set clip two

# Steps: 0 as they should be, 1 clipped, 2 compressed by flare, 3 suspect.
of(k, c, x) = column(1) == c && column(4) == k ? x : NaN

set lmargin at screen main_left
set rmargin at screen main_right
set bmargin at screen main_bottom
set tmargin at screen main_top
set xrange [code_from:0]
set yrange [d_from:d_to]
set format x '%.1f'
set format y '%.2f'
set xtics 0.5
set ytics 0.3
set xlabel 'log10 (code / greatest code)'
set ylabel 'density of the wedge (D)'
set label 1 title_text at graph 0, graph 1 offset 0,1 left noenhanced
plot \
  for [c = 0:4 * n_model - 1] $model using (column(1) == c ? column(2) : NaN):3 with lines ls (c + 1), \
  for [c = 0:4 * n_steps - 1] $steps using (of(0, c, column(2))):3 with points ls (c + 1), \
  for [c = 0:4 * n_steps - 1] $steps using (of(2, c, column(2))):3 with points ls (c + 1), \
  for [c = 0:4 * (n_compressed > 0) - 1] $steps using (of(2, c, column(2))):3 \
      with points pt 1 ps 1.4 lw 0.9 lc rgb '#000000', \
  for [c = 0:4 * (n_clipped > 0) - 1] $steps using (of(1, c, column(2))):3 \
      with points pt 5 ps 0.6 lc rgb '#000000', \
  for [c = 0:4 * (n_suspect > 0) - 1] $steps using (of(3, c, column(2))):3 \
      with points pt 6 ps 2.0 lw 1.6 lc rgb '#000000', \
  for [c = 0:4 * (n_suspect > 0) - 1] $steps using (of(3, c, column(2))):3 \
      with points pt 2 ps 0.9 lw 1.6 lc rgb '#000000'
unset label 1

# The band is the 95 % doubt of the densities that the scanner file gives, of one channel.
set lmargin at screen residual_left
set rmargin at screen residual_right
set bmargin at screen residual_bottom
set tmargin at screen residual_top
set xrange [d_from:d_to]
set yrange [-residual_limit:residual_limit]
set format x '%.1f'
set format y '%+.2f'
set xtics 0.3
set ytics residual_limit / 2
if (d_to - d_from > 2.5) { set xtics 0.6 }
set xlabel 'density (D)'
set ylabel 'wedge - model (D)'
plot \
  for [k = 1:n_doubt] $doubt using 1:2:3 with filledcurves fs solid noborder lc rgb '#dcdcdc', \
  0 with lines lw 1.2 lc rgb '#000000', \
  for [c = 0:4 * n_correction - 1] $correction using (column(1) == c ? column(2) : NaN):3 \
      with lines ls (c + 1) lw 1.0, \
  for [c = 0:4 * n_residuals - 1] $residuals using (of(0, c, column(2))):3 with points ls (c + 1), \
  for [c = 0:4 * n_residuals - 1] $residuals using (of(2, c, column(2))):3 with points ls (c + 1), \
  for [c = 0:4 * (n_compressed > 0) - 1] $residuals using (of(2, c, column(2))):3 \
      with points pt 1 ps 1.4 lw 0.9 lc rgb '#000000', \
  for [c = 0:4 * (n_suspect > 0) - 1] $residuals using (of(3, c, column(2))):3 \
      with points pt 6 ps 2.0 lw 1.6 lc rgb '#000000', \
  for [c = 0:4 * (n_suspect > 0) - 1] $residuals using (of(3, c, column(2))):3 \
      with points pt 2 ps 0.9 lw 1.6 lc rgb '#000000'

# The noise of one pixel in density is log10 e where it is as large as the signal. A line leads down to there at the
# density that a channel sees to. Its mark and arrow have a height of their own upon it, since channels may coincide.
set lmargin at screen noise_left
set rmargin at screen noise_right
set bmargin at screen noise_bottom
set tmargin at screen noise_top
set logscale y
set yrange [*:noise_to] noextend
set format y '%g'
set ytics auto
set xlabel 'density (D)'
set ylabel 'noise of one pixel, 1 sd (D)'
set label 2 'signal = noise' at graph 0.03, first signal_is_noise offset 0,0.8 left front
plot \
  signal_is_noise with lines lw 1.2 dt (6,3) lc rgb '#404040', \
  for [c = 0:4 * n_noise - 1] $noise using (column(1) == c ? column(2) : NaN):3 with lines ls (c + 1), \
  for [c = 0:4 * n_step_noise - 1] $step_noise using (column(1) == c ? column(2) : NaN):3 \
      with points ls (c + 1), \
  for [c = 0:4 * n_dmax - 1] $dmax using (column(1) == c ? column(2) : NaN):3:(0):(signal_is_noise - column(3)) \
      with vectors nohead lw 0.8 lc rgb '#808080', \
  for [c = 0:4 * n_dmax - 1] $dmax using (column(1) == c ? column(2) : NaN):3:(0):(column(3) / arrow_rise - column(3)) \
      with vectors filled head size screen 0.006,20 ls (c + 1) lw 1.4 dt 1, \
  for [c = 0:4 * n_dmax - 1] $dmax using (column(1) == c ? column(2) : NaN):3 with points ls (c + 1)
unset label 2
unset logscale y

# The legend has a panel of its own below.
set lmargin at screen noise_left - 0.06
set rmargin at screen noise_right
set bmargin at screen 0
set tmargin at screen noise_bottom - 0.11
unset border
unset tics
unset grid
unset xlabel
unset ylabel
set yrange [0:1]
set key at graph 0, graph 1 left top Left reverse samplen 3 spacing 1.35 noenhanced
plot \
  for [c = 1:4] NaN with linespoints ls c title legend_text[c], \
  NaN with lines lw 1.0 dt 1 lc rgb '#404040' title 'line: fitted model; below: correction', \
  for [k = 1:n_doubt] NaN with lines lw 9 lc rgb '#dcdcdc' title '95 % doubt of a density read', \
  for [k = 1:n_clipped > 0] NaN with points pt 5 ps 0.6 lc rgb '#000000' \
      title 'clipped step, not used', \
  for [k = 1:n_compressed > 0] NaN with points pt 1 ps 1.4 lw 0.9 lc rgb '#000000' \
      title 'step over half flare and dark', \
  for [k = 1:n_suspect > 0] NaN with points pt 6 ps 2.0 lw 1.6 lc rgb '#000000' \
      title 'step off the model', \
  for [k = 1:n_dmax] NaN with points pt 11 ps 1.0 lc rgb '#000000' title 'a channel, by its mark, sees to here'
unset multiplot
