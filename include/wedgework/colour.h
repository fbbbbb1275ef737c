/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_COLOUR_H
#define WEDGEWORK_COLOUR_H

#include <wedgework/error.h>

/* CIELAB of the 2 degree observer under D50. */
typedef struct ww_lab {
    double l, a, b;
} ww_lab;

/* ww_colour_lab - CIELAB of X, Y, Z beside those of white. Source: CIE 15, as little CMS has it. */
ww_lab ww_colour_lab(const double xyz[3], const double white[3]);

/*
 * ww_colour_de2000 - CIEDE2000 between two colours, with weights of 1.
 *
 * Source    CIE 142-2001, as little CMS computes it
 * Given     one, other   L* 0 to 100
 * Returned  the difference, 0 or more; the order plays no part
 * Accuracy  5e-5 against the 34 pairs of Sharma, Wu, Dalal (2005)
 */
double ww_colour_de2000(ww_lab one, ww_lab other);

/*
 * ww_colour_light - the red, green and blue light of a display of sRGB's primaries for a colour.
 *
 * Source    IEC 61966-2-1, with its white brought to D50 by Bradford's method; constants from
 *           memory, held against little CMS
 * Given     lab    CIELAB under D50
 * Returned  light  1 for white; below 0 or above 1 where the display cannot show the colour
 * Accuracy  within one code of 255 of what little CMS makes of its own sRGB profile
 */
void ww_colour_light(ww_lab lab, double light[3]);

/*
 * ww_colour_of_screen - what is shown on a display, as CIELAB under D50 beside its own white.
 *
 *   Y = 100 luminance / white; X = x Y / y, Z = (1 - x - y) Y / y; XYZ to L*a*b* under D50
 *
 * Nothing is adapted: an eye that a room of D50 has adapted sees a white of 6500 K as blue, b* < 0.
 *
 * Source    definition (CIE 15)
 * Given     luminance   [cd/m2]           >= 0
 *           white       of the display's white [cd/m2]   > 0
 *           x, y        chromaticity      y > 0, x >= 0, x + y <= 1
 * Returned  *lab
 * Status    WW_OK; WW_EDOMAIN a condition above does not hold
 */
ww_status ww_colour_of_screen(double luminance, double white, double x, double y, ww_lab *lab,
                              ww_error *err);

/*
 * ww_colour_temperature - correlated colour temperature of a display's white [K].
 *
 * Source    Robertson's isotherms, as little CMS has them; no farther than 0.05 from daylight in
 *           CIE 1960 u, v (CIE 15, from memory)
 * Given     x, y   chromaticity
 * Returned  *kelvin, 4000 to 25000
 * Status    WW_OK; WW_ENODATA it is no chromaticity, or has no such temperature
 * Accuracy  1 % from 5000 to 7500 K
 */
ww_status ww_colour_temperature(double x, double y, double *kelvin, ww_error *err);

#endif
