# SPDX-License-Identifier: GPL-3.0-or-later
# Four quadrants: scene to the right, its film beneath, the print's exposure to the left, the paper above it, and
# above the scene what comes of it. Dark tones lie at the middle. What is drawn comes from src/out/plot_tones.c.

# Each line has a mark and a dash of its own: the plot must read in black.
array mark[12] = [7, 6, 5, 4, 9, 8, 11, 10, 13, 12, 1, 2]
array dash[12] = ['solid', '(8,4)', '(2,3)', '(12,3,2,3)', 'solid', '(8,4)', '(2,3)', '(12,3,2,3)', 'solid', '(8,4)', '(2,3)', '(12,3,2,3)']
array ink[12] = ['#000000', '#b3202c', '#1f4e9e', '#1a7037', '#6a3d9a', '#7a4a00', '#000000', '#b3202c', '#1f4e9e', '#1a7037', '#6a3d9a', '#7a4a00']
do for [k = 0:2] {
  do for [p = 1:4] {
    n = p + 4 * k
    set style line n lw 1.7 pt mark[n] ps 0.7 lc rgb ink[n]
  }
  set style line 1 + 4 * k dt solid
  set style line 2 + 4 * k dt (8,4)
  set style line 3 + 4 * k dt (2,3)
  set style line 4 + 4 * k dt (12,3,2,3)
}
if (colours) {
  set style line 1 lc rgb '#b3202c'
  set style line 2 lc rgb '#1a7037' dt solid
  set style line 3 lc rgb '#2446b5'
  set style line 1 dt (8,4)
}
stop = 0.30102999566
way = '#8a8a8a'
room = 0.13 # that labels need to the middle, where those of two axes would meet

set style textbox opaque noborder fillcolor rgb '#ffffff'
set multiplot
set border 15 lc rgb '#505050'
set grid back lt 1 lc rgb '#dcdcdc' lw 0.7
set tics nomirror scale 0.5 textcolor rgb '#000000'
unset key

# What comes of it
set lmargin at screen result_left
set rmargin at screen result_right
set bmargin at screen result_bottom
set tmargin at screen result_top
set xrange [scene_from:scene_to]
set yrange [print_to:print_from]
set xtics stop format ''
set ytics 0.3 format ''
unset y2tics
set y2range [print_to:print_from]
set y2tics () nomirror textcolor rgb '#000000'
do for [i = 1:|$lightness|] {
  at = word($lightness[i], 2) + 0.0
  if (at > print_from && at < print_to && (word($lightness[i], 1) + 0 > 20 || int(word($lightness[i], 1)) % 10 == 0)) {
    set y2tics add (sprintf('%.0f', word($lightness[i], 1) + 0) at)
  }
}
set y2label 'L* of the print' offset -1,0
set label 1 'what comes of it; dotted: a straight print' at graph 0.97, graph 0.045 right front boxed
plot \
  $trace using ($1 == 1 ? $2 : NaN):3:($4 - $2):($5 - $3) with vectors nohead lw 0.8 lc rgb way notitle, \
  straight - x with lines lw 1.0 dt (1,4) lc rgb '#000000' notitle, \
  for [c = 0:n_lines - 1] $print using (column(1) == c ? column(2) : NaN):5 with linespoints ls (c + 1) pi (c != main ? 40 : 100000) notitle, \
  $stop using 1:4 with points ls (main + 1) notitle
unset y2tics
unset y2label

# Film, as the camera lights it
set lmargin at screen film_left
set rmargin at screen film_right
set bmargin at screen film_bottom
set tmargin at screen film_top
set yrange [negative_to:negative_from]
set xtics stop format ''
set xtics ()
do for [i = 0:40] {
  if (-i * stop > scene_from + room) { set xtics add (i == 0 ? 'white' : sprintf('-%d', i)  -i * stop) }
}
set ytics 0.3 format ''
set xlabel 'scene (stops below white)'
set label 1 (flare > 0 ? 'film; thin: without flare' : 'film') at graph 0.97, graph 0.955 right front boxed
plot \
  $trace using ($1 == 2 ? $2 : NaN):3:($4 - $2):($5 - $3) with vectors nohead lw 0.8 lc rgb way notitle, \
  for [c = 0:n_lines - 1] $whole_film using (column(1) == c ? column(2) : NaN):3 with lines ls (c + 1) lw 0.7 notitle, \
  for [c = 0:n_lines - 1] $film using (column(1) == c ? column(2) : NaN):3 with linespoints ls (c + 1) pi (c != main ? 40 : 100000) notitle, \
  $stop using 1:3 with points ls (main + 1) notitle

# Enlarger
set lmargin at screen enlarger_left
set rmargin at screen enlarger_right
set bmargin at screen enlarger_bottom
set tmargin at screen enlarger_top
set xrange [x_from:x_to]
set xtics 0.3 * ceil(x_from / 0.3), 0.3, x_to - room format '%.1f'
set ytics 0.3 * ceil((negative_from + room) / 0.3), 0.3 format '%.1f'
set xlabel "print exposure (log H)\n".x_text
set ylabel 'negative density (D)'
set label 1 'enlarger' at graph 0.03, graph 0.955 left front boxed
set key at screen 0.5, screen 0.008 center bottom vertical maxcols 1 Left reverse samplen 4 noenhanced
plot \
  $trace using ($1 == 3 ? $2 : NaN):3:($4 - $2):($5 - $3) with vectors nohead lw 0.8 lc rgb way notitle, \
  for [c = 0:n_lines - 1] $print using (column(1) == c ? column(3) : NaN):4 with linespoints ls (c + 1) pi (c != main ? 40 : 100000) notitle, \
  $stop using 2:3 with points ls (main + 1) notitle, \
  for [c = 0:n_lines - 1] NaN with linespoints ls (c + 1) title line_name[c + 1]
unset key

# Paper
set lmargin at screen paper_left
set rmargin at screen paper_right
set bmargin at screen paper_bottom
set tmargin at screen paper_top
set yrange [print_to:print_from]
set xtics 0.3 format ''
set ytics 0.3 * ceil(print_from / 0.3), 0.3, print_to - room format '%.1f'
unset xlabel
set ylabel print_text
set label 1 'paper' at graph 0.03, graph 0.045 left front boxed
plot \
  $trace using ($1 == 4 ? $2 : NaN):3:($4 - $2):($5 - $3) with vectors nohead lw 0.8 lc rgb way notitle, \
  for [c = 0:n_lines - 1] $whole_paper using (column(1) == c ? column(2) : NaN):3 with lines ls (c + 1) lw 0.7 notitle, \
  for [c = 0:n_lines - 1] $print using (column(1) == c ? column(3) : NaN):5 with linespoints ls (c + 1) pi (c != main ? 40 : 100000) notitle, \
  $stop using 2:4 with points ls (main + 1) notitle
unset multiplot
