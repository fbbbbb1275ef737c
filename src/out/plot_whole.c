/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/plot_script.h"
#include "out/scan_words.h"
#include <float.h>
#include <math.h>

/* Layout [px]. */
static const double left = 104, right = 24, bottom = 98, top = 46, wide = 640, high = 360,
                    between = 76, bins_high = 190;

static const double least_share = 1e-4; /* beyond lie the ends, which have no quantile */

/* Normal quantiles of 0.1, 1, 50, 99 and 99.9 %; the ends, which have none, stand clear of them. */
static const double place[WW_WHOLE_COUNT] = {-3.9, -3.0902, -2.3263, 0.0, 2.3263, 3.0902, 3.9};

struct picture {
    const ww_whole *whole;
    ww__text *script;
    double x_from, x_to;
};

/* By rising density, or by rising code. */
static bool find_value(const ww_whole *whole, int channel, int i, double *value) {
    const ww_cell *cell = &whole->density[channel][WW_WHOLE_COUNT - 1 - i];
    if (whole->calibrated) {
        *value = cell->value;
        return cell->state == WW_CELL_VALUE;
    }
    if (!(whole->code[channel][i] > 0.0) || !(whole->white > 0.0))
        return false;
    *value = log10(whole->code[channel][i] / whole->white);
    return true;
}

static double trust_of(const ww_whole *whole, int channel, int i) {
    return whole->calibrated ? ww__scan_trust(&whole->density[channel][WW_WHOLE_COUNT - 1 - i])
                             : 0.0;
}

/* Of a bin: its density, or the logarithm of its code. */
static double edge_of(const ww_whole *whole, size_t bin) {
    const double edge = whole->bins.from + (double)bin * whole->bins.width;
    return whole->calibrated ? edge : -edge;
}

static bool find_limits(struct picture *picture) {
    double low = DBL_MAX, most = -DBL_MAX;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        for (int i = 0; picture->whole->has[c] && i < WW_WHOLE_COUNT; i++) {
            double value;
            if (!find_value(picture->whole, c, i, &value))
                continue;
            low = fmin(low, value);
            most = fmax(most, value);
        }
    if (low > most)
        return false;
    if (picture->whole->bins.n > 0) { /* the percentiles may have no density, most pixels do */
        const double last = edge_of(picture->whole, picture->whole->bins.n);
        low = fmin(low, last);
        most = fmax(most, last);
    }
    ww__plot_limits(low - 0.03, picture->whole->calibrated ? most + 0.03 : fmin(0.0, most + 0.03),
                    &picture->x_from, &picture->x_to);
    return true;
}

/* Channel, value, place of its percentile, 95 % half-width of the value. */
static void add_shares(const struct picture *picture) {
    ww__text_add(picture->script, "$shares << END_OF_TABLE\n");
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        for (int i = 0; picture->whole->has[c] && i < WW_WHOLE_COUNT; i++) {
            double value;
            if (find_value(picture->whole, c, i, &value))
                ww__plot_row(picture->script, 4,
                             (double[]){c, value, place[i], trust_of(picture->whole, c, i)});
        }
        ww__text_add(picture->script, "\n");
    }
    ww__text_add(picture->script, "END_OF_TABLE\n");
}

static size_t counted(const ww_whole_bins *bins, int channel) {
    size_t sum = bins->lighter[channel] + bins->darker[channel];
    for (size_t i = 0; i < bins->n; i++)
        sum += bins->count[channel][i];
    return sum;
}

/* Channel, edge of a bin, share of the pixels in it. A first and a last row bring the line to the
 * axis. */
static void add_bins(const struct picture *picture) {
    const ww_whole *whole = picture->whole;
    const ww_whole_bins *bins = &whole->bins;
    ww__text_add(picture->script, "$bins << END_OF_TABLE\n");
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const size_t all = whole->has[c] ? counted(bins, c) : 0;
        if (whole->has[c]) /* also where no pixel has a density: gnuplot draws no empty plot */
            ww__plot_row(picture->script, 3, (double[]){c, edge_of(whole, 0), 0.0});
        for (size_t i = 0; all > 0 && i <= bins->n; i++) {
            const double share =
                i < bins->n ? 100.0 * (double)bins->count[c][i] / (double)all : 0.0;
            ww__plot_row(picture->script, 3, (double[]){c, edge_of(whole, i), share});
        }
        ww__text_add(picture->script, "\n");
    }
    ww__text_add(picture->script, "END_OF_TABLE\n");
}

/* The percentiles among the bins: the next ones, up to one that lies beyond `edge`. */
static void add_percentiles(const struct picture *picture, int channel, double edge, int *next) {
    static const double share[WW_WHOLE_COUNT] = {[WW_WHOLE_P0_1] = 0.001,
                                                 [WW_WHOLE_P1] = 0.01,
                                                 [WW_WHOLE_MEDIAN] = 0.5,
                                                 [WW_WHOLE_P99] = 0.99,
                                                 [WW_WHOLE_P99_9] = 0.999};
    const bool rising = picture->whole->calibrated; /* as the bins go */
    for (; *next < WW_WHOLE_MAX; ++*next) {
        const int i = rising ? *next : WW_WHOLE_MAX - *next;
        double value;
        if (!find_value(picture->whole, channel, i, &value))
            continue;
        if (rising ? value > edge : value < edge)
            return;
        ww__plot_row(picture->script, 3, (double[]){channel, value, share[i]});
    }
}

/* Channel, density or logarithm of the code, share of the pixels up to there: what lies between the
 * percentiles is counted, too, and no straight line. */
static void add_sums(const struct picture *picture) {
    const ww_whole *whole = picture->whole;
    const ww_whole_bins *bins = &whole->bins;
    ww__text_add(picture->script, "$sums << END_OF_TABLE\n");
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const double all = whole->has[c] ? (double)counted(bins, c) : 0.0;
        double thinner = all > 0.0 ? (double)bins->lighter[c] : 0.0;
        int next = WW_WHOLE_P0_1;
        for (size_t i = 0; all > 0.0 && i <= bins->n; i++) {
            const double share = whole->calibrated ? thinner / all : 1.0 - thinner / all;
            add_percentiles(picture, c, edge_of(whole, i), &next);
            if (share > least_share && share < 1.0 - least_share)
                ww__plot_row(picture->script, 3, (double[]){c, edge_of(whole, i), share});
            thinner += i < bins->n ? (double)bins->count[c][i] : 0.0;
        }
        if (all > 0.0)
            add_percentiles(picture, c, whole->calibrated ? HUGE_VAL : -HUGE_VAL, &next);
        ww__text_add(picture->script, "\n");
    }
    ww__text_add(picture->script, "END_OF_TABLE\n");
}

static void set_panels(const struct picture *picture, ww__plot_size *size) {
    const double top_of_main = bottom + high, from = top_of_main + between;
    *size = (ww__plot_size){left + wide + right, from + bins_high + top};
    ww__plot_set_panel(picture->script, "main",
                       (ww__plot_panel){left, left + wide, bottom, top_of_main}, *size);
    ww__plot_set_panel(picture->script, "bins",
                       (ww__plot_panel){left, left + wide, from, from + bins_high}, *size);
}

ww_status ww__plot_whole_data(const ww_whole *whole, ww__text *script, ww__plot_size *size,
                              ww_error *err) {
    struct picture picture = {.whole = whole, .script = script};
    ww__text title = WW__TEXT_INIT;
    if (!find_limits(&picture))
        return ww_error_set(err, WW_ENODATA, "no plot: there is no value to draw");
    set_panels(&picture, size);
    ww__words_file(&title, whole->file, "Scan");
    ww__plot_set_text(script, "title_text", ww__text_string(&title));
    script->failed |= title.failed;
    ww__text_release(&title);
    ww__plot_set_text(script, "x_label",
                      whole->calibrated ? "density (D, scanner)" : "log10 (code / greatest code)");
    ww__plot_set_text(script, "bins_label",
                      whole->calibrated ? "pixels in each 0.02 D (%)" : "pixels in each 0.02 (%)");
    ww__plot_set_text(script, "y_label",
                      whole->calibrated ? "share of pixels no denser"
                                        : "share of pixels no lighter");
    ww__plot_set_text(script, "first_name", whole->calibrated ? "thinnest" : "darkest");
    ww__plot_set_text(script, "last_name", whole->calibrated ? "densest" : "lightest");
    ww__plot_set_number(script, "x_from", picture.x_from);
    ww__plot_set_number(script, "x_to", picture.x_to);
    ww__plot_set_number(script, "end_place", place[WW_WHOLE_MAX]);
    ww__text_add(script, "array has[4]\n");
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        ww__text_add_format(script, "has[%d] = %d\n", c + 1, whole->has[c]);
    add_shares(&picture);
    add_bins(&picture);
    add_sums(&picture);
    return ww__text_status(script, err);
}
