/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/report.h"
#include <assert.h>
#include <wedgework/measure_text.h>

ww_status ww_measure_text(const ww_measured *measured, const ww_text_style *style, char **text,
                          ww_error *err) {
    ww__report report = WW__REPORT_INIT;
    assert(measured && style && text);
    ww__measured_report(measured, &report);
    return ww__report_make_text(&report, style, text, err);
}

ww_status ww_measure_whole_text(const ww_whole *whole, const ww_text_style *style, char **text,
                                ww_error *err) {
    ww__report report = WW__REPORT_INIT;
    assert(whole && style && text);
    ww__whole_report(whole, &report);
    return ww__report_make_text(&report, style, text, err);
}
