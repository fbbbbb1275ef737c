/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_EMULSION_H
#define WEDGEWORK_TESTS_EMULSION_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <wedgework/readings.h>

/*
 * Simulated emulsions, invented, whose curves are none of the program's models:
 *   normal   two kinds of grains, each with log-normal sensitivity (Gaussian integrals)
 *   quantum  two kinds of grains, each made developable by a first hit: 1 - e^(-H^n)
 *   ramp     a straight part between a toe and a shoulder that are Gaussian integrals of a step
 * Their figures come from a dense grid by the definitions alone, with no code of the program.
 */
typedef enum emulsion_kind {
    EMULSION_NORMAL,
    EMULSION_QUANTUM,
    EMULSION_RAMP,
    EMULSION_KINDS
} emulsion_kind;

typedef struct emulsion {
    emulsion_kind kind;
    double base, range;
    double place[2], width[2], share[2];
    double length; /* ramp */
} emulsion;

typedef enum emulsion_figure {
    EMULSION_BASE_FOG,
    EMULSION_DMAX,
    EMULSION_GAMMA,
    EMULSION_AVERAGE_GRADIENT,
    EMULSION_CONTRAST_INDEX,
    EMULSION_DENSITY_RANGE,
    EMULSION_EXPOSURE_RANGE,
    EMULSION_SPEED_POINT,
    EMULSION_ISO_RANGE,
    EMULSION_TOE,
    EMULSION_SHOULDER,
    EMULSION_FIGURES
} emulsion_figure;

typedef struct emulsion_truth {
    bool has[EMULSION_FIGURES];
    double value[EMULSION_FIGURES];
    bool shoulder_ends; /* the slope falls to a fifth of gamma within the range */
} emulsion_truth;

/* A generator of its own, so that a test gives the same films everywhere. */
typedef struct dice {
    uint64_t state;
} dice;
double dice_even(dice *d, double low, double high);
double dice_normal(dice *d, double sd);

/* A film, or a paper (steeper, shorter), drawn at random. */
emulsion emulsion_draw(dice *d, emulsion_kind kind, bool paper);
double emulsion_density(const emulsion *e, double log_h);
void emulsion_figures(const emulsion *e, double low, double high, bool paper,
                      emulsion_truth *truth);

/* Readings of it: `steps` from log H `low` on, `gap` apart, in rising order, scatter sd, and a base
 * row; channel visual. Release them. */
void emulsion_read(const emulsion *e, dice *d, size_t steps, double low, double gap, double sd,
                   bool paper, ww_readings *readings);

#endif
