/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_BALANCE_TEXT_H
#define WEDGEWORK_BALANCE_TEXT_H

#include <wedgework/balance.h>
#include <wedgework/error.h>
#include <wedgework/text_style.h>

/*
 * ww_balance_text - a filter plan, for people: what to set, with its doubt, and what that takes out
 *                   and puts in; one line of why; the greys with print, aim and next print; what
 *                   the doubt is made of; the print as a row of the ring-around; notes and
 *                   cautions.
 *
 * Filters are in CC, or in dial units where a head scale was given; densities have two decimals,
 * seconds go by the plan's timer step, stops are in twelfths.
 *
 * Given     balance, style
 * Returned  *text    to be freed by the caller; ends with a line end
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww_balance_text(const ww_balance *balance, const ww_text_style *style, char **text,
                          ww_error *err);

#endif
