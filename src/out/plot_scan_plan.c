/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "out/plot_script.h"
#include "out/scan_plan_words.h"
#include "out/scan_words.h"
#include <float.h>
#include <math.h>
#include <stdlib.h>

/* Layout [px]. The names of the tones stand on end above the panel. */
static const double left = 92, right = 24, bottom = 144, wide = 640, high = 380, names = 118,
                    name_step = 15;

enum { CURVE_POINTS = 200, NAME_SIZE = 24 };

struct picture {
    const ww_scan_plan *plan;
    const ww_scanner *scanner;
    ww__text *script;
    double x_from, x_to, y_from;
    size_t n_beyond; /* points of curves beyond the wedge that calibrated */
};

/* A tone's name above the panel: where its density is, and where there is room for it. */
struct name {
    const ww_scan_tone *tone;
    double at;
};

/* The mean of so many scans of a channel's first exposure, merged with one of `more` stops more. */
struct curve {
    ww_scan_pass first;
    double more;
    unsigned second; /* scans; 0: the first alone */
};

static ww_scan_pass pass_of(const struct picture *picture, int c, unsigned scans) {
    return (ww_scan_pass){picture->scanner, (ww_channel)c, picture->plan->channel[c].stops.value,
                          scans};
}

static double noise_of(const struct curve *curve, double density) {
    if (curve->second == 0)
        return ww_scan_pass_noise(&curve->first, density);
    const ww_scan_pair pair = ww_scan_pass_pair(&curve->first, curve->more, density, 1.0);
    return ww_scan_pair_noise(&pair, curve->first.frames, curve->second);
}

static void find_limits(struct picture *picture) {
    double low = DBL_MAX, most = -DBL_MAX, noise = WW__SIGNAL_IS_NOISE;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_scan_channel *channel = &picture->plan->channel[c];
        for (size_t i = 0; channel->present && i < channel->n_tones; i++) {
            const ww_scan_tone *tone = &channel->tone[i];
            if (tone->over)
                continue;
            low = fmin(low, tone->density);
            most = fmax(most, tone->density);
            noise = tone->noise > 0.0 ? fmin(noise, tone->noise) : noise;
        }
        if (channel->present && ww_quantity_present(channel->sees))
            most = fmax(most, channel->sees.value);
    }
    ww__plot_limits(low - 0.06, most + 0.06, &picture->x_from, &picture->x_to);
    picture->y_from = 0.5 * noise;
}

/* Channel, density, noise of a pixel, whether it lies beyond the wedge that calibrated; from where
 * it does not clip. */
static void add_stretch(struct picture *picture, const struct curve *curve, double from, double to,
                        bool beyond) {
    const double step = (picture->x_to - picture->x_from) / CURVE_POINTS;
    const int n = (int)ceil((to - from) / step);
    for (int i = 0; i <= n && to > from; i++) {
        const double density = from + (to - from) * i / n;
        const double noise = noise_of(curve, density);
        if (!(ww_scan_pass_light(&curve->first, density) <= 1.0 && noise > 0.0))
            continue;
        ww__plot_row(picture->script, 4, (double[]){curve->first.channel, density, noise, beyond});
        picture->n_beyond += beyond;
    }
    ww__text_add(picture->script, "\n");
}

/* The ends of the wedge, as far as the plot shows them. */
static void wedge_of(const struct picture *picture, ww_channel c, double *thin, double *dense) {
    const ww_scanner_channel *calibrated = &picture->scanner->channel[c];
    *thin = picture->x_from;
    *dense = picture->x_to;
    if (calibrated->n_points > 0) {
        *thin = fmin(fmax(calibrated->point[calibrated->n_points - 1].density, *thin), *dense);
        *dense = fmax(fmin(calibrated->point[0].density, *dense), *thin);
    }
}

static void add_curve(struct picture *picture, const struct curve *curve, double from) {
    double thin, dense;
    wedge_of(picture, curve->first.channel, &thin, &dense);
    add_stretch(picture, curve, from, thin, true);
    add_stretch(picture, curve, fmax(thin, from), dense, false);
    add_stretch(picture, curve, fmax(dense, from), picture->x_to, true);
}

/* What averaging and a second exposure make of one scan: where they change it. */
static void add_more(struct picture *picture, int c) {
    const ww_scan_channel *channel = &picture->plan->channel[c];
    const bool second = channel->second_stops > 0.0;
    const struct curve curve = {pass_of(picture, c, picture->plan->first), channel->second_stops,
                                second ? picture->plan->second : 0};
    double from = picture->x_from;
    if (picture->plan->first == 1 && second)
        from = fmax(from, ww_scan_pass_fade(&curve.first, curve.more).from);
    if (picture->plan->first > 1 || second)
        add_curve(picture, &curve, from);
}

static void add_curves(struct picture *picture) {
    const ww_scan_plan *plan = picture->plan;
    ww__text_add(picture->script, "$one << END_OF_TABLE\n");
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (plan->channel[c].present)
            add_curve(picture, &(struct curve){.first = pass_of(picture, c, 1)}, picture->x_from);
    ww__text_add(picture->script, "END_OF_TABLE\n$more << END_OF_TABLE\n");
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (plan->channel[c].present)
            add_more(picture, c);
    ww__text_add(picture->script, "END_OF_TABLE\n");
    ww__plot_set_number(picture->script, "n_beyond", (double)picture->n_beyond);
}

/* Channel, density, noise where the wedge's dense end was: beyond, a scanner was not tried. */
static void add_ends(const struct picture *picture) {
    ww__text_add(picture->script, "$ends << END_OF_TABLE\n");
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        double thin, dense;
        if (!picture->plan->channel[c].present)
            continue;
        wedge_of(picture, (ww_channel)c, &thin, &dense);
        const ww_scan_pass pass = pass_of(picture, c, 1);
        if (dense < picture->x_to)
            ww__plot_row(picture->script, 3,
                         (double[]){c, dense, ww_scan_pass_noise(&pass, dense)});
    }
    ww__text_add(picture->script, "END_OF_TABLE\n");
}

/* Channel, density, noise, whether it is to be kept. */
static void add_tones(const struct picture *picture) {
    ww__text_add(picture->script, "$tones << END_OF_TABLE\n");
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_scan_channel *channel = &picture->plan->channel[c];
        for (size_t i = 0; channel->present && i < channel->n_tones; i++)
            if (!channel->tone[i].over)
                ww__plot_row(picture->script, 4,
                             (double[]){c, channel->tone[i].density, channel->tone[i].noise,
                                        channel->tone[i].kept});
    }
    ww__text_add(picture->script, "END_OF_TABLE\n");
}

static int by_density(const void *a, const void *b) {
    const struct name *one = a, *other = b;
    return (one->tone->density > other->tone->density) -
           (one->tone->density < other->tone->density);
}

/* Names keep their order and their distance, as near to their densities as the panel allows. */
static void spread(struct name name[], size_t n, double step, double to) {
    for (size_t i = 0; i < n; i++)
        name[i].at =
            i > 0 ? fmax(name[i].tone->density, name[i - 1].at + step) : name[i].tone->density;
    for (size_t i = n; i-- > 0;)
        name[i].at = fmin(name[i].at, i + 1 < n ? name[i + 1].at - step : to);
}

/* The tones of one channel, which stand for those of the others. */
static ww_status add_names(const struct picture *picture, ww_error *err) {
    const ww_scan_channel *channel = &picture->plan->channel[picture->plan->weakest];
    struct name *name = calloc(channel->n_tones + 1, sizeof *name);
    size_t n = 0;
    if (!name)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu names", channel->n_tones);
    for (size_t i = 0; i < channel->n_tones; i++)
        if (!channel->tone[i].over)
            name[n++].tone = &channel->tone[i];
    qsort(name, n, sizeof *name, by_density);
    spread(name, n, name_step * (picture->x_to - picture->x_from) / wide, picture->x_to);
    ww__text_add_format(picture->script,
                        "n_names = %zu\narray name[%zu]\narray name_d[%zu]\narray name_at[%zu]\n",
                        n, n + 1, n + 1, n + 1);
    for (size_t i = 0; i < n; i++) {
        char shown[NAME_SIZE];
        ww__plot_set_item(picture->script, "name", i + 1,
                          ww__escape_message(name[i].tone->tone, shown, sizeof shown));
        ww__text_add_format(picture->script, "name_d[%zu] = ", i + 1);
        ww__plot_row(picture->script, 1, &name[i].tone->density);
        ww__text_add_format(picture->script, "name_at[%zu] = ", i + 1);
        ww__plot_row(picture->script, 1, &name[i].at);
    }
    free(name);
    return WW_OK;
}

/* "green: 0.7 stop", which is open up where no sign says otherwise. */
static void add_legend(const struct picture *picture) {
    ww__text_add(picture->script, "array legend_text[4] = ['', '', '', '']\n");
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        ww__text text = WW__TEXT_INIT;
        if (!picture->plan->channel[c].present)
            continue;
        ww__text_add_format(&text, "%s, ", ww_channel_name((ww_channel)c));
        ww__text_add(&text, picture->plan->channel[c].stops.value >= 0.05 ? "+" : "");
        ww__text_add_number(&text, picture->plan->channel[c].stops.value, 1);
        ww__text_add(&text, " stop");
        ww__plot_set_item(picture->script, "legend_text", (size_t)c + 1, ww__text_string(&text));
        picture->script->failed |= text.failed;
        ww__text_release(&text);
    }
}

/* Sets a text of the script and releases it. */
static void set_words(const struct picture *picture, const char *name, ww__text *text) {
    ww__plot_set_text(picture->script, name, ww__text_string(text));
    picture->script->failed |= text->failed;
    ww__text_release(text);
}

static void set_more_text(const struct picture *picture) {
    const ww_scan_plan *plan = picture->plan;
    ww__text text = WW__TEXT_INIT;
    if (plan->way == WW_SCAN_AVERAGE)
        ww__text_add_format(&text, "thin: mean of %u scans", plan->first);
    else if (plan->second > 0)
        ww__text_add(&text, plan->way == WW_SCAN_SECOND
                                ? "thin: both scans, merged"
                                : "thin: both exposures, averaged and merged");
    set_words(picture, "more_text", &text);
}

/* The level that is asked for, named where no curve is: one scan's cross it at `crossing`. */
static void set_level(const struct picture *picture) {
    const double separate = picture->plan->separate;
    const double told = separate * sqrt(WW_SCAN_PATCH) / WW_SCAN_TOLD;
    double crossing = picture->x_to;
    ww__text text = WW__TEXT_INIT;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_scan_pass pass = pass_of(picture, c, 1);
        if (picture->plan->channel[c].present)
            crossing = fmin(crossing, ww_scan_pass_reaches_told(&pass, WW_SCAN_PATCH, separate));
    }
    ww__words_told(&text, separate);
    ww__text_add(&text, " told over 3 x 3 pixels");
    set_words(picture, "told_text", &text);
    ww__plot_set_number(picture->script, "told", told);
    ww__plot_set_number(picture->script, "told_right",
                        crossing < 0.55 * picture->x_from + 0.45 * picture->x_to);
    ww__plot_set_number(picture->script, "y_from", fmin(picture->y_from, 0.5 * told));
}

static void add_words(const struct picture *picture) {
    ww__text names_of = WW__TEXT_INIT;
    if (picture->plan->channel[WW_VISUAL].present)
        ww__text_add(&names_of, "Tones of the negative");
    else
        ww__text_add_format(&names_of, "Tones as %s sees them",
                            ww_channel_name(picture->plan->weakest));
    set_words(picture, "names_text", &names_of);
    set_more_text(picture);
    set_level(picture);
    ww__plot_set_number(picture->script, "signal_is_noise", WW__SIGNAL_IS_NOISE);
    ww__plot_set_number(picture->script, "x_from", picture->x_from);
    ww__plot_set_number(picture->script, "x_to", picture->x_to);
    ww__plot_set_number(picture->script, "y_to", 2.0 * WW__SIGNAL_IS_NOISE);
}

ww_status ww__plot_scan_plan_data(const ww_scan_plan *plan, const ww_scanner *scanner,
                                  ww__text *script, ww__plot_size *size, ww_error *err) {
    struct picture picture = {.plan = plan, .scanner = scanner, .script = script};
    ww_status status;
    find_limits(&picture);
    *size = (ww__plot_size){left + wide + right, bottom + high + names};
    ww__plot_set_panel(script, "main", (ww__plot_panel){left, left + wide, bottom, bottom + high},
                       *size);
    add_words(&picture);
    add_legend(&picture);
    status = add_names(&picture, err);
    add_curves(&picture);
    add_ends(&picture);
    add_tones(&picture);
    return status == WW_OK ? ww__text_status(script, err) : status;
}
