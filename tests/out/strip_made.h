/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_OUT_STRIP_MADE_H
#define WEDGEWORK_TESTS_OUT_STRIP_MADE_H

#include "results.h"
#include <wedgework/strip.h>

/* Strips made by hand; all numbers are invented. Nothing is to be released. */

/* A strip read at 0.10, two steps either side, a third out of order, and a next strip of three. */
static inline ww_strip strip_made(void) {
    static char label[3][8] = {"1", "2", "3"};
    static ww_strip_step step[3];
    static ww_strip_piece piece[] = {
        {12.73, 12.7, 12.7, -0.0034}, {14.29, 14.3, 1.6, 0.001}, {16.04, 16.5, 2.2, 0.0408 + 0.01}};
    static ww_strip_point line[] = {{12.0, 0.07, 0.02}, {14.0, 0.10, 0.02}, {16.0, 0.13, 0.02}};
    const double density[] = {0.07, 0.13, 0.02};
    for (size_t i = 0; i < 3; i++)
        step[i] = (ww_strip_step){.step = label[i],
                                  .time_s = 12.0 + 4.0 * (double)i,
                                  .state = WW_CELL_VALUE,
                                  .density = density[i],
                                  .error = 0.01,
                                  .n = 1,
                                  .out_of_order = i == 2};
    return (ww_strip){.kind = WW_STRIP_READ,
                      .holds = true,
                      .timer_step_s = 0.1,
                      .series = {14.29, 1.0 / 6.0, piece, 3},
                      .step = step,
                      .n_steps = 3,
                      .line = line,
                      .n_line = 3,
                      .white = {true, 0.06},
                      .aim = {true, 0.1},
                      .best = {14.3, 12.9, 15.8, WW_MEASURED},
                      .lighter = {true, 0.0},
                      .darker = {true, 1.0}};
}

/* A safelight strip: covered at 0.25, 120 s without a change, 300 s with one. */
static inline ww_strip strip_made_safelight(void) {
    static char label[3][8] = {"covered", "1", "2"};
    static ww_strip_step step[3];
    const double density[] = {0.25, 0.26, 0.31}, time_s[] = {0.0, 120.0, 300.0};
    for (size_t i = 0; i < 3; i++)
        step[i] = (ww_strip_step){.step = label[i],
                                  .time_s = time_s[i],
                                  .state = WW_CELL_VALUE,
                                  .density = density[i],
                                  .error = 0.005,
                                  .n = 4,
                                  .covered = i == 0,
                                  .changed = i == 2};
    return (ww_strip){.kind = WW_STRIP_SAFELIGHT,
                      .holds = true,
                      .step = step,
                      .n_steps = 3,
                      .white = {true, 0.06},
                      .grey = {true, 0.25},
                      .best = {120.0, 120.0, 300.0, WW_MEASURED},
                      .changed_s = {true, 300.0},
                      .least_change = 0.02};
}

#endif
