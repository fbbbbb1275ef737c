/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/page.h"
#include "out/tones_sliders.h"
#include "out/working.h"
#include <assert.h>
#include <wedgework/page.h>
#include <wedgework/plot.h>

static void add_number(ww__report *report, const char *key, double value, const char *unit) {
    ww__page_number(report, key, (ww_optional){true, value}, unit);
}

static void add_request(const ww_tones_request *r, ww__report *inputs) {
    static const ww__heading heading[] = {{"key", ""}, {"value", ""}};
    ww__report_table(inputs, "What was asked for", 2, "ll");
    ww__report_headings(inputs, heading);
    add_number(inputs, "subject range", r->subject_range, "log10");
    add_number(inputs, "camera flare", r->flare, "of white");
    add_number(inputs, "enlarger flare", r->enlarger_flare, "of open light");
    add_number(inputs, "Callier factor", r->callier, "");
    add_number(inputs, "viewing flare", r->viewing_flare, "of a perfect white");
    add_number(inputs, "film exposed", r->film_stops, "stops more");
    if (r->wanted && !r->wanted_print)
        add_number(inputs, "wanted: a straight print of slope", r->wanted_slope, "");
    if (r->wanted)
        return;
    add_number(inputs, "placed tone", r->place_stops, "stops below white");
    add_number(inputs, "placed at", r->place_density, "D above paper white");
    add_number(inputs, "least gradient of detail", r->detail, "");
}

static void add_curves(const ww_curve *const curve[], const char *const file[], size_t n,
                       const char *title, ww__report *inputs) {
    for (size_t i = 0; i < n; i++) {
        ww__page_meta(&curve[i]->meta, title, inputs);
        ww__page_fact(inputs, "file", file ? file[i] : NULL);
    }
}

/* Each formula, with the numbers of the grey of 18 % where the chain has it. */
static void add_working(const ww_tones *tones, ww__report *working) {
    const ww_tones_chain *c = tones->n > 0 ? &tones->chain[ww_tones_main(tones)] : NULL;
    const ww_tones_row *grey = c ? &c->grey : NULL;
    ww__text numbers = WW__TEXT_INIT;
    ww__working_begin(working);
    ww__text_add_format(&numbers, "F = %.4g", tones->flare);
    if (grey)
        ww__text_add_format(&numbers, "; grey of 18 %%: log10 L = %.3f, log H = %.3f",
                            grey->point.scene, grey->point.film_log_h);
    ww__working_step(working, "camera",
                     "log H = log H of white + log10((L + F) / (1 + F)), L luminance as a share of "
                     "white, F flare",
                     &numbers, ww__working_definition);
    if (grey && ww_quantity_present(grey->negative))
        ww__text_add_format(&numbers, "grey: %.3f D", grey->negative.value);
    ww__working_step(working, "film",
                     "density read off its curve at that log H, within what was "
                     "measured",
                     &numbers, "the film's measured curve");
    ww__text_add_format(&numbers, "Q = %.3g, f = %.4g", tones->callier, tones->enlarger_flare);
    ww__working_step(working, "enlarger", "the paper sees -log10((10^(-Q D) + f) / (1 + f))",
                     &numbers, "definition of the Callier factor Q and of flare f");
    if (grey && ww_quantity_present(grey->print))
        ww__text_add_format(&numbers, "grey: %.3f D", grey->print.value);
    ww__working_step(
        working, "paper",
        "log H = log H behind a film of density 0 - density seen; print density off its "
        "curve",
        &numbers, "the paper's measured curve");
    ww__text_add_format(&numbers, "v = %.4g", tones->viewing_flare);
    if (grey && ww_quantity_present(grey->viewed) && ww_quantity_present(grey->lightness))
        ww__text_add_format(&numbers, "; grey: %.3f D, L* = %.1f", grey->viewed.value,
                            grey->lightness.value);
    ww__working_step(working, "viewing",
                     "D' = -log10((10^-D + v) / (1 + v)); L* = 116 Y^(1/3) - 16, Y = 10^-D'",
                     &numbers, "definition of flare; CIE 15");
    if (grey && ww_quantity_present(grey->gradient))
        ww__text_add_format(&numbers, "grey: %.3f", grey->gradient.value);
    ww__working_step(working, "gradient",
                     "that of each link, multiplied; mid-scale a film of 0.60 on a paper of 2.50 "
                     "prints with 1.50",
                     &numbers, "chain rule; the example: common practice");
}

ww_status ww_page_tones(const ww_tones *tones, const ww_tones_request *request, const char *path,
                        ww_error *no_plot, ww_error *err) {
    ww__report result = WW__REPORT_INIT, inputs = WW__REPORT_INIT, working = WW__REPORT_INIT;
    ww__page page = {.title = "Tones from the scene to the eye",
                     .result = &result,
                     .inputs = &inputs,
                     .working = &working,
                     .no_plot = WW_ERROR_INIT};
    ww__sliders sliders = WW__SLIDERS_INIT;
    assert(tones && request && path);
    (void)ww_plot_tones_svg(tones, &page.svg, &page.no_plot);
    ww__tones_report(tones, &result);
    add_working(tones, &working);
    add_request(request, &inputs);
    add_curves(request->film, request->film_file, request->n_films, "Film", &inputs);
    add_curves(request->paper, request->paper_file, request->n_papers, "Paper", &inputs);
    if (request->wanted_print)
        ww__page_readings(request->wanted_print, "The wanted print", &inputs);
    if (ww__tones_sliders(tones, &sliders))
        page.sliders = &sliders;
    return ww__page_write(&page, path, no_plot, err);
}
