/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_MERGE_ROWS_H
#define WW_IMAGE_MERGE_ROWS_H

#include "image/merge_line.h"
#include "image/no_light.h"

/* How one channel is merged. */
typedef struct ww__merge_rule {
    double ratio, offset, dark;
    ww__merge_noise noise, longer; /* of the shorter scan and the longer */
} ww__merge_rule;

/* Weight of the longer scan where it shows a light, without the fade (core/merged.h). */
double ww__merge_rule_weight(const ww__merge_rule *rule, double light);

/* Tables for all of a picture. */
typedef struct ww__merge_rows {
    const ww__merge_light *light;
    const ww__merge_rule *rule;
    size_t channels;
    double fades_from, clips_from; /* codes of the longer scan */
    float
        *weight; /* by channel and upper bits of the longer scan's code; NULL for floating point */
    size_t levels;       /* of them, a channel */
    unsigned lower_bits; /* of a code, which weights do not depend on */
    float *encoded;      /* 65535 times the share of white by light; NULL where codes are light */
} ww__merge_rows;

#define WW__MERGE_ROWS_INIT                                                                        \
    { .light = NULL }

/* Samples of each channel that took their light from the shorter scan, or in the fade. `from` is
 * the caller's: the pixel of the picture that comes next. */
typedef struct ww__merge_count {
    size_t shorter[WW__MERGE_CHANNELS], blended[WW__MERGE_CHANNELS];
    size_t from;
    ww__no_light none; /* in either scan */
} ww__merge_count;

/*
 * Given     rule  by channel; it stays the caller's, as `light` does
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww__merge_rows_new(const ww__merge_light *light, const ww__merge_rule rule[],
                             size_t channels, ww__merge_rows *rows, ww_error *err);
void ww__merge_rows_release(ww__merge_rows *rows);

/*
 * Merges n pixels, channels side by side: uint16_t, 65535 being white, or float, 1 being white
 * where the scans are floating point. There a sample that is no number, infinite or further below
 * dark than noise goes is the other scan's; NAN where that one is no better, or clipped.
 */
void ww__merge_rows_mix(const ww__merge_rows *rows, const void *shorter, const void *longer,
                        size_t n, void *merged, ww__merge_count *count);

#endif
