/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "out/plot_script.h"
#include "out/print_words.h"
#include "out/words.h"
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <wedgework/exposure.h>

/* Layout [px]: main panel over slope panel at the left, enlarged toe and legend at the right. Above
 * the two upper panels stands a band for the names of the tones, written upwards. */
static const double left = 86, bottom = 58, slope_height = 130, gap = 46, middle = 84;
static const double main_size_max = 500, toe_width = 300, toe_height = 230, right = 24;
static const double name_height = 15, letter_width = 7.2, title_height = 52;

static const double toe_start = 0.005;  /* above paper: what is thinner looks like it */
static const double toe_density = 0.30; /* the enlarged part ends here, above paper */
static const double grid = 0.30;

/* One tick: a tone, or one end of it, where the straight print puts it. */
struct tick {
    const ww_print_tone *tone;
    ww_part part;
    double log_h, net;
    bool named;
    double name_px; /* where its name stands, from the left of the panel */
};

struct picture {
    const ww_print_paper *plan;
    const ww_channel_curve *curve;
    double white;
    struct tick *tick;
    size_t n;
    size_t n_beyond;  /* ticks that fall outside the paper's measured range */
    size_t n_unnamed; /* that there is no room to name */
    double x_from, x_to, y_to, toe_from, toe_to;
    double unit; /* px a log unit */
    ww__text *script;
};

static double net_at(const struct picture *picture, double log_h) {
    return ww_model_density(&picture->curve->shape, log_h, NULL) - picture->white;
}

static bool find_log_h(const struct picture *picture, double net, double *log_h) {
    return ww_curve_log_h(picture->curve, net + picture->white, log_h, NULL) == WW_OK;
}

static void add_tick(struct picture *picture, const ww_print_tone *tone, ww_part part,
                     ww_optional net) {
    struct tick *tick = &picture->tick[picture->n];
    *tick = (struct tick){.tone = tone, .part = part, .net = net.value};
    if (net.set && find_log_h(picture, net.value, &tick->log_h))
        picture->n++;
    else
        picture->n_beyond++;
}

static int by_log_h(const void *a, const void *b) {
    const struct tick *s = a, *t = b;
    return (s->log_h > t->log_h) - (s->log_h < t->log_h);
}

static ww_status find_ticks(struct picture *picture, ww_error *err) {
    const ww_print_paper *plan = picture->plan;
    picture->tick = calloc(2 * plan->n_tones + 1, sizeof *picture->tick);
    if (!picture->tick)
        return ww_error_set(err, WW_EMEMORY, "no memory for the ticks of a plot");
    for (size_t i = 0; i < plan->n_tones; i++) {
        const ww_print_tone *tone = &plan->tone[i];
        if (tone->negative_thin.set || tone->negative_dense.set) {
            add_tick(picture, tone, WW_PART_THIN, tone->print_thin);
            add_tick(picture, tone, WW_PART_DENSE, tone->print_dense);
        } else {
            add_tick(picture, tone, WW_PART_WHOLE, tone->print);
        }
    }
    qsort(picture->tick, picture->n, sizeof *picture->tick, by_log_h);
    return WW_OK;
}

/* The enlarged part begins where the curve leaves paper white, or at a tone to the left of that. */
static void find_toe_start(struct picture *picture) {
    double from = picture->x_from;
    (void)find_log_h(picture, toe_start, &from);
    if (picture->n > 0)
        from = fmin(from, picture->tick[0].log_h);
    picture->toe_from = fmax(picture->x_from, floor(from / 0.1) * 0.1);
}

static void find_limits(struct picture *picture) {
    const ww_channel_curve *curve = picture->curve;
    double low_y;
    ww__plot_limits(curve->domain_low - 0.02, curve->domain_high + 0.02, &picture->x_from,
                    &picture->x_to);
    ww__plot_limits(0.0, net_at(picture, curve->domain_high) + 0.05, &low_y, &picture->y_to);
    picture->unit =
        fmin(main_size_max / (picture->x_to - picture->x_from), main_size_max / picture->y_to);
    if (!find_log_h(picture, toe_density, &picture->toe_to))
        picture->toe_to = picture->x_to;
    picture->toe_to = fmin(picture->x_to, ceil(picture->toe_to / 0.1) * 0.1);
    find_toe_start(picture);
}

/* Where more ticks lie than have room for their names, those stay unnamed that lie closest to the
 * named one before them. */
static void thin_names(struct tick tick[], size_t n, size_t room) {
    for (size_t named = n; named > room; named--) {
        size_t closest = 0, last = 0;
        double least = HUGE_VAL;
        for (size_t i = 1; i < n; i++) {
            if (!tick[i].named)
                continue;
            if (tick[i].log_h - tick[last].log_h < least)
                least = tick[i].log_h - tick[last].log_h, closest = i;
            last = i;
        }
        tick[closest].named = false;
    }
}

/* Names beside each other: each as near to its tick as the one before it leaves room, then back
 * from the right edge. */
static size_t place_names(struct picture *picture, double from, double to, double width) {
    struct tick *tick = picture->tick;
    double next = -HUGE_VAL, last = width;
    size_t n = 0;
    for (; n < picture->n && tick[n].log_h <= to; n++)
        tick[n].named = true;
    thin_names(tick, n, (size_t)(width / name_height) + 1);
    for (size_t i = 0; i < n; i++) {
        tick[i].name_px = width * (tick[i].log_h - from) / (to - from);
        if (!tick[i].named)
            continue;
        tick[i].name_px = fmax(tick[i].name_px, next);
        next = tick[i].name_px + name_height;
    }
    for (size_t i = n; i-- > 0;) {
        if (!tick[i].named)
            continue;
        tick[i].name_px = fmin(tick[i].name_px, last);
        last = tick[i].name_px - name_height;
    }
    return n;
}

/* "cloud thin 0.08" */
static void make_label(ww__text *label, const struct tick *tick) {
    char name[20];
    ww__text_add(label, ww__escape_message(tick->tone->tone, name, sizeof name));
    if (tick->part != WW_PART_WHOLE)
        ww__text_add_format(label, " %s", ww_part_name(tick->part));
    ww__text_add(label, " ");
    ww__text_add_number(label, tick->net, 2);
}

static void add_name(ww__text *script, const char *array, size_t i, const struct tick *tick) {
    ww__text label = WW__TEXT_INIT;
    if (tick->named)
        make_label(&label, tick);
    ww__plot_set_item(script, array, i, ww__text_string(&label));
    script->failed |= label.failed;
    ww__text_release(&label);
}

/* Room above the panels for the longest name, written upwards, and the title above it. */
static double find_band(const struct picture *picture) {
    double longest = 0;
    for (size_t i = 0; i < picture->n; i++) {
        ww__text label = WW__TEXT_INIT;
        make_label(&label, &picture->tick[i]);
        longest = fmax(longest, (double)label.n);
        picture->script->failed |= label.failed;
        ww__text_release(&label);
    }
    return title_height + letter_width * longest;
}

/* One panel's ticks: $PANEL_ticks of log H and net density, the same as arrays PANEL_x and PANEL_y,
 * and the names with the log H above which each stands. */
static void add_ticks(struct picture *picture, const char *panel, double from, double to,
                      double width) {
    const size_t n = place_names(picture, from, to, width);
    char array[32];
    ww__text_add_format(picture->script, "$%s_ticks << END_OF_TABLE\n", panel);
    for (size_t i = 0; i < n; i++)
        ww__plot_row(picture->script, 2, (double[]){picture->tick[i].log_h, picture->tick[i].net});
    ww__text_add_format(picture->script, "END_OF_TABLE\nn_%s_ticks = %zu\n", panel, n);
    for (const char *const *what = (const char *const[]){"x", "y", "at", "name", NULL}; *what;
         what++)
        ww__text_add_format(picture->script, "array %s_%s[%zu]\n", panel, *what, n > 0 ? n : 1);
    snprintf(array, sizeof array, "%s_name", panel);
    for (size_t i = 0; i < n; i++) {
        const struct tick *tick = &picture->tick[i];
        add_name(picture->script, array, i + 1, tick);
        ww__text_add_format(picture->script,
                            "%s_x[%zu] = %.9f\n%s_y[%zu] = %.9f\n%s_at[%zu] = %.9f\n", panel, i + 1,
                            tick->log_h, panel, i + 1, tick->net, panel, i + 1,
                            from + tick->name_px / width * (to - from));
    }
}

static void add_curve(struct picture *picture) {
    enum { POINTS = 301 };
    const ww_channel_curve *curve = picture->curve;
    ww__text_add(picture->script, "$curve << END_OF_TABLE\n");
    for (int i = 0; i < POINTS; i++) {
        const double log_h =
            curve->domain_low + (curve->domain_high - curve->domain_low) * i / (POINTS - 1);
        double slope;
        const double density = ww_model_density(&curve->shape, log_h, &slope);
        ww__plot_row(picture->script, 3, (double[]){log_h, density - picture->white, slope});
    }
    ww__text_add(picture->script, "END_OF_TABLE\n");
}

/* From where a tone falls in the straight print, by what the plan and the hand give it there. What
 * is burned in for its detail starts at its dense end. */
static bool find_work(const struct picture *picture, const ww_print_tone *tone, double *from,
                      double *to) {
    const bool for_detail = tone->burn_stops.set && !tone->aim.set;
    const ww_optional start = for_detail ? tone->print_dense : tone->print;
    const double moves[2] = {tone->burn_stops.value, tone->hand_stops.value}; /* 0 where absent */
    double stops = 0.0;
    if (tone->base || !start.set || !(tone->burn_stops.set || tone->hand_stops.set) ||
        ww_exposure_moves(moves, 2, &stops, NULL) != WW_OK ||
        !find_log_h(picture, start.value, from))
        return false;
    *to = *from + stops * log10(2.0);
    return *to >= picture->curve->domain_low && *to <= picture->curve->domain_high;
}

static void add_local_work(struct picture *picture) {
    size_t n = 0;
    ww__text_add(picture->script, "$local << END_OF_TABLE\n");
    for (size_t i = 0; i < picture->plan->n_tones; i++) {
        double from, to;
        if (!find_work(picture, &picture->plan->tone[i], &from, &to))
            continue;
        ww__plot_row(picture->script, 4,
                     (double[]){from, net_at(picture, from), to, net_at(picture, to)});
        n++;
    }
    ww__text_add_format(picture->script, "END_OF_TABLE\nn_local = %zu\n", n);
}

static void add_layout(struct picture *picture, ww__plot_size *size) {
    const double width = picture->unit * (picture->x_to - picture->x_from);
    const double height = fmax(picture->unit * picture->y_to, toe_height + 150);
    const double main_bottom = bottom + slope_height + gap;
    const double toe_left = left + width + middle;
    const double top = main_bottom + height;
    const double main_top = main_bottom + picture->unit * picture->y_to;
    *size = (ww__plot_size){toe_left + toe_width + right, top + find_band(picture)};
    ww__plot_set_panel(picture->script, "main",
                       (ww__plot_panel){left, left + width, main_bottom, main_top}, *size);
    ww__plot_set_panel(picture->script, "slope",
                       (ww__plot_panel){left, left + width, bottom, bottom + slope_height}, *size);
    ww__plot_set_panel(
        picture->script, "toe",
        (ww__plot_panel){toe_left, toe_left + toe_width, main_top - toe_height, main_top}, *size);
    add_ticks(picture, "main", picture->x_from, picture->x_to, width);
    for (size_t i = 0; i < picture->n; i++)
        picture->n_unnamed += picture->tick[i].named ? 0 : 1;
    add_ticks(picture, "toe", picture->toe_from, picture->toe_to, toe_width);
    ww__plot_set_number(picture->script, "x_step", picture->unit * grid >= 40 ? grid : 2 * grid);
}

static void add_words(const struct picture *picture, const ww_curve *paper) {
    const ww_print_paper *plan = picture->plan;
    ww__text title = WW__TEXT_INIT;
    /* A nominal paper's name is its grade. */
    ww__words_material(&title, plan->paper, plan->nominal ? NULL : plan->contrast, "Paper");
    ww__plot_set_text(picture->script, "title_text", ww__text_string(&title));
    picture->script->failed |= title.failed;
    ww__text_release(&title);
    ww__plot_set_text(picture->script, "x_label", ww__plot_log_h_label(paper->meta.exposure_unit));
    ww__plot_set_number(picture->script, "x_from", picture->x_from);
    ww__plot_set_number(picture->script, "x_to", picture->x_to);
    ww__plot_set_number(picture->script, "y_to", picture->y_to);
    ww__plot_set_number(picture->script, "toe_from", picture->toe_from);
    ww__plot_set_number(picture->script, "toe_to", picture->toe_to);
    ww__plot_set_number(picture->script, "toe_density", toe_density);
    ww__text_add_format(picture->script, "n_beyond = %zu\n", picture->n_beyond);
    ww__text_add_format(picture->script, "curve_title = '%s'\n",
                        plan->nominal        ? "nominal curve, not measured"
                        : plan->interpolated ? plan->split.set
                                                   ? "curve between two measured splits"
                                                   : "curve half-way between two measured"
                                             : "curve of the paper");
    ww__text_add_format(picture->script, "beyond_title = '%s'\n",
                        plan->nominal ? "beyond the curve" : "beyond the measured range");
}

const ww_curve *ww__plot_print_paper(const ww_print_plan *plan, const ww_curve *const paper[],
                                     size_t n_papers) {
    if (plan->n_papers > 0 && plan->paper[0].own_curve)
        return plan->paper[0].own_curve;
    for (size_t i = 0; plan->n_papers > 0 && i < n_papers; i++)
        if (ww__text_same(paper[i]->meta.name, plan->paper[0].paper) &&
            ww__text_same(paper[i]->meta.contrast, plan->paper[0].contrast))
            return paper[i];
    /* A paper without a name of its own goes by the name that the plan gave it. */
    return n_papers == 1 && plan->n_papers > 0 ? paper[0] : NULL;
}

ww_status ww__plot_print_data(const ww_print_plan *plan, const ww_curve *paper, ww__text *script,
                              ww__plot_size *size, ww_error *err) {
    struct picture picture = {.plan = &plan->paper[0], .script = script};
    ww_channel channel;
    ww_status status = ww_curve_black_and_white_channel(paper, &channel, err);
    if (status != WW_OK)
        return status;
    picture.curve = &paper->channel[channel];
    if (!picture.curve->fitted || picture.curve->shape.falling ||
        !ww_quantity_present(picture.curve->figure[WW_FIGURE_BASE_FOG]))
        return ww_error_set(err, WW_ENODATA,
                            "no plot: the paper has no curve that rises from a known white");
    picture.white = picture.curve->figure[WW_FIGURE_BASE_FOG].value;
    status = find_ticks(&picture, err);
    if (status != WW_OK)
        return status;
    find_limits(&picture);
    add_words(&picture, paper);
    add_layout(&picture, size);
    ww__text_add_format(script, "n_unnamed = %zu\n", picture.n_unnamed);
    add_curve(&picture);
    add_local_work(&picture);
    free(picture.tick);
    return ww__text_status(script, err);
}
