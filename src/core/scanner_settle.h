/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_SCANNER_SETTLE_H
#define WW_CORE_SCANNER_SETTLE_H

#include "scanner_rest.h"

/* A calibration before it is told: rows with suspects marked, the model, what it leaves. */
typedef struct ww__scanner_settled {
    ww__scanner_strips strips;
    ww__scanner_model model;
    ww__scanner_rest *rest[WW_CHANNEL_COUNT]; /* by strip */
    double scatter[WW_CHANNEL_COUNT];         /* D, of the densities beyond their sd; by strip */
} ww__scanner_settled;

#define WW__SCANNER_SETTLED_INIT                                                                   \
    { .strips = WW__SCANNER_STRIPS_INIT }

/*
 * ww__scanner_settle - fit model and rest in turn; the worst row of a strip becomes suspect where
 *                      it is off by more than 3.5 robust deviations, 0.02 D, one code and two
 *                      standard errors from what all others say; until there is no further one. At
 *                      most a quarter of a strip is suspect, and 6 rows remain.
 *
 * Given     settled->strips  filled
 * Returned  settled          release it, also on failure
 * Status    WW_OK; WW_ECONVERGE; WW_EMEMORY
 */
ww_status ww__scanner_settle(ww__scanner_settled *settled, ww_error *err);
void ww__scanner_settled_release(ww__scanner_settled *settled);

#endif
