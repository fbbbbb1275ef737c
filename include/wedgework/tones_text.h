/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TONES_TEXT_H
#define WEDGEWORK_TONES_TEXT_H

#include <wedgework/text_style.h>
#include <wedgework/tones.h>

/*
 * ww_tones_text - tones for people: how much of the scene's detail is kept and what kills the rest,
 *                 or the film that a wanted print takes; then tables, tone by tone, and notes.
 *
 * Given     tones, style
 * Returned  *text    to be freed by the caller; ends with a line end
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww_tones_text(const ww_tones *tones, const ww_text_style *style, char **text,
                        ww_error *err);

#endif
