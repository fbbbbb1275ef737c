/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/page.h"
#include "out/working.h"
#include <assert.h>
#include <wedgework/page.h>
#include <wedgework/plot.h>

ww_status ww_page_develop(const ww_development *development, const ww_develop_input input[],
                          size_t n, const char *path, ww_error *no_plot, ww_error *err) {
    ww__report result = WW__REPORT_INIT, inputs = WW__REPORT_INIT, working = WW__REPORT_INIT;
    ww__page page = {.title = "Development for a contrast",
                     .result = &result,
                     .inputs = &inputs,
                     .working = &working,
                     .no_plot = WW_ERROR_INIT};
    assert(development && input && path);
    (void)ww_plot_develop_svg(development, input, n, &page.svg, &page.no_plot);
    ww__develop_report(development, &result);
    ww__working_develop(development, &working);
    for (size_t i = 0; i < n; i++) {
        ww__page_meta(&input[i].curve->meta, "A curve", &inputs);
        ww__page_fact(&inputs, "file", input[i].file);
    }
    return ww__page_write(&page, path, no_plot, err);
}
