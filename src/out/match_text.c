/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/report.h"
#include <assert.h>
#include <wedgework/match_text.h>

ww_status ww_match_text(const ww_match *match, const ww_text_style *style, char **text,
                        ww_error *err) {
    ww__report report = WW__REPORT_INIT;
    assert(match && style && text);
    ww__match_report(match, &report);
    return ww__report_make_text(&report, style, text, err);
}
