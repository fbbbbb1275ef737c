/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_STORY_H
#define WW_CORE_STORY_H

#include "choice.h"
#include "series.h"
#include <wedgework/curve.h>

/* One story about what went wrong in a series, and how well it does. */
typedef struct ww__story {
    ww_cause cause; /* WW_CAUSE_SWAPPED, WW_CAUSE_SKIPPED, WW_CAUSE_SLIP: a step read twice; or
                     * WW_CAUSE_UNKNOWN: one reading is off */
    int moved;      /* steps that `point` and all after it go on: 1, -1, or 0: none moves */
    size_t point;   /* of the series */
    double score;   /* AICc on all readings, the places tried paid for */
} ww__story;

/*
 * ww__story_best - the story that explains the series best, over all models of the choice.
 *
 *   One reading is off; two neighbours are exchanged; one step was skipped, or read twice, so that
 *   all later readings belong elsewhere. The first-order change of the sum of squares picks the
 *   places, which are then fitted in full. One reading must also depart by more than Bonferroni's
 *   0.75 % limit of Student's t, 3.5 robust deviations and 0.02 D.
 *
 * Source    as ww__suspect_find
 * Given     series  sorted; choice made of it
 *           moved_before  stories that move readings are not tried
 * Returned  best    score HUGE_VAL: none holds. It explains more than no story does where its score
 *                   is less than the least AICc of the choice
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww__story_best(const ww__series *series, const ww__choice *choice, bool moved_before,
                         ww__story *best, ww_error *err);

/* ww__story_apply - what is suspect loses its weight; what has slid along is put back.
 *                   Status WW_OK; WW_EMEMORY */
ww_status ww__story_apply(ww__series *series, const ww__story *story, ww_error *err);

/* ww__story_partner - the next point with weight, with which point i may have been exchanged. */
size_t ww__story_partner(const ww__series *series, size_t i);

#endif
