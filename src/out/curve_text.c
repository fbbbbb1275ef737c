/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/report.h"
#include <assert.h>
#include <wedgework/curve_text.h>

ww_status ww_curve_text(const ww_curve *curve, const ww_text_style *style, char **text,
                        ww_error *err) {
    ww__report report = WW__REPORT_INIT;
    assert(curve && style && text);
    ww__curve_report(curve, &report);
    return ww__report_make_text(&report, style, text, err);
}
