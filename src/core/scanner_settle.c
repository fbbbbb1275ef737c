/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "scanner_settle.h"
#include "scanner_noise.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>

static const double suspect_least = 0.02;   /* D */
static const double suspect_robust = 3.5;   /* robust deviations */
static const double suspect_error = 2.0;    /* standard errors: what its own doubt explains */
static const double normal_median = 1.4826; /* sd by median absolute deviation, normal */

enum { ROUNDS_MAX = 64, AGAIN_MAX = 4 };

static void release_rests(ww__scanner_settled *f) {
    for (size_t s = 0; s < WW_CHANNEL_COUNT; s++) {
        ww__scanner_rest_free(f->rest[s]);
        f->rest[s] = NULL;
    }
}

void ww__scanner_settled_release(ww__scanner_settled *settled) {
    if (!settled)
        return;
    release_rests(settled);
    ww__scanner_steps_release(&settled->strips);
}

static int rising(const void *a, const void *b) {
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* Robust sd of z; `work` holds a number for each row. */
static double robust_sd(const ww__scanner_rest *rest, size_t n, double work[]) {
    size_t at = 0;
    for (size_t i = 0; i < n; i++) {
        const ww__scanner_deleted d = ww__scanner_rest_deleted(rest, i);
        if (d.counts)
            work[at++] = fabs(d.z);
    }
    qsort(work, at, sizeof *work, rising);
    return normal_median * (at % 2 ? work[at / 2] : 0.5 * (work[at / 2 - 1] + work[at / 2]));
}

/* Further suspects would leave too little to tell who is wrong. */
static bool may_lose(const ww__scanner_strip *strip) {
    size_t kept = 0, suspects = 0;
    for (size_t i = 0; i < strip->n; i++) {
        kept += !strip->row[i].clipped && !strip->row[i].suspect;
        suspects += strip->row[i].suspect;
    }
    return kept > WW__SCANNER_STEPS_LEAST && 4 * (suspects + 1) <= kept + suspects;
}

/* A departure that is no rounding: a scan with few codes cannot place a step within one of them. */
static bool departs(const ww__scanner_strip *strip, const ww__scanner_light *light, size_t i,
                    double departure) {
    const double code = ww__scanner_noise_code(light, strip->row[i].density, strip->step);
    return fabs(departure) > fmax(suspect_least, code);
}

/* The worst row of each strip becomes suspect where it is beyond every limit. */
static ww_status accuse(ww__scanner_settled *f, bool *any, ww_error *err) {
    *any = false;
    for (size_t s = 0; s < f->strips.n; s++) {
        ww__scanner_strip *strip = &f->strips.strip[s];
        if (!may_lose(strip))
            continue;
        double *work = calloc(strip->n, sizeof *work);
        if (!work)
            return ww_error_set(err, WW_EMEMORY, "no memory for a calibration of %zu steps",
                                strip->n);
        const double limit =
            fmax(suspect_robust * robust_sd(f->rest[s], strip->n, work), suspect_error);
        free(work);
        const ww__scanner_light light = ww__scanner_model_light(&f->model, s);
        size_t worst = strip->n;
        double most = limit;
        for (size_t i = 0; i < strip->n; i++) {
            const ww__scanner_deleted d = ww__scanner_rest_deleted(f->rest[s], i);
            if (d.counts && fabs(d.z) > most && departs(strip, &light, i, d.departure)) {
                most = fabs(d.z);
                worst = i;
            }
        }
        if (worst == strip->n)
            continue;
        strip->row[worst].suspect = true;
        *any = true;
    }
    return WW_OK;
}

/* One round: model, then what it leaves. *settled: the scatter found is the one it was fitted with.
 */
static ww_status fit_once(ww__scanner_settled *f, bool again, bool *settled, ww_error *err) {
    const ww__scanner_model before = f->model;
    ww_status status =
        ww__scanner_model_fit(&f->strips, f->scatter, again ? &before : NULL, &f->model, err);
    release_rests(f);
    *settled = true;
    for (size_t s = 0; s < f->strips.n && status == WW_OK; s++) {
        const ww__scanner_light light = ww__scanner_model_light(&f->model, s);
        status = ww__scanner_rest_new(&f->strips.strip[s], &light, f->model.free_gamma, &f->rest[s],
                                      err);
        if (status != WW_OK)
            break;
        const double scatter = ww__scanner_rest_scatter(f->rest[s]);
        *settled = *settled && scatter == f->scatter[s];
        f->scatter[s] = scatter;
    }
    return status;
}

ww_status ww__scanner_settle(ww__scanner_settled *f, ww_error *err) {
    assert(f && f->strips.n > 0);
    bool settled = false, any = false;
    ww_status status = fit_once(f, false, &settled, err);
    for (int round = 0, again = 0; round < ROUNDS_MAX && status == WW_OK; round++) {
        status = accuse(f, &any, err);
        if (status != WW_OK || (!any && (settled || again++ > AGAIN_MAX)))
            break;
        status = fit_once(f, true, &settled, err);
    }
    return status;
}
