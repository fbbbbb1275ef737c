/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_FIND_OTHER_H
#define WW_IMAGE_FIND_OTHER_H

#include "image/area.h"
#include "image/find.h"
#include "image/find_steps.h"

/* Whether what was found twice lies on the glass twice. */

/* Where a strip lies; of one of another number of steps, from its first edge to its last. */
ww__area ww__other_area(const ww__strip_found *found);
ww__area ww__other_area_seen(const ww__band *band, const ww__steps *there);

/*
 * ww__other_apart - whether two areas belong to two strips: they do not overlap, and the one is not
 *                   a row beside the other that begins and ends with it, as a film has beyond its
 *                   perforation.
 */
bool ww__other_apart(const ww__area *a, const ww__area *b);

/* ww__other_strip - the part of the picture around an area that --strip would take. */
ww_region ww__other_strip(const ww__area *area, const ww_picture *picture);

#endif
