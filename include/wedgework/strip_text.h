/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_STRIP_TEXT_H
#define WEDGEWORK_STRIP_TEXT_H

#include <wedgework/error.h>
#include <wedgework/strip.h>
#include <wedgework/text_style.h>

/*
 * ww_strip_text - a strip planned or read, for people: the act as a sentence with its doubt, one
 *                 line of why, the steps that were read, the strip to expose, notes, cautions.
 *
 * Seconds go by the strip's timer step, densities have two decimals, stops are in twelfths.
 *
 * Given     strip, style
 * Returned  *text    to be freed by the caller; ends with a line end
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww_strip_text(const ww_strip *strip, const ww_text_style *style, char **text,
                        ww_error *err);

#endif
