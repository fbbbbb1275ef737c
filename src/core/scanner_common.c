/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "scanner_common.h"
#include "scanner_model.h"

#include <assert.h>
#include <math.h>

static const double shortest = 0.1; /* D of a wedge, lest a tilt has no end */

enum { MOST = 2 * WW_CHANNEL_COUNT + 1 };

typedef struct common {
    const ww__scanner_strips *strips;
    const ww__scanner_light *light;
    const double *weight;
    bool free_gamma;
    size_t p;
} common;

/* J' W v. Where the wedge is tilted its thin end is right, and off by 1 sd is its dense end. */
static void pull_of(const common *c, bool tilted, double pull[MOST]) {
    const ww__scanner_wedge *wedge = &c->strips->wedge;
    const double range = fmax(wedge->dense - wedge->thin, shortest);
    const double end = tilted ? wedge->dense : wedge->thin;
    const double sd = ww__scanner_wedge_off(wedge, end) / WW__SCANNER_95;
    const double *weight = c->weight;
    for (size_t s = 0; s < c->strips->n; s++)
        for (size_t i = 0; i < c->strips->strip[s].n; i++) {
            const ww__scanner_row *row = &c->strips->strip[s].row[i];
            double gradient[3], slope;
            if (row->clipped || row->suspect)
                continue;
            ww__scanner_model_gradient(&c->light[s], row->density, gradient);
            (void)ww__scanner_share(&c->light[s], row->density, &slope);
            const double along = tilted ? (row->density - wedge->thin) / range : 1.0;
            const double off = *weight++ * slope * sd * along;
            pull[2 * s] += gradient[0] * off;
            pull[2 * s + 1] += gradient[1] * off;
            if (c->free_gamma)
                pull[c->p - 1] += gradient[2] * off;
        }
}

static void shift_of(const common *c, bool tilted, const double covariance[], double shift[MOST]) {
    double pull[MOST] = {0.0};
    pull_of(c, tilted, pull);
    for (size_t i = 0; i < c->p; i++)
        for (size_t j = 0; j < c->p; j++)
            shift[i] += covariance[i * c->p + j] * pull[j];
}

/* Channels to a column of densities, on average. */
static double channels_to_a_column(const ww__scanner_strips *strips) {
    bool seen[WW_COLUMN_COUNT] = {false};
    double columns = 0.0;
    for (size_t s = 0; s < strips->n; s++) {
        columns += seen[strips->strip[s].column] ? 0.0 : 1.0;
        seen[strips->strip[s].column] = true;
    }
    return (double)strips->n / columns;
}

/* All parameters as they follow gamma, as far as its variance is said to be less than it is. */
static void follow_gamma(const common *c, const double covariance[], double shift[MOST]) {
    const double *of_gamma = covariance + (c->p - 1) * c->p;
    const double variance = of_gamma[c->p - 1];
    const double more = channels_to_a_column(c->strips) - 1.0;
    for (size_t i = 0; i < c->p && c->free_gamma && variance > 0.0; i++)
        shift[i] = of_gamma[i] * sqrt(more / variance);
}

void ww__scanner_common_add(const ww__scanner_strips *strips, const ww__scanner_light light[],
                            bool free_gamma, const double weight[], double covariance[]) {
    assert(strips && strips->n > 0 && light && weight && covariance);
    const common c = {strips, light, weight, free_gamma, 2 * strips->n + free_gamma};
    double shift[3][MOST] = {{0.0}};
    shift_of(&c, false, covariance, shift[0]);
    shift_of(&c, true, covariance, shift[1]);
    follow_gamma(&c, covariance, shift[2]);
    for (size_t k = 0; k < 3; k++)
        for (size_t i = 0; i < c.p; i++)
            for (size_t j = 0; j < c.p; j++)
                covariance[i * c.p + j] += shift[k][i] * shift[k][j];
}
