/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_SETTINGS_H
#define WW_IMAGE_SETTINGS_H

#include <wedgework/measure.h>

/* From where on what lies beside a strip differs from what lay beside the wedge. */
#define WW__SETTINGS_SHARE 0.25 /* of open light, for flare */
#define WW__SETTINGS_MASK 0.05  /* D, of two masks */

/* What strays of the light beside: 0.1 to 1 % of it in scanners, so that 1 % is the half-width at
 * 95 %; common practice. */
#define WW__SETTINGS_FLARE 0.005

/*
 * ww__settings_note - whether a strip was scanned as the wedge of the scanner file was.
 *
 *   The exposure is checked by open light, a spot named glass: in each channel it is as light as
 *   open light was then (`ww__surround_above`, within its limit), and not clipped. Where the
 *   surround or another patch is as light, it may be open light or film base that got more light,
 *   as the base does in a scan planned for it: both are told, as they cannot be told apart. Levels
 *   and encoding are by an embedded profile, which both scans have, or by a mask beside both that
 *   is alike within 0.05 D; a known wedge in the scan checks all. What is left unchecked is told,
 *   and by how much the surround is lighter or darker than that of the wedge, as light with flare
 *   and dark, where both are masks. So is by how much it is darker than open light was then, beyond
 *   the limit and by less than a stop, where no step is as light: whether that is bare glass, which
 *   would show another exposure, or clear film, nobody can tell.
 *
 *   A spot named glass, by transmitted light, must be open light: where it departs by more than the
 *   limit, all densities are off, and a note says by how much.
 *
 *   Flare that follows what lies beside is not in the calibration where that differs, by shares of
 *   open light s: of 1 % of it, density 2.00 reads log10(1 + s_now - s_then) thinner. The doubt of
 *   every density holds it: sd^2 + (0.005 (s_now - s_then) 10^D / ln 10)^2. A note tells it from a
 *   difference of 25 % on.
 *
 * Source    definition
 * Given     known  a known wedge was read, whose densities are compared elsewhere
 * Returned  measured  with the notes and the doubts
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww__settings_note(ww_measured *measured, bool known, const ww_scanner *scanner,
                            ww_error *err);

/*
 * ww__settings_pixels_note - the same of pixels that somebody else has counted.
 *
 * Given     alike    what is as light as open light was seen in each channel
 *           profile  embedded in the scan, NULL where none
 */
ww_status ww__settings_pixels_note(bool alike, const char *profile, const ww_scanner *scanner,
                                   ww_notes *notes, ww_error *err);

/*
 * ww__settings_whole_note - the same of all pixels of a scan: told from where 1 % or 0.1 % of them
 *                           are as light as open light was (the percentiles 99 and 99.9).
 *
 * Given     profile  embedded in the scan, NULL where none
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww__settings_whole_note(ww_whole *whole, const char *profile, const ww_scanner *scanner,
                                  ww_error *err);

#endif
