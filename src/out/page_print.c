/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/page.h"
#include "out/print_card.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <wedgework/page.h>
#include <wedgework/plot.h>

static void add_place(ww__report *report, const char *key, const ww_print_place *place) {
    ww__text value = WW__TEXT_INIT;
    ww__text_add(&value, place->tone);
    ww__text_add(&value, " at ");
    ww__text_add_exact(&value, place->aim);
    ww__text_add(&value, " above paper");
    ww__report_item(report, key);
    ww__report_take(report, &value);
}

static void add_request(const ww_print_request *request, ww__report *report) {
    static const ww__heading heading[] = {{"asked for", ""}, {"", ""}};
    ww__report_table(report, "What was asked for", 2, "ll");
    ww__report_headings(report, heading);
    for (size_t i = 0; i < request->n_places; i++)
        add_place(report, i == 0 ? "placed, sets the time" : "placed", &request->place[i]);
    for (size_t i = 0; i < request->n_tests; i++) {
        const ww_print_place seen = {request->test[i].tone, request->test[i].density};
        add_place(report, "test print", &seen);
        ww__page_number(report, "its time", (ww_optional){true, request->test[i].time_s}, "s");
    }
    ww__page_number(report, "Callier factor", (ww_optional){true, request->callier}, "");
    ww__page_number(report, "enlarger flare", (ww_optional){true, request->enlarger_flare},
                    "of open light");
    ww__page_number(report, "dry-down", (ww_optional){true, request->dry_down_percent}, "%");
    ww__page_number(report, "magnification before", request->from_scale, "");
    ww__page_number(report, "magnification", request->scale, "");
    ww__page_number(report, "aperture before", request->from_aperture, "");
    ww__page_number(report, "aperture", request->aperture, "");
    ww__page_number(report, "reciprocity exponent", request->reciprocity, "");
    ww__page_number(report, "timer step", (ww_optional){true, request->timer_step_s}, "s");
    ww__page_number(report, "repeatability, 1 sd", request->repeatability, "D");
}

static void add_inputs(const ww_print_request *request, ww__report *inputs) {
    add_request(request, inputs);
    if (request->negative) {
        ww__page_readings(request->negative, "Readings of the negative", inputs);
        ww__page_meta(&request->negative->meta, "The negative", inputs);
    }
    for (size_t i = 0; i < request->n_papers; i++)
        ww__page_meta(&request->paper[i]->meta, "A paper", inputs);
    if (request->split)
        ww__page_meta(&request->split->meta, "The split table", inputs);
    if (request->flash)
        ww__page_meta(&request->flash->meta, "The flash strip", inputs);
}

ww_status ww_page_print(const ww_print_plan *plan, const ww_print_request *request,
                        const char *path, ww_error *no_plot, ww_error *err) {
    ww__report result = WW__REPORT_INIT, inputs = WW__REPORT_INIT;
    ww__text card = WW__TEXT_INIT;
    const char *name = request->negative ? request->negative->meta.name : NULL;
    ww__page page = {.title = name && *name ? name : "Print plan",
                     .result = &result,
                     .inputs = &inputs,
                     .no_plot = WW_ERROR_INIT,
                     .card = &card};
    assert(plan && request && path);
    if (!(request->timer_step_s > 0) || !isfinite(request->timer_step_s))
        return ww_error_set(err, WW_EDOMAIN, "%g s is no timer step; give one above 0",
                            request->timer_step_s);
    (void)ww_plot_print_svg(plan, request->paper, request->n_papers, &page.svg, &page.no_plot);
    ww__print_report(plan, request->timer_step_s, &result);
    add_inputs(request, &inputs);
    ww__print_card(plan, request, &card);
    return ww__page_write(&page, path, no_plot, err);
}
