/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_IMAGE_SURROUND_H
#define WW_IMAGE_SURROUND_H

#include "image/find.h"
#include <wedgework/measure.h>

enum { WW__SURROUND_WORDS = 300 };

/* One pixel in a thousand is lighter by its noise than so many sd (normal distribution). */
#define WW__SURROUND_NOISE 3.09

/*
 * ww__surround_read - the lightest that lies beside a strip: bare glass, as a rule, a mask, or the
 *                     margin of a film.
 *
 *   Looked at are small pieces along both sides and beyond both ends, in two rows: close to the
 *   strip, and beyond a margin of half its width. Those of which over a third is left out as dust,
 *   or of fewer than 25 pixels, tell nothing.
 *
 * Given     scanner   NULL: codes are averaged as they are
 * Returned  surround  of each channel; not seen where no piece tells anything
 * Status    WW_OK; WW_EMEMORY; what the picture's reader returns
 */
ww_status ww__surround_read(const ww_picture *picture, const ww__strip_found *found,
                            const ww_scanner *scanner, size_t threads,
                            ww_surround surround[WW_CHANNEL_COUNT], ww_error *err);

/* ww__surround_light - light of a code beyond what is constant, k flare + dark. */
double ww__surround_light(const ww_scanner *scanner, int channel, double code);

/*
 * ww__surround_above - D by which a code is lighter than open light was when the scanner was
 *                      calibrated, by the formula of the note below; below 0: darker.
 *
 * Returned  *limit  D up to which that may be none
 */
double ww__surround_above(const ww_scanner *scanner, int channel, double code, double *limit);

/* ww__surround_code - the code that lies so far above, in D: the inverse of ww__surround_above. */
double ww__surround_code(const ww_scanner *scanner, int channel, double above);

/*
 * ww__surround_below_0 - what a density below 0 means, which no film has: words that follow "are".
 *
 *   Where bare glass beside the wedge was lighter than its density 0, its densities leave out its
 *   base, and what is no lighter than that glass may be thinner than the wedge. All else has been
 *   exposed otherwise; where nothing beside the wedge was as light as density 0, both may be.
 *
 * Given     code  of what has the density
 * Returned  whether all densities are off
 */
bool ww__surround_below_0(const ww_scanner *scanner, int channel, double code,
                          char words[WW__SURROUND_WORDS]);

/*
 * ww__surround_note - whether the surround is lighter than open light was when the scanner was
 *                     calibrated, which nothing on a glass can be: the scan was exposed otherwise.
 *
 *   by = log10((light - constant) / open),  constant = k flare + dark, and open is k, or what lay
 *   beside the wedge where that was lighter still (densities that leave out the wedge's base)
 *
 *   Told where that is over 0.02 D and the doubt of the scale there, added as squares. Of a
 *   surround that is clipped it is the least.
 *
 * Source    definition; the limit is that of ww__measure_base_note
 * Returned  measured  with the note, and put off (ww__density_put_off)
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww__surround_note(ww_measured *measured, const ww_scanner *scanner, ww_error *err);

#endif
