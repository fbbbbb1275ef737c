/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/page.h"
#include "out/working.h"
#include <assert.h>
#include <wedgework/page.h>
#include <wedgework/plot.h>

static void add_table(const ww_readings *readings, const char *title, const char *of,
                      ww__report *inputs) {
    if (!readings)
        return;
    ww__page_meta(&readings->meta, of, inputs);
    ww__page_fact(inputs, "file", readings->file);
    ww__page_readings(readings, title, inputs);
}

ww_status ww_page_balance(const ww_balance *balance, const ww_balance_request *request,
                          const char *path, ww_error *no_plot, ww_error *err) {
    ww__report result = WW__REPORT_INIT, inputs = WW__REPORT_INIT, working = WW__REPORT_INIT;
    ww__page page = {.title = "Filter pack and time",
                     .result = &result,
                     .inputs = &inputs,
                     .working = &working,
                     .no_plot = WW_ERROR_INIT};
    assert(balance && request && path);
    (void)ww_plot_balance_svg(balance, request->paper, &page.svg, &page.no_plot);
    ww__balance_report(balance, &result);
    ww__working_balance(balance, &working);
    if (balance->kind == WW_BALANCE_NEGATIVE) {
        add_table(request->print, "Readings of the standard negative", "The standard negative",
                  &inputs);
        add_table(request->aim, "Readings of the new negative", "The new negative", &inputs);
    } else {
        add_table(request->print, "Readings of the print", "The print", &inputs);
        add_table(request->aim, "Readings of the approved print", "The approved print", &inputs);
    }
    add_table(request->ring, "Readings of the ring-around", "The ring-around", &inputs);
    if (request->paper)
        ww__page_meta(&request->paper->meta, "The paper", &inputs);
    return ww__page_write(&page, path, no_plot, err);
}
