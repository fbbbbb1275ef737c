/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_CORE_SCANNER_MADE_H
#define WEDGEWORK_TESTS_CORE_SCANNER_MADE_H

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <wedgework/measure.h>

/*
 * A wedge on a scanner of known truth, as it would have been measured: all invented. Numbers stand
 * on the struct itself; nothing is to be released.
 */
enum { MADE_STEPS_MAX = 64 };

typedef struct made_truth {
    double k, flare, dark;
    double gamma; /* of a power; 0: sRGB */
    double read, shot, fixed;
    double bend; /* D, sag of the scanner's scale in the middle of 0 to 3: no part of the model */
} made_truth;

typedef struct made_scan {
    ww_measured measured;
    ww_readings wedge;
    ww_patch patch[MADE_STEPS_MAX];
    ww_row row[MADE_STEPS_MAX];
    char label[MADE_STEPS_MAX][24];
    char empty[1];
    char file[16];
} made_scan;

/* A start for xorshift with many bits set. */
static inline uint64_t made_seed(uint64_t number) {
    return (number + 1u) * 0x9e3779b97f4a7c15u;
}

/* Uniform in (0, 1), by xorshift; normal by Box and Muller. */
static inline double made_uniform(uint64_t *seed) {
    *seed ^= *seed << 13;
    *seed ^= *seed >> 7;
    *seed ^= *seed << 17;
    return ((double)(*seed >> 11) + 0.5) / 9007199254740992.0;
}

static inline double made_normal(uint64_t *seed) {
    const double length = sqrt(-2.0 * log(made_uniform(seed)));
    return length * cos(6.283185307179586 * made_uniform(seed));
}

/* The standard's own formula (IEC 61966-2-1), or the power. */
static inline double made_encode(const made_truth *t, double light) {
    if (t->gamma > 0.0)
        return light > 0.0 ? pow(light, 1.0 / t->gamma) : 0.0;
    return light <= 0.0031308 ? 12.92 * fmax(light, 0.0) : 1.055 * pow(light, 1.0 / 2.4) - 0.055;
}

static inline double made_light(const made_truth *t, double density) {
    const double bent = density + t->bend * (1.0 - pow(density / 1.5 - 1.0, 2.0));
    return t->dark + t->k * (pow(10.0, -bent) + t->flare);
}

static inline double made_share(const made_truth *t, double density) {
    return made_encode(t, made_light(t, density));
}

/* sd of one pixel, as a share of white */
static inline double made_pixel_sd(const made_truth *t, double density) {
    const double light = made_light(t, density), beyond = light - t->dark, h = 1e-5 * light;
    const double slope = (made_encode(t, light + h) - made_encode(t, light - h)) / (2.0 * h);
    return slope * sqrt(t->read * t->read + t->shot * t->shot * beyond +
                        t->fixed * t->fixed * beyond * beyond);
}

/* Densities first, first + apart, ... in the wedge's `visual` column; no channel is scanned yet. */
static inline void made_wedge(made_scan *s, size_t n, double first, double apart, unsigned bits) {
    memset(s, 0, sizeof *s);
    snprintf(s->file, sizeof s->file, "wedge.tif");
    s->measured = (ww_measured){.file = s->file,
                                .bits = bits,
                                .white = ldexp(1.0, (int)bits) - 1.0,
                                .patch = s->patch,
                                .n = n};
    s->wedge = (ww_readings){.row = s->row, .n = n};
    s->wedge.has[WW_COLUMN_VISUAL] = true;
    s->wedge.meta.wedge = WW_WEDGE_CERTIFIED;
    for (size_t i = 0; i < n; i++) {
        snprintf(s->label[i], sizeof s->label[i], "%zu", i + 1);
        s->row[i] = (ww_row){.step = s->label[i], .tone = s->empty, .pack = s->empty};
        s->row[i].cell[WW_COLUMN_VISUAL] =
            (ww_cell){.state = WW_CELL_VALUE, .value = first + apart * (double)i, .n = 1};
        s->patch[i] = (ww_patch){.step = s->label[i], .n = 5000};
    }
}

/*
 * Scans it. Where there is a seed, each density is off by wedge_sd of its own and each mean and sd
 * has the noise of 5000 pixels; without one everything is exact.
 */
static inline void made_scan_channel(made_scan *s, ww_channel channel, const made_truth *t,
                                     double wedge_sd, uint64_t *seed) {
    const double white = s->measured.white;
    s->measured.has[channel] = true;
    for (size_t i = 0; i < s->measured.n; i++) {
        const double nominal = s->row[i].cell[WW_COLUMN_VISUAL].value;
        const double density = nominal + (seed ? wedge_sd * made_normal(seed) : 0.0);
        const double sd = made_pixel_sd(t, density), n = (double)s->patch[i].n;
        const double share =
            made_share(t, density) + (seed ? sd / sqrt(n) * made_normal(seed) : 0.0);
        ww_patch_channel *p = &s->patch[i].channel[channel];
        p->code = fmin(fmax(white * share, 0.0), white);
        p->sd = white * sd * (1.0 + (seed ? made_normal(seed) / sqrt(2.0 * n) : 0.0));
        p->clipped = share >= 1.0 || share <= 0.0 ? 1.0 : 0.0;
    }
}

/* A usual scanner: 0.2 % flare, noise that meets light beyond 3.05 D. */
static inline made_truth made_usual(double gamma) {
    return (made_truth){
        .k = 0.9, .flare = 0.002, .gamma = gamma, .read = 2e-4, .shot = 1.5e-3, .fixed = 0.004};
}

#endif
