/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_MATCH_APPLY_H
#define WEDGEWORK_MATCH_APPLY_H

#include <wedgework/match.h>
#include <wedgework/picture_write.h>

/*
 * A picture sent through a correction.
 *
 *   Pictures in       Pictures out
 *   integers          16 bits, 65535 for white: a code of 8 bits loses nothing by the curve
 *   floating point    floating point, 1 for white
 *
 * The profile and the resolution are kept. One curve for gray serves all colours of a picture.
 */

/*
 * ww_match_apply_rows - the picture, row by row. Memory is less than 64 MiB with what reading
 *                       takes; the picture's progress is told.
 *
 * Returned  notes  on the picture: what its reader said, bits, profile; floating point beyond 0 to
 *                  1 has the value of that end, and is told
 * Status    WW_OK; WW_EMISMATCH curves for red, green and blue, and a grey picture; WW_EMEMORY;
 *           what reading or the sink returns
 * Accuracy  half a code of 16 bits against ww_match_value
 */
ww_status ww_match_apply_rows(const ww_picture *picture, const ww_match *match, ww_row_sink sink,
                              ww_notes *notes, ww_error *err);

#endif
