/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_OUT_BALANCE_MADE_H
#define WEDGEWORK_TESTS_OUT_BALANCE_MADE_H

#include "results.h"
#include <wedgework/balance.h>

/* A filter plan with invented numbers: too dark and too green, two greys. */
static inline ww_balance balance_made(void) {
    static char card[] = "card", dark[] = "dark";
    static ww_balance_tone tone[2];
    tone[0] = (ww_balance_tone){.tone = card,
                                .solved = true,
                                .print = {0.88, 0.68, 0.86},
                                .aim = {0.71, 0.70, 0.72},
                                .foretold = true,
                                .predicted = {0.71, 0.69, 0.72},
                                .predicted_half = {0.05, 0.06, 0.05},
                                .left_cc = {0.0, 0.4, 0.0},
                                .within = true};
    tone[1] = (ww_balance_tone){.tone = dark,
                                .print = {1.60, 1.42, 1.61},
                                .aim = {1.45, 1.44, 1.46},
                                .left_cc = {-1.0, 0.2, 0.1}};
    static char row_text[] = "60Y45M,11,card,1,-,0.880,0.680,0.860", *ring_row[] = {row_text};
    return (ww_balance){
        .kind = WW_BALANCE_PRINT,
        .holds = true,
        .doubt_known = true,
        .head_scale = 1.0,
        .filter_step = 2.5,
        .timer_step_s = 0.1,
        .from = {{{60, 45, 0}}, 11.0},
        .exact = {{{60, 27.1, 0}}, 8.46},
        .settable = {{{60, 27.5, 0}}, 8.5},
        .change = {{0, -17.9, 0}},
        .stops = -0.379,
        .excess_cc = {8.0, -2.0, 7.0},
        .doubt_cc = 3.1,
        .doubt_stops = 0.08,
        .tone = tone,
        .n_tones = 2,
        .crossover =
            {.known = true, .worst_cc = 1.2, .doubt_cc = 2.0, .tone = 1, .channel = WW_RED},
        .budget = {{"readings", 0.8}, {"filters and time", 2.2}},
        .n_budget = 2,
        .response = {.term = {{1, 0, -0.1, -0.9}, {1, -0.1, -0.8, 0}, {1, -1, 0, 0}}},
        .ring_rows = 3,
        .told = {false, false, true, false},
        .ring_row = {ring_row, 1}};
}

#endif
