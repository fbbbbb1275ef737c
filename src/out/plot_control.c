/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/sizes.h"
#include "out/control_words.h"
#include "out/plot_script.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Layout [px]: a panel a measure over one axis of dates, a legend beneath. */
static const double left = 84, right = 48, top = 64, wide = 690, high = 112, gap = 26, axis = 58;
static const double legend = 96;

enum { PANELS_MOST = 8, CHANNELS = WW_CHANNEL_COUNT + 1 /* and what has none */, DAY = 86400 };

/* What is drawn: one series. */
typedef struct plot {
    const ww_control_series *series;
    const char *panel[PANELS_MOST]; /* measures */
    bool spread[PANELS_MOST];
    size_t n_panels, n_measures;
    double low[PANELS_MOST], high[PANELS_MOST]; /* deviations and limits in sight [D] */
    double *x;                                  /* [s] of each row */
    bool seen[CHANNELS];
} plot;

/* --- dates ----------------------------------------------------------------------------------- */

/* Days from 1970-01-01 in the Gregorian calendar: years begin in March, so that the leap day ends
 * them. */
static double day_number(int year, int month, int day) {
    const int y = month > 2 ? year : year - 1, m = month > 2 ? month - 3 : month + 9;
    return 365.0 * y + floor(y / 4.0) - floor(y / 100.0) + floor(y / 400.0) +
           floor((153.0 * m + 2.0) / 5.0) + day - 1.0 - 719468.0;
}

static double seconds_of(const char *date) {
    const int year = atoi(date), month = atoi(date + 5), day = atoi(date + 8);
    const bool clock = strlen(date) > 10;
    const double time = clock ? 3600.0 * atoi(date + 11) + 60.0 * atoi(date + 14) : 0.0;
    return DAY * day_number(year, month, day) + time;
}

/* Strips of one day without a time are spread over it, so that none hides another. */
static void take_dates(plot *p) {
    const ww_control_series *series = p->series;
    for (size_t i = 0; i < series->n_rows;) {
        size_t n = 1;
        while (i + n < series->n_rows &&
               strcmp(series->row[i].strip->date, series->row[i + n].strip->date) == 0)
            n++;
        for (size_t k = 0; k < n; k++)
            p->x[i + k] = seconds_of(series->row[i].strip->date) +
                          (n > 1 ? 0.8 * DAY * (double)k / (double)n : 0.0);
        i += n;
    }
}

/* --- which panels ---------------------------------------------------------------------------- */

static size_t channel_of(const ww_control_chart *chart) {
    return (size_t)chart->channel;
}

static size_t panel_of(const plot *p, const ww_control_chart *chart) {
    size_t i = 0;
    while (i < p->n_panels && strcmp(p->panel[i], chart->measure) != 0)
        i++;
    return i;
}

static void widen(plot *p, size_t panel, bool set, double deviation) {
    if (!set)
        return;
    p->low[panel] = fmin(p->low[panel], deviation);
    p->high[panel] = fmax(p->high[panel], deviation);
}

static void see_chart(plot *p, const ww_control_lot *lot, const ww_control_chart *chart,
                      size_t panel) {
    ww_optional lower, upper;
    bool user;
    ww_control_limits_of(chart, &lower, &upper, &user);
    widen(p, panel, lower.set, lower.value - chart->aim);
    widen(p, panel, upper.set, upper.value - chart->aim);
    for (size_t i = 0; i < lot->n; i++)
        widen(p, panel, chart->point[i].read, chart->point[i].deviation);
    p->seen[channel_of(chart)] = true;
}

/* The measures of the lot in use, and what is to be seen of them in every lot. */
static void take_panels(plot *p) {
    const double least = 0.05;
    size_t at;
    const ww_control_lot *now = ww_control_focus(p->series, &at);
    for (size_t c = 0; c < now->n_charts; c++) {
        if (c > 0 && strcmp(now->chart[c].measure, now->chart[c - 1].measure) == 0)
            continue;
        p->n_measures++;
        if (p->n_panels == PANELS_MOST)
            continue;
        p->low[p->n_panels] = -least;
        p->high[p->n_panels] = least;
        p->spread[p->n_panels] = now->chart[c].kind == WW_CONTROL_SPREAD;
        if (p->spread[p->n_panels])
            p->low[p->n_panels] = 0.0;
        p->panel[p->n_panels++] = now->chart[c].measure;
    }
    for (size_t l = 0; l < p->series->n_lots; l++) {
        const ww_control_lot *lot = &p->series->lot[l];
        for (size_t c = 0; c < lot->n_charts; c++) {
            const size_t panel = panel_of(p, &lot->chart[c]);
            if (panel < p->n_panels)
                see_chart(p, lot, &lot->chart[c], panel);
        }
    }
}

/* --- tables ---------------------------------------------------------------------------------- */

/* The x of the i-th strip of a lot. */
static double x_of(const plot *p, size_t lot, size_t at) {
    for (size_t i = 0; i < p->series->n_rows; i++)
        if (!p->series->row[i].strip->deleted && p->series->row[i].lot == lot &&
            p->series->row[i].at == at)
            return p->x[i];
    return 0.0;
}

/* Whether a point that is out is the one that its strip is named at: in a panel, the furthest. */
static bool is_named(const ww_control_lot *lot, const ww_control_chart *chart, size_t at) {
    const double own = fabs(chart->point[at].deviation);
    for (size_t c = 0; c < lot->n_charts; c++) {
        const ww_control_chart *other = &lot->chart[c];
        const double far = fabs(other->point[at].deviation);
        if (strcmp(other->measure, chart->measure) == 0 &&
            (other->point[at].rules & WW_CONTROL_RULE_LIMIT) &&
            (far > own || (far == own && other < chart)))
            return false;
    }
    return true;
}

/* Panel, channel, x, deviation, number, 2 out and named, 1 out, -1 warned, 0 neither. */
static void add_point(const plot *p, size_t l, const ww_control_chart *chart, size_t at,
                      ww__text *script) {
    const ww_control_lot *lot = &p->series->lot[l];
    const ww_control_point *point = &chart->point[at];
    const double mark = point->rules & WW_CONTROL_RULE_LIMIT ? 1.0 + is_named(lot, chart, at)
                        : point->rules                       ? -1.0
                                                             : 0.0;
    if (point->read)
        ww__plot_row(script, 6,
                     (double[]){(double)panel_of(p, chart), (double)channel_of(chart),
                                x_of(p, l, at), point->deviation, (double)lot->strip[at]->number,
                                mark});
}

/* A block a chart and lot, so that lines end with the lot. */
static void add_points(const plot *p, ww__text *script) {
    ww__text_add(script, "$points << END_OF_TABLE\n");
    for (size_t l = 0; l < p->series->n_lots; l++) {
        const ww_control_lot *lot = &p->series->lot[l];
        for (size_t c = 0; c < lot->n_charts; c++) {
            if (panel_of(p, &lot->chart[c]) == p->n_panels)
                continue;
            for (size_t i = 0; i < lot->n; i++)
                add_point(p, l, &lot->chart[c], i, script);
            ww__text_add(script, "\n");
        }
    }
    ww__text_add(script, "END_OF_TABLE\n");
}

/* Panel, channel, from, to (x), deviation, kind: 0 a limit, 1 the centre, 2 an action limit. */
static void add_line(const plot *p, const ww_control_chart *chart, double from, double to,
                     ww_optional at, double kind, ww__text *script) {
    if (at.set)
        ww__plot_row(script, 6,
                     (double[]){(double)panel_of(p, chart), (double)channel_of(chart), from, to,
                                at.value - chart->aim, kind});
}

static void add_limits(const plot *p, ww__text *script) {
    ww__text_add(script, "$limits << END_OF_TABLE\n");
    for (size_t l = 0; l < p->series->n_lots; l++) {
        const ww_control_lot *lot = &p->series->lot[l];
        const double from = x_of(p, l, 0) - 0.3 * DAY, to = x_of(p, l, lot->n - 1) + 0.3 * DAY;
        for (size_t c = 0; c < lot->n_charts; c++) {
            const ww_control_chart *chart = &lot->chart[c];
            ww_optional lower, upper, action_below = chart->action_below,
                                      action_above = chart->action_above;
            bool user;
            if (panel_of(p, chart) == p->n_panels)
                continue;
            action_below.value += chart->aim;
            action_above.value += chart->aim;
            ww_control_limits_of(chart, &lower, &upper, &user);
            add_line(p, chart, from, to, lower, 0.0, script);
            add_line(p, chart, from, to, upper, 0.0, script);
            add_line(p, chart, from, to, action_below, 2.0, script);
            add_line(p, chart, from, to, action_above, 2.0, script);
            add_line(p, chart, from, to,
                     (ww_optional){!user && chart->has_history, chart->history.centre}, 1.0,
                     script);
        }
    }
    ww__text_add(script, "END_OF_TABLE\n");
}

static bool baseline_of(const plot *p, size_t l, double *from, double *to) {
    const ww_control_lot *lot = &p->series->lot[l];
    bool any = false;
    for (size_t i = 0; i < lot->n && lot->found >= lot->wanted; i++) {
        const double x = x_of(p, l, i);
        if (!lot->in_baseline[i])
            continue;
        *from = any ? fmin(*from, x) : x;
        *to = any ? fmax(*to, x) : x;
        any = true;
    }
    return any;
}

/* Where each lot begins, its name, and where its baseline lies. */
static void add_lots(const plot *p, ww__text *script) {
    const ww_control_series *series = p->series;
    ww__text_add_format(script,
                        "n_lots = %zu\narray lot_name[%zu]\narray lot_begins[%zu]\n"
                        "array base_from[%zu]\narray base_to[%zu]\narray has_base[%zu]\n",
                        series->n_lots, series->n_lots, series->n_lots, series->n_lots,
                        series->n_lots, series->n_lots);
    for (size_t l = 0; l < series->n_lots; l++) {
        const ww_control_lot *lot = &series->lot[l];
        ww__text name = WW__TEXT_INIT;
        double from = 0.0, to = 0.0;
        const bool any = baseline_of(p, l, &from, &to);
        ww__text_add_format(script,
                            "lot_begins[%zu] = %.0f\nbase_from[%zu] = %.0f\n"
                            "base_to[%zu] = %.0f\nhas_base[%zu] = %d\n",
                            l + 1, x_of(p, l, 0) - 0.4 * DAY, l + 1, from - 0.4 * DAY, l + 1,
                            to + 0.4 * DAY, l + 1, any);
        ww__text_add(&name, *lot->reference->lot ? "lot " : "");
        ww__text_add(&name, lot->reference->lot);
        ww__plot_set_item(script, "lot_name", l + 1, ww__text_string(&name));
        script->failed |= name.failed;
        ww__text_release(&name);
    }
}

static void add_panels(const plot *p, ww__plot_size size, ww__text *script) {
    static const char *const name[CHANNELS] = {"red", "green", "blue", "visual", "spread"};
    ww__text_add_format(script,
                        "n_panels = %zu\narray panel_name[%zu]\narray panel_from[%zu]\n"
                        "array panel_to[%zu]\narray panel_bottom[%zu]\narray "
                        "panel_top[%zu]\narray panel_apart[%zu]\n",
                        p->n_panels, p->n_panels, p->n_panels, p->n_panels, p->n_panels,
                        p->n_panels, p->n_panels);
    for (size_t i = 0; i < p->n_panels; i++) {
        const double bottom = legend + axis + (high + gap) * (double)(p->n_panels - 1 - i);
        const double room = 0.1 * (p->high[i] - p->low[i]);
        ww__plot_set_item(script, "panel_name", i + 1, p->panel[i]);
        ww__text_add_format(script, "panel_apart[%zu] = %d\n", i + 1, p->spread[i]);
        ww__text_add_format(script, "panel_from[%zu] = %.9g\npanel_to[%zu] = %.9g\n", i + 1,
                            p->low[i] - room, i + 1, p->high[i] + room);
        ww__text_add_format(script, "panel_bottom[%zu] = %.9g\npanel_top[%zu] = %.9g\n", i + 1,
                            bottom / size.height, i + 1, (bottom + high) / size.height);
    }
    for (size_t c = 0; c < CHANNELS; c++)
        ww__text_add_format(script, "seen_%s = %d\n", name[c], p->seen[c]);
}

/* Days between two dates on the axis, seven of them at most. */
static double step_of(double span) {
    static const double days[] = {1.0, 2.0, 4.0, 7.0, 14.0, 28.0, 91.0, 182.0};
    const double most = 6.0, year = 365.0, least = span / DAY / most;
    for (size_t i = 0; i < sizeof days / sizeof *days; i++)
        if (least <= days[i])
            return DAY * days[i];
    return DAY * year * ceil(least / year);
}

static void add_title(const plot *p, ww__text *script) {
    ww__text title = WW__TEXT_INIT;
    ww__text_add(&title, "Control strips: ");
    ww__words_control_series(&title, p->series);
    if (p->n_measures > p->n_panels)
        ww__text_add_format(&title, " (%zu of %zu measures)", p->n_panels, p->n_measures);
    ww__plot_set_text(script, "title_text", ww__text_string(&title));
    script->failed |= title.failed;
    ww__text_release(&title);
}

static void add_all(plot *p, ww__text *script, ww__plot_size *size) {
    const size_t last = p->series->n_rows - 1;
    const double number = 0.05; /* of all dates, right of the last point: room for its strip's */
    take_dates(p);
    take_panels(p);
    *size = (ww__plot_size){left + wide + right,
                            legend + axis + (high + gap) * (double)p->n_panels - gap + top};
    ww__plot_set_number(script, "main_left", left / size->width);
    ww__plot_set_number(script, "main_right", (left + wide) / size->width);
    ww__plot_set_number(script, "legend_top", (legend - 8.0) / size->height);
    ww__text_add_format(script, "x_from = %.0f\nx_to = %.0f\nx_step = %.0f\n", p->x[0] - DAY,
                        p->x[last] + fmax(DAY, number * (p->x[last] - p->x[0])),
                        step_of(p->x[last] - p->x[0]));
    add_title(p, script);
    add_panels(p, *size, script);
    add_points(p, script);
    add_limits(p, script);
    add_lots(p, script);
}

ww_status ww__plot_control_data(const ww_control *control, ww__text *script, ww__plot_size *size,
                                ww_error *err) {
    plot p = {.series = ww_control_worst(control)};
    if (!p.series)
        return ww_error_set(err, WW_ENODATA, "no plot: no strip counts in this log");
    p.x = malloc(p.series->n_rows * sizeof *p.x);
    if (!p.x)
        return ww_error_set(err, WW_EMEMORY, "no memory for a plot");
    add_all(&p, script, size);
    free(p.x);
    return ww__text_status(script, err);
}
