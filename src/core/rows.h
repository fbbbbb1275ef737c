/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_ROWS_H
#define WW_CORE_ROWS_H

#include "series.h"
#include "shape_fit.h"

/*
 * A fit seen row by row: the readings that counted, in the order of the readings, and the base
 * last, as a reading far down the toe. What one reading does to the parameters and to every fitted
 * density follows from the fit's own Jacobian.
 */
typedef struct ww__rows {
    size_t n, p;
    size_t *point; /* index into the series; SIZE_MAX for the base */
    double *u;
    double *root_weight;
    double *fitted;   /* density of the shape */
    double *slope;    /* dD/du */
    double *residual; /* root_weight (reading - fitted) */
    double *gain;     /* p x n: change of a working parameter by change of a reading */
    double *hat;      /* n x n, of the weighted problem */
} ww__rows;

#define WW__ROWS_INIT                                                                              \
    { .n = 0 }

/* ww__rows_new - Status WW_OK; WW_EMEMORY */
ww_status ww__rows_new(const ww__series *series, const ww__shape_fit *fit, ww__rows *rows,
                       ww_error *err);
void ww__rows_release(ww__rows *rows);

#endif
