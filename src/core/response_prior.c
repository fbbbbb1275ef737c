/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/response_prior.h"
#include <assert.h>
#include <string.h>

enum { COLOURS = WW_RESPONSE_COLOURS, ACTS = WW_RESPONSE_ACTS, TERMS = WW_RESPONSE_TERMS };

/* log H by act, [channel], of the usual head; three equal filters are grey. From memory. */
static const double head[COLOURS][ACTS] = {
    {1.00, 0.00, -0.05, -0.95}, {1.00, -0.05, -0.85, -0.10}, {1.00, -0.85, -0.10, -0.05}};

/* Standard deviations, of what is common to all and of what each has of its own. */
static const double dye_common = 0.04, dye_own = 0.05; /* share of a layer's light */
static const double strength_common = 0.08,
                    strength_own = 0.06;                   /* of a filter against its number */
static const double stray_common = 0.03, stray_own = 0.06; /* of a filter in another channel */
static const double time_common = 0.02, time_own = 0.02;   /* reciprocity, the timer */

size_t ww__response_prior_own(size_t colour) {
    return COLOURS - colour; /* red cyan 3, green magenta 2, blue yellow 1 */
}

double ww__response_prior_mean(size_t colour, size_t act) {
    return head[colour][act];
}

/* Adds what one unknown of that standard deviation does to the terms, and clears it. */
static void add(double covariance[], double load[COLOURS][ACTS], double sd) {
    const double *const v = &load[0][0];
    for (size_t j = 0; j < TERMS; j++)
        for (size_t k = 0; k < TERMS; k++)
            covariance[j * TERMS + k] += sd * sd * v[j] * v[k];
    memset(load, 0, sizeof(double) * TERMS);
}

/* One more unit of share of another filter's light in a channel is one less of its own. */
static void share(double load[COLOURS][ACTS], size_t colour, size_t act) {
    load[colour][act] -= 1.0;
    load[colour][ww__response_prior_own(colour)] += 1.0;
}

void ww__response_prior(double covariance[TERMS * TERMS]) {
    double shares[COLOURS][ACTS] = {{0.0}}, stray[COLOURS][ACTS] = {{0.0}};
    double strength[COLOURS][ACTS] = {{0.0}}, time[COLOURS][ACTS] = {{0.0}};
    double load[COLOURS][ACTS] = {{0.0}};
    assert(covariance);
    memset(covariance, 0, sizeof(double) * TERMS * TERMS);
    for (size_t c = 0; c < COLOURS; c++) {
        const size_t own = ww__response_prior_own(c);
        for (size_t f = 1; f < ACTS; f++) {
            if (f == own)
                continue;
            share(shares, c, f);
            share(load, c, f);
            add(covariance, load, dye_own);
            stray[c][f] = load[c][f] = -1.0;
            add(covariance, load, stray_own);
        }
        strength[c][own] = load[c][own] = -1.0;
        add(covariance, load, strength_own);
        time[c][0] = load[c][0] = 1.0;
        add(covariance, load, time_own);
    }
    add(covariance, shares, dye_common);
    add(covariance, stray, stray_common);
    add(covariance, strength, strength_common);
    add(covariance, time, time_common);
}
