/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_THREE_H
#define WW_CORE_THREE_H

enum { WW__THREE = 3 }; /* red, green, blue */

/* The inverse of a 3 x 3 matrix, and its determinant; where that is 0, `inverse` is untouched.
 * Source: Cramer's rule. */
double ww__three_invert(double m[WW__THREE][WW__THREE], double inverse[WW__THREE][WW__THREE]);

#endif
