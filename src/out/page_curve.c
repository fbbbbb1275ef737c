/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/page.h"
#include "out/working.h"
#include <assert.h>
#include <stdlib.h>
#include <wedgework/page.h>
#include <wedgework/plot.h>

static void add_point(const ww_channel_curve *channel, const char *name,
                      const ww_curve_point *point, ww__report *report) {
    ww__text cell = WW__TEXT_INIT;
    double density;
    ww__report_item(report, name);
    ww__report_item(report, point->step ? point->step : "");
    ww__text_add_number(&cell, point->log_h, 3);
    ww__report_take(report, &cell);
    if (point->state == WW_CELL_VALUE)
        ww__text_add_number(&cell, point->density, 3);
    else
        ww__text_add(&cell, point->state == WW_CELL_OVER ? "over" : "-");
    ww__report_take(report, &cell);
    if (point->sd.set)
        ww__text_add_number(&cell, point->sd.value, 3);
    ww__report_take(report, &cell);
    ww__text_add_format(&cell, "%zu", point->n);
    ww__report_take(report, &cell);
    if (point->state == WW_CELL_VALUE && !point->cut &&
        ww_curve_density(channel, point->log_h, &density, NULL, NULL) == WW_OK)
        ww__text_add_number(&cell, point->density - density, 3);
    ww__report_take(report, &cell);
}

static void add_points(const ww_curve *curve, ww__report *report) {
    static const ww__heading heading[] = {{"channel", ""},         {"step", ""}, {"log H", ""},
                                          {"density", ""},         {"sd", "D"},  {"n", ""},
                                          {"reading - curve", "D"}};
    ww__report_table(report, "Readings", sizeof heading / sizeof heading[0], "llrrrrr");
    ww__report_headings(report, heading);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        for (size_t i = 0; curve->channel[c].present && i < curve->channel[c].n_points; i++)
            add_point(&curve->channel[c], ww_channel_name((ww_channel)c),
                      &curve->channel[c].point[i], report);
}

ww_status ww_page_curve(const ww_curve *curve, const char *path, ww_error *no_plot, ww_error *err) {
    ww__report result = WW__REPORT_INIT, inputs = WW__REPORT_INIT, working = WW__REPORT_INIT;
    ww__page page = {
        .result = &result, .inputs = &inputs, .working = &working, .no_plot = WW_ERROR_INIT};
    assert(curve && path);
    (void)ww_plot_curve_svg(curve, &page.svg, &page.no_plot);
    ww__curve_report(curve, &result);
    ww__working_curve(curve, &working);
    ww__page_meta(&curve->meta, "The material", &inputs);
    add_points(curve, &inputs);
    page.title = curve->meta.name && *curve->meta.name ? curve->meta.name : "Characteristic curve";
    return ww__page_write(&page, path, no_plot, err);
}
