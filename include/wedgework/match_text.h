/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_MATCH_TEXT_H
#define WEDGEWORK_MATCH_TEXT_H

#include <wedgework/match.h>
#include <wedgework/text_style.h>

/*
 * ww_match_text - a correction as text: how well it matches and from where on it cannot, why, the
 *                 curve, differences by region of tone, notes.
 *
 * Returned  *text  to be freed by the caller
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww_match_text(const ww_match *match, const ww_text_style *style, char **text,
                        ww_error *err);

#endif
