/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/page.h"
#include "out/working.h"
#include <assert.h>
#include <stdlib.h>
#include <wedgework/page.h>
#include <wedgework/plot.h>

enum { READ_COLUMNS = WW_CHANNEL_COUNT + 2 };

/* Densities, and the light that they may be taken from. */
static size_t find_columns(const ww_readings *readings, ww_column column[READ_COLUMNS]) {
    size_t n = 0;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (readings->has[c])
            column[n++] = (ww_column)c;
    if (readings->has[WW_COLUMN_LUMINANCE])
        column[n++] = WW_COLUMN_LUMINANCE;
    if (readings->has[WW_COLUMN_LAB_L])
        column[n++] = WW_COLUMN_LAB_L;
    return n;
}

static const char *unit_of(ww_column column) {
    return column == WW_COLUMN_LUMINANCE ? "cd/m2" : column == WW_COLUMN_LAB_L ? "" : "D";
}

static void take_cell(const ww_cell *cell, ww__report *report) {
    ww__text text = WW__TEXT_INIT;
    if (cell->state == WW_CELL_VALUE)
        ww__text_add_exact(&text, cell->value);
    else
        ww__text_add(&text, cell->state == WW_CELL_OVER ? "over" : "-");
    ww__report_take(report, &text);
}

/* The scale of greys, as it was read: what was sent, and what it gave. */
static void add_scale(const ww_readings *readings, const char *title, ww__report *report) {
    const ww_ramp ramp = ww_ramp_find(readings);
    const char *unit = ww_ramp_unit(ramp);
    ww_column column[READ_COLUMNS];
    ww__heading heading[READ_COLUMNS + 1] = {{"sent", unit[0] ? unit : "value"}};
    const size_t n = find_columns(readings, column);
    for (size_t k = 0; k < n; k++)
        heading[k + 1] = (ww__heading){ww_column_name(column[k]), unit_of(column[k])};
    ww__report_table(report, title, n + 1, "rrrrrrr");
    ww__report_headings(report, heading);
    for (size_t row = 0; row < readings->n; row++) {
        const ww_optional drive = ww_ramp_drive(readings, ramp, row);
        ww__text sent = WW__TEXT_INIT;
        if (!drive.set)
            continue;
        if (readings->row[row].is_base)
            ww__text_add(&sent, "base");
        else
            ww__text_add_number(&sent, ww_ramp_control(ramp, drive.value), unit[0] ? 1 : 3);
        ww__report_take(report, &sent);
        for (size_t k = 0; k < n; k++)
            take_cell(&readings->row[row].cell[column[k]], report);
    }
}

ww_status ww_page_match(const ww_match *match, const ww_match_request *request, const char *path,
                        ww_error *no_plot, ww_error *err) {
    const ww_readings *print = request->print;
    ww__report result = WW__REPORT_INIT, inputs = WW__REPORT_INIT, working = WW__REPORT_INIT;
    ww__page page = {.title = "Tone correction",
                     .result = &result,
                     .inputs = &inputs,
                     .working = &working,
                     .no_plot = WW_ERROR_INIT};
    assert(match && request && path && print);
    (void)ww_plot_match_svg(match, &page.svg, &page.no_plot);
    ww__match_report(match, &result);
    ww__working_match(match, &working);
    ww__page_meta(&print->meta, "The print and its aim", &inputs);
    ww__page_fact(&inputs, "file", print->file);
    ww__page_fact(&inputs, "sent", ww_ramp_name(match->ramp));
    ww__page_fact(&inputs, "aim", match->lightness ? "equal steps of L*" : match->aim);
    add_scale(print, "Readings of the print", &inputs);
    if (request->aim)
        add_scale(request->aim, "Readings of the aim", &inputs);
    for (size_t i = 0; i < request->n_refine; i++)
        add_scale(request->refine[i], "Readings of a print through the curve", &inputs);
    return ww__page_write(&page, path, no_plot, err);
}
