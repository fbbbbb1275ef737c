/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_DENSITY_NOTES_H
#define WW_IMAGE_DENSITY_NOTES_H

#include <wedgework/measure.h>

/*
 * ww__density_notes - what the light of the patches means for their densities: clipped, uneven, no
 *                     one density, lighter than open light, beyond the wedge. As ww__measure_notes,
 *                     which adds these.
 *
 * Returned  measured  with notes; where one says that all densities are off, none keeps a doubt
 *                     (ww__density_put_off), so that note and number can't differ
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww__density_notes(ww_measured *measured, const char *what,
                            const ww_measure_request *request, ww_error *err);

#endif
