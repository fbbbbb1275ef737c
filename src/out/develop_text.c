/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/report.h"
#include <assert.h>
#include <wedgework/develop_text.h>

ww_status ww_develop_text(const ww_development *development, const ww_text_style *style,
                          char **text, ww_error *err) {
    ww__report report = WW__REPORT_INIT;
    assert(development && style && text);
    ww__develop_report(development, &report);
    return ww__report_make_text(&report, style, text, err);
}
