/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_BEND_H
#define WW_CORE_BEND_H

#include "series.h"
#include <wedgework/model.h>

/*
 * ww__bend_found - whether readings that begin on a straight part of the shape bend away from it.
 *
 *   A strip that begins on the shoulder never shows how steep the material gets, but a model of few
 *   parameters lays its straight line through it. The readings under that line are fitted by a
 *   parabola: its slope must fall by a tenth of itself or more, and the bend must be beyond the 1 %
 *   limit of Student's t, where readings are trusted to 0.003 D at best.
 *
 * Source    common practice; t test of the quadratic term in a regression
 * Given     series  sorted
 *           shape   fitted to it
 * Returned  true only where the straight part holds the thinnest step and three more
 * Status    none: it cannot fail
 */
bool ww__bend_found(const ww__series *series, const ww_shape *shape);

#endif
