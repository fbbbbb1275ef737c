/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/report.h"
#include <assert.h>
#include <wedgework/tones_text.h>

ww_status ww_tones_text(const ww_tones *tones, const ww_text_style *style, char **text,
                        ww_error *err) {
    ww__report report = WW__REPORT_INIT;
    assert(tones && style && text);
    ww__tones_report(tones, &report);
    return ww__report_make_text(&report, style, text, err);
}
