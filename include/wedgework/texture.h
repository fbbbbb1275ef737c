/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TEXTURE_H
#define WEDGEWORK_TEXTURE_H

/*
 * Grain and texture as a spread of density, which depends on the size of what reads it. Where grain
 * is small against that (Selwyn's law)
 *
 *   sd sqrt(2 area) = G, the same for every area
 *
 * Source    Selwyn's law, and 48 um with the factor 1000: secondary texts
 */
#define WW_TEXTURE_DISC_UM 48.0 /* across, of the aperture of RMS granularity */

/* ww_texture_disc - area of a round aperture [um2], of a diameter [um]. */
double ww_texture_disc(double diameter_um);

/* ww_texture_selwyn - G [um D] of a spread [D] through an area [um2]. */
double ww_texture_selwyn(double sd, double area_um2);

/* ww_texture_scaled - the spread [D] through another area [um2]. */
double ww_texture_scaled(double sd, double area_um2, double other_um2);

/* ww_texture_rms - RMS granularity: 1000 times the spread through a disc of 48 um. */
double ww_texture_rms(double sd, double area_um2);

#endif
