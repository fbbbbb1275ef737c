/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_OUT_BALANCE_WORDS_H
#define WEDGEWORK_OUT_BALANCE_WORDS_H

#include "base/text.h"
#include <wedgework/balance.h>

/* The sentences of a filter plan. Each adds to `text`. */

/* "too dark and too green", "right in density and colour". */
void ww__words_cast(ww__text *text, const ww_balance *balance);

/* "take out 17.5 magenta, 5/12 stop less"; what is set against what the print had. */
void ww__words_filter_change(ww__text *text, const ww_balance *balance);

/* "60Y27.5M, 9.3 s". */
void ww__words_filter_setting(ww__text *text, const ww_balance_setting *setting, double step_s);

/* What to set and how far to trust it; why. */
void ww__words_balance_act(ww__text *text, const ww_balance *balance);
void ww__words_balance_why(ww__text *text, const ww_balance *balance);

/* "CC", or "dial" where a head's own units were given. */
const char *ww__words_filter_unit(const ww_balance *balance);

#endif
