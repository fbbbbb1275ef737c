/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>
#include <math.h>
#include <wedgework/viewing.h>

/* CIE 15: the straight part of lightness lies under Y = (6/29)^3, its slope is (29/3)^3. */
static const double dark_y = 216.0 / 24389.0, dark_slope = 24389.0 / 27.0;

static const double middle_from = 0.30, dark_from = 1.00; /* [D above paper white] */

const double ww_viewing_veils[WW_VIEWING_VEILS] = {0.005, 0.01};

double ww_viewing_lightness(double density) {
    const double y = pow(10.0, -density);
    return y > dark_y ? 116.0 * cbrt(y) - 16.0 : dark_slope * y;
}

ww_status ww_viewing_density(double lightness, double *density, ww_error *err) {
    assert(density);
    if (!(lightness > 0.0) || !isfinite(lightness))
        return ww_error_set(err, WW_EDOMAIN,
                            "lightness %g has no density; give one above 0, as L* is read",
                            lightness);
    const double root = (lightness + 16.0) / 116.0;
    const double y = lightness > dark_slope * dark_y ? root * root * root : lightness / dark_slope;
    *density = -log10(y);
    return WW_OK;
}

double ww_viewing_veil(double density, double veil) {
    assert(veil >= 0.0);
    return log10((1.0 + veil) / (pow(10.0, -density) + veil));
}

ww_region_name ww_viewing_region(double above_white) {
    return above_white < middle_from  ? WW_REGION_LIGHT
           : above_white <= dark_from ? WW_REGION_MIDDLE
                                      : WW_REGION_DARK;
}

const char *ww_viewing_region_word(ww_region_name region) {
    static const char *const word[WW_REGION_COUNT] = {"light", "middle", "dark"};
    assert((int)region >= 0 && region < WW_REGION_COUNT);
    return word[region];
}
