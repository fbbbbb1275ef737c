/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_ACCUSED_H
#define WW_CORE_ACCUSED_H

#include "points.h"
#include "suspect.h"

/* What was found suspect, on the way to the page: where it stood, what it was found in. */
typedef struct ww__accused {
    const ww__findings *findings;
    const ww__series *series; /* after the findings */
    const ww_shape *shape;    /* fitted without them */
    double residual_sd;
    bool transmission;
    const char *of;          /* " (red)" or "" */
    ww__points *points;      /* those that slid along the strip are put back */
    ww_channel_curve *curve; /* gets the suspects */
    ww_notes *notes;         /* gets a sentence on each */
} ww__accused;

/*
 * ww__accused_name - name every suspect with step, size and likely cause; say where the readings
 *                    left still scatter by more than 0.03 D. Status WW_OK; WW_EMEMORY
 */
ww_status ww__accused_name(const ww__accused *accused, ww_error *err);

#endif
