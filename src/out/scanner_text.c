/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/report.h"
#include <assert.h>
#include <wedgework/scanner_text.h>

ww_status ww_scanner_text(const ww_scanner *scanner, const ww_text_style *style, char **text,
                          ww_error *err) {
    ww__report report = WW__REPORT_INIT;
    assert(scanner && style && text);
    ww__scanner_report(scanner, &report);
    return ww__report_make_text(&report, style, text, err);
}
