/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>
#include <math.h>
#include <wedgework/texture.h>

#define PI 3.14159265358979323846

double ww_texture_disc(double diameter_um) {
    return PI / 4.0 * diameter_um * diameter_um;
}

double ww_texture_selwyn(double sd, double area_um2) {
    assert(area_um2 > 0.0);
    return sd * sqrt(2.0 * area_um2);
}

double ww_texture_scaled(double sd, double area_um2, double other_um2) {
    assert(area_um2 > 0.0 && other_um2 > 0.0);
    return sd * sqrt(area_um2 / other_um2);
}

double ww_texture_rms(double sd, double area_um2) {
    return 1000.0 * ww_texture_scaled(sd, area_um2, ww_texture_disc(WW_TEXTURE_DISC_UM));
}
