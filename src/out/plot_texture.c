/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "out/plot_script.h"
#include "out/scan_words.h"
#include <math.h>

/* Layout [px]: contrast over frequency, beneath it grain place by place; either may be missing. */
static const double left = 84, right = 24, top = 40, wide = 660, axis = 64;
static const double edge_high = 360, grain_high = 240, gap = 48;

static const double gone = 0.05;   /* contrast at which the picture ends */
static const double beside = 0.08; /* of the way between two places, from scan to scan */

static double per_mm(const ww_texture_scan *scan, size_t i) {
    return 1000.0 / scan->px_um * (double)i / (WW_EDGE_FREQUENCIES - 1);
}

/* Up to where every scan's contrast is gone. */
static double last_frequency(const ww_texture_scan scan[], size_t n) {
    double last = 0.0;
    for (size_t s = 0; s < n; s++) {
        size_t i = 0;
        while (scan[s].has_edge && i + 1 < WW_EDGE_FREQUENCIES && scan[s].edge.mtf[i] > gone)
            i++;
        last = fmax(last, per_mm(&scan[s], i));
    }
    return last;
}

/* Number of the scan, cycles/mm, contrast; then the same where half of it is left, and how far off
 * that may be. */
static void add_edges(const ww_texture_scan scan[], size_t n, ww__text *script) {
    ww__text_add(script, "$mtf << END_OF_TABLE\n");
    for (size_t s = 0; s < n; s++)
        for (size_t i = 0; scan[s].has_edge && i < WW_EDGE_FREQUENCIES; i++)
            ww__plot_row(script, 3,
                         (double[]){(double)s, per_mm(&scan[s], i), scan[s].edge.mtf[i]});
    ww__text_add(script, "END_OF_TABLE\n$half << END_OF_TABLE\n");
    for (size_t s = 0; s < n; s++) {
        const ww_quantity *half = &scan[s].mtf50_per_mm;
        if (scan[s].has_edge && ww_quantity_present(*half))
            ww__plot_row(script, 4,
                         (double[]){(double)s, half->value, 0.5, (half->high - half->low) / 2.0});
    }
    ww__text_add(script, "END_OF_TABLE\n");
}

/* Number of the scan, place, RMS and its half-width; places have their names beneath. */
static void add_grain(const ww_texture_scan scan[], size_t n, ww__text *script) {
    double most = 0.0;
    ww__text_add(script, "$grain << END_OF_TABLE\n");
    for (size_t s = 0; s < n; s++)
        for (size_t i = 0; i < scan[s].n; i++) {
            const ww_quantity *rms = &scan[s].spot[i].rms;
            const double at = (double)(i + 1) + beside * ((double)s - ((double)n - 1.0) / 2.0);
            most = fmax(most, rms->high);
            ww__plot_row(script, 4,
                         (double[]){(double)s, at, rms->value, (rms->high - rms->low) / 2.0});
        }
    ww__text_add_format(script, "END_OF_TABLE\nn_places = %zu\narray place[%zu]\n", scan[0].n,
                        scan[0].n + 1);
    ww__plot_set_number(script, "grain_to", 1.3 * most);
    for (size_t i = 0; i < scan[0].n; i++) {
        char shown[200];
        ww__plot_set_item(script, "place", i + 1,
                          ww__escape_message(scan[0].spot[i].name, shown, sizeof shown));
    }
}

static void add_names(const ww_texture_scan scan[], size_t n, ww__text *script) {
    ww__text_add_format(script, "n_scans = %zu\narray scan_name[%zu]\n", n, n);
    for (size_t s = 0; s < n; s++) {
        ww__text name = WW__TEXT_INIT;
        ww__words_file(&name, scan[s].file, "the scan");
        ww__plot_set_item(script, "scan_name", s + 1, ww__text_string(&name));
        script->failed |= name.failed;
        ww__text_release(&name);
    }
}

ww_status ww__plot_texture_data(const ww_texture_scan scan[], size_t n, ww__text *script,
                                ww__plot_size *size, ww_error *err) {
    const double last = last_frequency(scan, n);
    const bool edge = last > 0.0, grain = scan[0].n > 0;
    const double grain_top = grain ? axis + grain_high : 0.0;
    const double edge_from = (grain ? grain_top + gap : 0.0) + axis;
    *size = (ww__plot_size){left + wide + right, (edge ? edge_from + edge_high : grain_top) + top};
    ww__text_add_format(script, "has_edge = %d\nhas_grain = %d\n", edge, grain);
    ww__plot_set_panel(script, "edge",
                       (ww__plot_panel){left, left + wide, edge_from, edge_from + edge_high},
                       *size);
    ww__plot_set_panel(script, "grain",
                       (ww__plot_panel){left, left + wide, axis, axis + grain_high}, *size);
    ww__plot_set_number(script, "x_to", edge ? last : 1.0);
    add_edges(scan, n, script);
    add_grain(scan, n, script);
    add_names(scan, n, script);
    return ww__text_status(script, err);
}
