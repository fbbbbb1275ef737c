/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_SCANNER_H
#define WW_CORE_SCANNER_H

#include <stddef.h>
#include <wedgework/scanner.h>

#define WW__SCANNER_LN10 2.302585092994045684
#define WW__SCANNER_ENCODED 1.1          /* power: no wedge is off by 10 % */
#define WW__SCANNER_95 1.959963984540054 /* half-width of 95 % of a normal, in sd */
#define WW__SCANNER_SURELY (3.290526731491926 / WW__SCANNER_95) /* 99.9 % by that */

enum { WW__SCANNER_STEPS_LEAST = 6 };

/*
 * The model of one channel. Codes are shares of white, so that every number has the size of light:
 *
 *   share = encoded(k 10^-D + constant),  constant = k flare + dark
 */
typedef struct ww__scanner_light {
    ww_encoding encoding;
    double gamma; /* of a power */
    double k, constant;
} ww__scanner_light;

/* ww__scanner_encode - share of a light, and its slope where asked for; 0 and slope 0 where light
 *                      <= 0. ww__scanner_decode is the way back. */
double ww__scanner_encode(const ww__scanner_light *light, double value, double *slope);
double ww__scanner_decode(const ww__scanner_light *light, double share);

/* ww__scanner_share - at a density, and its slope d share / dD where asked for; 0 and slope 0 where
 *                     light <= 0. */
double ww__scanner_share(const ww__scanner_light *light, double density, double *slope);

/*
 * ww__scanner_dense - density of a share; where the share is darker than the constant, that of a
 *                     straight line through the model at density `near`.
 */
double ww__scanner_dense(const ww__scanner_light *light, double share, double near);

/* The model of a fitted channel. */
ww__scanner_light ww__scanner_light_of(const ww_scanner *scanner, ww_channel channel);

/*
 * ww__scanner_is_encoded - whether codes were encoded on purpose: by sRGB, or a power of 1.1 and
 *                          up. One nearer to 1 is the wedge's or the scanner's fault.
 * ww__scanner_is_strange - whether that power is none that exports make, even with its 99.9 %
 *                          interval and 5 %: they are 1.8 to 2.4, what is not quite a power among
 *                          them (ITU-R BT.709 near 2, CIE L* near 2.4). Then the wedge's steps are
 *                          smaller or larger than they are said to be.
 *
 * Source    common practice
 */
bool ww__scanner_is_encoded(const ww_scanner *scanner);
bool ww__scanner_is_strange(const ww_scanner *scanner);

/*
 * ww__scanner_scale_off - D by which a density is off where codes are light, and a power near 1 is
 *                         none of the scanner's but all of the wedge file's densities are too great
 *                         or too small:
 *
 *   |D (1 - 1/gamma)|
 *
 * Source    closed form, of 10^(-D / gamma)
 * Returned  0 where codes were encoded on purpose
 */
double ww__scanner_scale_off(const ww_scanner *scanner, double density);

/* ww__scanner_end - the code at which a channel's codes end: clips, or white. */
double ww__scanner_end(const ww_scanner *scanner, ww_channel channel);

/* ww__scanner_ends_black - whether steps denser than all that count are clipped at code 0: it is
 *                          the codes that end there, not the wedge. */
bool ww__scanner_ends_black(const ww_scanner *scanner, ww_channel channel);

#endif
