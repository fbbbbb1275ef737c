/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_SCAN_MADE_CASE_H
#define WEDGEWORK_TESTS_SCAN_MADE_CASE_H

#include "support/support.h"
#include <math.h>
#include <string.h>
#include <wedgework/scan_densities.h>
#include <wedgework/scan_merge.h>

/* What became of scans that were never made. Release them. */

/* Read noise alone, 0.0009 of full scale, and a ratio of 4 with a tenth of it as doubt: noise is
 * 0.0009 10^D / ln 10 in the shorter scan, and 1 / sqrt(1 + 16) of that where both count, which
 * they do from 0.7 D on. */
static inline double scan_made_noise(double below) {
    return 0.0009 * pow(10.0, below) / log(10.0);
}

static inline ww_scan_merge_channel scan_made_merge_channel(double stops) {
    const double ratio = exp2(stops);
    ww_scan_merge_channel c = {.present = true,
                               .ratio = {ratio, 0.9 * ratio, 1.1 * ratio, WW_MEASURED},
                               .stops = {stops, stops - 0.1, stops + 0.1, WW_MEASURED},
                               .offset = -0.0015,
                               .darkest = 2.5,
                               .places = 1734,
                               .read = 0.0009,
                               .longer = 0.75,
                               .blended = 0.05,
                               .shorter = 0.2};
    for (size_t i = 0; i < WW_SCAN_MERGE_GAINS; i++) {
        const double below = (double)i / 10.0, noise = scan_made_noise(below);
        c.gain[i] =
            (ww_scan_merge_gain){below, noise, i < 7 ? noise : noise / sqrt(1.0 + ratio * ratio)};
    }
    return c;
}

static inline ww_scan_merge scan_made_merge(const char *longer, const char *shorter) {
    ww_scan_merge m = {.longer_file = longer ? strdup(longer) : NULL,
                       .shorter_file = shorter ? strdup(shorter) : NULL,
                       .longer_first = true,
                       .noise_measured = true,
                       .holds = true,
                       .shift = {.places = 7, .x = 0.3, .y = -0.4}};
    m.channel[WW_RED] = scan_made_merge_channel(1.5);
    m.channel[WW_GREEN] = scan_made_merge_channel(2.0);
    m.channel[WW_BLUE] = scan_made_merge_channel(1.75);
    assert_int_equal(ww_notes_add(&m.notes, NULL, "An invented note."), WW_OK);
    return m;
}

static inline ww_scan_densities scan_made_densities(const char *file, bool scaled) {
    ww_scan_densities d = {.file = file ? strdup(file) : NULL, .scaled = scaled};
    d.channel[WW_RED] =
        (ww_scan_densities_channel){true, 0.05, 3.05, 2.95, 0.012, 0.041, 0.0015, 0.002};
    d.channel[WW_GREEN] =
        (ww_scan_densities_channel){true, 0.06, 2.95, 2.8, 0.013, 0.043, 0.0, 0.001};
    d.channel[WW_BLUE] =
        (ww_scan_densities_channel){true, 0.07, 2.85, 2.85, 0.016, 0.069, 0.0, 0.031};
    assert_int_equal(ww_notes_add(&d.notes, NULL, "An invented note."), WW_OK);
    return d;
}

#endif
