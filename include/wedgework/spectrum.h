/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_SPECTRUM_H
#define WEDGEWORK_SPECTRUM_H

#include <stddef.h>
#include <wedgework/colour.h>
#include <wedgework/error.h>
#include <wedgework/quantity.h>
#include <wedgework/readings.h>

/* Transmittance or reflectance factor at one wavelength; 1 is open light, or perfect white. */
typedef struct ww_spectral_point {
    double nm;
    double value;
} ww_spectral_point;

/* The spectrum of one sample, by rising wavelength. */
typedef struct ww_spectrum {
    const ww_spectral_point *point;
    size_t n;
    double resolution; /* least difference that the values can show, as 0.0001; 0 where not known */
} ww_spectrum;

#define WW_SPECTRUM_GAP_MOST 20.0     /* [nm] between neighbouring values */
#define WW_SPECTRUM_OUTSIDE_MOST 0.01 /* share of a product that may lie outside the values */

/* A density made of a spectrum. */
typedef struct ww_spectrum_reading {
    ww_quantity density; /* WW_ABSENT where no light is left, high INFINITY where none may be */
    double outside;      /* share of the product outside the wavelengths measured */
} ww_spectrum_reading;

/*
 * ww_spectrum_density - density of a status from a spectral transmittance or reflectance factor.
 *
 *   D = -log10(sum S T / sum S)                          at 340, 350 ... 770 nm
 *
 * S is the spectral product. Where a wavelength was not measured, T is that of the cubic through
 * the densities of the four values around it (their straight line, in T, where one of them is not
 * above 0); outside the values, T is that of the nearest.
 *
 * Source    definition, ISO 5-3 (from memory); products by a public table, see
 *           src/core/status_products.c. For spectral data the standard (ISO 5-3:2009, 4.3 to 4.5,
 *           by an excerpt) has weights of its own, which come of products at 1 nm and are not held
 *           here; what that makes is stated below. The nearest value outside: common practice (ASTM
 *           E308, from a secondary text). The cubic: our own choice, for the densities of dyes are
 *           smoother than their transmittances.
 * Given     spectrum  wavelengths rising, > 0, at most WW_SPECTRUM_GAP_MOST apart; values from -0.1
 *                     to 2
 *           status    A, M, T, E; for the channel visual, which they share, also visual or unknown
 *           channel
 * Returned  *reading  density WW_MEASURED. The interval holds: resolution of the values (uniform);
 *                     the digits of the products (uniform); the whole difference between cubic
 *                     and straight line in density, at every wavelength to one side; T between 0
 *                     and 1 outside the values. What the instrument adds is not known here.
 * Status    WW_OK; WW_EDOMAIN the spectrum is not as above, or has fewer than 4 values; WW_ENODATA
 *           no such product, or more than WW_SPECTRUM_OUTSIDE_MOST of it lies outside the values
 * Accuracy  1e-12 against the sums. Sums against integrals at 1 nm: 0.007 D on drawn dyes to 2.5 D,
 *           0.0004 D on a measured ramp of one ink. The cubic on values 20 nm apart: 0.014 D on the
 *           same dyes.
 */
ww_status ww_spectrum_density(const ww_spectrum *spectrum, ww_density_status status,
                              ww_channel channel, ww_spectrum_reading *reading, ww_error *err);

#define WW_SPECTRUM_LAB_GAP_MOST 10.0 /* [nm] between neighbouring values */

/*
 * ww_spectrum_lab - CIELAB of a spectral reflectance factor, D50 and 2 degrees.
 *
 *   X = sum w_x R                                        at 360, 370 ... 780 nm, as Y and Z
 *
 * The white is that of R = 1. Between and outside the values R is as of ww_spectrum_density.
 *
 * Source    definition, CIE 15; weights: see src/core/observer.c
 * Given     spectrum  as ww_spectrum_density, at most WW_SPECTRUM_LAB_GAP_MOST apart
 * Returned  *lab
 * Status    WW_OK; WW_EDOMAIN the spectrum is not as above; WW_ENODATA its values lie too far
 *           apart, or more than WW_SPECTRUM_OUTSIDE_MOST of X, Y or Z lies outside them
 * Accuracy  0.015 in each coordinate against what an instrument made of a measured ramp of one ink,
 *           written to 0.01; 0.005 against integrals at 1 nm of a smooth spectrum
 */
ww_status ww_spectrum_lab(const ww_spectrum *spectrum, ww_lab *lab, ww_error *err);

#endif
