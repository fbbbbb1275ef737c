/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/wedge_hard.h"
#include <math.h>

/* A masked colour film: each channel has its own base; gamma 2.2, with flare. */
void wedge_masked_film(wedge_scene *s, uint64_t seed, double own[21]) {
    static const double base[3] = {0.25, 0.6, 0.8};
    s->channels = 3, s->gamma = 2.2, s->base = base;
    s->flare = 0.003 + 0.0007 * (double)(seed % 11);
    for (size_t k = 0; k < 21; k++)
        own[k] = (0.05 + 0.1 * (double)(seed % 8) / 7.0) * (double)k;
}

/* A wedge in 8 bits, linear: the dense steps share few codes. */
void wedge_eight_bits(wedge_scene *s, uint64_t seed, double own[21]) {
    s->bits = 8, s->channels = seed % 4 < 2 ? 1 : 3;
    s->flare = seed % 3 == 0 ? 0.0 : 0.001 * (double)(seed % 10);
    for (size_t k = 0; k < 21; k++)
        own[k] = 0.05 + 0.15 * (double)k;
}

/* A print of a wedge: white over two to six steps, black over one to five, on black paper. */
void wedge_on_paper(wedge_scene *s, uint64_t seed, double own[21]) {
    const double white = (double)(2 + seed % 5), black = (double)(1 + seed / 2 % 5);
    s->bits = seed % 2 == 0 ? 8 : 16, s->gamma = seed % 3 == 0 ? 1.0 : 2.2, s->flare = 0.002;
    for (size_t k = 0; k < 21; k++) {
        const double x = fmin(1.0, fmax(0.0, ((double)k - white + 1.0) / (22.0 - white - black)));
        own[k] = 0.07 + 1.9 * x * x * (3.0 - 2.0 * x);
    }
    s->margin = 8.0 + (double)(seed * 7 % 30), s->margin_density = own[20];
}

/* The same on a white sheet: no edge tells where white begins. */
void wedge_on_white_paper(wedge_scene *s, uint64_t seed, double own[21]) {
    wedge_on_paper(s, seed, own);
    s->margin_density = own[0];
}
