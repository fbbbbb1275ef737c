/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_SCANNER_MODEL_H
#define WW_CORE_SCANNER_MODEL_H

#include "scanner.h"
#include "scanner_steps.h"

enum { WW__SCANNER_RIVALS_MOST = 2 };

/* The model fitted to all channels; members by strip, as ww__scanner_strips has them. */
typedef struct ww__scanner_model {
    ww_encoding encoding;
    bool free_gamma; /* otherwise it is 1, or 2.2 for show where the encoding is sRGB */
    double gamma;
    double gamma_low, gamma_high; /* 95 % of a free one; both `gamma` where it could not be had */
    double k[WW_CHANNEL_COUNT], constant[WW_CHANNEL_COUNT];
    /* covariance of ln k and the constant */
    double variance_k[WW_CHANNEL_COUNT], variance_constant[WW_CHANNEL_COUNT],
        covariance[WW_CHANNEL_COUNT];
    /* Other encodings that describe the steps as well, or nearly: by AICc at least a twentieth as
       likely. */
    ww__scanner_light rival[WW__SCANNER_RIVALS_MOST][WW_CHANNEL_COUNT];
    size_t n_rivals;
} ww__scanner_model;

ww__scanner_light ww__scanner_model_light(const ww__scanner_model *model, size_t strip);

/* ww__scanner_model_apart - D by which a rival reads the code of a density otherwise; 0 without. */
double ww__scanner_model_apart(const ww__scanner_model *model, size_t strip, double density);

/* ww__scanner_model_gradient - d share / d (ln k, constant, gamma) at a density. */
void ww__scanner_model_gradient(const ww__scanner_light *light, double density, double gradient[3]);

/* ww__scanner_model_error - sd of a row's share about the model: noise of the mean, and density by
 *                           the model's slope. `scatter` is what densities have beyond their sd. */
double ww__scanner_model_error(const ww__scanner_light *light, const ww__scanner_row *row,
                               double scatter);

/*
 * ww__scanner_model_fit - weighted least squares; gamma 1 where that will do, then sRGB or a power.
 *
 *   AICc = n ln(chi^2 / n) + 2 p n / (n - p - 1)
 *
 * with weights of the free fit in both. All of the wedge may be off one way, and channels may share
 * its densities: ww__scanner_common_add widens what is known of gamma and each channel.
 *
 * Given     strips   clipped and suspect rows have no weight
 *           scatter  by strip
 *           start    a model to start from, or NULL
 * Status    WW_OK; WW_ECONVERGE; WW_EMEMORY
 */
ww_status ww__scanner_model_fit(const ww__scanner_strips *strips, const double scatter[],
                                const ww__scanner_model *start, ww__scanner_model *model,
                                ww_error *err);

#endif
