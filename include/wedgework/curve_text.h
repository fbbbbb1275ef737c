/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CURVE_TEXT_H
#define WEDGEWORK_CURVE_TEXT_H

#include <wedgework/curve.h>
#include <wedgework/error.h>
#include <wedgework/text_style.h>

/*
 * ww_curve_text - what `fit` found, for people: the finding as a sentence with its doubt, one line
 *                 of why, tables of a row a channel, suspect readings, notes.
 *
 * Densities and log H have two decimals, R is rounded to ten; a slope stands beside the end-points
 * that define it. A speed outside the contrast condition is called an exposure index.
 *
 * Given     curve, style
 * Returned  *text    to be freed by the caller; ends with a line end
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww_curve_text(const ww_curve *curve, const ww_text_style *style, char **text,
                        ww_error *err);

#endif
