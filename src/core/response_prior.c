/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/response_prior.h"
#include <assert.h>
#include <string.h>

enum { COLOURS = WW_RESPONSE_COLOURS, ACTS = WW_RESPONSE_ACTS, TERMS = WW_RESPONSE_TERMS };

/* log H by act, [channel], of the usual head; three equal filters are grey. From memory. */
static const double head[COLOURS][ACTS] = {
    {1.00, 0.00, -0.05, -0.95}, {1.00, -0.08, -0.75, -0.17}, {1.00, -0.75, -0.20, -0.05}};

/* Standard deviations, of what is common to all and of what each has of its own. From memory. */
static const double strength_own = 0.06;                 /* of a filter, its own number 1 */
static const double time_common = 0.04, time_own = 0.03; /* reciprocity, the timer */

/* Of a filter's light in another channel, and of a dye's share there, by [channel][act]: neighbours
 * of the spectrum differ most from head to head and from paper to paper. */
static const double stray[COLOURS][ACTS] = {
    {0.0, 0.01, 0.02, 0.0}, {0.0, 0.05, 0.0, 0.12}, {0.0, 0.0, 0.08, 0.04}};
static const double dye[COLOURS][ACTS] = {
    {0.0, 0.01, 0.03, 0.0}, {0.0, 0.06, 0.0, 0.08}, {0.0, 0.0, 0.06, 0.05}};

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

/* A filter weaker or stronger than its number is so in every channel. */
static void weaken(double load[COLOURS][ACTS], size_t act) {
    for (size_t c = 0; c < COLOURS; c++)
        load[c][act] += head[c][act];
}

void ww__response_prior(double covariance[TERMS * TERMS]) {
    double strength[COLOURS][ACTS] = {{0.0}}, time[COLOURS][ACTS] = {{0.0}};
    double load[COLOURS][ACTS] = {{0.0}};
    assert(covariance);
    memset(covariance, 0, sizeof(double) * TERMS * TERMS);
    for (size_t c = 0; c < COLOURS; c++) {
        const size_t own = ww__response_prior_own(c);
        for (size_t f = 1; f < ACTS; f++) {
            if (f == own)
                continue;
            share(load, c, f);
            add(covariance, load, dye[c][f]);
            load[c][f] = -1.0;
            add(covariance, load, stray[c][f]);
        }
        weaken(strength, own);
        weaken(load, own);
        add(covariance, load, strength_own);
        time[c][0] = load[c][0] = 1.0;
        add(covariance, load, time_own);
    }
    add(covariance, strength, WW_RESPONSE_STRENGTH);
    add(covariance, time, time_common);
}
