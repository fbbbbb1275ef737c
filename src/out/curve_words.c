/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/curve_words.h"
#include "out/words.h"
#include <math.h>
#include <wedgework/paper.h>

bool ww__curve_is_paper(const ww_curve *curve) {
    return curve->meta.material == WW_MATERIAL_PAPER || curve->meta.material == WW_MATERIAL_PRINT ||
           curve->meta.material == WW_MATERIAL_STRIP;
}

void ww__words_iso_range(ww__text *text, ww_quantity iso_range) {
    ww__words_tens(text, iso_range.value);
    ww__text_add_format(text, " (%.0f", iso_range.value);
    if (iso_range.low < iso_range.high)
        ww__text_add_format(text, ", %.0f to %.0f", iso_range.low, iso_range.high);
    ww__text_add(text, ")");
}

static size_t count_fitted(const ww_curve *curve, ww_channel *first) {
    size_t n = 0;
    for (int c = WW_CHANNEL_COUNT; c-- > 0;)
        if (curve->channel[c].present && curve->channel[c].fitted) {
            n++;
            *first = (ww_channel)c;
        }
    return n;
}

bool ww__curve_suspect_moved(const ww_channel_curve *channel, const ww_suspect *suspect) {
    for (size_t i = 0; i <= suspect->point; i++)
        if (channel->point[i].moved != 0.0)
            return i == suspect->point;
    return false;
}

/* ------------------------------------------------------------------------------------ the act */

/* "ISO 125/22 (118, 112 to 125)". Outside the contrast condition the word ISO does not fall. */
static void add_speed(ww__text *text, const ww_speed *speed) {
    const bool index = speed->standard == WW_SPEED_EXPOSURE_INDEX;
    const int decimals = speed->exact.value < 10 ? 1 : 0;
    ww__text_add(text, index ? "exposure index " : "ISO ");
    if (speed->arithmetic > 0)
        ww__text_add_format(text, "%d/%d (", speed->arithmetic, speed->degrees);
    else
        ww__text_add(text, index ? "off the scale (" : "speed off the scale (");
    ww__text_add_number(text, speed->exact.value, decimals);
    if (speed->exact.low < speed->exact.high) {
        ww__text_add(text, ", ");
        ww__words_range(text, speed->exact.low, speed->exact.high, decimals);
    }
    ww__text_add(text, ")");
}

/* "gamma 0.61 (0.59 to 0.63)", or with several channels "gamma red 0.55 (...), green ...". */
static bool add_figure(ww__text *text, const ww_curve *curve, ww_figure figure, const char *before,
                       bool named) {
    bool any = false;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_channel_curve *channel = &curve->channel[c];
        if (!channel->present || !ww_quantity_present(channel->figure[figure]))
            continue;
        if (!any)
            ww__text_add_format(text, "%s%s ", before,
                                ww_figure_heading(figure, ww__curve_is_paper(curve)));
        else
            ww__text_add(text, ", ");
        if (named)
            ww__text_add_format(text, "%s ", ww_channel_name((ww_channel)c));
        ww__words_interval(text, channel->figure[figure], 2);
        any = true;
    }
    return any;
}

static void add_average_gradient(ww__text *text, const ww_channel_curve *channel) {
    if (!ww_quantity_present(channel->figure[WW_FIGURE_AVERAGE_GRADIENT]))
        return;
    ww__text_add(text, ", average gradient ");
    ww__words_interval(text, channel->figure[WW_FIGURE_AVERAGE_GRADIENT], 2);
    ww__text_add(text, " between log H ");
    ww__text_add_number(text, channel->construction.gradient_from, 2);
    ww__text_add(text, " and ");
    ww__text_add_number(text, channel->construction.gradient_to, 2);
}

static void add_film(ww__text *text, const ww_curve *curve, ww_channel first, size_t n) {
    bool any = false;
    if (curve->speed.standard != WW_SPEED_NONE) {
        add_speed(text, &curve->speed);
        any = true;
    }
    any = add_figure(text, curve, WW_FIGURE_GAMMA, any ? "; " : "", n > 1) || any;
    if (n == 1)
        add_average_gradient(text, &curve->channel[first]);
    if (!any)
        ww__text_add(text, "a curve, but neither a speed nor a gamma follows from it");
    else if (curve->speed.standard == WW_SPEED_NONE)
        ww__text_add(text, "; no speed");
    ww__text_add(text, ".");
}

/* "R 110 (105 to 113), like a grade 2 (medium)". Makers' grades differ: a likeness, no more. */
static void add_paper(ww__text *text, const ww_curve *curve, ww_channel first, size_t n) {
    ww_channel judged = first;
    const ww_channel_curve *channel;
    ww_quantity range;
    int grade;
    (void)ww_curve_black_and_white_channel(curve, &judged, NULL);
    channel = &curve->channel[judged];
    range = channel->figure[WW_FIGURE_ISO_RANGE];
    if (ww_quantity_present(range)) {
        ww__text_add(text, "R ");
        ww__words_iso_range(text, range);
        ww__text_add(text, " from net 0.04 to 90 % of net D-max");
        if (n > 1)
            ww__text_add_format(text, " in %s", ww_channel_name(judged));
        if (n == 1 && ww_paper_grade_of_range(range.value / 100, &grade, NULL) == WW_OK)
            ww__text_add_format(text, ", about grade %d (%s)", grade, ww_paper_grade_word(grade));
    } else {
        ww__text_add(text, "no range R: the curve does not reach both of its ends");
    }
    if (ww_quantity_present(channel->figure[WW_FIGURE_DMAX])) {
        ww__text_add(text, "; D-max ");
        ww__words_interval(text, channel->figure[WW_FIGURE_DMAX], 2);
        ww__text_add(text, " D");
    }
    ww__text_add(text, ".");
}

static size_t most_points(const ww_curve *curve) {
    size_t most = 0;
    for (size_t c = 0; c < WW_CHANNEL_COUNT; c++)
        most = curve->channel[c].n_points > most ? curve->channel[c].n_points : most;
    return most;
}

void ww__words_curve_act(ww__text *text, const ww_curve *curve) {
    ww_channel first = WW_VISUAL;
    const size_t n = count_fitted(curve, &first);
    if (n == 0 && most_points(curve) >= 5)
        ww__text_add(text, "no curve: these readings do not carry one; the notes say why and which "
                           "readings would.");
    else if (n == 0)
        ww__text_add(text, "no curve: these readings do not carry one. Next, read at least 5 "
                           "exposed steps, from the first tone to the densest.");
    else if (ww__curve_is_paper(curve))
        add_paper(text, curve, first, n);
    else
        add_film(text, curve, first, n);
}

/* ---------------------------------------------------------------------------------------- why */

/* Readings that the curve was laid through. */
static size_t count_used(const ww_channel_curve *channel) {
    size_t n = 0;
    for (size_t i = 0; i < channel->n_points; i++)
        n += channel->point[i].state == WW_CELL_VALUE && !channel->point[i].cut;
    size_t left_out = 0;
    for (size_t i = 0; i < channel->n_suspects; i++)
        left_out += !ww__curve_suspect_moved(channel, &channel->suspect[i]);
    return n >= left_out ? n - left_out : 0;
}

/* What the fitted channels have in common, each from the least to the greatest. */
struct fit_summary {
    size_t n, least, most;
    double low, high, sd_low, sd_high;
    bool one_model;
    ww_model_kind model;
};

static struct fit_summary summarise(const ww_curve *curve) {
    struct fit_summary all = {.one_model = true};
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_channel_curve *channel = &curve->channel[c];
        const size_t used = channel->present && channel->fitted ? count_used(channel) : 0;
        if (!channel->present || !channel->fitted)
            continue;
        if (all.n++ == 0) {
            all.least = all.most = used;
            all.low = channel->domain_low;
            all.high = channel->domain_high;
            all.sd_low = all.sd_high = channel->residual_sd;
            all.model = channel->shape.model;
        }
        all.least = used < all.least ? used : all.least;
        all.most = used > all.most ? used : all.most;
        all.low = fmin(all.low, channel->domain_low);
        all.high = fmax(all.high, channel->domain_high);
        all.sd_low = fmin(all.sd_low, channel->residual_sd);
        all.sd_high = fmax(all.sd_high, channel->residual_sd);
        all.one_model &= channel->shape.model == all.model;
    }
    return all;
}

void ww__words_curve_why(ww__text *text, const ww_curve *curve) {
    const struct fit_summary all = summarise(curve);
    if (all.n == 0)
        return;
    ww__text_add_format(text, "%s%s curve%s through ", all.n == 1 ? "a " : "",
                        all.one_model ? ww_model_name(all.model) : "fitted", all.n == 1 ? "" : "s");
    ww__words_range(text, (double)all.least, (double)all.most, 0);
    ww__text_add(text, all.n == 1 ? " readings, log H " : " readings each, log H ");
    ww__words_range(text, all.low, all.high, 2);
    ww__text_add(text, all.n == 1 ? ", leaves " : ", leave ");
    ww__words_range(text, all.sd_low, all.sd_high, 3);
    ww__text_add(text, " D (1 sd).");
}
