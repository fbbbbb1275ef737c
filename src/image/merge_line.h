/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_MERGE_LINE_H
#define WW_IMAGE_MERGE_LINE_H

#include "image/merge_noise.h"

/* y = ratio x + offset */
typedef struct ww__merge_line {
    double ratio, sd; /* of the ratio */
    double offset;
    bool through_dark;   /* the offset could not be told from the ratio */
    bool guessed;        /* nor was that dark measured */
    double below, above; /* by which the ratio may be less and more then, as black may be another */
    double by_black;     /* stops by which it is more, were that dark 0.1 % of the scale lighter */
    double middle;       /* of the places' x */
    double bent;         /* largest share by which a quarter of the levels departs from it, where
                            that is neither chance nor rounding; signed, 0: none */
} ww__merge_line;

/* ratio to start from: median of y / x of the lighter half. n > 0. Status WW_OK; WW_EMEMORY */
ww_status ww__merge_line_start(const ww__merge_blocks *blocks, double *ratio, ww_error *err);

/*
 * The line through means of places, as ww_scan_merge_measure tells. Where its ratio would not be
 * known to 0.5 % (one sd), it goes through one black in both, `dark`: where that was not measured,
 * half-way between the least and the greatest that it may be and that the tones allow.
 * Given     line->ratio  to start from
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww__merge_line_fit(const ww__merge_blocks *blocks, const ww__merge_light *codes,
                             const ww__merge_noise *noise, ww_quantity dark, ww__merge_line *line,
                             ww_error *err);

#endif
