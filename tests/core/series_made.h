/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_CORE_SERIES_MADE_H
#define WEDGEWORK_TESTS_CORE_SERIES_MADE_H

#include "core/series.h"
#include "support/emulsion.h"
#include "support/support.h"
#include <wedgework/model.h>

/* Makes what a fit sees, without readings. Release them with ww__series_release. */
static inline ww__series made_series(size_t n, double from, double gap) {
    ww__series s = WW__SERIES_INIT;
    test_status("series", ww__series_new(n, &s, NULL), WW_OK, NULL);
    for (size_t i = 0; i < n; i++)
        s.u[i] = from + gap * (double)i;
    test_status("series", ww__series_sort(&s, NULL), WW_OK, NULL);
    return s;
}

static inline void made_base(ww__series *s, double density) {
    s->has_base = true;
    s->base = density;
    s->base_weight = 1.0;
}

/* The densities of a shape itself. */
static inline void made_of_shape(const ww_shape *shape, ww__series *s) {
    for (size_t i = 0; i < s->n; i++)
        s->density[i] = ww_model_density(shape, shape->falling ? -s->u[i] : s->u[i], NULL);
}

/* Readings of a simulated emulsion at 21 steps, base read first. */
static inline ww__series made_of_emulsion(const emulsion *e, dice *d, double sd) {
    ww__series s = made_series(21, -3.05, 0.15);
    made_base(&s, e->base + dice_normal(d, sd));
    for (size_t i = 0; i < s.n; i++)
        s.density[i] = emulsion_density(e, s.u[i]) + dice_normal(d, sd);
    return s;
}

#endif
