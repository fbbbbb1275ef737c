/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_RESAMPLE_H
#define WW_CORE_RESAMPLE_H

#include "series.h"
#include "shape_fit.h"
#include <wedgework/figure.h>
#include <wedgework/quantity.h>

/* A model that the readings allow, with the share of resamples that it gets. */
typedef struct ww__candidate {
    ww__shape_fit fit;
    double share;
} ww__candidate;

/* What is resampled: one channel. */
typedef struct ww__resample_request {
    const ww__series *series;
    const ww__candidate *candidate;
    size_t n_candidates;
    double base_fog;  /* where the base was not read, each shape's own */
    double low, high; /* measured range of log H */
    const ww_figure_rules *rules;
    ww_optional log_h0_sd;
    ww_optional wedge_sd;
    size_t resamples;
    size_t threads;
    unsigned long seed;
    unsigned channel; /* channels scatter apart, but share the errors of their exposures */
} ww__resample_request;

/* One resample: a curve, its base+fog and how far the exposure scale may be off. */
typedef struct ww__resampled {
    ww_shape shape;
    double base_fog;
    double log_h_error;
    bool good;
    bool present[WW_FIGURE_COUNT];
    bool under[WW_FIGURE_COUNT]; /* the refitted figure fell below the truth of its world */
    double figure[WW_FIGURE_COUNT];
} ww__resampled;

/*
 * ww__resample_run - bootstrap of every figure.
 *
 *   For each resample: draw a model by its share; draw a departure from it and scatter of the
 *   readings (departure.h); refit the model to curve + departure + scatter. The error of that world
 *   is the figure of the refit less the figure of curve + departure, the latter to first order in
 *   the departure. The figure reported for the resample is the model's own plus that error.
 *
 * Source    model-averaged bootstrap: Buckland, Burnham and Augustin, Biometrics 53 (1997) 603-618
 * Returned  sample    request->resamples of them, allocated by the caller
 * Status    WW_OK; WW_EMEMORY. The same for any number of threads.
 */
ww_status ww__resample_run(const ww__resample_request *request, ww__resampled sample[],
                           ww_error *err);

/* ww__resample_figure - interval of one figure, taken from the samples that have it; the value is
 *                       always inside. Status as ww__interval_of; WW_EMEMORY */
ww_status ww__resample_figure(const ww__resampled sample[], size_t n, ww_figure figure,
                              ww_quantity *quantity, ww_error *err);

#endif
