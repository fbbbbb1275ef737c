/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/page.h"
#include "out/scan_words.h"
#include "out/working.h"
#include <assert.h>
#include <stdlib.h>
#include <wedgework/page.h>
#include <wedgework/plot.h>

static void begin_facts(const char *title, ww__report *report) {
    static const ww__heading heading[] = {{"key", ""}, {"value", ""}};
    ww__report_table(report, title, 2, "ll");
    ww__report_headings(report, heading);
}

static ww_optional is(double value) {
    return (ww_optional){true, value};
}

static void take_code(ww__report *report, double code, double white) {
    ww__text text = WW__TEXT_INIT;
    ww__words_code(&text, code, white);
    ww__report_take(report, &text);
}

/* -------------------------------------------------------------------------------- scanner */

static const char *remark_on(const ww_scanner_step *step) {
    return step->clipped ? "clipped" : step->suspect ? "suspect" : step->compressed ? "flare" : "";
}

static void add_scanner_steps(const ww_scanner *scanner, ww__report *report) {
    static const ww__heading heading[] = {{"channel", ""},        {"step", ""},   {"wedge", "D"},
                                          {"code", ""},           {"sd", "code"}, {"model", "D"},
                                          {"wedge - model", "D"}, {"remark", ""}};
    ww__report_table(report, "Steps of the wedge", sizeof heading / sizeof heading[0], "llrrrrrl");
    ww__report_headings(report, heading);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_scanner_channel *channel = &scanner->channel[c];
        for (size_t i = 0; channel->present && i < channel->n_steps; i++) {
            const ww_scanner_step *step = &channel->step[i];
            ww__report_item(report, ww_channel_name((ww_channel)c));
            ww__report_item(report, step->step);
            ww__report_number(report, step->density, 3);
            take_code(report, step->code, scanner->white);
            take_code(report, step->sd, scanner->white);
            if (step->clipped) {
                ww__report_item(report, "-");
                ww__report_item(report, "-");
            } else {
                ww__report_number(report, step->fitted, 3);
                ww__report_number(report, step->density - step->fitted, 3);
            }
            ww__report_item(report, remark_on(step));
        }
    }
}

ww_status ww_page_scanner(const ww_scanner *scanner, const char *path, ww_error *no_plot,
                          ww_error *err) {
    ww__report result = WW__REPORT_INIT, inputs = WW__REPORT_INIT, working = WW__REPORT_INIT;
    ww__page page = {
        .result = &result, .inputs = &inputs, .working = &working, .no_plot = WW_ERROR_INIT};
    assert(scanner && path);
    (void)ww_plot_scanner_svg(scanner, &page.svg, &page.no_plot);
    ww__scanner_report(scanner, &result);
    ww__working_scanner(scanner, &working);
    begin_facts("The scan of the wedge", &inputs);
    ww__page_fact(&inputs, "file", scanner->name);
    ww__page_number(&inputs, "bits", is(scanner->bits), "");
    ww__page_number(&inputs, "greatest code", is(scanner->white), "");
    ww__page_fact(&inputs, "profile", scanner->profile);
    ww__page_fact(&inputs, "wedge", ww_wedge_kind_name(scanner->wedge));
    ww__page_number(&inputs, "wedge sd", scanner->wedge_sd, "D");
    ww__page_fact(&inputs, "dark",
                  scanner->dark_scan ? "measured on a scan without light" : "not measured");
    add_scanner_steps(scanner, &inputs);
    page.title = "Scanner calibration";
    return ww__page_write(&page, path, no_plot, err);
}

/* -------------------------------------------------------------------------------- measured */

static void add_size(const ww_measured *measured, ww__report *report) {
    ww__text text = WW__TEXT_INIT;
    ww__text_add_format(&text, "%zu x %zu px", measured->width, measured->height);
    ww__report_item(report, "size");
    ww__report_take(report, &text);
}

static void add_resolution(ww_optional px_per_mm, ww__report *report) {
    ww__text text = WW__TEXT_INIT;
    if (!px_per_mm.set)
        return;
    ww__text_add_number(&text, px_per_mm.value, 2);
    ww__text_add_format(&text, " px a mm (%.0f an inch)", 25.4 * px_per_mm.value);
    ww__report_item(report, "resolution");
    ww__report_take(report, &text);
}

static void add_places(const ww_measured *measured, ww__report *report) {
    const ww__heading heading[] = {{ww__words_patches(measured), ""},
                                   {"x", "px"},
                                   {"y", "px"},
                                   {"width", "px"},
                                   {"height", "px"},
                                   {"channel", ""},
                                   {"kept from", "code"},
                                   {"to", "code"}};
    ww__report_table(report, "Where it was read", sizeof heading / sizeof heading[0], "lrrrrlrr");
    ww__report_headings(report, heading);
    for (size_t i = 0; i < measured->n; i++)
        for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
            const ww_patch *patch = &measured->patch[i];
            if (!measured->has[c])
                continue;
            ww__report_item(report, patch->step);
            ww__report_number(report, patch->x, 1);
            ww__report_number(report, patch->y, 1);
            ww__report_number(report, patch->width, 1);
            ww__report_number(report, patch->height, 1);
            ww__report_item(report, ww_channel_name((ww_channel)c));
            take_code(report, patch->channel[c].low, measured->white);
            take_code(report, patch->channel[c].high, measured->white);
        }
}

ww_status ww_page_measured(const ww_measured *measured, const char *path, ww_error *no_plot,
                           ww_error *err) {
    ww__report result = WW__REPORT_INIT, inputs = WW__REPORT_INIT, working = WW__REPORT_INIT;
    ww__page page = {
        .result = &result, .inputs = &inputs, .working = &working, .no_plot = WW_ERROR_INIT};
    assert(measured && path);
    (void)ww_plot_measured_svg(measured, &page.svg, &page.no_plot);
    ww__measured_report(measured, &result);
    ww__working_measured(measured, &working);
    begin_facts("The scan", &inputs);
    ww__page_fact(&inputs, "file", measured->file);
    ww__page_number(&inputs, "page", is((double)measured->page), "");
    add_size(measured, &inputs);
    ww__page_number(&inputs, "bits", is(measured->bits), "");
    ww__page_number(&inputs, "greatest code", is(measured->white), "");
    add_resolution(measured->px_per_mm, &inputs);
    ww__page_fact(&inputs, "profile", measured->profile);
    add_places(measured, &inputs);
    page.title = "Readings of a scan";
    return ww__page_write(&page, path, no_plot, err);
}

ww_status ww_page_whole(const ww_whole *whole, const char *path, ww_error *no_plot, ww_error *err) {
    ww__report result = WW__REPORT_INIT, inputs = WW__REPORT_INIT, working = WW__REPORT_INIT;
    ww__page page = {
        .result = &result, .inputs = &inputs, .working = &working, .no_plot = WW_ERROR_INIT};
    assert(whole && path);
    (void)ww_plot_whole_svg(whole, &page.svg, &page.no_plot);
    ww__whole_report(whole, &result);
    ww__working_whole(whole, &working);
    begin_facts("The scan", &inputs);
    ww__page_fact(&inputs, "file", whole->file);
    ww__page_number(&inputs, "pixels", is((double)whole->pixels), "");
    ww__page_number(&inputs, "bits", is(whole->bits), "");
    ww__page_number(&inputs, "greatest code", is(whole->white), "");
    add_resolution(whole->px_per_mm, &inputs);
    ww__page_fact(&inputs, "profile", whole->profile);
    page.title = "A whole scan";
    return ww__page_write(&page, path, no_plot, err);
}

/* ------------------------------------------------------------------- what is made of scans */

ww_status ww_page_scan_merge(const ww_scan_merge *merge, const char *path, ww_error *no_plot,
                             ww_error *err) {
    ww__report result = WW__REPORT_INIT, inputs = WW__REPORT_INIT, working = WW__REPORT_INIT;
    ww__page page = {
        .result = &result, .inputs = &inputs, .working = &working, .no_plot = WW_ERROR_INIT};
    assert(merge && path);
    (void)ww_plot_scan_merge_svg(merge, &page.svg, &page.no_plot);
    ww__scan_merge_report(merge, &result);
    ww__working_scan_merge(merge, &working);
    begin_facts("The two scans", &inputs);
    ww__page_fact(&inputs, "longer exposure", merge->longer_file);
    ww__page_fact(&inputs, "shorter exposure", merge->shorter_file);
    ww__page_fact(&inputs, "merged into", merge->real ? "floating point" : "16 bits");
    ww__page_fact(&inputs, "noise known from",
                  merge->noise_measured ? "the two scans" : "the scanner file");
    page.title = "Two scans merged";
    return ww__page_write(&page, path, no_plot, err);
}

ww_status ww_page_scan_densities(const ww_scan_densities *densities, const ww_scanner *scanner,
                                 const char *path, ww_error *no_plot, ww_error *err) {
    ww__report result = WW__REPORT_INIT, inputs = WW__REPORT_INIT, working = WW__REPORT_INIT;
    ww__page page = {
        .result = &result, .inputs = &inputs, .working = &working, .no_plot = WW_ERROR_INIT};
    assert(densities && scanner && path);
    (void)ww_plot_scanner_svg(scanner, &page.svg, &page.no_plot);
    ww__scan_densities_report(densities, &result);
    ww__working_scan_densities(densities, scanner, &working);
    begin_facts("The scan and the scanner", &inputs);
    ww__page_fact(&inputs, "file", densities->file);
    ww__page_fact(&inputs, "scanner calibrated on", scanner->name);
    ww__page_number(&inputs, "bits of the scan", is(scanner->bits), "");
    page.title = "Densities of a scan";
    return ww__page_write(&page, path, no_plot, err);
}
