/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/control_words.h"
#include "out/page.h"
#include "out/working.h"
#include <assert.h>
#include <wedgework/page.h>
#include <wedgework/plot.h>

/* The reference that the strip is compared with, as it was read and corrected. */
static void add_reference(const ww_control_lot *lot, ww__report *report) {
    static const ww__heading heading[] = {
        {"step", ""}, {"for", ""}, {"channel", ""}, {"read", "D"}, {"correction", "D"}};
    ww__report_table(report, "The reference strip", 5, "lllrr");
    ww__report_headings(report, heading);
    for (size_t i = 0; i < lot->reference->patches.n; i++) {
        const ww_control_patch *patch = &lot->reference->patches.patch[i];
        for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
            ww__text cell = WW__TEXT_INIT;
            if (patch->state[c] != WW_CELL_VALUE)
                continue;
            ww__report_name(report, patch->step);
            ww__report_name(report, patch->tone);
            ww__report_item(report, ww_channel_name((ww_channel)c));
            ww__words_control_density(&cell, patch->density[c]);
            ww__report_take(report, &cell);
            ww__words_control_deviation(&cell, patch->correction[c]);
            ww__report_take(report, &cell);
        }
    }
}

static void add_log(const ww_control *control, const ww_control_series *series,
                    ww__report *report) {
    static const ww__heading heading[] = {{"key", ""}, {"value", ""}};
    ww__report_table(report, "The log", 2, "ll");
    ww__report_headings(report, heading);
    ww__page_fact(report, "file", control->log->file);
    if (!series)
        return;
    ww__page_fact(report, "process", series->process);
    ww__page_fact(report, "machine", series->machine);
}

ww_status ww_page_control(const ww_control *control, const char *path, ww_error *no_plot,
                          ww_error *err) {
    ww__report result = WW__REPORT_INIT, working = WW__REPORT_INIT, inputs = WW__REPORT_INIT;
    ww__page page = {
        .title = "Process control", .result = &result, .inputs = &inputs, .no_plot = WW_ERROR_INIT};
    const ww_control_series *worst = ww_control_worst(control);
    size_t at;
    const ww_control_lot *lot = worst ? ww_control_focus(worst, &at) : NULL;
    assert(control && path);
    (void)ww_plot_control_svg(control, &page.svg, &page.no_plot);
    ww__control_report(control, &result);
    ww__working_control(control, &working);
    if (working.n > 0)
        page.working = &working;
    add_log(control, worst, &inputs);
    if (lot)
        add_reference(lot, &inputs);
    return ww__page_write(&page, path, no_plot, err);
}
