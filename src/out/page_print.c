/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/page.h"
#include "out/print_card.h"
#include "out/working.h"
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

/* A row a paper: what their files say in which papers may differ. */
static void add_papers(const ww_print_request *request, ww__report *report) {
    static const ww__heading heading[] = {{"paper", ""},         {"contrast", ""}, {"lot", ""},
                                          {"exposure unit", ""}, {"exposed", "s"}, {"wedge", ""},
                                          {"exposed by", ""},    {"read", ""},     {"status", ""}};
    ww__report_table(report, "The papers", sizeof heading / sizeof heading[0], "llllrllll");
    ww__report_headings(report, heading);
    for (size_t i = 0; i < request->n_papers; i++) {
        const ww_meta *meta = &request->paper[i]->meta;
        ww__text time = WW__TEXT_INIT;
        ww__report_name(report, meta->name);
        ww__report_name(report, meta->contrast);
        ww__report_name(report, meta->lot);
        ww__report_item(report,
                        meta->exposure_unit ? ww_exposure_unit_name(meta->exposure_unit) : "");
        if (meta->exposure_time_s.set)
            ww__text_add_exact(&time, meta->exposure_time_s.value);
        ww__report_take(report, &time);
        ww__report_item(report, meta->wedge ? ww_wedge_kind_name(meta->wedge) : "");
        ww__report_item(report, meta->exposed_by ? ww_exposed_by_name(meta->exposed_by) : "");
        ww__report_item(report, meta->read ? ww_read_state_name(meta->read) : "");
        ww__report_item(report, meta->status ? ww_density_status_name(meta->status) : "");
    }
}

static void add_inputs(const ww_print_request *request, ww__report *inputs) {
    add_request(request, inputs);
    if (request->negative) {
        ww__page_readings(request->negative, "Readings of the negative", inputs);
        ww__page_meta(&request->negative->meta, "The negative", inputs);
    }
    add_papers(request, inputs);
    if (request->split)
        ww__page_meta(&request->split->meta, "The split table", inputs);
    if (request->flash)
        ww__page_meta(&request->flash->meta, "The flash strip", inputs);
}

ww_status ww_page_print(const ww_print_plan *plan, const ww_print_request *request,
                        const char *path, ww_error *no_plot, ww_error *err) {
    ww__report result = WW__REPORT_INIT, inputs = WW__REPORT_INIT, working = WW__REPORT_INIT;
    ww__text card = WW__TEXT_INIT;
    const char *name = request->negative ? request->negative->meta.name : NULL;
    ww__page page = {.title = name && *name ? name : "Print plan",
                     .result = &result,
                     .inputs = &inputs,
                     .working = &working,
                     .no_plot = WW_ERROR_INIT,
                     .card = &card};
    assert(plan && request && path);
    if (!(request->timer_step_s > 0) || !isfinite(request->timer_step_s))
        return ww_error_set(err, WW_EDOMAIN, "%g s is no timer step; give one above 0",
                            request->timer_step_s);
    (void)ww_plot_print_svg(plan, request->paper, request->n_papers, &page.svg, &page.no_plot);
    ww__print_report(plan, request->timer_step_s, &result);
    ww__working_print(plan, request, &working);
    add_inputs(request, &inputs);
    ww__print_card(plan, request, &card);
    return ww__page_write(&page, path, no_plot, err);
}
