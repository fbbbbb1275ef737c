/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/page.h"
#include "out/working.h"
#include <assert.h>
#include <stdlib.h>
#include <wedgework/page.h>
#include <wedgework/plot.h>

ww_status ww_page_compare(const ww_comparison *comparison, const ww_compare_input input[], size_t n,
                          const char *path, ww_error *no_plot, ww_error *err) {
    ww__report result = WW__REPORT_INIT, inputs = WW__REPORT_INIT, working = WW__REPORT_INIT;
    ww__page page = {.title = "Prints compared",
                     .result = &result,
                     .inputs = &inputs,
                     .working = &working,
                     .no_plot = WW_ERROR_INIT};
    assert(comparison && path && (input || n == 0));
    (void)ww_plot_compare_svg(comparison, &page.svg, &page.no_plot);
    ww__compare_report(comparison, &result);
    ww__working_compare(comparison, &working);
    for (size_t i = 0; i < n; i++) {
        const ww_readings *readings = input[i].readings;
        ww__page_meta(readings ? &readings->meta : &input[i].curve->meta, "What was compared",
                      &inputs);
        ww__page_fact(&inputs, "file", input[i].file);
        if (readings)
            ww__page_readings(readings, "Readings", &inputs);
    }
    return ww__page_write(&page, path, no_plot, err);
}
