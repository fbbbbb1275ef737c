/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/page.h"
#include "out/working.h"
#include <assert.h>
#include <wedgework/page.h>
#include <wedgework/plot.h>

ww_status ww_page_texture(const ww_texture_scan scan[], size_t n, const char *path,
                          ww_error *no_plot, ww_error *err) {
    static const ww__heading heading[] = {{"key", ""}, {"value", ""}};
    ww__report result = WW__REPORT_INIT, inputs = WW__REPORT_INIT, working = WW__REPORT_INIT;
    ww__page page = {.title = "Grain and sharpness compared",
                     .result = &result,
                     .inputs = &inputs,
                     .working = &working,
                     .no_plot = WW_ERROR_INIT};
    assert(scan && n > 0 && path);
    (void)ww_plot_texture_svg(scan, n, &page.svg, &page.no_plot);
    ww__texture_report(scan, n, &result);
    ww__working_texture(scan, n, &working);
    ww__report_table(&inputs, "What was compared", sizeof heading / sizeof heading[0], "ll");
    ww__report_headings(&inputs, heading);
    for (size_t i = 0; i < n; i++)
        ww__page_fact(&inputs, "scan", scan[i].file);
    return ww__page_write(&page, path, no_plot, err);
}
