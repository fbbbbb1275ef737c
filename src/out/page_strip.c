/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/page.h"
#include <assert.h>
#include <stdlib.h>
#include <wedgework/page.h>
#include <wedgework/plot.h>

ww_status ww_page_strip(const ww_strip *strip, const ww_readings *readings, const char *path,
                        ww_error *no_plot, ww_error *err) {
    static const char *const title[] = {"A test strip to expose", "A test strip",
                                        "Standard proof time", "Safelight"};
    ww__report result = WW__REPORT_INIT, inputs = WW__REPORT_INIT;
    ww_error why = WW_ERROR_INIT;
    char *svg = NULL;
    ww_status status;
    assert(strip && path);
    (void)ww_plot_strip_svg(strip, &svg, &why);
    ww__strip_report(strip, &result);
    if (readings) {
        ww__page_meta(&readings->meta, "The strip", &inputs);
        ww__page_fact(&inputs, "file", readings->file);
        ww__page_readings(readings, "Readings", &inputs);
    }
    const ww__page page = {.title = title[strip->kind],
                           .result = &result,
                           .inputs = &inputs,
                           .svg = svg,
                           .no_plot = &why};
    status = ww__page_write(&page, path, err);
    free(svg);
    if (status == WW_OK && no_plot)
        *no_plot = why;
    return status;
}
