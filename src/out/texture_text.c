/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "out/report.h"
#include "out/scan_words.h"
#include <assert.h>
#include <math.h>
#include <wedgework/texture_text.h>

static double half_of(ww_quantity quantity) {
    return (quantity.high - quantity.low) / 2.0;
}

/* A doubt to so many decimals, up to a whole step. */
static double shown_half(ww_quantity quantity, int decimals) {
    return ww_doubt_shown(half_of(quantity), pow(10.0, -decimals));
}

/* --- the act ---------------------------------------------------------------------------------- */

/* "grainier: 14.1 against 9.4 (RMS at 48 um, 'sky', trust +-0.8)" */
static void add_against(ww__text *text, const char *more, const char *fewer, ww_quantity other,
                        ww_quantity one, int decimals, const char *unit) {
    const double half = hypot(half_of(one), half_of(other));
    const double difference = other.value - one.value;
    if (fabs(difference) <= half)
        ww__text_add(text, "no different within the doubt: ");
    else
        ww__text_add_format(text, "%s: ", difference > 0.0 ? more : fewer);
    ww__text_add_number(text, other.value, decimals);
    ww__text_add(text, " against ");
    ww__text_add_number(text, one.value, decimals);
    ww__text_add_format(text, "%s, trust +-", unit);
    ww__text_add_number(text, ww_doubt_shown(half, pow(10.0, -decimals)), decimals);
}

static void add_scan(ww__text *text, const ww_texture_scan *first, const ww_texture_scan *scan) {
    ww__words_file_quoted(text, scan->file, "the scan");
    ww__text_add(text, " beside ");
    ww__words_file_quoted(text, first->file, "the first");
    ww__text_add(text, " is ");
    for (size_t i = 0; i < scan->n && i < first->n; i++) {
        char shown[200];
        ww__text_add(text, i > 0 ? "; " : "");
        add_against(text, "grainier", "smoother", scan->spot[i].rms, first->spot[i].rms, 1, "");
        ww__text_add_format(text, " (1000 sd of D through 48 um, '%s')",
                            ww__escape_message(scan->spot[i].name, shown, sizeof shown));
    }
    if (scan->has_edge && first->has_edge) {
        ww__text_add(text, scan->n > 0 ? "; " : "");
        if (ww_quantity_present(scan->mtf50_per_mm) && ww_quantity_present(first->mtf50_per_mm)) {
            add_against(text, "sharper", "softer", scan->mtf50_per_mm, first->mtf50_per_mm, 1, "");
            ww__text_add(text, " cycles/mm (MTF50)");
        } else {
            add_against(text, "softer", "sharper", scan->width_um, first->width_um, 0, "");
            ww__text_add(text, " um (edge, 10 to 90 %)");
        }
    }
    ww__text_add(text, ".");
}

static void add_act(ww__text *text, const ww_texture_scan scan[], size_t n) {
    for (size_t i = 1; i < n && !text->failed; i++) {
        ww__text_add(text, i > 1 ? " " : "");
        add_scan(text, &scan[0], &scan[i]);
    }
}

static void add_why(ww__text *text, const ww_texture_scan scan[], size_t n) {
    ww__text_add(text, "Why: ");
    for (size_t i = 0; i < n; i++) {
        ww__text_add(text, i > 0 ? ", " : "");
        ww__words_file_quoted(text, scan[i].file, "the scan");
        ww__text_add(text, " has pixels of ");
        ww__text_add_number(text, scan[i].px_um, 1);
        ww__text_add_format(text, " um (%s)", ww_channel_name(scan[i].channel));
    }
    ww__text_add(text, "; what the scanner adds in grain and takes in sharpness is in the figures "
                       "of all.");
}

/* --- tables ----------------------------------------------------------------------------------- */

static void take_file(ww__report *report, const char *file) {
    ww__text text = WW__TEXT_INIT;
    ww__words_file(&text, file, "the scan");
    ww__report_take(report, &text);
}

static void add_spots(const ww_texture_scan scan[], size_t n, ww__report *report) {
    static const ww__heading heading[] = {
        {"scan", ""},      {"place", ""},          {"density", "D"},
        {"sd", "D, 1 px"}, {"scanner", "D, 1 px"}, {"RMS", "48 um"},
        {"trust", "+-"},   {"scanner", "48 um"},   {"G", "um D"}};
    ww__report_table(report, "Grain and texture", sizeof heading / sizeof heading[0], "llrrrrrrr");
    ww__report_headings(report, heading);
    for (size_t i = 0; i < n; i++)
        for (size_t k = 0; k < scan[i].n; k++) {
            const ww_texture_spot *spot = &scan[i].spot[k];
            take_file(report, scan[i].file);
            ww__report_name(report, spot->name);
            ww__report_number(report, spot->density, 2);
            ww__report_number(report, spot->sd, 4);
            ww__report_number(report, spot->scanner, 4);
            ww__report_number(report, spot->rms.value, 1);
            ww__report_number(report, shown_half(spot->rms, 1), 1);
            ww__report_number(report, spot->scanner_rms, 1);
            ww__report_number(report, spot->selwyn.value, 3);
        }
    ww__report_list(report, "Marks", false);
    if (scan[0].n > 0)
        ww__report_item(report, "RMS is 1000 times the standard deviation of density through a "
                                "disc of 48 um, as grain of films is told; G, Selwyn's figure, is "
                                "the same for any aperture that is large against the grain. Both "
                                "grow with density: compare places that are equally dark.");
}

static void take_quantity(ww__report *report, ww_quantity quantity, int decimals) {
    if (!ww_quantity_present(quantity)) {
        ww__report_item(report, "-");
        ww__report_item(report, "-");
        return;
    }
    ww__report_number(report, quantity.value, decimals);
    ww__report_number(report, shown_half(quantity, decimals), decimals);
}

static void add_edges(const ww_texture_scan scan[], size_t n, ww__report *report) {
    static const ww__heading heading[] = {{"scan", ""},      {"10 to 90 %", "um"},
                                          {"trust", "+-um"}, {"MTF50", "cycles/mm"},
                                          {"trust", "+-"},   {"askew", "degrees"}};
    ww__report_table(report, "The edge", sizeof heading / sizeof heading[0], "lrrrrr");
    ww__report_headings(report, heading);
    for (size_t i = 0; i < n; i++) {
        if (!scan[i].has_edge)
            continue;
        take_file(report, scan[i].file);
        take_quantity(report, scan[i].width_um, 0);
        take_quantity(report, scan[i].mtf50_per_mm, 1);
        ww__report_number(report, scan[i].edge.angle_deg, 1);
    }
}

void ww__texture_report(const ww_texture_scan scan[], size_t n, ww__report *report) {
    ww__text sentence = WW__TEXT_INIT;
    add_act(&sentence, scan, n);
    ww__report_act(report, &sentence);
    add_why(&sentence, scan, n);
    ww__report_why(report, &sentence);
    add_spots(scan, n, report);
    add_edges(scan, n, report);
    for (size_t i = 0; i < n; i++)
        ww__report_notes(report, &scan[i].notes);
}

ww_status ww_texture_text(const ww_texture_scan scan[], size_t n, const ww_text_style *style,
                          char **text, ww_error *err) {
    ww__report report = WW__REPORT_INIT;
    assert(scan && n > 0 && style && text);
    ww__texture_report(scan, n, &report);
    return ww__report_make_text(&report, style, text, err);
}
