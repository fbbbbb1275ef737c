/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_CHOICE_H
#define WW_CORE_CHOICE_H

#include "resample.h"
#include "series.h"
#include "shape_fit.h"

/* Every model that the readings allow; the one reported, and the share of each in the doubt. */
typedef struct ww__choice {
    ww__candidate candidate[WW_MODEL_COUNT];
    size_t n;
    size_t best;
} ww__choice;

/*
 * ww__choice_make - fit all models (or the one that is given) and choose by AICc.
 *
 *   A model whose shoulder the readings do not determine is no candidate. The closed models, whose
 *   parameters mean something, are preferred to the spline where AICc differs by less than 2.
 *   share ~ e^(-(AICc - least)/3): AICc of two dozen readings is itself uncertain by a few units.
 *
 * Source    AICc: Hurvich and Tsai, Biometrika 76 (1989) 297-307; differences under 2: Burnham and
 *           Anderson, Model Selection and Multimodel Inference; the flattened share: common
 *           practice, its coverage is shown by tests/core/test_resample.c
 * Given     series  sorted
 *           only    the model to take, NULL: all
 * Status    WW_OK; WW_ENODATA too few readings; WW_ECONVERGE; WW_EMEMORY
 */
ww_status ww__choice_make(const ww__series *series, bool falling, const ww_model_kind *only,
                          ww__choice *choice, ww_error *err);

#endif
