/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/plot_script.h"
#include "out/strip_words.h"
#include <float.h>
#include <math.h>

/* Layout [px]: density over the strip to expose; the legend lies below. */
static const double left = 84, right = 24, top = 62, wide = 660, main_high = 380, axis = 64;
static const double strip_high = 96, strip_axis = 52, legend = 108;

#define HALF_WIDTH 1.959963984540054 /* 95 % of a normal, in sd */

/* What a mark says of a step; the script goes by these numbers. */
enum kind { USED = 0, OUT_OF_ORDER, CHANGED, SUSPECT, KINDS };

static enum kind kind_of(const ww_strip_step *step) {
    return step->out_of_order ? OUT_OF_ORDER
           : step->changed    ? CHANGED
           : step->suspect    ? SUSPECT
                              : USED;
}

static bool is_drawn(const ww_strip_step *step) {
    return step->state == WW_CELL_VALUE && step->time_s > 0.0;
}

/* The density that steps are set against: the aim, or that of the covered piece. */
static ww_optional level_of(const ww_strip *strip) {
    for (size_t i = 0; i < strip->n_steps && strip->kind == WW_STRIP_SAFELIGHT; i++)
        if (strip->step[i].covered && strip->step[i].state == WW_CELL_VALUE)
            return (ww_optional){true, strip->step[i].density};
    return strip->aim;
}

struct limits {
    double x_from, x_to, y_from, y_to;
    bool any;
};

/* A light grey fills the panel where that is all there is: a change of 0.02 must be seen. */
static void narrow(const ww_strip *strip, struct limits *l) {
    const ww_optional level = level_of(strip);
    double least = level.set ? level.value : l->y_to;
    for (size_t i = 0; i < strip->n_steps; i++)
        if (is_drawn(&strip->step[i]))
            least = fmin(least, strip->step[i].density);
    l->y_from = floor(20.0 * least - 1.0) / 20.0;
    l->y_to = ceil(20.0 * l->y_to + 1.0) / 20.0;
}

static struct limits find_limits(const ww_strip *strip) {
    const ww_optional level = level_of(strip);
    struct limits l = {DBL_MAX, -DBL_MAX, 0.0, 0.0, false};
    for (size_t i = 0; i < strip->n_steps; i++) {
        const ww_strip_step *step = &strip->step[i];
        if (!is_drawn(step))
            continue;
        l.any = true;
        l.x_from = fmin(l.x_from, log10(step->time_s));
        l.x_to = fmax(l.x_to, log10(step->time_s));
        l.y_from = fmin(l.y_from, step->density);
        l.y_to = fmax(l.y_to, step->density);
    }
    if (level.set)
        l.y_to = fmax(l.y_to, level.value);
    l.x_from -= 0.05;
    l.x_to += 0.05;
    if (strip->kind == WW_STRIP_SAFELIGHT)
        narrow(strip, &l);
    else
        ww__plot_limits(l.y_from, l.y_to + 0.03, &l.y_from, &l.y_to);
    return l;
}

/* --- tables ----------------------------------------------------------------------------------- */

/* Log time, density, half-width, kind. */
static void add_steps(const ww_strip *strip, ww__text *script) {
    size_t n[KINDS] = {0, 0, 0, 0};
    ww__text_add(script, "$steps << END_OF_TABLE\n");
    for (size_t i = 0; i < strip->n_steps; i++) {
        const ww_strip_step *step = &strip->step[i];
        if (!is_drawn(step))
            continue;
        n[kind_of(step)]++;
        ww__plot_row(script, 4,
                     (double[]){log10(step->time_s), step->density, HALF_WIDTH * step->error,
                                (double)kind_of(step)});
    }
    ww__text_add(script, "END_OF_TABLE\n");
    ww__text_add_format(script, "n_out_of_order = %zu\nn_changed = %zu\nn_suspect = %zu\n",
                        n[OUT_OF_ORDER], n[CHANGED], n[SUSPECT]);
}

/* Log time, density, half-width. */
static void add_line(const ww_strip *strip, ww__text *script) {
    ww__text_add(script, "$line << END_OF_TABLE\n");
    for (size_t i = 0; i < strip->n_line; i++)
        ww__plot_row(
            script, 3,
            (double[]){log10(strip->line[i].time_s), strip->line[i].density, strip->line[i].half});
    ww__text_add_format(script, "END_OF_TABLE\nn_line = %zu\n", strip->n_line);
}

/* How grey a piece of the sketch is: light at the left, and dark enough at the right. */
static double grey_of(const ww_strip_series *series, size_t i) {
    const double lightest = 235.0, darkest = 60.0;
    return lightest - (lightest - darkest) * (double)i / (double)(series->n - 1);
}

static void add_seconds(const char *name, size_t i, const ww_strip *strip, const char *sign,
                        double seconds, ww__text *script) {
    ww__text text = WW__TEXT_INIT;
    ww__text_add(&text, sign);
    ww__words_strip_time(&text, strip, seconds);
    ww__plot_set_item(script, name, i + 1, ww__text_string(&text));
    script->failed |= text.failed;
    ww__text_release(&text);
}

/* Number, grey; the texts stand in arrays beside them. */
static void add_pieces(const ww_strip *strip, ww__text *script) {
    const ww_strip_series *series = &strip->series;
    ww__text_add(script, "$pieces << END_OF_TABLE\n");
    for (size_t i = 0; i < series->n; i++)
        ww__plot_row(script, 2, (double[]){(double)(i + 1), grey_of(series, i)});
    ww__text_add_format(script, "END_OF_TABLE\nn_pieces = %zu\n", series->n);
    ww__text_add_format(script, "array piece_all[%zu]\narray piece_added[%zu]\n", series->n + 1,
                        series->n + 1);
    for (size_t i = 0; i < series->n; i++) {
        add_seconds("piece_all", i, strip, "", series->piece[i].set_s, script);
        add_seconds("piece_added", i, strip, i > 0 ? "+" : "", series->piece[i].add_s, script);
    }
}

/* --- what was found --------------------------------------------------------------------------- */

static void add_level(const ww_strip *strip, ww__text *script) {
    const ww_optional level = level_of(strip);
    const bool safelight = strip->kind == WW_STRIP_SAFELIGHT;
    ww__text text = WW__TEXT_INIT;
    ww__text_add(&text, safelight ? "covered " : strip->black.set ? "0.05 under black, " : "aim ");
    if (level.set)
        ww__text_add_number(&text, level.value, ww__text_decimals(level.value));
    ww__text_add_format(script, "has_level = %d\n", level.set);
    ww__plot_set_number(script, "level", level.set ? level.value : 0.0);
    ww__plot_set_number(script, "level_change", safelight ? strip->least_change : 0.0);
    ww__plot_set_text(script, "level_text", ww__text_string(&text));
    script->failed |= text.failed;
    ww__text_release(&text);
}

static void add_best(const ww_strip *strip, ww__text *script) {
    const bool has = ww_quantity_present(strip->best);
    const ww_quantity best = has ? strip->best : (ww_quantity){1.0, 1.0, 1.0, WW_ABSENT};
    ww__text text = WW__TEXT_INIT;
    ww__words_strip_time(&text, strip, best.value);
    ww__text_add_format(script, "has_best = %d\n", has);
    ww__plot_set_number(script, "best", log10(best.value));
    ww__plot_set_number(script, "best_low", log10(best.low));
    ww__plot_set_number(script, "best_high", log10(best.high));
    ww__plot_set_text(script, "best_text", ww__text_string(&text));
    ww__plot_set_text(script, "interval_text",
                      strip->kind == WW_STRIP_SAFELIGHT ? "a change begins in here"
                      : strip->low_open || strip->high_open
                          ? "95 % interval, open at the strip's end"
                          : "95 % interval of the time");
    script->failed |= text.failed;
    ww__text_release(&text);
}

static void add_words(const ww_strip *strip, ww__text *script) {
    static const char *const title[] = {"Test strip to expose", "Test strip",
                                        "Strip through clear film: standard proof",
                                        "Safelight strip"};
    ww__plot_set_text(script, "title_text", title[strip->kind]);
    ww__plot_set_text(script, "strip_title", strip->kind == WW_STRIP_PLAN ? "" : "The next strip");
    ww__plot_set_text(script, "x_label",
                      strip->kind == WW_STRIP_SAFELIGHT ? "time under the safelight (s)"
                                                        : "time (s), in equal stops");
    ww__plot_set_text(script, "y_label", strip->white.set ? "density above paper" : "density");
}

ww_status ww__plot_strip_data(const ww_strip *strip, ww__text *script, ww__plot_size *size,
                              ww_error *err) {
    const struct limits l = find_limits(strip);
    const bool pieces = strip->series.n > 0;
    const double main_from = (pieces ? strip_axis + strip_high + 56 : 0.0) + legend + axis;
    const double strip_from = l.any ? legend + strip_axis : strip_axis;
    double height;
    if (!l.any && !pieces)
        return ww_error_set(err, WW_ENODATA, "no plot: there is neither a step nor a piece");
    height = l.any ? main_from + main_high + top : strip_from + strip_high + 30 + top;
    *size = (ww__plot_size){left + wide + right, height};
    ww__plot_set_panel(script, "main",
                       (ww__plot_panel){left, left + wide, main_from, main_from + main_high},
                       *size);
    ww__plot_set_panel(script, "strip",
                       (ww__plot_panel){left, left + wide, strip_from, strip_from + strip_high},
                       *size);
    ww__plot_set_number(script, "legend_top", (legend - 6.0) / height);
    ww__text_add_format(script, "has_main = %d\nhas_line = %d\n", l.any, strip->n_line > 1);
    if (l.any) {
        ww__plot_set_number(script, "x_from", l.x_from);
        ww__plot_set_number(script, "x_to", l.x_to);
        ww__plot_set_number(script, "y_from", l.y_from);
        ww__plot_set_number(script, "y_to", l.y_to);
    }
    add_words(strip, script);
    add_level(strip, script);
    add_best(strip, script);
    add_steps(strip, script);
    add_line(strip, script);
    add_pieces(strip, script);
    return ww__text_status(script, err);
}
