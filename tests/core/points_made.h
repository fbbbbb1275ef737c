/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_CORE_POINTS_MADE_H
#define WEDGEWORK_TESTS_CORE_POINTS_MADE_H

#include "core/points.h"
#include "core/readings_made.h"
#include <stdio.h>

/* Points by hand, steps "1", "2", ... of single readings. Release them with ww__points_release. */
static inline ww__points made_points(size_t n, double from, double gap, const double density[]) {
    ww__points p = {.point = calloc(n, sizeof *p.point), .n = n};
    if (!p.point)
        fail_msg("no memory for the test");
    for (size_t i = 0; i < n; i++) {
        char step[24];
        snprintf(step, sizeof step, "%zu", i + 1);
        p.point[i] = (ww_curve_point){.step = made_text(step),
                                      .log_h = from + gap * (double)i,
                                      .density = density[i],
                                      .n = 1,
                                      .state = WW_CELL_VALUE};
    }
    return p;
}

#endif
