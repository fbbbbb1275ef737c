/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_COMPARE_TEXT_H
#define WEDGEWORK_COMPARE_TEXT_H

#include <wedgework/compare.h>
#include <wedgework/text_style.h>

/*
 * ww_compare_text - a comparison as text for a terminal: what differs most and what no curve takes
 *                   away, or whether a re-run is within limits; then prints, regions and tones.
 *
 * Returned  *text  to be freed by the caller
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww_compare_text(const ww_comparison *comparison, const ww_text_style *style, char **text,
                          ww_error *err);

#endif
