/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_MEASURE_H
#define WW_IMAGE_MEASURE_H

#include "image/area.h"

/* What the three ways of measuring have in common. */

/*
 * ww__measure_settings - whether a scan was made as the one that calibrated the scanner.
 *
 * Given     scanner  NULL: nothing to compare
 * Status    WW_OK; WW_EMISMATCH bits, greatest code or channels differ, or profiles where both
 *           scans have one
 */
ww_status ww__measure_settings(const ww_picture *picture, const ww_scanner *scanner, ww_error *err);

/*
 * ww__measure_profile_note - where only one of the two scans carries a profile, nothing says that
 *                            their codes mean the same light.
 *
 * Given     scanner  NULL: nothing to compare
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww__measure_profile_note(const ww_picture *picture, const ww_scanner *scanner,
                                   ww_notes *notes, ww_error *err);

/* ww__measure_resolution - px a mm; absent where the two ways differ: one number would not do. */
ww_optional ww__measure_resolution(const ww_picture *picture);

/*
 * ww__measure_patches - read areas of a scan: all but how a strip lies.
 *
 * Given     name      of each area, n > 0
 *           what      they are, "step" or "spot"
 * Returned  measured  empty before; to be released whatever the status
 * Status    WW_OK; WW_EDOMAIN an area without a pixel; WW_EMISMATCH as above; WW_ENODATA an area in
 *           which no sample is a number; WW_EMEMORY; what the picture's reader returns
 */
ww_status ww__measure_patches(const ww_picture *picture, const ww_measure_request *request,
                              const ww__area area[], const char *const name[], size_t n,
                              const char *what, ww_measured *measured, ww_error *err);

/*
 * ww__measure_beside - the spots of a request, behind the steps of a strip that was read.
 *
 * Status    as ww_measure_spots
 */
ww_status ww__measure_beside(const ww_picture *picture, const ww_measure_request *request,
                             ww_measured *strip, ww_error *err);

#endif
