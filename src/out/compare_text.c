/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/report.h"
#include <assert.h>
#include <wedgework/compare_text.h>

ww_status ww_compare_text(const ww_comparison *comparison, const ww_text_style *style, char **text,
                          ww_error *err) {
    ww__report report = WW__REPORT_INIT;
    assert(comparison && style && text);
    ww__compare_report(comparison, &report);
    return ww__report_make_text(&report, style, text, err);
}
