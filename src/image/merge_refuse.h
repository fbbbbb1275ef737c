/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_MERGE_REFUSE_H
#define WW_IMAGE_MERGE_REFUSE_H

#include "image/merge_shift.h"
#include <wedgework/scan_merge.h>

/* Why two scans are not merged. */

/* Whether two pictures may be merged at all. Status as ww_scan_merge_measure */
ww_status ww__merge_check(const ww_picture *a, const ww_picture *b, const ww_scanner *scanner,
                          ww_error *err);

/* WW_ENODATA: only n of `seen` places hold light in both. */
ww_status ww__merge_refuse_overlap(const ww_picture *a, const ww_picture *b, ww_channel channel,
                                   size_t n, size_t seen, size_t least, ww_error *err);

/* WW_EMISMATCH: the longer scan is displaced, most at the worst of all places. */
ww_status ww__merge_refuse_shift(const ww_picture *longer,
                                 const ww__merge_place place[WW__MERGE_PLACES],
                                 const ww__merge_place *worst, ww_error *err);

/* WW_EMISMATCH: at more places than lie on each other both hold detail that does not match. */
ww_status ww__merge_refuse_unlike(const ww_picture *longer, const ww_picture *shorter,
                                  size_t unlike, ww_error *err);

/* WW_EMISMATCH: a part of the longer scan is displaced, though the whole is not. */
ww_status ww__merge_refuse_part(const ww_picture *longer, const ww__merge_place *place,
                                ww_error *err);

#endif
