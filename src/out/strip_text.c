/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/report.h"
#include <assert.h>
#include <wedgework/strip_text.h>

ww_status ww_strip_text(const ww_strip *strip, const ww_text_style *style, char **text,
                        ww_error *err) {
    ww__report report = WW__REPORT_INIT;
    assert(strip && style && text);
    ww__strip_report(strip, &report);
    return ww__report_make_text(&report, style, text, err);
}
