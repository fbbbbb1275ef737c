/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_TONE_RESPONSE_SLIP_H
#define WW_CORE_TONE_RESPONSE_SLIP_H

#include "series.h"

enum { WW__TONE_SLIPS = 4 };

/* A step of a scale that was skipped, or read twice. */
typedef struct ww__tone_slip {
    int moved;    /* steps that readings from `drive` on belong further: 1 or -1 */
    double drive; /* of the first of them, as the table has it */
} ww__tone_slip;

/*
 * ww__tone_response_slip_places - where a scale looks as if a step had been skipped or read twice.
 *
 *   Between two neighbouring greys density grows by D, and at the mean rate of the intervals before
 *   and after by m; had a step been skipped there, by m' over the interval to the next but one; had
 *   one been read twice, by nothing. Places are those where (D - m)^2 exceeds (D - m')^2, or D^2,
 *   by most and by (0.01 D)^2 at least; of the one kind and of the other two at the most. None is
 *   where the rate on one side is a third of that on the other or less: that is a bend, of which an
 *   ink limit's is the sharpest.
 *
 * Source    definition; 0.01 D: what readings repeat to, common practice; a third: where rates are
 *           D, D and D / 3, a step skipped says as much as none
 * Given     series  sorted, u a drive; what has no weight counts as not there
 * Returned  slip    of them the return value; none within two greys of either end
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww__tone_response_slip_places(const ww__series *series,
                                        ww__tone_slip slip[WW__TONE_SLIPS], size_t *n,
                                        ww_error *err);

/*
 * ww__tone_response_slip_move - the same readings where they would belong: each from `drive` on at
 *                               the grey after or before its own, and none beyond the last one.
 *
 * Returned  moved  sorted (release it)
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww__tone_response_slip_move(const ww__series *series, ww__tone_slip slip,
                                      ww__series *moved, ww_error *err);

#endif
