/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_BLOCKS_MADE_H
#define WEDGEWORK_TESTS_BLOCKS_MADE_H

#include "image/merge_made.h"
#include "image/merge_noise.h"

enum { MADE_BLOCKS = 4000 };

/* Places whose pixels were drawn: levels over two decades, noise of both scans. */
static inline ww__merge_blocks made_blocks(double ratio, double offset,
                                           const ww__merge_noise *noise, uint64_t seed) {
    ww__merge_blocks all = {malloc(MADE_BLOCKS * sizeof *all.block), MADE_BLOCKS, MADE_BLOCKS};
    seed = (seed + 1u) * 0x9e3779b97f4a7c15u;
    for (size_t i = 0; i < MADE_BLOCKS; i++) {
        const double level = 0.2 * pow(10.0, -2.0 * (double)i / MADE_BLOCKS);
        double x = 0.0, y = 0.0, xx = 0.0, yy = 0.0, xy = 0.0;
        for (size_t k = 0; k < WW__MERGE_PIXELS; k++) {
            const double a = sqrt(ww__merge_noise_of(noise, level)) * made_normal_of(&seed);
            const double b = sqrt(ww__merge_noise_of(noise, ratio * level)) * made_normal_of(&seed);
            x += a;
            y += b;
            xx += a * a;
            yy += b * b;
            xy += a * b;
        }
        all.block[i] =
            (ww__merge_block){level + x / 64.0,           ratio * level + offset + y / 64.0,
                              (xx - x * x / 64.0) / 63.0, (yy - y * y / 64.0) / 63.0,
                              (xy - x * y / 64.0) / 63.0, 0.0};
    }
    return all;
}

#endif
