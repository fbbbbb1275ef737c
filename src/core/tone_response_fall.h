/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_TONE_RESPONSE_FALL_H
#define WW_CORE_TONE_RESPONSE_FALL_H

#include "points.h"

/*
 * ww__tone_response_fall_cut - where more ink makes less density, mark the readings beyond the
 *                              densest as cut.
 *
 *   Of three neighbours the middle one counts, and of the last two the denser, so that no single
 *   reading makes a fall, nor hides one. A fall is 0.05 D, over two readings at least and half of
 *   them at most. ww__points_cut_fall is for films, whose readings fall one by one.
 *
 * Source    common practice
 * Given     points  all with values, of which log_h is the drive
 * Returned  points cut; they stand by rising drive afterwards
 */
size_t ww__tone_response_fall_cut(ww__points *points);

#endif
