/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_READINGS_LIGHT_H
#define WEDGEWORK_READINGS_LIGHT_H

#include <wedgework/readings.h>

/* What visual densities were made of. */
typedef enum ww_light { WW_LIGHT_NONE, WW_LIGHT_LUMINANCE, WW_LIGHT_LIGHTNESS } ww_light;

#define WW_LIGHTNESS_SD 0.2  /* of a coordinate of CIELAB read once: common practice */
#define WW_LUMINANCE_SD 0.01 /* share of a luminance read once: common practice */

/*
 * ww_readings_light - visual densities for a table that has none, made of the light that was read.
 *
 *   D = log10(Y_white / Y)   of luminance, Y_white being the greatest in the table
 *   D = -log10 Y(L*)         of lightness, where there is no luminance
 *
 *   Those of luminance, and all of a display, begin at its own white. Where no light is left, the
 *   reading is `over`. The sd is that of the light, else 0.2 L* and 1 % of a luminance.
 *
 * Source    definition; L*: CIE 15
 * Returned  readings  with the column visual, and relative to white where that begins there
 *           what they were made of; WW_LIGHT_NONE: they have the column already, or no light
 * Accuracy  1e-6 D against densities of L* 50 and of half and a thousandth of a luminance
 */
ww_light ww_readings_light(ww_readings *readings);

#endif
