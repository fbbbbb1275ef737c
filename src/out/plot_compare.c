/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "out/plot_script.h"
#include "out/report.h"
#include <float.h>
#include <math.h>
#include <stdlib.h>

/* Layout [px]: densities over what was sent, beneath them a strip of greys a print. */
static const double left = 84, right = 24, top = 40, wide = 660, main_high = 400, axis = 64;
static const double strip_high = 34, strip_gap = 26, strips_head = 34, legend = 24;

static const double margin = 0.06; /* of the scale, beside it */
static const double seen_veil = 0.01;

/* One grey of a print's scale. */
typedef struct spot {
    double x, density, half;
    double light[3]; /* what an eye gets of it */
} spot;

static int by_x(const void *a, const void *b) {
    const spot *one = a, *other = b;
    return (one->x > other->x) - (one->x < other->x);
}

static bool above_white(const ww_comparison *comparison) {
    for (size_t i = 0; i < comparison->n_pairs; i++)
        if (comparison->pair[i].above_white)
            return true;
    return false;
}

/* Without what was sent, tones stand one after the other, lightest first. */
static bool by_order(const ww_comparison *comparison) {
    for (size_t i = 0; i < comparison->n; i++)
        if (comparison->print[i].control == WW_COMPARE_LABEL)
            return true;
    return false;
}

/* The row base and the step that is bare paper are one grey. */
static size_t once_each(spot spots[], size_t n) {
    size_t kept = 0;
    for (size_t i = 0; i < n; i++)
        if (kept == 0 || spots[i].x - spots[kept - 1].x > 1e-6)
            spots[kept++] = spots[i];
    return kept;
}

/* Where a tone's own colour was not read, its white's fades as it darkens, as drift has it. */
static void find_light(const ww_compare_print *print, const ww_compare_tone *tone,
                       double light[3]) {
    const ww_lab white = print->white_lab;
    ww_lab lab = {ww_viewing_lightness(tone->density[print->main].value), 0.0, 0.0};
    if (print->has_lab) {
        const double stays = (lab.l + 16.0) / (white.l + 16.0);
        lab.a = white.a * stays;
        lab.b = white.b * stays;
    }
    ww_colour_light(tone->has_lab ? tone->lab : lab, light);
    for (int c = 0; c < 3; c++)
        light[c] = (light[c] + seen_veil) / (1.0 + seen_veil);
}

static ww_status find_spots(const ww_comparison *comparison, size_t which, spot **made, size_t *n,
                            ww_error *err) {
    const ww_compare_print *print = &comparison->print[which];
    const ww_channel channel = print->main;
    const bool order = by_order(comparison), percent = !order && print->control != WW_COMPARE_LOG_H;
    const double zero = above_white(comparison) ? print->white_of[channel].value : 0.0;
    spot *spots = calloc(print->n + 1, sizeof *spots);
    *n = 0;
    if (!spots)
        return ww_error_set(err, WW_EMEMORY, "no memory for a plot");
    for (size_t i = 0; i < print->n; i++) {
        const ww_compare_tone *tone = &print->tone[i];
        if (!tone->neutral || !tone->density[channel].set || (!order && !tone->sent.set))
            continue;
        const double density = tone->density[channel].value - zero;
        spot *to = &spots[(*n)++];
        *to = (spot){order ? density : (percent ? 100.0 : 1.0) * tone->sent.value, density,
                     .half = 1.959963984540054 * tone->error[channel]};
        find_light(print, tone, to->light);
    }
    qsort(spots, *n, sizeof *spots, by_x);
    if (!order)
        *n = once_each(spots, *n);
    for (size_t i = 0; i < *n && order; i++)
        spots[i].x = (double)(i + 1);
    *made = spots;
    return WW_OK;
}

/* Code of a display of gamma 2.2 for light, the whitest being `most`. */
static double code_of(double light, double most) {
    return round(255.0 * pow(fmax(light, 0.0) / most, 1.0 / 2.2));
}

typedef struct limits {
    double x_from, x_to, y_from, y_to;
    double light; /* the most of any colour: no white is clipped */
} limits;

static void widen(const spot *s, limits *l) {
    l->x_from = fmin(l->x_from, s->x);
    l->x_to = fmax(l->x_to, s->x);
    l->y_from = fmin(l->y_from, s->density);
    l->y_to = fmax(l->y_to, s->density);
    for (int c = 0; c < 3; c++)
        l->light = fmax(l->light, s->light[c]);
}

/* A patch reaches halfway to its neighbours, at either end as far out as in. */
static void add_patch(const spot spots[], size_t n, size_t i, double print, double most,
                      ww__text *patches) {
    const double before = i > 0 ? spots[i].x - spots[i - 1].x : 0.0;
    const double after = i + 1 < n ? spots[i + 1].x - spots[i].x : 0.0;
    const double left_half = (i > 0 ? before : after) / 2.0;
    const double right_half = (i + 1 < n ? after : before) / 2.0;
    const double *light = spots[i].light;
    ww__plot_row(patches, 6,
                 (double[]){print, spots[i].x - left_half, spots[i].x + right_half,
                            code_of(light[0], most), code_of(light[1], most),
                            code_of(light[2], most)});
}

/* Number of the print, x, density, half-width. */
static ww_status add_scales(const ww_comparison *comparison, spot *spots[], size_t n[], limits *l,
                            ww__text *script, ww_error *err) {
    ww_status status = WW_OK;
    ww__text_add(script, "$scale << END_OF_TABLE\n");
    for (size_t p = 0; p < comparison->n && status == WW_OK; p++) {
        status = find_spots(comparison, p, &spots[p], &n[p], err);
        for (size_t i = 0; i < n[p]; i++) {
            const spot *s = &spots[p][i];
            widen(s, l);
            ww__plot_row(script, 4, (double[]){(double)p, s->x, s->density, s->half});
        }
    }
    ww__text_add(script, "END_OF_TABLE\n");
    return status;
}

/* Number of the print, the patch from and to, its colour. */
static void add_patches(const ww_comparison *comparison, spot *const spots[], const size_t n[],
                        double most, ww__text *script) {
    ww__text_add(script, "$patches << END_OF_TABLE\n");
    for (size_t p = 0; p < comparison->n; p++)
        for (size_t i = 0; i < n[p]; i++)
            add_patch(spots[p], n[p], i, (double)p, most, script);
    ww__text_add(script, "END_OF_TABLE\n");
}

static ww_status add_tables(const ww_comparison *comparison, limits *l, ww__text *script,
                            ww_error *err) {
    spot *spots[WW_COMPARE_MOST] = {NULL};
    size_t n[WW_COMPARE_MOST] = {0};
    const ww_status status = add_scales(comparison, spots, n, l, script, err);
    if (status == WW_OK)
        add_patches(comparison, spots, n, l->light, script);
    for (size_t p = 0; p < comparison->n; p++)
        free(spots[p]);
    return status;
}

static void add_words(const ww_comparison *comparison, ww__text *script) {
    ww__plot_set_text(script, "x_label",
                      by_order(comparison)         ? "tone, lightest first"
                      : comparison->print[0].curve ? "log H above the speed point"
                      : comparison->print[0].control == WW_COMPARE_LOG_H ? "log H"
                                                                         : "sent, % of black");
    ww__plot_set_text(script, "y_label",
                      above_white(comparison) ? "density above white" : "density");
    ww__plot_set_text(
        script, "strips_text",
        "What each will show beside the whitest of them, with 1 % of white from the room upon it");
    ww__text_add_format(script, "n_prints = %zu\narray print_name[%zu]\n", comparison->n,
                        comparison->n);
    for (size_t p = 0; p < comparison->n; p++) {
        char shown[200];
        ww__plot_set_item(script, "print_name", p + 1,
                          ww__escape_message(comparison->print[p].name, shown, sizeof shown));
    }
}

ww_status ww__plot_compare_data(const ww_comparison *comparison, ww__text *script,
                                ww__plot_size *size, ww_error *err) {
    const double n = (double)comparison->n;
    const double strips = strips_head + n * (strip_high + strip_gap) + legend;
    limits l = {DBL_MAX, -DBL_MAX, 0.0, 0.0, 0.0};
    *size = (ww__plot_size){left + wide + right, strips + axis + main_high + top};
    ww__plot_set_panel(
        script, "main",
        (ww__plot_panel){left, left + wide, strips + axis, strips + axis + main_high}, *size);
    ww__plot_set_panel(script, "strips",
                       (ww__plot_panel){left, left + wide, legend, strips - strips_head}, *size);
    ww__plot_set_number(script, "strip_share", strip_high / (strip_high + strip_gap));
    const ww_status status = add_tables(comparison, &l, script, err);
    if (status != WW_OK)
        return status;
    if (l.x_from > l.x_to)
        return ww_error_set(err, WW_ENODATA, "no plot: no grey of these prints was read");
    ww__plot_limits(l.y_from, l.y_to + 0.03, &l.y_from, &l.y_to);
    ww__plot_set_number(script, "x_from", l.x_from - margin * (l.x_to - l.x_from) - 1e-6);
    ww__plot_set_number(script, "x_to", l.x_to + margin * (l.x_to - l.x_from) + 1e-6);
    ww__plot_set_number(script, "y_from", l.y_from);
    ww__plot_set_number(script, "y_to", l.y_to);
    add_words(comparison, script);
    return ww__text_status(script, err);
}
