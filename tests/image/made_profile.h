/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_MADE_PROFILE_H
#define WEDGEWORK_TESTS_MADE_PROFILE_H

#include "image/profile.h"
#include "image/staircase_ends.h"
#include "support/emulsion.h"

#include <math.h>

/* Profiles of known truth: a strip along which light falls, and what lies before and behind it. */
enum { MADE = 640 };

typedef struct made_strip {
    size_t steps;
    double gap, first;    /* log10 */
    double from, pitch;   /* places */
    double before, after; /* log10 of the surround at its ends and beside it */
    double noise;         /* sd of light, share of full scale */
} made_strip;

/* Fourteen steps on bare glass. */
static const made_strip made_plain = {.steps = 14,
                                      .gap = 0.15,
                                      .first = 0.05,
                                      .from = 93.0,
                                      .pitch = 27.0,
                                      .before = 0.0,
                                      .after = 0.0};

typedef struct made_profile {
    double value[MADE], smooth[MADE], weight[MADE], beside[2][MADE];
    ww__profile profile;
} made_profile;

static inline void made_profile_fill(const made_strip *s, made_profile *m) {
    const double floor_light = fmax(1e-4, 3.0 * s->noise);
    const double to = s->from + s->pitch * (double)s->steps;
    dice d = {(uint64_t)s->steps + 17};
    for (size_t i = 0; i < MADE; i++) {
        const double x = (double)i + 0.5, around = x < 0.5 * (s->from + to) ? s->before : s->after;
        const bool on = x >= s->from && x < to;
        const double log_light = on ? -s->first - s->gap * floor((x - s->from) / s->pitch) : around;
        const double light =
            fmax(0.0, pow(10.0, log_light) + (s->noise > 0.0 ? dice_normal(&d, s->noise) : 0.0));
        const double doubt = s->noise / (2.302585 * (light + floor_light));
        m->value[i] = log10(light + floor_light);
        m->weight[i] = 1.0 / (doubt * doubt + 1e-6);
        m->beside[0][i] = m->beside[1][i] = log10(pow(10.0, around) + floor_light);
    }
    (void)ww__profile_smooth(m->value, MADE, (size_t)(0.12 * s->pitch), m->smooth, NULL);
    m->profile = (ww__profile){.n = MADE,
                               .value = m->value,
                               .smooth = m->smooth,
                               .weight = m->weight,
                               .beside = {m->beside[0], m->beside[1]},
                               .floor = floor_light,
                               .open = {true, true}};
}

/* Edges wherever equal steps could have one. */
static inline void made_lattice(const made_strip *s, ww__lattice *l) {
    const double first = fmod(s->from, s->pitch);
    l->n = 0, l->pitch = s->pitch, l->order = 1.0;
    for (double at = first; at < MADE; at += s->pitch)
        l->at[l->n++] = at;
}

#endif
