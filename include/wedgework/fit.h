/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_FIT_H
#define WEDGEWORK_FIT_H

#include <stdbool.h>
#include <wedgework/curve.h>
#include <wedgework/error.h>
#include <wedgework/readings.h>

typedef struct ww_fit_options {
    bool model_given;      /* else chosen by AICc */
    ww_model_kind model;
    ww_optional log_h0;    /* overrides the file's */
    size_t resamples;      /* bootstrap size */
    unsigned long seed;
    size_t threads;        /* 0: all; the result does not depend on it */
} ww_fit_options;

#define WW_FIT_OPTIONS_INIT                                                                        \
    {                                                                                              \
        .resamples = 1000, .seed = 1                                                               \
    }

/*
 * ww_fit_readings - characteristic curves, figures, speed and crossover from readings of exposed
 *                   steps.
 *
 * Given     readings  with an exposure column; replicates are pooled here
 *           options   NULL for the defaults
 * Returned  curve     (release it)
 * Status    WW_OK; WW_ENODATA neither a curve nor a base that was read, or there is no exposure
 *           column;
 *           WW_EDOMAIN an exposure is impossible or a channel has more than 1000 distinct steps,
 *           with the file where the readings have one; log h0 is beyond 20; WW_EMISMATCH density
 *           runs against the process; WW_ECONVERGE; WW_EMEMORY
 *           Beside others, channels with fewer than 5 exposed readings come back
 *           `fitted = false` with a note.
 */
ww_status ww_fit_readings(const ww_readings *readings, const ww_fit_options *options,
                          ww_curve *curve, ww_error *err);

#endif
