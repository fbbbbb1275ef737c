/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/page.h"
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

/* Each formula, with where it is from. */
static void add_working(ww__report *result) {
    ww__report_list(result, "How it is worked out", false);
    ww__report_item(result,
                    "camera: log H = log H of white + log10((L + F) / (1 + F)), L luminance "
                    "as a share of white, F flare (definition)");
    ww__report_item(result, "film: density read off its curve at that log H, within what was "
                            "measured");
    ww__report_item(result, "enlarger: the paper sees -log10((10^(-Q D) + f) / (1 + f)), Q "
                            "Callier's factor, f flare (definition)");
    ww__report_item(result, "paper: log H = log H behind a film of density 0 - density seen; print "
                            "density off its curve");
    ww__report_item(result, "viewing: -log10((10^-D + v) / (1 + v)), v flare (definition); L* of "
                            "CIE 15");
    ww__report_item(result,
                    "gradient: that of each link, multiplied (chain rule); mid-scale a film "
                    "of 0.60 on a paper of 2.50 prints with 1.50 (common practice)");
}

ww_status ww_page_tones(const ww_tones *tones, const ww_tones_request *request, const char *path,
                        ww_error *no_plot, ww_error *err) {
    ww__report result = WW__REPORT_INIT, inputs = WW__REPORT_INIT;
    ww__page page = {.title = "Tones from the scene to the eye",
                     .result = &result,
                     .inputs = &inputs,
                     .no_plot = WW_ERROR_INIT};
    assert(tones && request && path);
    (void)ww_plot_tones_svg(tones, &page.svg, &page.no_plot);
    ww__tones_report(tones, &result);
    add_working(&result);
    add_request(request, &inputs);
    add_curves(request->film, request->film_file, request->n_films, "Film", &inputs);
    add_curves(request->paper, request->paper_file, request->n_papers, "Paper", &inputs);
    if (request->wanted_print)
        ww__page_readings(request->wanted_print, "The wanted print", &inputs);
    return ww__page_write(&page, path, no_plot, err);
}
