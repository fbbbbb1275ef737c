/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_MATCH_CASE_H
#define WEDGEWORK_TESTS_MATCH_CASE_H

#include "support/support.h"
#include <math.h>
#include <string.h>
#include <wedgework/match.h>

/*
 * A correction by hand, invented: out = in^(1.5 + 0.25 c) for channel c, of an output that prints
 * 0.08 + 1.52 drive, whose aim is 0.06 + 2.0 drive, kept up to a drive of 0.5, and 0.50 D short of
 * it in black.
 */
static inline double match_case_out(size_t channel, double drive) {
    return pow(drive, 1.5 + 0.25 * (double)channel);
}

static inline ww_match *match_case(size_t n, ww_ramp ramp) {
    static ww_match match; /* large; one at a time */
    static const char *const names[] = {"red", "green", "blue"};
    static const ww_match_miss region[WW_REGION_COUNT] = {
        {true, 0.004, 0.011, 0.07}, {true, -0.013, 0.018, 0.41}, {true, -0.48, 0.023, 1.0}};
    match = (ww_match){.holds = true,
                       .ramp = ramp,
                       .n = n,
                       .worst = region[WW_REGION_DARK],
                       .kept_miss = region[WW_REGION_LIGHT],
                       .worst_channel = n - 1};
    memcpy(match.region, region, sizeof region);
    for (size_t k = 0; k < n; k++) {
        ww_match_channel *c = &match.channel[k];
        c->name = n == 1 ? "gray" : names[k];
        c->read = n == 1 ? WW_COLUMN_VISUAL : (ww_column)(WW_COLUMN_RED + k);
        for (size_t i = 0; i < WW_TONE_RESPONSE_POINTS; i++) {
            const double drive = (double)i / (WW_TONE_RESPONSE_POINTS - 1);
            c->aim.density[i] = 0.06 + 2.0 * drive;
            c->print.density[i] = 0.08 + 1.52 * drive;
            c->wanted[i] = c->target[i] = 0.08 + 2.0 * drive;
        }
        for (size_t i = 0; i < WW_MATCH_POINTS; i++)
            c->out[i] = match_case_out(k, (double)i / (WW_MATCH_POINTS - 1));
        c->aim.to = c->print.to = 1.0;
        c->white = 0.08;
        c->black = 1.60;
        c->kept = 0.5;
        c->kept_density = 1.0;
        c->kept_miss = region[WW_REGION_LIGHT];
        c->worst = region[WW_REGION_DARK];
        memcpy(c->region, region, sizeof region);
        c->codes = (ww_match_codes){
            .merged = 17, .left_out = 19, .lightness = 0.83, .density = 0.0123, .drive = 0.31};
    }
    test_status("note", ww_notes_add(&match.notes, NULL, "An invented note."), WW_OK, NULL);
    return &match;
}

#endif
