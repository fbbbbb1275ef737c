/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_MERGE_SHIFT_H
#define WW_IMAGE_MERGE_SHIFT_H

#include "image/merge_match.h"

enum { WW__MERGE_PLACES = 9 };

/*
 * Registration of two scans of one size at 3 x 3 places of up to 128 px.
 *
 *   The best correlation, on means of 4 x 4 px and then on pixels; then by least squares
 *       a = g b + right' db/dx + down' db/dy + constant
 *   on smoothed pixels. Correlation does not depend on exposure, nor on a power in the encoding.
 *   A place counts where correlation passes 0.7 and both shifts are known to 0.15 px by what
 *   is left. One that is turned or scaled leaves more: up to 6 px^2 of the squared gradients, 4 of
 *   which 3 degrees or 5 % make, it is apart where its shift passes 1 px by 4 sd. One that is
 *   neither is unlike where more than 0.1 and twice what noise leaves of the variance of both is
 *   not common to them.
 *
 * Source    common practice (normalised correlation; gradients)
 * Given     channel  that is looked at
 *           clips    code from which on one may be clipped
 * Status    WW_OK; WW_EMEMORY; as ww_picture_visit
 */
ww_status ww__merge_shift_find(const ww_picture *a, const ww_picture *b, size_t channel,
                               double clips, ww__merge_place place[WW__MERGE_PLACES],
                               ww_error *err);

/*
 * The windows of both around up to 12 places, 2 half_x times 2 half_y px as far as the picture
 * goes; to be freed in any case. `end` is of a and b.
 * Status WW_OK; WW_EMEMORY; as ww_picture_visit
 */
enum { WW__MERGE_SHIFT_PAIRS = 12 };
ww_status ww__merge_shift_read(const ww_picture *a, const ww_picture *b, size_t channel,
                               const ww__merge_end end[2], const ww__merge_place place[], size_t n,
                               size_t half_x, size_t half_y, ww__merge_pair pair[], ww_error *err);
void ww__merge_shift_free(ww__merge_pair pair[], size_t n);

#endif
