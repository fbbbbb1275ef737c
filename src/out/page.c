/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/page.h"
#include "base/escape.h"
#include "out/words.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/output.h>
#include <wedgework/page.h>
#include <wedgework/plot.h>

static const char head[] = "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
                           "<meta name=\"viewport\" content=\"width=device-width\">\n<title>";
static const char style[] =
    "</title>\n<style>\n"
    "body { font: 15px/1.4 sans-serif; color: #000; background: #fff; max-width: 68em;"
    " margin: 2em auto; padding: 0 1em; }\n"
    "h1 { font-size: 1.5em; line-height: 1.25; margin: 0 0 .3em; }\n"
    "h2 { font-size: 1.05em; margin: 1.4em 0 .3em; break-after: avoid; }\n"
    "section, figure { overflow-x: auto; }\n"
    ".inputs { display: flex; flex-wrap: wrap; column-gap: 3em; }\n"
    ".inputs section { max-width: 100%; }\n"
    "table { border-collapse: collapse; font-variant-numeric: tabular-nums; }\n"
    "th, td { padding: .15em .8em .15em 0; text-align: left; vertical-align: bottom; }\n"
    "th { border-bottom: 1px solid #000; font-weight: 600; }\n"
    "td { border-bottom: 1px solid #ccc; }\n"
    ".r { text-align: right; white-space: nowrap; }\n.unit { font-weight: 400; }\n"
    ".warning { border-left: 4px solid #000; }\n"
    "ul { margin: .2em 0; padding-left: 1.6em; }\n"
    "figure { margin: 1.5em 0; }\nfigure svg { max-width: 100%; min-width: 40em; height: auto; }\n"
    "tr, figure { break-inside: avoid; }\n"
    "@media screen and (max-width: 45em) { td { white-space: nowrap; } }\n"
    "@media print { body { margin: 0; padding: 0; max-width: none; font-size: 10pt; }"
    " section, figure { overflow: visible; } figure svg { min-width: 0; } }\n"
    "</style>\n</head>\n<body>\n";

/* ---------------------------------------------------------------------------- what was read */

static const char *shown(const char *string) {
    return string ? string : "";
}

void ww__page_fact(ww__report *report, const char *key, const char *value) {
    if (!value || !*value)
        return;
    ww__report_item(report, key);
    ww__report_item(report, value);
}

void ww__page_number(ww__report *report, const char *key, ww_optional number, const char *unit) {
    ww__text value = WW__TEXT_INIT;
    if (!number.set)
        return;
    ww__text_add_exact(&value, number.value);
    ww__text_add_format(&value, "%s%s", *unit ? " " : "", unit);
    ww__report_item(report, key);
    ww__report_take(report, &value);
}

/* Enumerator 0 is always "not said". */
static void add_word(ww__report *report, const char *key, unsigned of, const char *word) {
    if (of != 0)
        ww__page_fact(report, key, word);
}

static void add_meta(const ww_meta *meta, const char *title, ww__report *report) {
    static const ww__heading heading[] = {{"key", ""}, {"value", ""}};
    ww__report_table(report, title, 2, "ll");
    ww__report_headings(report, heading);
    ww__page_fact(report, "name", meta->name);
    add_word(report, "material", meta->material, ww_material_name(meta->material));
    add_word(report, "process", meta->process, ww_process_name(meta->process));
    add_word(report, "density", meta->density, ww_density_kind_name(meta->density));
    add_word(report, "status", meta->status, ww_density_status_name(meta->status));
    add_word(report, "relative to", meta->relative, ww_relative_name(meta->relative));
    add_word(report, "emulsion", meta->emulsion, ww_emulsion_name(meta->emulsion));
    add_word(report, "grain", meta->grain, ww_grain_name(meta->grain));
    add_word(report, "exposure unit", meta->exposure_unit,
             ww_exposure_unit_name(meta->exposure_unit));
    ww__page_number(report, "log h0", meta->log_h0, "");
    ww__page_number(report, "log h0 sd", meta->log_h0_sd, "");
    ww__page_number(report, "exposure time", meta->exposure_time_s, "s");
    add_word(report, "wedge", meta->wedge, ww_wedge_kind_name(meta->wedge));
    ww__page_number(report, "wedge sd", meta->wedge_sd, "D");
    add_word(report, "exposed by", meta->exposed_by, ww_exposed_by_name(meta->exposed_by));
    ww__page_number(report, "development time", meta->development_time_min, "min");
    ww__page_number(report, "temperature", meta->temperature_c, "deg C");
    ww__page_fact(report, "contrast", meta->contrast);
    ww__page_fact(report, "pack", meta->pack);
    ww__page_number(report, "aperture", meta->aperture, "");
    ww__page_number(report, "scale", meta->scale, "");
    add_word(report, "read", meta->read, ww_read_state_name(meta->read));
    ww__page_fact(report, "lot", meta->lot);
    ww__page_fact(report, "date", meta->date);
}

static void add_point(const ww_channel_curve *channel, const char *name,
                      const ww_curve_point *point, ww__report *report) {
    ww__text cell = WW__TEXT_INIT;
    double density;
    ww__report_item(report, name);
    ww__report_item(report, shown(point->step));
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

static void add_tones(const ww_readings *negative, ww__report *report) {
    static const ww__heading heading[] = {
        {"tone", ""}, {"part", ""}, {"channel", ""}, {"density", "D"}, {"sd", "D"}};
    ww__report_table(report, "Readings of the negative", sizeof heading / sizeof heading[0],
                     "lllrr");
    ww__report_headings(report, heading);
    for (size_t i = 0; i < negative->n; i++)
        for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
            const ww_row *row = &negative->row[i];
            const ww_cell *cell = &row->cell[c];
            ww__text text = WW__TEXT_INIT;
            if (cell->state == WW_CELL_MISSING)
                continue;
            ww__report_item(report, row->is_base ? "base" : *row->tone ? row->tone : row->step);
            ww__report_item(report, row->part == WW_PART_WHOLE ? "" : ww_part_name(row->part));
            ww__report_item(report, ww_channel_name((ww_channel)c));
            if (cell->state == WW_CELL_VALUE)
                ww__text_add_number(&text, cell->value, 3);
            else
                ww__text_add(&text, "over");
            ww__report_take(report, &text);
            if (cell->sd.set)
                ww__text_add_number(&text, cell->sd.value, 3);
            ww__report_take(report, &text);
        }
}

static void add_place(ww__report *report, const char *key, const ww_print_place *place) {
    ww__text value = WW__TEXT_INIT;
    ww__text_add(&value, shown(place->tone));
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
    if (request->test_given) {
        add_place(report, "test print", &request->test);
        ww__page_number(report, "test print's time", (ww_optional){true, request->test_time_s},
                        "s");
    }
    ww__page_number(report, "Callier factor", (ww_optional){true, request->callier}, "");
    ww__page_number(report, "enlarger flare", (ww_optional){true, request->enlarger_flare},
                    "of open light");
    ww__page_number(report, "dry-down", (ww_optional){true, request->dry_down_percent}, "%");
    ww__page_number(report, "magnification before", request->from_scale, "");
    ww__page_number(report, "magnification", request->scale, "");
    ww__page_number(report, "aperture before", request->from_aperture, "");
    ww__page_number(report, "aperture", request->aperture, "");
    ww__page_number(report, "timer step", (ww_optional){true, request->timer_step_s}, "s");
    ww__page_number(report, "repeatability, 1 sd", request->repeatability, "D");
}

/* ------------------------------------------------------------------------------- the page */

/* The drawing alone: what comes before it belongs to a file of its own. */
static void add_drawing(const char *svg, ww__text *html) {
    const char *drawing = strstr(svg, "<svg");
    ww__text_add(html, "<figure>\n");
    ww__text_add(html, drawing ? drawing : "");
    ww__text_add(html, "</figure>\n");
}

static void add_no_plot(const ww_error *why, ww__text *html) {
    ww__text_add(html, "<p class=\"warning\">");
    ww__escape_html(html, why->msg);
    ww__text_add(html, ".</p>\n");
}

static void add_paragraph(const char *tag, const char *string, ww__text *html) {
    if (!*string)
        return;
    ww__text_add_format(html, "<%s>", tag);
    ww__escape_html(html, string);
    ww__text_add_format(html, "</%s>\n", tag);
}

ww_status ww__page_write(const char *title, ww__report *result, ww__report *inputs, const char *svg,
                         const ww_error *why, const char *path, ww_error *err) {
    ww__text html = WW__TEXT_INIT;
    ww_status status = ww__report_status(result, err);
    if (status == WW_OK)
        status = ww__report_status(inputs, err);
    if (status == WW_OK) {
        ww__text_add(&html, head);
        ww__escape_html(&html, title);
        ww__text_add(&html, style);
        add_paragraph("h1", ww__text_string(&result->act), &html);
        add_paragraph("p", ww__text_string(&result->why), &html);
        if (svg)
            add_drawing(svg, &html);
        else
            add_no_plot(why, &html);
        ww__report_set_html(result, &html);
        ww__text_add(&html, "<div class=\"inputs\">\n");
        ww__report_set_html(inputs, &html);
        ww__text_add(&html, "</div>\n</body>\n</html>\n");
        status = ww__text_status(&html, err);
    }
    if (status == WW_OK)
        status = ww_output_write(path, ww__text_string(&html), html.n, err);
    ww__text_release(&html);
    ww__report_release(result);
    ww__report_release(inputs);
    return status;
}

static const char *title_of(const char *name, const char *otherwise) {
    return name && *name ? name : otherwise;
}

ww_status ww_page_curve(const ww_curve *curve, const char *path, ww_error *no_plot, ww_error *err) {
    ww__report result = WW__REPORT_INIT, inputs = WW__REPORT_INIT;
    ww_error why = WW_ERROR_INIT;
    char *svg = NULL;
    ww_status status;
    assert(curve && path);
    (void)ww_plot_curve_svg(curve, &svg, &why);
    ww__curve_report(curve, &result);
    add_meta(&curve->meta, "The material", &inputs);
    add_points(curve, &inputs);
    status = ww__page_write(title_of(curve->meta.name, "Characteristic curve"), &result, &inputs,
                            svg, &why, path, err);
    free(svg);
    if (status == WW_OK && no_plot)
        *no_plot = why;
    return status;
}

ww_status ww_page_print(const ww_print_plan *plan, const ww_print_request *request,
                        const char *path, ww_error *no_plot, ww_error *err) {
    ww__report result = WW__REPORT_INIT, inputs = WW__REPORT_INIT;
    ww_error why = WW_ERROR_INIT;
    char *svg = NULL;
    ww_status status;
    assert(plan && request && path);
    if (!(request->timer_step_s > 0) || !isfinite(request->timer_step_s))
        return ww_error_set(err, WW_EDOMAIN, "%g s is no timer step; give one above 0",
                            request->timer_step_s);
    (void)ww_plot_print_svg(plan, request->paper, request->n_papers, &svg, &why);
    ww__print_report(plan, request->timer_step_s, &result);
    add_request(request, &inputs);
    if (request->negative) {
        add_tones(request->negative, &inputs);
        add_meta(&request->negative->meta, "The negative", &inputs);
    }
    for (size_t i = 0; i < request->n_papers; i++)
        add_meta(&request->paper[i]->meta, "A paper", &inputs);
    status = ww__page_write(
        title_of(request->negative ? request->negative->meta.name : NULL, "Print plan"), &result,
        &inputs, svg, &why, path, err);
    free(svg);
    if (status == WW_OK && no_plot)
        *no_plot = why;
    return status;
}
