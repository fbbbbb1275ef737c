/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_OBSERVER_H
#define WW_CORE_OBSERVER_H

#include <stddef.h>

/* Wavelengths of the table: 360 to 780 nm. */
#define WW__OBSERVER_FIRST 360.0
#define WW__OBSERVER_STEP 10.0
enum { WW__OBSERVER_ROWS = 43 };

/*
 * ww__observer_weight - share of a spectral value in X, Y or Z (0 to 2) of the 2 degree observer
 *                       under D50; those of Y add up to 100.
 *
 * Source    CIE 15, by a public table; see observer.c
 * Accuracy  sums are the white of D50, 96.42, 100, 82.51, within 0.01
 */
double ww__observer_weight(size_t row, size_t axis);

#endif
