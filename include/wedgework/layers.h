/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_LAYERS_H
#define WEDGEWORK_LAYERS_H

#include <wedgework/curve.h>
#include <wedgework/error.h>

/*
 * The three layers of a colour paper. Each makes a dye of its own light, and each dye absorbs in
 * every channel that is read:
 *
 *   D_c = sum_k dye_ck a_k(log H_k)
 *
 * The paper's curves, printed through a grey wedge, are that for one log H in all layers, so that
 * they tell a_k, and a print with a cast tells the log H of its layers. Read channel by channel it
 * does not: a dye that is far off shows in the others, the more the less slope they have.
 *
 *     dye absorbs of    red    green  blue
 *     cyan              1      0.15   0.10
 *     magenta           0.05   1      0.20
 *     yellow            0      0.05   1
 *
 * Source    densities add up: common practice; amounts from memory of usual dyes. What a paper's
 *           own are off by is left to the response (wedgework/response.h)
 */
enum { WW_LAYERS = 3 }; /* of red, green and blue light, as ww_channel */

/*
 * ww_layers_density - densities of a print, by the log exposures of its layers.
 *
 * Given     paper  red, green and blue fitted
 *           log_h  of red, green, blue light
 * Returned  density
 *           by     dD_c / dlog H_k, by[c][k]; NULL allowed
 * Status    as ww_curve_density
 */
ww_status ww_layers_density(const ww_curve *paper, const double log_h[WW_LAYERS],
                            double density[WW_LAYERS], double by[WW_LAYERS][WW_LAYERS],
                            ww_error *err);

/*
 * ww_layers_log_h - the inverse, by Newton's method.
 *
 * Given     density
 * Returned  log_h
 *           turn     dlog H_k / dD_c, turn[k][c]
 * Status    WW_OK; WW_ENODATA no log exposures within the curves give these densities
 * Accuracy  1e-9 D
 */
ww_status ww_layers_log_h(const ww_curve *paper, const double density[WW_LAYERS],
                          double log_h[WW_LAYERS], double turn[WW_LAYERS][WW_LAYERS],
                          ww_error *err);

/*
 * ww_layers_dye_sd - what the dyes of a paper, which are not quite the usual ones, leave open of
 *                    the step from one print's log exposures to another's, besides what is in the
 *                    response (wedgework/response.h).
 *
 *   Where all layers have one log H the curve itself says what the dyes do together, so that dye k
 *   in channel c errs by its amount beyond that: e_c = sum_k d_ck (a_k(H_k) - a_k(H_c)). Between
 *   two prints the difference of these counts. As far as it goes along with log H, by the slopes
 *   at the reference, it mixes the layers as the response does, whose doubt of dyes holds it; what
 *   is left is for slopes that change on the way.
 *
 *     sd of d    red    green  blue
 *     cyan              0.08   0.05
 *     magenta    0.04          0.06
 *     yellow     0.01   0.06
 *
 * Source    propagation of errors to first order; standard deviations from memory
 * Given     log_h, reference  of two prints of one paper
 * Returned  sd of each layer's log H; 0 where a log H is beyond the curves
 */
void ww_layers_dye_sd(const ww_curve *paper, const double log_h[WW_LAYERS],
                      const double reference[WW_LAYERS], double sd[WW_LAYERS]);

#endif
