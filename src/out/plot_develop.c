/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/develop_words.h"
#include "out/plot_script.h"
#include <float.h>
#include <math.h>

/* Layout [px]: the family of curves, beneath it contrast against time, then speed and fog. */
static const double left = 84, right = 24, top = 40, wide = 660, axis = 64;
static const double family_high = 400, contrast_high = 260, small_high = 150, gap = 96, title = 34;

enum { LINE_POINTS = 49 };

typedef struct limits {
    double from, to;
} limits;

static void widen(limits *l, double value) {
    l->from = fmin(l->from, value);
    l->to = fmax(l->to, value);
}

static const limits nothing = {DBL_MAX, -DBL_MAX};

static const ww_channel_curve *curve_of(const ww_develop_input input[], size_t n,
                                        const ww_development *d, size_t i) {
    /* Inputs of one time keep their order: count those before. */
    size_t same = 0, seen = 0;
    for (size_t k = 0; k < i; k++)
        same += d->row[k].time_min == d->row[i].time_min;
    for (size_t k = 0; k < n; k++)
        if (input[k].curve->meta.development_time_min.value == d->row[i].time_min && seen++ == same)
            return &input[k].curve->channel[d->row[i].channel];
    return NULL;
}

/* --- the family ------------------------------------------------------------------------------- */

static void add_curves(const ww_development *d, const ww_develop_input input[], size_t n, limits *x,
                       limits *y, ww__text *script) {
    ww__text_add(script, "$curves << END_OF_TABLE\n");
    for (size_t i = 0; i < d->n; i++) {
        const ww_channel_curve *curve = curve_of(input, n, d, i);
        if (!curve || !curve->fitted)
            continue;
        ww__plot_curve_rows(script, (double)i, curve);
        widen(x, curve->domain_low);
        widen(x, curve->domain_high);
        widen(y, ww_model_density(&curve->shape, curve->domain_low, NULL));
        widen(y, ww_model_density(&curve->shape, curve->domain_high, NULL));
    }
    ww__text_add(script, "END_OF_TABLE\n$foretold << END_OF_TABLE\n");
    for (size_t i = 0; i < d->n_foretold; i++) {
        widen(y, d->foretold[i].density);
        widen(x, d->foretold[i].log_h);
        ww__plot_row(script, 2, (double[]){d->foretold[i].log_h, d->foretold[i].density});
    }
    ww__text_add_format(script, "END_OF_TABLE\nn_foretold = %zu\n", d->n_foretold);
}

static void add_names(const ww_development *d, ww__text *script) {
    ww__text name = WW__TEXT_INIT;
    ww__text_add_format(script, "n_curves = %zu\narray curve_name[%zu]\n", d->n, d->n);
    for (size_t i = 0; i < d->n; i++) {
        ww__text_add_format(&name, "%g min", d->row[i].time_min);
        if (d->row[i].other_temperature)
            ww__text_add_format(&name, " at %g C", d->row[i].temperature_c.value);
        ww__plot_set_item(script, "curve_name", i + 1, ww__text_string(&name));
        script->failed |= name.failed;
        ww__text_release(&name);
    }
    if (ww_quantity_present(d->answer.time)) {
        ww__words_develop_time(&name, d->answer.time.value, 0);
        ww__text_add(&name, ", foretold between its neighbours");
    }
    ww__plot_set_text(script, "foretold_name", ww__text_string(&name));
    script->failed |= name.failed;
    ww__text_release(&name);
}

/* --- against time ----------------------------------------------------------------------------- */

static void add_readings(const ww_development *d, limits *y, ww__text *script) {
    ww__text_add(script, "$contrasts << END_OF_TABLE\n");
    for (size_t i = 0; i < d->n; i++) {
        const ww_quantity q = d->row[i].contrast[d->measure];
        if (d->row[i].other_temperature || !ww_quantity_present(q))
            continue;
        widen(y, q.low);
        widen(y, q.high);
        ww__plot_row(script, 4, (double[]){d->row[i].time_min, q.value, q.low, q.high});
    }
    ww__text_add(script, "END_OF_TABLE\n");
}

static void add_law(const ww_development *d, limits *x, limits *y, ww__text *script) {
    const ww_time_gamma *law = &d->law[d->measure];
    const double from = (1.0 - WW_TIME_GAMMA_PAST) * law->point[0].time_min;
    const double to = (1.0 + WW_TIME_GAMMA_PAST) * law->point[law->n - 1].time_min;
    *x = (limits){from, to};
    ww__text_add(script, "$law << END_OF_TABLE\n");
    for (int i = 0; i < LINE_POINTS; i++) {
        const double t = fmin(from + (to - from) * i / (LINE_POINTS - 1), to);
        ww_quantity q;
        if (ww_time_gamma_contrast(law, t, &q, NULL) != WW_OK)
            continue;
        widen(y, q.value);
        ww__plot_row(script, 4, (double[]){t, q.value, q.low, q.high});
    }
    ww__text_add(script, "END_OF_TABLE\n");
    ww__plot_set_number(script, "measured_from", law->point[0].time_min);
    ww__plot_set_number(script, "measured_to", law->point[law->n - 1].time_min);
}

static void add_answer(const ww_development *d, ww__text *script) {
    const ww_quantity t = d->answer.time;
    const bool has = ww_quantity_present(t);
    ww__text text = WW__TEXT_INIT;
    ww__text_add_format(script, "has_time = %d\n", has);
    ww__plot_set_number(script, "aim", d->aim);
    ww__plot_set_number(script, "time", has ? t.value : 0.0);
    ww__plot_set_number(script, "time_low", has ? t.low : 0.0);
    ww__plot_set_number(script, "time_high", has ? t.high : 0.0);
    if (has)
        ww__words_develop_time(&text, t.value, 0);
    ww__plot_set_text(script, "time_text", ww__text_string(&text));
    script->failed |= text.failed;
    ww__text_release(&text);
    ww__text_add(&text, "wanted ");
    ww__text_add_number(&text, d->aim, ww__text_decimals(d->aim));
    ww__plot_set_text(script, "aim_text", ww__text_string(&text));
    script->failed |= text.failed;
    ww__text_release(&text);
}

/* Time, value, low, high of the figures beneath. */
static size_t add_figures(const ww_development *d, const char *name, bool speed, limits *y,
                          ww__text *script) {
    size_t n = 0;
    const double stop = 0.30102999566398119521;
    ww__text_add_format(script, "$%s << END_OF_TABLE\n", name);
    for (size_t i = 0; i < d->n; i++) {
        const ww_develop_row *row = &d->row[i];
        const ww_quantity q = speed ? row->speed_point : row->base_fog;
        if (row->other_temperature || !ww_quantity_present(q) || (speed && !row->speed_stops.set))
            continue;
        const double value = speed ? row->speed_stops.value : q.value;
        const double low = speed ? value - (q.high - q.value) / stop : q.low;
        const double high = speed ? value + (q.value - q.low) / stop : q.high;
        widen(y, low);
        widen(y, high);
        ww__plot_row(script, 4, (double[]){row->time_min, value, low, high});
        n++;
    }
    ww__text_add_format(script, "END_OF_TABLE\nn_%s = %zu\n", name, n);
    return n;
}

static void set_limits(ww__text *script, const char *name, limits l) {
    ww__text key = WW__TEXT_INIT;
    const double room = l.to > l.from ? 0.08 * (l.to - l.from) : 0.05;
    if (l.from > l.to)
        l = (limits){0.0, 1.0};
    ww__text_add_format(&key, "%s_from", name);
    ww__plot_set_number(script, ww__text_string(&key), l.from - room);
    script->failed |= key.failed;
    ww__text_release(&key);
    ww__text_add_format(&key, "%s_to", name);
    ww__plot_set_number(script, ww__text_string(&key), l.to + room);
    script->failed |= key.failed;
    ww__text_release(&key);
}

static void add_against_time(const ww_development *d, ww__text *script) {
    limits time = nothing, contrast = nothing, speed = nothing, fog = nothing;
    widen(&contrast, d->aim);
    add_readings(d, &contrast, script);
    add_law(d, &time, &contrast, script);
    add_answer(d, script);
    add_figures(d, "speeds", true, &speed, script);
    add_figures(d, "fogs", false, &fog, script);
    ww__plot_set_number(script, "t_from", time.from);
    ww__plot_set_number(script, "t_to", time.to);
    set_limits(script, "c", contrast);
    set_limits(script, "s", speed);
    set_limits(script, "f", fog);
    ww__plot_set_text(script, "contrast_label", ww__words_develop_measure(d->measure));
}

ww_status ww__plot_develop_data(const ww_development *development, const ww_develop_input input[],
                                size_t n, ww__text *script, ww__plot_size *size, ww_error *err) {
    const ww_development *d = development;
    const double small_from = axis, small_half = (wide - gap) / 2.0;
    const double contrast_from = d->aimed ? small_from + small_high + title + axis : 0.0;
    const double family_from = d->aimed ? contrast_from + contrast_high + title + axis : axis;
    limits x = nothing, y = nothing;
    *size = (ww__plot_size){left + wide + right, family_from + family_high + top};
    ww__plot_set_panel(script, "family",
                       (ww__plot_panel){left, left + wide, family_from, family_from + family_high},
                       *size);
    ww__plot_set_panel(
        script, "contrast",
        (ww__plot_panel){left, left + wide, contrast_from, contrast_from + contrast_high}, *size);
    ww__plot_set_panel(
        script, "speed",
        (ww__plot_panel){left, left + small_half, small_from, small_from + small_high}, *size);
    ww__plot_set_panel(
        script, "fog",
        (ww__plot_panel){left + small_half + gap, left + wide, small_from, small_from + small_high},
        *size);
    ww__text_add_format(script, "has_law = %d\n", d->aimed);
    add_curves(d, input, n, &x, &y, script);
    if (x.from > x.to)
        return ww_error_set(err, WW_ENODATA, "no plot: none of these curves was fitted");
    add_names(d, script);
    ww__plot_set_number(script, "x_from", x.from - 0.05);
    ww__plot_set_number(script, "x_to", x.to + 0.05);
    ww__plot_limits(fmin(y.from, 0.0), y.to + 0.03, &y.from, &y.to);
    ww__plot_set_number(script, "y_from", y.from);
    ww__plot_set_number(script, "y_to", y.to);
    ww__plot_set_text(script, "x_label", ww__plot_log_h_label(input[0].curve->meta.exposure_unit));
    if (d->aimed)
        add_against_time(d, script);
    return ww__text_status(script, err);
}
