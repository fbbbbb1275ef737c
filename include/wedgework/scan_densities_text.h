/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_SCAN_DENSITIES_TEXT_H
#define WEDGEWORK_SCAN_DENSITIES_TEXT_H

#include <wedgework/error.h>
#include <wedgework/scan_densities.h>
#include <wedgework/text_style.h>

/*
 * ww_scan_densities_text - what a picture of densities holds, for people: how samples are
 *                          densities, and their doubt, as a sentence, one line of why, the ends of
 *                          the calibration and the pixels beyond them, notes.
 *
 * Given     densities, style
 * Returned  *text    to be freed by the caller; ends with a line end
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww_scan_densities_text(const ww_scan_densities *densities, const ww_text_style *style,
                                 char **text, ww_error *err);

#endif
