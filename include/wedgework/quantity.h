/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_QUANTITY_H
#define WEDGEWORK_QUANTITY_H

#include <stdbool.h>

/* How a quantity was come by. Absence is a state of its own, never a value such as NAN or -1. */
typedef enum ww_how { WW_ABSENT = 0, WW_MEASURED, WW_FITTED, WW_EXTRAPOLATED, WW_GIVEN } ww_how;

/* A measured or derived quantity with its 95 % interval, low <= value <= high in the usual case. */
typedef struct ww_quantity {
    double value;
    double low;
    double high;
    ww_how how;
} ww_quantity;

#define WW_QUANTITY_INIT                                                                           \
    { 0.0, 0.0, 0.0, WW_ABSENT }

/* A number that the user may have given or not. */
typedef struct ww_optional {
    bool set;
    double value;
} ww_optional;

/* ww_quantity_present - whether there is a value at all. */
bool ww_quantity_present(ww_quantity quantity);

/*
 * ww_quantity_how_name - the word that files and tables use: "measured", "fitted", "extrapolated",
 *                        "given"; "absent" for absence (files write null instead).
 */
const char *ww_quantity_how_name(ww_how how);

/*
 * ww_doubt_shown - a doubt on the steps that it is shown in: up to a whole number of them, one at
 *                  least, so that none looks smaller than it is; but for a quarter of a step, and
 *                  no more than a twentieth of the doubt itself, which no reader would miss.
 *
 * Given     doubt  half-width, of either sign; step > 0
 */
double ww_doubt_shown(double doubt, double step);

#endif
