/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_OUT_PLOT_DRAW_H
#define WEDGEWORK_OUT_PLOT_DRAW_H

#include "out/plot_script.h"

/* How data and a script of plots become a picture, of which kind its name says. */
typedef struct ww__plot_format ww__plot_format;

/* Makes data of what is drawn, and a picture of them (ww__plot_finish). */
typedef ww_status ww__plot_draw(const void *of, const ww__plot_format *format, ww__text *picture,
                                ww_error *err);

/*
 * ww__plot_finish - draw data that are there, and let go of them.
 *
 * Given     name    of the script, as in plots/
 *           status  of making the data: drawn are they where it is WW_OK
 * Status    `status`; WW_ETOOL gnuplot is not there or fails; WW_EMEMORY
 */
ww_status ww__plot_finish(const char *name, ww_status status, const ww__plot_format *format,
                          ww__text *data, const ww__plot_size *size, ww__text *picture,
                          ww_error *err);

/* ww__plot_write - a picture into a file. Status as ww_plot_check, the draw, ww_output_write */
ww_status ww__plot_write(ww__plot_draw *draw_it, const void *of, const char *path, ww_error *err);

/* ww__plot_svg - a picture as the text of an SVG, the caller's. Status as the draw */
ww_status ww__plot_svg(ww__plot_draw *draw_it, const void *of, char **svg, ww_error *err);

#endif
