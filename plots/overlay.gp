# SPDX-License-Identifier: GPL-3.0-or-later
# A scan with what was read of it outlined and labelled. Variables and tables come from
# src/out/plot_overlay.c; the pixels, three bytes each, follow the last line of this script.

set style textbox opaque noborder fillcolor rgb '#ffffff' margins 0.5,0.3
set border 15 lc rgb '#808080'
set tics out nomirror scale 0.6 textcolor rgb '#000000'
set lmargin at screen main_left
set rmargin at screen main_right
set bmargin at screen main_bottom
set tmargin at screen main_top
set xrange [0:x_to] noextend
set yrange [y_to:0] noextend
set format '%.0f'
set label 1 title_text at graph 0, graph 1 offset 0,0.8 left noenhanced
set label 2 legend_text at graph 0, screen 0 offset 0,1 left noenhanced
unset key

# Sides: 0 above, 1 below, 2 at the right, 3 at the left of what it names, 4 in the middle of its own place.
do for [k = 1:n_labels] {
  side = label_side[k]
  if (side == 0) { set label 10 + k label_name[k] at label_x[k], label_y[k] offset 0,0.8 center front boxed noenhanced }
  if (side == 1) { set label 10 + k label_name[k] at label_x[k], label_y[k] offset 0,-0.8 center front boxed noenhanced }
  if (side == 2) { set label 10 + k label_name[k] at label_x[k], label_y[k] offset 1,0 left front boxed noenhanced }
  if (side == 4) { set label 10 + k label_name[k] at label_x[k], label_y[k] center front boxed noenhanced }
  if (side == 3) { set label 10 + k label_name[k] at label_x[k], label_y[k] offset -1,0 right front boxed noenhanced }
}

plot \
  '-' binary array=(columns, rows) format='%uchar' origin=(0.5 * factor, 0.5 * factor) \
      dx=factor dy=factor using 1:2:3 with rgbimage, \
  for [k = 1:n_leader] $leader using 1:2 with lines lw 2.2 lc rgb '#000000', \
  for [k = 1:n_leader] $leader using 1:2 with lines lw inner_lw lc rgb '#ffffff', \
  for [k = 1:n_outline] $outline using 1:2 with lines lw frame_lw lc rgb '#000000', \
  for [k = 1:n_outline] $outline using 1:2 with lines lw inner_lw lc rgb '#ffffff'
