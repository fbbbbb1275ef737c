/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/patch_step.h"

#include <math.h>

enum { SHOWN_LEAST = 3 }; /* patches, each channel by itself */

static uint64_t common_divisor(uint64_t a, uint64_t b) {
    while (b > 0) {
        const uint64_t rest = a % b;
        a = b;
        b = rest;
    }
    return a;
}

double ww__patch_step(const ww__histogram counts[], size_t n) {
    uint64_t step = 0;
    bool shown = false;
    for (size_t i = 0; i < n; i++) {
        size_t codes = 0;
        double before = 0.0;
        if (counts[i].kind == WW_SAMPLE_FLOAT)
            return 0.0;
        for (ww__histogram_bin bin = {0}; ww__histogram_next(&counts[i], &bin); codes++) {
            if (codes > 0)
                step = common_divisor(step, (uint64_t)(bin.code - before));
            before = bin.code;
        }
        shown = shown || codes > 2;
    }
    return shown ? (double)step : 1.0;
}

void ww__patch_step_settle(ww_patch patch[], size_t n, double step) {
    double greatest = step;
    size_t shown = 0;
    for (size_t i = 0; i < n; i++)
        for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
            greatest = fmax(greatest, patch[i].channel[c].step);
            shown += patch[i].channel[c].step > 0.0;
        }
    for (size_t i = 0; i < n; i++)
        for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
            double *own = &patch[i].channel[c].step;
            *own = shown < SHOWN_LEAST ? step : *own > 0.0 ? fmax(*own, step) : greatest;
        }
}
