/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/page.h"
#include "out/working.h"
#include <assert.h>
#include <stdlib.h>
#include <wedgework/page.h>
#include <wedgework/plot.h>

ww_status ww_page_strip(const ww_strip *strip, const ww_readings *readings, const char *path,
                        ww_error *no_plot, ww_error *err) {
    static const char *const title[] = {"A test strip to expose", "A test strip",
                                        "Standard proof time", "Safelight"};
    ww__report result = WW__REPORT_INIT, inputs = WW__REPORT_INIT, working = WW__REPORT_INIT;
    ww__page page = {
        .result = &result, .inputs = &inputs, .working = &working, .no_plot = WW_ERROR_INIT};
    assert(strip && path);
    page.title = title[strip->kind];
    (void)ww_plot_strip_svg(strip, &page.svg, &page.no_plot);
    ww__strip_report(strip, &result);
    ww__working_strip(strip, &working);
    if (readings) {
        ww__page_meta(&readings->meta, "The strip", &inputs);
        ww__page_fact(&inputs, "file", readings->file);
        ww__page_readings(readings, "Readings", &inputs);
    }
    return ww__page_write(&page, path, no_plot, err);
}
