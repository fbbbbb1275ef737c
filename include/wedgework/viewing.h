/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_VIEWING_H
#define WEDGEWORK_VIEWING_H

#include <wedgework/error.h>

/*
 * ww_viewing_lightness - CIE lightness of a neutral of a density.
 *
 *   Y = 10^-D;  L* = 116 Y^(1/3) - 16 where Y > 216/24389, else Y 24389/27
 *
 * Source    CIE 15; absolute densities, of the perfect diffuser. Status visual is read by the light
 *           of a filament lamp: it holds for neutrals only.
 * Given     density   [D]
 * Accuracy  to rounding
 */
double ww_viewing_lightness(double density);

/*
 * ww_viewing_density - the inverse.
 *
 * Given     lightness  L*   > 0, finite
 * Returned  *density
 * Status    WW_OK; WW_EDOMAIN it is not above 0, where density has no end
 */
ww_status ww_viewing_density(double lightness, double *density, ww_error *err);

/*
 * ww_viewing_veil - density that a print looks to have with the light of the room upon it: in its
 *                   frame, behind glass, on its own shine.
 *
 *   D' = -log10((10^-D + veil) / (1 + veil))
 *
 * Source    definition; veils of 0.5 and 1 % of white: common practice
 * Given     density  [D]
 *           veil     share of a perfect white's light, 0 or more
 */
#define WW_VIEWING_VEILS 2
extern const double ww_viewing_veils[WW_VIEWING_VEILS]; /* 0.005, 0.01 */
double ww_viewing_veil(double density, double veil);

/*
 * ww_viewing_region - the part of a picture's scale that a density above paper white belongs to.
 *
 *   light under 0.30, middle to 1.00, dark beyond
 *
 * Source    common practice: the light half of the scale ends near 1.0, white cloud and bright skin
 *           near 0.30
 */
typedef enum ww_region_name {
    WW_REGION_LIGHT,
    WW_REGION_MIDDLE,
    WW_REGION_DARK,
    WW_REGION_COUNT
} ww_region_name;
ww_region_name ww_viewing_region(double above_white);
const char *ww_viewing_region_word(ww_region_name region); /* "light", "middle", "dark" */

#endif
