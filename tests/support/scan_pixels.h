/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_SCAN_PIXELS_H
#define WEDGEWORK_TESTS_SCAN_PIXELS_H

#include <math.h>
#include <stdint.h>
#include <wedgework/scanner.h>

/*
 * A scanner whose noise is known, and pixels that it gives, drawn from the definition of the model
 * with a generator of their own. Stands on storage of the caller; nothing is to be released.
 */
enum { SCAN_PIXELS_POINTS = 21 };
#define SCAN_PIXELS_DOUBT 0.006 /* D, of every point */

typedef struct scan_pixels_truth {
    double k, dark, flare, read, shot, fixed;
    unsigned bits;
    double gamma;
} scan_pixels_truth;

struct scan_pixels {
    ww_scanner scanner;
    ww_scanner_point point[WW_CHANNEL_COUNT][SCAN_PIXELS_POINTS];
};

static inline ww_quantity scan_pixels_given(double value) {
    return (ww_quantity){value, value, value, WW_GIVEN};
}

/* Densities 0 to 4 by 0.2. */
static inline void scan_pixels_channel(struct scan_pixels *made, ww_channel c,
                                       const scan_pixels_truth *truth) {
    ww_scanner_channel *channel = &made->scanner.channel[c];
    *channel = (ww_scanner_channel){.present = true,
                                    .k = truth->k,
                                    .dark = scan_pixels_given(truth->dark),
                                    .flare = scan_pixels_given(truth->flare),
                                    .noise = {truth->read, truth->shot, truth->fixed},
                                    .dmax = {4.0, 4.0, 4.0, WW_MEASURED},
                                    .point = made->point[c],
                                    .n_points = SCAN_PIXELS_POINTS};
    for (int i = 0; i < SCAN_PIXELS_POINTS; i++) {
        const double density = 4.0 - 0.2 * i;
        const double light = truth->dark + truth->k * (pow(10.0, -density) + truth->flare);
        made->point[c][i] = (ww_scanner_point){made->scanner.white * pow(light, 1.0 / truth->gamma),
                                               density, SCAN_PIXELS_DOUBT};
    }
}

static inline void scan_pixels_scanner(struct scan_pixels *made, scan_pixels_truth truth) {
    *made = (struct scan_pixels){.scanner = {.bits = truth.bits,
                                             .white = exp2(truth.bits) - 1.0,
                                             .gamma = scan_pixels_given(truth.gamma)}};
    scan_pixels_channel(made, WW_VISUAL, &truth);
}

/* splitmix64, public domain; uniform in (0, 1). */
static inline double scan_pixels_uniform(uint64_t *state) {
    uint64_t z = (*state += 0x9e3779b97f4a7c15u);
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return ((double)((z ^ (z >> 31)) >> 11) + 0.5) / 9007199254740992.0;
}

static inline double scan_pixels_normal(uint64_t *state) {
    const double u = scan_pixels_uniform(state), v = scan_pixels_uniform(state);
    return sqrt(-2.0 * log(u)) * cos(6.283185307179586 * v);
}

typedef struct scan_pixels_seen {
    double code, light; /* means */
    double snr;         /* image-forming light over the sd of a pixel */
    double separable;   /* 2.8 times the sd of the pixels' densities */
    double told;        /* 2.8 times the sd of the densities of patches of 3 x 3 */
} scan_pixels_seen;

/* n patches of 3 x 3 pixels of one density, each pixel the mean of `frames` that were rounded to
 * codes; each keeps its own sensitivity. */
static inline scan_pixels_seen scan_pixels_see(const scan_pixels_truth *truth, double stops,
                                               double density, int frames, int n) {
    const double white = exp2(truth->bits) - 1.0, e = exp2(stops);
    const double signal = e * truth->k * pow(10.0, -density);
    const double beyond = signal + e * truth->k * truth->flare;
    const double veil = truth->dark + beyond - signal;
    uint64_t state = 20261130u + (uint64_t)(1e4 * density);
    const int pixels = 9 * n;
    double codes = 0.0, sum = 0.0, squares = 0.0, densities = 0.0, square_densities = 0.0;
    double place = 0.0, patch = 0.0, patches = 0.0, square_patches = 0.0;
    for (int i = 0; i < pixels; i++) {
        const double own = truth->fixed * scan_pixels_normal(&state);
        /* Where between two codes the tone falls, each patch elsewhere: tones of pictures vary. */
        if (i % 9 == 0)
            place = scan_pixels_uniform(&state);
        double mean = 0.0;
        for (int f = 0; f < frames; f++) {
            const double noise = truth->read * scan_pixels_normal(&state) +
                                 truth->shot * sqrt(beyond) * scan_pixels_normal(&state);
            const double light = fmax(truth->dark + beyond * (1.0 + own) + noise, 0.0);
            const double share = pow(light, 1.0 / truth->gamma);
            const double code = floor(white * share + place) - place + 0.5;
            codes += code / frames;
            mean += pow(fmax(code, 0.0) / white, truth->gamma) / frames;
        }
        const double seen = -log10(fmax(mean - veil, 1e-12));
        sum += mean, squares += mean * mean;
        densities += seen, square_densities += seen * seen;
        patch = i % 9 == 0 ? mean : patch + mean;
        if (i % 9 == 8) {
            const double whole = -log10(fmax(patch / 9.0 - veil, 1e-12));
            patches += whole, square_patches += whole * whole;
        }
    }
    const double light = sum / pixels;
    return (scan_pixels_seen){
        .code = codes / pixels,
        .light = light,
        .snr = signal / sqrt(squares / pixels - light * light),
        .separable = 2.8 * sqrt(square_densities / pixels - pow(densities / pixels, 2.0)),
        .told = 2.8 * sqrt(square_patches / n - pow(patches / n, 2.0))};
}

#endif
