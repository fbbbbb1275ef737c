/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/plot_picture.h"
#include "out/words.h"
#include <math.h>
#include <stdio.h>

static const double index_near = 0.2, index_far = 2.2; /* radii of the contrast index's arcs */

static const ww_channel_curve *main_channel(const ww__picture *picture) {
    return picture->main < WW_CHANNEL_COUNT ? &picture->curve->channel[picture->main] : NULL;
}

static bool has(const ww_channel_curve *channel, ww_figure figure) {
    return ww_quantity_present(channel->figure[figure]);
}

static double density_at(const ww_channel_curve *channel, double log_h) {
    return ww_model_density(&channel->shape, log_h, NULL);
}

/* ---------------------------------------------------------------------------------- lines */

static void add_vertex(const ww__picture *picture, enum ww__construct what, double x, double y) {
    ww__plot_row(picture->script, 3, (double[]){what, x, y});
}

static void add_line(const ww__picture *picture, enum ww__construct what, double x_a, double y_a,
                     double x_b, double y_b) {
    add_vertex(picture, what, x_a, y_a);
    add_vertex(picture, what, x_b, y_b);
    ww__text_add(picture->script, "\n");
}

static void add_arc(const ww__picture *picture, double x, double y, double radius, double from,
                    double to) {
    enum { PIECES = 24 };
    for (int i = 0; i <= PIECES; i++) {
        const double angle = from + (to - from) * i / PIECES;
        add_vertex(picture, WW__DRAW_CONTRAST_INDEX, x + radius * cos(angle),
                   y + radius * sin(angle));
    }
    ww__text_add(picture->script, "\n");
}

/* Across the plot for one channel; with several a short piece each, at the thin end. */
static void draw_base_fog(const ww__picture *picture, const ww_channel_curve *channel) {
    const double base = channel->figure[WW_FIGURE_BASE_FOG].value;
    const double length = picture->x_to - picture->x_from;
    const bool falling = channel->fitted && channel->shape.falling;
    if (!has(channel, WW_FIGURE_BASE_FOG))
        return;
    if (picture->n_channels == 1)
        add_line(picture, WW__DRAW_BASE_FOG, picture->x_from, base, picture->x_to, base);
    else if (falling)
        add_line(picture, WW__DRAW_BASE_FOG, picture->x_to - length / 8, base, picture->x_to, base);
    else
        add_line(picture, WW__DRAW_BASE_FOG, picture->x_from, base, picture->x_from + length / 8,
                 base);
}

static void draw_speed_point(const ww__picture *picture, const ww_channel_curve *channel) {
    const double log_h = channel->figure[WW_FIGURE_SPEED_POINT].value;
    if (has(channel, WW_FIGURE_SPEED_POINT))
        add_line(picture, WW__DRAW_SPEED_POINT, log_h, picture->y_from, log_h,
                 density_at(channel, log_h));
}

/* From the base+fog line to a little above the run that it was taken from. */
static void draw_gamma(const ww__picture *picture, const ww_channel_curve *channel) {
    const ww_figure_set *set = &channel->construction;
    const double slope =
        channel->figure[WW_FIGURE_GAMMA].value * (channel->shape.falling ? -1.0 : 1.0);
    const double base = channel->figure[WW_FIGURE_BASE_FOG].value;
    double low, high;
    if (!has(channel, WW_FIGURE_GAMMA) || slope == 0.0)
        return;
    low = has(channel, WW_FIGURE_BASE_FOG) ? base : picture->y_from;
    high = fmin(picture->y_to, set->run_density_from + slope * (set->run_to - set->run_from) + 0.3);
    add_line(picture, WW__DRAW_GAMMA, set->run_from + (low - set->run_density_from) / slope, low,
             set->run_from + (high - set->run_density_from) / slope, high);
}

static void draw_average_gradient(const ww__picture *picture, const ww_channel_curve *channel) {
    const ww_figure_set *set = &channel->construction;
    if (has(channel, WW_FIGURE_AVERAGE_GRADIENT))
        add_line(picture, WW__DRAW_AVERAGE_GRADIENT, set->gradient_from,
                 density_at(channel, set->gradient_from), set->gradient_to,
                 density_at(channel, set->gradient_to));
}

static void draw_contrast_index(const ww__picture *picture, const ww_channel_curve *channel) {
    const ww_figure_set *set = &channel->construction;
    const double base = channel->figure[WW_FIGURE_BASE_FOG].value, x = set->index_centre;
    double angle;
    if (!has(channel, WW_FIGURE_CONTRAST_INDEX) || !has(channel, WW_FIGURE_BASE_FOG))
        return;
    angle = atan2(density_at(channel, set->index_to) - base, set->index_to - x);
    add_line(picture, WW__DRAW_CONTRAST_INDEX, x, base, x + index_far * cos(angle),
             base + index_far * sin(angle));
    add_arc(picture, x, base, index_near, angle - 0.6, angle + 0.6);
    add_arc(picture, x, base, index_far, angle - 0.08, angle + 0.08);
}

/* A bar along the foot of the plot, with a line down from each end on the curve. */
static void draw_range(const ww__picture *picture, const ww_channel_curve *channel) {
    const ww_figure_set *set = &channel->construction;
    const ww_figure figure = picture->paper ? WW_FIGURE_ISO_RANGE : WW_FIGURE_EXPOSURE_RANGE;
    const double from = picture->paper ? set->iso_from : set->range_from;
    const double to = picture->paper ? set->iso_to : set->range_to;
    /* Clear of the axis and of the base+fog line. */
    const double base = channel->figure[WW_FIGURE_BASE_FOG].value - picture->y_from;
    const double foot =
        picture->y_from +
        (has(channel, WW_FIGURE_BASE_FOG) && base > 0 ? fmin(0.05, base / 2) : 0.05);
    if (!has(channel, figure))
        return;
    add_line(picture, WW__DRAW_RANGE, from, foot, to, foot);
    add_line(picture, WW__DRAW_RANGE, from, picture->y_from, from, density_at(channel, from));
    add_line(picture, WW__DRAW_RANGE, to, picture->y_from, to, density_at(channel, to));
}

static void draw_channels(const ww__picture *picture,
                          void (*draw)(const ww__picture *, const ww_channel_curve *)) {
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (picture->curve->channel[c].present && picture->curve->channel[c].fitted)
            draw(picture, &picture->curve->channel[c]);
}

/* ---------------------------------------------------------------------------------- marks */

static void mark(const ww__picture *picture, const ww_channel_curve *channel,
                 enum ww__construct what, double log_h) {
    add_vertex(picture, what, log_h, density_at(channel, log_h));
}

static void mark_speed_point(const ww__picture *picture, const ww_channel_curve *channel) {
    if (has(channel, WW_FIGURE_SPEED_POINT))
        mark(picture, channel, WW__DRAW_SPEED_POINT, channel->figure[WW_FIGURE_SPEED_POINT].value);
}

static void mark_ends(const ww__picture *picture, const ww_channel_curve *channel) {
    const ww_figure_set *set = &channel->construction;
    if (has(channel, WW_FIGURE_GAMMA)) {
        mark(picture, channel, WW__DRAW_GAMMA, set->run_from);
        mark(picture, channel, WW__DRAW_GAMMA, set->run_to);
    }
    if (has(channel, WW_FIGURE_AVERAGE_GRADIENT)) {
        mark(picture, channel, WW__DRAW_AVERAGE_GRADIENT, set->gradient_from);
        mark(picture, channel, WW__DRAW_AVERAGE_GRADIENT, set->gradient_to);
    }
    if (has(channel, WW_FIGURE_CONTRAST_INDEX) && has(channel, WW_FIGURE_BASE_FOG)) {
        add_vertex(picture, WW__DRAW_CONTRAST_INDEX, set->index_centre,
                   channel->figure[WW_FIGURE_BASE_FOG].value);
        mark(picture, channel, WW__DRAW_CONTRAST_INDEX, set->index_from);
        mark(picture, channel, WW__DRAW_CONTRAST_INDEX, set->index_to);
    }
}

void ww__plot_construct(const ww__picture *picture) {
    const ww_channel_curve *channel = main_channel(picture);
    size_t start;
    bool any;
    ww__text_add(picture->script, "$construct << END_OF_TABLE\n");
    start = picture->script->n;
    draw_channels(picture, draw_base_fog);
    draw_channels(picture, draw_speed_point);
    if (channel) {
        draw_gamma(picture, channel);
        draw_average_gradient(picture, channel);
        draw_contrast_index(picture, channel);
        draw_range(picture, channel);
    }
    any = picture->script->n > start;
    ww__text_add_format(picture->script, "END_OF_TABLE\nn_construct = %d\n$mark << END_OF_TABLE\n",
                        any);
    start = picture->script->n;
    draw_channels(picture, mark_speed_point);
    if (channel)
        mark_ends(picture, channel);
    any = picture->script->n > start;
    ww__text_add_format(picture->script, "END_OF_TABLE\nn_mark = %d\n", any);
}

/* ---------------------------------------------------------------------------------- legend */

struct legend {
    ww__text items;
    size_t n;
};

/* Classes are negative for channels (-1 red ...) and positive for what is constructed. */
static void add_legend(struct legend *legend, int class, ww__text *words) {
    legend->n++;
    ww__text_add_format(&legend->items, "legend_class[%zu] = %d\n", legend->n, class);
    ww__plot_set_item(&legend->items, "legend_text", legend->n, ww__text_string(words));
    legend->items.failed |= words->failed;
    ww__text_release(words);
}

static void add_channels(const ww__picture *picture, struct legend *legend) {
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_channel_curve *channel = &picture->curve->channel[c];
        ww__text words = WW__TEXT_INIT;
        if (!channel->present)
            continue;
        ww__text_add(&words, ww_channel_name((ww_channel)c));
        if (picture->n_channels == 1)
            ww__text_add(&words, channel->fitted ? ": readings and curve" : ": readings, no curve");
        else if (has(channel, WW_FIGURE_GAMMA)) {
            ww__text_add(&words, ": gamma ");
            ww__words_interval(&words, channel->figure[WW_FIGURE_GAMMA], 2);
        }
        add_legend(legend, -1 - c, &words);
    }
}

/* Where the chord of the average gradient stands: a line of its own, without a sample. */
static void add_ends(const ww__picture *picture, struct legend *legend) {
    const ww_channel_curve *channel = main_channel(picture);
    ww__text words = WW__TEXT_INIT;
    if (!has(channel, WW_FIGURE_AVERAGE_GRADIENT))
        return;
    ww__text_add(&words, "between log H ");
    ww__text_add_number(&words, channel->construction.gradient_from, 2);
    ww__text_add(&words, " and ");
    ww__text_add_number(&words, channel->construction.gradient_to, 2);
    add_legend(legend, 0, &words);
}

/* "gamma 0.61 (0.59 to 0.63)" */
static void add_figure(const ww__picture *picture, struct legend *legend, ww_figure figure,
                       enum ww__construct what) {
    const ww_channel_curve *channel = main_channel(picture);
    ww__text words = WW__TEXT_INIT;
    if (!has(channel, figure))
        return;
    ww__text_add_format(&words, "%s ", ww_figure_heading(figure, picture->paper));
    if (figure == WW_FIGURE_ISO_RANGE) {
        ww__words_tens(&words, channel->figure[figure].value);
        ww__text_add(&words, ", net 0.04 to 90 % of net D-max");
    } else {
        const char *unit = ww_figure_unit(figure);
        ww__words_interval(&words, channel->figure[figure], 2);
        ww__text_add_format(&words, "%s%s", *unit ? " " : "", unit);
    }
    add_legend(legend, (int)what, &words);
}

void ww__plot_legend(const ww__picture *picture) {
    struct legend legend = {WW__TEXT_INIT, 0};
    add_channels(picture, &legend);
    if (main_channel(picture)) {
        if (picture->n_channels > 1) {
            ww__text words = WW__TEXT_INIT;
            ww__text_add_format(&words, "constructed for %s:", ww_channel_name(picture->main));
            add_legend(&legend, 0, &words);
        }
        add_figure(picture, &legend, WW_FIGURE_BASE_FOG, WW__DRAW_BASE_FOG);
        add_figure(picture, &legend, WW_FIGURE_SPEED_POINT, WW__DRAW_SPEED_POINT);
        add_figure(picture, &legend, WW_FIGURE_GAMMA, WW__DRAW_GAMMA);
        add_figure(picture, &legend, WW_FIGURE_AVERAGE_GRADIENT, WW__DRAW_AVERAGE_GRADIENT);
        add_ends(picture, &legend);
        add_figure(picture, &legend, WW_FIGURE_CONTRAST_INDEX, WW__DRAW_CONTRAST_INDEX);
        add_figure(picture, &legend,
                   picture->paper ? WW_FIGURE_ISO_RANGE : WW_FIGURE_EXPOSURE_RANGE, WW__DRAW_RANGE);
    }
    ww__text_add_format(picture->script,
                        "n_legend = %zu\narray legend_class[%zu]\narray legend_text[%zu]\n",
                        legend.n, legend.n, legend.n);
    ww__text_add(picture->script, ww__text_string(&legend.items));
    picture->script->failed |= legend.items.failed;
    ww__text_release(&legend.items);
}
