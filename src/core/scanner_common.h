/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_SCANNER_COMMON_H
#define WW_CORE_SCANNER_COMMON_H

#include "scanner.h"
#include "scanner_steps.h"

/*
 * ww__scanner_common_add - to the covariance of a fit, which takes each step of each channel as off
 *                          on its own, what steps and channels have in common.
 *
 *   C + s_1 s_1' + s_2 s_2' + s_3 s_3',  s_1,2 = C J' W v,  v = slope (off of the density)
 *
 *   s_1 where all of the wedge is off as its thin end may be, s_2 where it is off by nothing there
 *   and more and more towards its dense end, as that may be (one sd, ww__scanner_wedge_off). s_3
 *   where a free gamma is found by channels that take their densities from the same column: they
 *   are no witnesses of their own, so that its variance is that of one of them, and what follows it
 *   with it.
 *
 * Source    propagation of errors, to first order (definition)
 * Given     light       the fitted model, by strip
 *           free_gamma  whether gamma is a parameter, the last; before it ln k and constant, by
 *                       strip
 *           weight      W, of rows neither clipped nor suspect
 * Changed   covariance  of all parameters
 */
void ww__scanner_common_add(const ww__scanner_strips *strips, const ww__scanner_light light[],
                            bool free_gamma, const double weight[], double covariance[]);

#endif
