/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_MADE_TONE_H
#define WEDGEWORK_TESTS_MADE_TONE_H

#include "image/find_tone.h"
#include "support/support.h"
#include "support/wedge_picture.h"

/* The map of a picture, `shrink` px to a cell each way. */
static inline ww__tone made_tone(const ww_picture *picture, size_t shrink) {
    const ww_region all = {0, 0, picture->width, picture->height};
    ww__grid g = {.along = {1.0, 0.0},
                  .across = {0.0, 1.0},
                  .step_u = 1.0,
                  .step_v = 1.0,
                  .nu = picture->width,
                  .nv = picture->height};
    ww__tone tone = WW__TONE_INIT;
    test_status("preview", ww__grid_read(picture, &all, 1, 1, &g, NULL), WW_OK, NULL);
    test_status("map", ww__tone_new(&g, shrink, 1.0 / picture->white, &tone, NULL), WW_OK, NULL);
    ww__grid_release(&g);
    return tone;
}

/* Strips turned every way, for rows of tests. */
static inline wedge_scene made_scene(size_t i) {
    static const double angle[] = {-7.6, -3.1, 0.4, 2.7, 6.9};
    wedge_scene s = wedge_scene_plain();
    s.angle_deg = angle[i % 5];
    s.surround = (wedge_surround)(i % WEDGE_SURROUNDS);
    s.upright = i % 2 == 1, s.reversed = i % 3 == 1;
    if (s.upright)
        s.width = 420, s.height = 640, s.x = 205.3, s.y = 322.1;
    s.read_noise = 2e-4, s.shot_noise = 0.004, s.dust = 40, s.hairs = 2, s.scratches = 1;
    s.blur = 1.2, s.wobble = 0.05, s.flare = 0.002, s.seed = 40 + i;
    return s;
}

#endif
