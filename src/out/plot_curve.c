/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "out/curve_words.h"
#include "out/plot_picture.h"
#include "out/words.h"
#include <float.h>
#include <math.h>

/* Layout [px]. The column at the right holds the legend, clear of the data. */
static const double left = 88, column = 350, bottom = 58, gap = 46, top = 46;
static const double residual_height = 110, plot_width_max = 640, plot_height_max = 620;
static const double legend_height = 300;

/* Kept out of the curve; what was moved along log H is not. */
static bool is_suspect(const ww_channel_curve *channel, size_t point) {
    for (size_t i = 0; i < channel->n_suspects; i++)
        if (channel->suspect[i].point == point &&
            !ww__curve_suspect_moved(channel, &channel->suspect[i]))
            return true;
    return false;
}

static double residual_of(const ww_channel_curve *channel, const ww_curve_point *point) {
    return point->density - ww_model_density(&channel->shape, point->log_h, NULL);
}

static double doubt_of(const ww_channel_curve *channel, const ww_curve_point *point) {
    return point->sd.set ? point->sd.value : channel->residual_sd;
}

static bool has_residual(const ww_channel_curve *channel, const ww_curve_point *point) {
    return channel->fitted && point->state == WW_CELL_VALUE && !point->cut;
}

/* ------------------------------------------------------------------------------------ limits */

struct limits {
    double x_low, x_high, y_low, y_high, residual;
};

static void widen(double value, double *low, double *high) {
    *low = fmin(*low, value);
    *high = fmax(*high, value);
}

static void add_end(const ww_channel_curve *channel, double log_h, struct limits *limits) {
    widen(log_h, &limits->x_low, &limits->x_high);
    widen(ww_model_density(&channel->shape, log_h, NULL), &limits->y_low, &limits->y_high);
}

static void find_channel_limits(const ww_channel_curve *channel, struct limits *limits) {
    for (size_t i = 0; i < channel->n_points; i++) {
        const ww_curve_point *point = &channel->point[i];
        if (point->state == WW_CELL_MISSING)
            continue;
        widen(point->log_h, &limits->x_low, &limits->x_high);
        if (point->state == WW_CELL_VALUE && !is_suspect(channel, i))
            widen(point->density, &limits->y_low, &limits->y_high);
        if (has_residual(channel, point) && !is_suspect(channel, i))
            limits->residual = fmax(limits->residual,
                                    fabs(residual_of(channel, point)) + doubt_of(channel, point));
    }
    if (channel->fitted) {
        add_end(channel, channel->domain_low, limits);
        add_end(channel, channel->domain_high, limits);
    }
}

/* A suspect not far from the others widens the axis; one that would squash the curve does not. */
static void add_suspects_near(const ww_curve *curve, struct limits *limits) {
    const double near = 0.3; /* D, a line of the grid */
    const double low = limits->y_low - near, high = limits->y_high + near;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_channel_curve *channel = &curve->channel[c];
        for (size_t i = 0; channel->present && i < channel->n_suspects; i++) {
            const double density = channel->point[channel->suspect[i].point].density;
            if (density >= low && density <= high)
                widen(density, &limits->y_low, &limits->y_high);
        }
    }
}

/* The smallest of a few round numbers that holds the residuals with their error bars. */
static double round_limit(double largest) {
    static const double rounds[] = {0.02, 0.04, 0.06, 0.10, 0.20, 0.40};
    for (size_t i = 0; i < sizeof rounds / sizeof rounds[0]; i++)
        if (largest <= rounds[i])
            return rounds[i];
    return 1.0;
}

static bool find_limits(ww__picture *picture) {
    const double margin = 0.06; /* no mark stands on the frame */
    struct limits limits = {DBL_MAX, -DBL_MAX, 0.0, 0.0, 0.0};
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (picture->curve->channel[c].present)
            find_channel_limits(&picture->curve->channel[c], &limits);
    if (limits.x_low > limits.x_high)
        return false;
    add_suspects_near(picture->curve, &limits);
    ww__plot_limits(limits.x_low - margin, limits.x_high + margin, &picture->x_from,
                    &picture->x_to);
    ww__plot_limits(limits.y_low < 0 ? limits.y_low - margin : 0.0, limits.y_high + 2 * margin,
                    &picture->y_from, &picture->y_to);
    picture->residual_limit = round_limit(limits.residual);
    return true;
}

static void find_channels(ww__picture *picture) {
    static const ww_channel order[] = {WW_VISUAL, WW_GREEN, WW_RED, WW_BLUE};
    bool found = false;
    for (size_t i = 0; i < sizeof order / sizeof order[0]; i++) {
        const ww_channel_curve *channel = &picture->curve->channel[order[i]];
        if (!channel->present)
            continue;
        picture->n_channels++;
        if (!found && channel->fitted) {
            picture->main = order[i];
            found = true;
        }
    }
}

/* Where a suspect stands: at the edge of the plot if it lies beyond. */
static double shown_density(const ww__picture *picture, double density) {
    const double margin = 0.06;
    if (density > picture->y_to)
        return picture->y_to - margin;
    return density < picture->y_from ? picture->y_from + margin : density;
}

/* ------------------------------------------------------------------------------------ tables */

typedef void add_rows(const ww__picture *picture, ww_channel name, const ww_channel_curve *channel);

static void add_curve(const ww__picture *picture, ww_channel name,
                      const ww_channel_curve *channel) {
    ww__plot_curve_rows(picture->script, name, channel);
}

static void add_fitted(const ww__picture *picture, ww_channel name, const ww_channel_curve *channel,
                       bool moved) {
    for (size_t i = 0; i < channel->n_points; i++) {
        const ww_curve_point *point = &channel->point[i];
        if (has_residual(channel, point) && !is_suspect(channel, i) &&
            (point->moved != 0.0) == moved)
            ww__plot_row(picture->script, 5,
                         (double[]){name, point->log_h, point->density, doubt_of(channel, point),
                                    residual_of(channel, point)});
    }
}

static void add_points(const ww__picture *picture, ww_channel name,
                       const ww_channel_curve *channel) {
    add_fitted(picture, name, channel, false);
}

/* One step off their own exposure, where the curve has them. */
static void add_moved(const ww__picture *picture, ww_channel name,
                      const ww_channel_curve *channel) {
    add_fitted(picture, name, channel, true);
}

/* Readings that no curve was laid through: of a channel without one, or beyond a fall of density.
 */
static void add_unfitted(const ww__picture *picture, ww_channel name,
                         const ww_channel_curve *channel) {
    for (size_t i = 0; i < channel->n_points; i++) {
        const ww_curve_point *point = &channel->point[i];
        if (point->state == WW_CELL_VALUE && !has_residual(channel, point))
            ww__plot_row(picture->script, 3, (double[]){name, point->log_h, point->density});
    }
}

/* Beyond the instrument: an arrow up from the highest density that was read. */
static void add_over(const ww__picture *picture, ww_channel name, const ww_channel_curve *channel) {
    double highest = picture->y_from;
    for (size_t i = 0; i < channel->n_points; i++)
        if (channel->point[i].state == WW_CELL_VALUE && !is_suspect(channel, i))
            highest = fmax(highest, channel->point[i].density);
    for (size_t i = 0; i < channel->n_points; i++)
        if (channel->point[i].state == WW_CELL_OVER)
            ww__plot_row(picture->script, 3, (double[]){name, channel->point[i].log_h, highest});
}

/* A residual too large for its panel stands at the panel's edge; its label holds the value. */
static void add_suspects(const ww__picture *picture, ww_channel name,
                         const ww_channel_curve *channel) {
    const double edge = 0.85 * picture->residual_limit;
    for (size_t i = 0; i < channel->n_suspects; i++) {
        const ww_suspect *suspect = &channel->suspect[i];
        const ww_curve_point *point = &channel->point[suspect->point];
        if (ww__curve_suspect_moved(channel, suspect))
            continue;
        ww__plot_row(picture->script, 5,
                     (double[]){name, point->log_h, shown_density(picture, point->density),
                                fmax(-edge, fmin(edge, suspect->residual)), suspect->residual});
    }
}

/* A named table, channel by channel, and whether it has rows: gnuplot refuses to plot an empty one.
 */
static void add_table(const ww__picture *picture, const char *name, add_rows *add) {
    size_t start;
    bool any;
    ww__text_add_format(picture->script, "$%s << END_OF_TABLE\n", name);
    start = picture->script->n;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (picture->curve->channel[c].present)
            add(picture, (ww_channel)c, &picture->curve->channel[c]);
    any = picture->script->n > start;
    ww__text_add_format(picture->script, "END_OF_TABLE\nn_%s = %d\n", name, any);
}

/* "step 7", "from step 7" where all after it were moved, or "step 7: 5.40 D" at the edge of the
 * plot; where it stands, and on which side of its curve. */
static void add_suspect_name(const ww__picture *picture, size_t i, const ww_channel_curve *channel,
                             const ww_suspect *suspect) {
    const ww_curve_point *point = &channel->point[suspect->point];
    const double shown = shown_density(picture, point->density);
    const bool above = shown == point->density ? suspect->residual > 0 : shown > point->density;
    ww__text *const script = picture->script;
    char step[64];
    ww__text label = WW__TEXT_INIT;
    ww__text_add(&label, ww__curve_suspect_moved(channel, suspect) ? "from step " : "step ");
    ww__text_add(&label, ww__escape_message(point->step, step, sizeof step));
    if (shown != point->density)
        ww__text_add_format(&label, ": %.2f D", point->density);
    ww__plot_set_item(script, "suspect_name", i, ww__text_string(&label));
    ww__text_add_format(script, "suspect_x[%zu] = %.9f\nsuspect_y[%zu] = %.9f\n", i, point->log_h,
                        i, shown);
    ww__text_add_format(script, "suspect_above[%zu] = %d\nsuspect_left[%zu] = %d\n", i, above, i,
                        (suspect->residual > 0) != channel->shape.falling);
    script->failed |= label.failed;
    ww__text_release(&label);
}

static void add_suspect_names(const ww__picture *picture) {
    size_t n = 0;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        n += picture->curve->channel[c].present ? picture->curve->channel[c].n_suspects : 0;
    ww__text_add_format(picture->script, "n_suspect_names = %zu\n", n);
    for (const char *const *what = (const char *const[]){"name", "x", "y", "above", "left", NULL};
         *what; what++)
        ww__text_add_format(picture->script, "array suspect_%s[%zu]\n", *what, n > 0 ? n : 1);
    n = 0;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_channel_curve *channel = &picture->curve->channel[c];
        for (size_t i = 0; channel->present && i < channel->n_suspects; i++)
            add_suspect_name(picture, ++n, channel, &channel->suspect[i]);
    }
}

/* ------------------------------------------------------------------------------------ layout */

/* One log unit has as many pixels on both axes. */
static void add_layout(const ww__picture *picture, ww__plot_size *size) {
    const double x_span = picture->x_to - picture->x_from, y_span = picture->y_to - picture->y_from;
    const double unit = fmin(plot_width_max / x_span, plot_height_max / y_span);
    const double right = left + unit * x_span;
    const double main_bottom = bottom + residual_height + gap;
    /* Where the plot is low, the legend needs what is left of the column's height. */
    const double main_height = fmax(unit * y_span, legend_height - bottom - residual_height);
    *size = (ww__plot_size){right + column, main_bottom + main_height + top};
    ww__plot_set_panel(picture->script, "main",
                       (ww__plot_panel){left, right, main_bottom, main_bottom + unit * y_span},
                       *size);
    ww__plot_set_panel(picture->script, "residual",
                       (ww__plot_panel){left, right, bottom, bottom + residual_height}, *size);
    /* Labels on every line of the grid while they have room beside each other. */
    ww__plot_set_number(picture->script, "x_step", unit * 0.3 >= 40 ? 0.3 : 0.6);
    ww__plot_set_number(picture->script, "y_step", unit * 0.3 >= 18 ? 0.3 : 0.6);
}

static void add_words(const ww__picture *picture) {
    const ww_meta *meta = &picture->curve->meta;
    ww__text title = WW__TEXT_INIT;
    ww__words_material(&title, meta->name, meta->contrast, "Characteristic curve");
    ww__plot_set_text(picture->script, "title_text", ww__text_string(&title));
    picture->script->failed |= title.failed;
    ww__text_release(&title);
    ww__plot_set_text(picture->script, "x_label", ww__plot_log_h_label(meta->exposure_unit));
    ww__plot_set_number(picture->script, "x_from", picture->x_from);
    ww__plot_set_number(picture->script, "x_to", picture->x_to);
    ww__plot_set_number(picture->script, "y_from", picture->y_from);
    ww__plot_set_number(picture->script, "y_to", picture->y_to);
    ww__text_add_format(picture->script, "n_channels = %zu\n", picture->n_channels);
    ww__plot_set_number(picture->script, "residual_limit", picture->residual_limit);
}

ww_status ww__plot_curve_data(const ww_curve *curve, ww__text *script, ww__plot_size *size,
                              ww_error *err) {
    ww__picture picture = {.curve = curve, .script = script, .main = WW_CHANNEL_COUNT};
    picture.paper = curve->meta.material == WW_MATERIAL_PAPER ||
                    curve->meta.material == WW_MATERIAL_PRINT ||
                    curve->meta.material == WW_MATERIAL_STRIP;
    find_channels(&picture);
    if (picture.n_channels == 0 || !find_limits(&picture))
        return ww_error_set(err, WW_ENODATA, "no plot: there is no reading to draw");
    add_layout(&picture, size);
    add_words(&picture);
    add_table(&picture, "curve", add_curve);
    add_table(&picture, "points", add_points);
    add_table(&picture, "moved", add_moved);
    add_table(&picture, "unfitted", add_unfitted);
    add_table(&picture, "over", add_over);
    add_table(&picture, "suspect", add_suspects);
    add_suspect_names(&picture);
    ww__plot_construct(&picture);
    ww__plot_legend(&picture);
    return ww__text_status(script, err);
}
