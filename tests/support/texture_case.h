/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_TEXTURE_CASE_H
#define WEDGEWORK_TESTS_TEXTURE_CASE_H

#include "support/support.h"
#include <wedgework/texture_scan.h>

/* A smooth sharp print and a textured soft one, as they were read. Invented; nothing is to be
 * released. */
typedef struct texture_case {
    ww_texture_spot spot[2];
    ww_texture_scan scan[2];
    char name[8];
    char file[2][24];
} texture_case;

static inline ww_quantity texture_case_of(double value, double half) {
    return (ww_quantity){value, value - half, value + half, WW_MEASURED};
}

static inline void texture_case_make(texture_case *c) {
    *c = (texture_case){.name = "grey", .file = {"folder/gloss.tif", "folder/rag.tif"}};
    for (size_t i = 0; i < 2; i++) {
        const double rms = i == 0 ? 4.23 : 11.57, sharp = i == 0 ? 6.42 : 3.11;
        c->spot[i] = (ww_texture_spot){.name = c->name,
                                       .n = 9000,
                                       .left_out = 0.001,
                                       .density = 0.71,
                                       .sd = 2.0 * rms / 1000.0,
                                       .scanner = 0.0021,
                                       .block = 2,
                                       .blocks = 2000,
                                       .rms = texture_case_of(rms, 0.132),
                                       .scanner_rms = 1.02,
                                       .selwyn = texture_case_of(0.0601591 * rms, 0.008)};
        c->scan[i] = (ww_texture_scan){.file = c->file[i],
                                       .px_um = 21.2,
                                       .channel = WW_VISUAL,
                                       .spot = &c->spot[i],
                                       .n = 1,
                                       .has_edge = true,
                                       .edge = {.angle_deg = 5.0, .mtf = {1.0, 0.5, 0.3, 0.04}},
                                       .width_um = texture_case_of(500.0 / sharp, 3.0),
                                       .mtf50_per_mm = texture_case_of(sharp, 0.11)};
    }
}

#endif
