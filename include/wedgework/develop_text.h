/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_DEVELOP_TEXT_H
#define WEDGEWORK_DEVELOP_TEXT_H

#include <wedgework/develop.h>
#include <wedgework/error.h>
#include <wedgework/text_style.h>

/*
 * ww_develop_text - a development plan for people: the time as a sentence with its doubt, one line
 *                   of why, the curves, N and its neighbours, what the doubt is made of, notes,
 *                   cautions.
 *
 * Times go by 5 s, intervals outwards; contrasts and densities have two decimals.
 *
 * Given     development, style
 * Returned  *text    to be freed by the caller; ends with a line end
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww_develop_text(const ww_development *development, const ww_text_style *style,
                          char **text, ww_error *err);

#endif
