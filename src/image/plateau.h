/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_PLATEAU_H
#define WW_IMAGE_PLATEAU_H

#include <wedgework/measure.h>

/*
 * ww__plateau_find - where codes end below the greatest one: a scanner of fewer bits than its file
 *                    has, or codes that were scaled down after they clipped.
 *
 *   The lightest of steps and surround has one code throughout (sd below half a step of the codes),
 *   where a step of at least half its code, and darker, has noise of 4 steps and more. Noise grows
 *   with light, or, of encoded codes, falls by less than the third: it does not end by itself.
 *   What clips in fewer than half of its pixels is not seen.
 *
 * Source    definition of clipping; shares of pixels by the normal distribution
 * Returned  *measured  clips, of channels where it is seen and not known from a scanner file; steps
 *                      and surround that lie there are clipped; and a note
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww__plateau_find(ww_measured *measured, ww_error *err);

#endif
