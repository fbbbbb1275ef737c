/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/report.h"
#include <assert.h>
#include <wedgework/balance_text.h>

ww_status ww_balance_text(const ww_balance *balance, const ww_text_style *style, char **text,
                          ww_error *err) {
    ww__report report = WW__REPORT_INIT;
    assert(balance && style && text);
    ww__balance_report(balance, &report);
    return ww__report_make_text(&report, style, text, err);
}
