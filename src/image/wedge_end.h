/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_WEDGE_END_H
#define WW_IMAGE_WEDGE_END_H

#include <wedgework/measure.h>

/*
 * ww__wedge_end_check - refuses an outermost step that only the number of steps in the wedge's file
 *                       makes one, and that is off by more than it differs from its neighbour:
 *                       glass or a mask beside the wedge, named as one step too many. What all
 *                       densities are off by does not count.
 *
 * Given     measured  calibrated, labels of the wedge, in its order
 *           wedge     on the glass; without repeats
 * Status    WW_OK, also where the picture bears the end out, or nothing can be compared;
 *           WW_EMISMATCH
 */
ww_status ww__wedge_end_check(const ww_measured *measured, const ww_readings *wedge,
                              const ww_scanner *scanner, ww_error *err);

#endif
