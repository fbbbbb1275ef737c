/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_SCANNER_REST_H
#define WW_CORE_SCANNER_REST_H

#include "scanner_model.h"

/*
 * What the model leaves of one channel: universal kriging of the residuals along density.
 *
 *   share_i - model(D_i) = h_i b + s_i (g(D_i) + e_i) + noise_i
 *
 * h and s are the model's gradient and slope at the row, b a shift of its parameters, g a Gaussian
 * process (0.5 D long) that stands for a scanner that is not quite the model, e what is wrong with
 * each density. How large g and e are beyond the stated sd is chosen by restricted likelihood from
 * a grid; g must earn its place.
 */
typedef struct ww__scanner_rest ww__scanner_rest;

/* What all other rows say about one of them. */
typedef struct ww__scanner_deleted {
    bool counts;      /* not clipped, not suspect */
    double departure; /* D, the row's density by the others less its own */
    double z;         /* the same over its standard error */
} ww__scanner_deleted;

/* Status WW_OK; WW_EMEMORY */
ww_status ww__scanner_rest_new(const ww__scanner_strip *strip, const ww__scanner_light *light,
                               bool encoded, ww__scanner_rest **rest, ww_error *err);
void ww__scanner_rest_free(ww__scanner_rest *rest);

double ww__scanner_rest_scatter(const ww__scanner_rest *rest);   /* sd of e, beyond the stated */
double ww__scanner_rest_amplitude(const ww__scanner_rest *rest); /* sd of g; 0: none */

/* ww__scanner_rest_at - correction of the model's share at a density, and its standard error. */
void ww__scanner_rest_at(const ww__scanner_rest *rest, double density, double *share,
                         double *share_sd);

/* ww__scanner_rest_deleted - row i of the strip. */
ww__scanner_deleted ww__scanner_rest_deleted(const ww__scanner_rest *rest, size_t i);

#endif
