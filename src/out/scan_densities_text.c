/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/report.h"
#include <assert.h>
#include <wedgework/scan_densities_text.h>

ww_status ww_scan_densities_text(const ww_scan_densities *densities, const ww_text_style *style,
                                 char **text, ww_error *err) {
    ww__report report = WW__REPORT_INIT;
    assert(densities && style && text);
    ww__scan_densities_report(densities, &report);
    return ww__report_make_text(&report, style, text, err);
}
