/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_WEDGE_PERFORATED_H
#define WEDGEWORK_TESTS_WEDGE_PERFORATED_H

#include "support/wedge_picture.h"

/* Steps that were exposed on perforated film, with clear film of `margin` steps' width before the
 * thinnest of them and behind the densest. */
typedef struct wedge_perforated {
    wedge_scene scene; /* steps, first, gap, length, x, y, reversed, surround, noise */
    double base;       /* density of the clear film */
    double margin[2];  /* steps, at the thin and at the dense end */
    bool whole;        /* the steps reach across the film, or else from hole to hole */
} wedge_perforated;

/* The scan of it; release it with ww_picture_release. */
ww_picture wedge_perforated_new(const wedge_perforated *film);

#endif
