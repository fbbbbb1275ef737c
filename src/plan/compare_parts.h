/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_PLAN_COMPARE_PARTS_H
#define WEDGEWORK_PLAN_COMPARE_PARTS_H

#include <wedgework/compare.h>

/*
 * A comparison is made in this order: the tones of each print (compare_table.c, compare_curve.c),
 * what follows of them (compare_print.c), which of them belong together and how they differ
 * (compare_pair.c), and what that means (compare_judge.c); compare.c puts it together.
 */
#define WW__COMPARE_95 1.959963984540054 /* half-width of 95 % of a normal, in sd */

/* The same where the greatest of some 20 is told: 0.9973^20 = 0.95. */
#define WW__COMPARE_GREATEST 3.0

/* Tones of a table; name, status and the like of it. */
ww_status ww__compare_table(const ww_compare_input *input, ww_compare_print *print, ww_notes *notes,
                            ww_error *err);

/* The same of a curve, with the figures that its file holds. */
ww_status ww__compare_curve(const ww_compare_input *input, ww_compare_print *print, ww_notes *notes,
                            ww_error *err);

/* What a print is called: its own name, else the last part of its file's. */
ww_status ww__compare_name(const char *name, const char *file, ww_compare_print *print,
                           ww_error *err);

/* Room for n tones. */
ww_status ww__compare_reserve(ww_compare_print *print, size_t n, ww_error *err);

/* White, black, range, gradient, drift and look, as far as they are not there yet. */
ww_status ww__compare_print_fill(ww_compare_print *print, ww_notes *notes, ww_error *err);

/* Density of a channel above the print's white; the print has the channel's white. */
double ww__compare_above(const ww_compare_print *print, const ww_compare_tone *tone,
                         ww_channel channel);

/* a* or b* (WW_COMPARE_A, WW_COMPARE_B) that a tone has besides its white's hue. */
double ww__compare_off_hue(const ww_compare_print *print, const ww_compare_tone *tone,
                           size_t drift);

/* White and black of a print in a channel, with their 95 % intervals; absent where not known. */
ww_quantity ww__compare_white(const ww_compare_print *print, ww_channel channel);
ww_quantity ww__compare_black(const ww_compare_print *print, ww_channel channel);

/* Pairs of tones, and their differences. */
ww_status ww__compare_pair(const ww_comparison *comparison, ww_compare_pair *pair, ww_notes *notes,
                           ww_error *err);

/* Regions, reach, limits and offsets of differences that are there. */
ww_status ww__compare_judge(const ww_comparison *comparison, const ww_compare_limits *limits,
                            ww_compare_pair *pair, ww_notes *notes, ww_error *err);

#endif
