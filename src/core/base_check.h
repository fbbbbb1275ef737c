/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_BASE_CHECK_H
#define WW_CORE_BASE_CHECK_H

#include "series.h"
#include <wedgework/model.h>

typedef enum ww__base_verdict {
    WW__BASE_FITS,     /* or there is none, or the steps cannot tell */
    WW__BASE_OFF,      /* the steps contradict it: it is mistyped, misread or of another piece */
    WW__BASE_UNEXPOSED /* reversal: the unexposed piece is the densest, not the thinnest */
} ww__base_verdict;

/*
 * ww__base_check - whether the base reading can belong to the steps.
 *
 *   The steps are fitted without it. Where they show the toe (the first step lies less than 0.05 D
 *   above its asymptote), a base is off that lies more than 4.5 standard errors of the difference
 *   from the asymptote, and more than 0.025 D (up to 0.06 D where the toe still rises). Anywhere,
 *   a base is off when two or more steps are thinner by over 0.03 D and 4.5 residual deviations.
 *   On reversal material a base nearer to the dense end is the unexposed piece, which gives D-max.
 *
 * Source    common practice
 * Given     series   sorted; unchanged on return
 *           falling  reversal
 *           only     as ww__choice_make
 * Returned  *verdict, *expected  density that the steps ask for, where WW__BASE_OFF
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww__base_check(const ww__series *series, bool falling, const ww_model_kind *only,
                         ww__base_verdict *verdict, double *expected, ww_error *err);

#endif
