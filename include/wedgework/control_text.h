/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CONTROL_TEXT_H
#define WEDGEWORK_CONTROL_TEXT_H

#include <wedgework/control.h>
#include <wedgework/error.h>
#include <wedgework/text_style.h>

/*
 * ww_control_text - where a process stands, for people: its state as a sentence, one line of why,
 *                   the measures of the strip that is judged or the strips, or both, as its view
 *                   says, possible causes, notes, cautions.
 *
 * Densities and deviations have two decimals, three where the readings have them.
 *
 * Given     control, style
 * Returned  *text    to be freed by the caller; ends with a line end
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww_control_text(const ww_control *control, const ww_text_style *style, char **text,
                          ww_error *err);

/*
 * ww_control_sentence - the state of a process as a sentence, for what else depends on it.
 *
 * Returned  *text    to be freed by the caller
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww_control_sentence(const ww_control *control, char **text, ww_error *err);

#endif
