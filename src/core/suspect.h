/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_SUSPECT_H
#define WW_CORE_SUSPECT_H

#include "choice.h"
#include "series.h"
#include <wedgework/curve.h>

/* What the finder took out of the fit. Points stay in the readings; only their weight or exposure
 * in the series changes. */
typedef struct ww__finding {
    ww_cause cause; /* WW_CAUSE_SWAPPED, WW_CAUSE_SKIPPED, WW_CAUSE_SLIP: a step read twice, or
                       WW_CAUSE_UNKNOWN: one reading */
    int moved;      /* steps that `point` and all after it were moved: 1 after a step skipped, -1
                       after one read twice, else 0 */
    size_t point;   /* of the series; the first of a pair, or of all that were moved */
    size_t other;   /* the second of a pair; else the same as point */
} ww__finding;

enum { WW__SUSPECT_MAX = 16 };

typedef struct ww__findings {
    ww__finding item[WW__SUSPECT_MAX];
    size_t n;
} ww__findings;

/*
 * ww__suspect_find - look for readings that no rising curve explains.
 *
 *   Four stories are tried against every model: one reading is off; two neighbours are exchanged;
 *   one step was skipped, so that all later readings belong one step further; one step was read
 *   twice, so that they belong one step back. The likeliest is taken where it beats
 *   every model without a story: AICc lower by a margin that allows for the number of places tried,
 *   and for one reading also a deleted residual beyond Bonferroni's 0.75 % limit of Student's t,
 *   3.5 robust deviations and 0.02 D. Then again, until nothing is found; readings are moved once
 *   at the most. Where more scatter is left than readings to 0.01 D have, each reading in turn is
 *   left out, to see whether it hides another.
 *
 *   A step skipped at the very start moves every reading alike and cannot be seen; one skipped near
 *   either end seldom can.
 *
 * Source    mean-shift outlier model: Cook and Weisberg, Residuals and Influence in Regression
 *           (1982); limits 3.5 and 0.02 D: interface conventions
 * Given     series   sorted; weights of suspects become 0, later points of a skip or a
 *                    repeat move along u
 *           may_move  readings may be moved by a step; else those stories are not tried
 *           falling, only, choice  as ww__choice_make; choice of the series as given
 * Returned  series, choice  after what was found
 *           findings
 * Status    WW_OK; WW_ECONVERGE; WW_EMEMORY
 */
ww_status ww__suspect_find(ww__series *series, bool falling, const ww_model_kind *only,
                           bool may_move, ww__choice *choice, ww__findings *findings,
                           ww_error *err);

#endif
