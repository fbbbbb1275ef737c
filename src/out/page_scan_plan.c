/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/page.h"
#include "out/working.h"
#include <assert.h>
#include <stdlib.h>
#include <wedgework/page.h>
#include <wedgework/plot.h>

ww_status ww_page_scan_plan(const ww_scan_plan *plan, const ww_scan_request *request,
                            const char *path, ww_error *no_plot, ww_error *err) {
    const ww_readings *negative = request->negative;
    const ww_scanner *scanner = request->scanner;
    ww__report result = WW__REPORT_INIT, inputs = WW__REPORT_INIT, working = WW__REPORT_INIT;
    ww__page page = {.title = "Exposure of a scan",
                     .result = &result,
                     .inputs = &inputs,
                     .working = &working,
                     .no_plot = WW_ERROR_INIT};
    assert(plan && path && negative && scanner);
    (void)ww_plot_scan_plan_svg(plan, scanner, &page.svg, &page.no_plot);
    ww__scan_plan_report(plan, &result);
    ww__working_scan_plan(plan, scanner, &working);
    ww__page_meta(&negative->meta, "The negative and the scanner", &inputs);
    ww__page_fact(&inputs, "file", negative->file);
    ww__page_fact(&inputs, "scanner calibrated on", scanner->name);
    ww__page_number(&inputs, "bits", (ww_optional){true, scanner->bits}, "");
    ww__page_number(&inputs, "to tell apart", (ww_optional){true, request->separate}, "D");
    ww__page_readings(negative, "Readings", &inputs);
    return ww__page_write(&page, path, no_plot, err);
}
