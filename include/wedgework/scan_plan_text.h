/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_SCAN_PLAN_TEXT_H
#define WEDGEWORK_SCAN_PLAN_TEXT_H

#include <wedgework/error.h>
#include <wedgework/scan.h>
#include <wedgework/text_style.h>

/*
 * ww_scan_plan_text - a scan plan for people: the act as a sentence with its doubt, one line of
 *                     why, exposure and noise a channel, what more scans would do, what each bit
 *                     depth would leave, the tones, notes.
 *
 * Stops have one decimal, as scanners are set; densities two, differences of density three.
 *
 * Given     plan, style
 * Returned  *text    to be freed by the caller; ends with a line end
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww_scan_plan_text(const ww_scan_plan *plan, const ww_text_style *style, char **text,
                            ww_error *err);

#endif
