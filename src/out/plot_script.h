/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_OUT_PLOT_SCRIPT_H
#define WEDGEWORK_OUT_PLOT_SCRIPT_H

#include "base/text.h"
#include <wedgework/balance.h>
#include <wedgework/compare.h>
#include <wedgework/control.h>
#include <wedgework/curve.h>
#include <wedgework/develop.h>
#include <wedgework/lesson.h>
#include <wedgework/lesson_class.h>
#include <wedgework/match.h>
#include <wedgework/measure.h>
#include <wedgework/overlay.h>
#include <wedgework/print.h>
#include <wedgework/scan.h>
#include <wedgework/scan_merge.h>
#include <wedgework/scanner.h>
#include <wedgework/strip.h>
#include <wedgework/texture_scan.h>
#include <wedgework/tones.h>

/*
 * What goes to gnuplot ahead of a script of plots: sizes, numbers and tables, in gnuplot's own
 * language. The script draws; it computes nothing of the trade.
 */

/* Canvas that a plot wants for its axes to come out equal [px]. */
typedef struct ww__plot_size {
    double width;
    double height;
} ww__plot_size;

/* A panel by its edges on the canvas [px from the left and from the bottom]. */
typedef struct ww__plot_panel {
    double left, right, bottom, top;
} ww__plot_panel;

ww_status ww__plot_curve_data(const ww_curve *curve, ww__text *script, ww__plot_size *size,
                              ww_error *err);
/* The curve behind the best paper, a nominal or interpolated one of the plan's own; NULL: none. */
const ww_curve *ww__plot_print_paper(const ww_print_plan *plan, const ww_curve *const paper[],
                                     size_t n_papers);
ww_status ww__plot_print_data(const ww_print_plan *plan, const ww_curve *paper, ww__text *script,
                              ww__plot_size *size, ww_error *err);
ww_status ww__plot_strip_data(const ww_strip *strip, ww__text *script, ww__plot_size *size,
                              ww_error *err);
ww_status ww__plot_balance_data(const ww_balance *balance, const ww_curve *paper, ww__text *script,
                                ww__plot_size *size, ww_error *err);
ww_status ww__plot_scanner_data(const ww_scanner *scanner, ww__text *script, ww__plot_size *size,
                                ww_error *err);
ww_status ww__plot_scan_plan_data(const ww_scan_plan *plan, const ww_scanner *scanner,
                                  ww__text *script, ww__plot_size *size, ww_error *err);
ww_status ww__plot_scan_merge_data(const ww_scan_merge *merge, ww__text *script,
                                   ww__plot_size *size, ww_error *err);
ww_status ww__plot_match_data(const ww_match *match, ww__text *script, ww__plot_size *size,
                              ww_error *err);
ww_status ww__plot_measured_data(const ww_measured *measured, ww__text *script, ww__plot_size *size,
                                 ww_error *err);
ww_status ww__plot_whole_data(const ww_whole *whole, ww__text *script, ww__plot_size *size,
                              ww_error *err);

ww_status ww__plot_control_data(const ww_control *control, ww__text *script, ww__plot_size *size,
                                ww_error *err);
ww_status ww__plot_develop_data(const ww_development *development, const ww_develop_input input[],
                                size_t n, ww__text *script, ww__plot_size *size, ww_error *err);
ww_status ww__plot_compare_data(const ww_comparison *comparison, ww__text *script,
                                ww__plot_size *size, ww_error *err);
ww_status ww__plot_texture_data(const ww_texture_scan scan[], size_t n, ww__text *script,
                                ww__plot_size *size, ww_error *err);
ww_status ww__plot_lesson_class_data(const ww_lesson_class *made, ww__text *script,
                                     ww__plot_size *size, ww_error *err);
ww_status ww__plot_lesson_data(const ww_lesson *lesson, ww__text *script, ww__plot_size *size,
                               ww_error *err);

ww_status ww__plot_tones_data(const ww_tones *tones, ww__text *script, ww__plot_size *size,
                              ww_error *err);

/* The pixels go to `tail`. */
ww_status ww__plot_overlay_data(const ww_overlay *overlay, ww__text *script, ww__text *tail,
                                ww__plot_size *size, ww_error *err);

/* Draws the script of that name as PNG; `tail` is what its last command reads after it. */
ww_status ww__plot_png(const char *name, const ww__text *data, ww__plot_size size,
                       const ww__text *tail, ww__text *png, ww_error *err);

/* `name = number`, `name = 'text'`, `name[i] = 'text'`, each on a line. */
void ww__plot_set_number(ww__text *script, const char *name, double value);
void ww__plot_set_text(ww__text *script, const char *name, const char *string);
void ww__plot_set_item(ww__text *script, const char *name, size_t i, const char *string);

/* `name_left`, `name_right`, `name_bottom`, `name_top` as fractions of the canvas. */
void ww__plot_set_panel(ww__text *script, const char *name, ww__plot_panel panel,
                        ww__plot_size size);

/* One row of a table: n numbers. */
void ww__plot_row(ww__text *script, size_t n, const double value[]);

/* Limits widened to whole steps of the 0.30 grid, at least one step apart. */
void ww__plot_limits(double low, double high, double *from, double *to);

/* Rows of "channel, log H, density, slope" along the fitted curve over its measured range. */
void ww__plot_curve_rows(ww__text *script, double channel, const ww_channel_curve *curve);

/* Label of the exposure axis with its unit. */
const char *ww__plot_log_h_label(ww_exposure_unit unit);

/*
 * ww__plot_run - run a program, hand it `input` and then `tail`, collect what it prints. Signals
 *                sent to our own group do not reach it; it ends, at the latest, when we do.
 *
 * Given     program   found on PATH; started with the arguments "-d" and "-", without a shell
 *           seconds   after which it is ended
 *           tail      NULL for none
 * Returned  output
 * Status    WW_OK; WW_ETOOL no such program, it failed (the message holds its own), it took too
 *           long, or printed nothing; WW_ESYSTEM; WW_EMEMORY
 */
ww_status ww__plot_run(const char *program, int seconds, const ww__text *input,
                       const ww__text *tail, ww__text *output, ww_error *err);

#endif
