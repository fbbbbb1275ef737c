/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_MERGE_MOVED_H
#define WW_IMAGE_MERGE_MOVED_H

#include "image/merge_differ.h"
#include "image/merge_shift.h"
#include "image/merge_slip.h"

/*
 * Refuses scans a part of which lies displaced by more than 1 px, once all rows have been seen. Up
 * to 12 places are read again: those that differ most, and those that depart most from the shift of
 * the whole. There ww__merge_match_slipped decides; what lies 4 px off or further must be borne out
 * by another place. What differs and lies where it should is left to be told.
 *
 * Given     slips  hold no sums afterwards
 *           worst  n places that differ, first the most
 * Status    WW_OK; WW_EMISMATCH a part is displaced: how far, and where; WW_EMEMORY; as
 *           ww_picture_visit
 */
enum { WW__MERGE_MOVED_WORST = 4 };
ww_status ww__merge_moved_refuse(const ww_picture *shorter, const ww_picture *longer,
                                 const ww__merge_rows *rows, ww__merge_slips *slips,
                                 const ww__merge_differing worst[], size_t n, ww_error *err);

#endif
