/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/report.h"
#include "out/scan_words.h"
#include "out/words.h"
#include <math.h>

static void add_pixels(ww__text *text, size_t pixels) {
    if (pixels < 1000000) {
        ww__text_add_format(text, "%zu pixel%s", pixels, pixels == 1 ? "" : "s");
        return;
    }
    ww__text_add_number(text, (double)pixels / 1e6, 1);
    ww__text_add(text, " million pixels");
}

static void add_density_range(ww__text *text, const ww_cell density[WW_WHOLE_COUNT]) {
    const ww_cell *thin = &density[WW_WHOLE_P99_9], *dense = &density[WW_WHOLE_P0_1];
    ww__text_add(text, "density ");
    if (thin->state == WW_CELL_VALUE && dense->state == WW_CELL_VALUE) {
        ww__words_range(text, thin->value, dense->value, 2);
        return;
    }
    ww__words_cell(text, thin);
    ww__text_add(text, " to ");
    ww__words_cell(text, dense);
}

static ww_optional trust_of(const ww_cell *cell) {
    return (ww_optional){ww__scan_trust(cell) > 0.0, ww__scan_trust(cell)};
}

/* That of the first and of the last percentile of the act that has a density. */
static void add_trust(ww__text *text, const ww_cell density[WW_WHOLE_COUNT]) {
    static const int shown[] = {WW_WHOLE_P99_9, WW_WHOLE_MEDIAN, WW_WHOLE_P0_1};
    ww_optional thin = {false, 0.0}, dense = {false, 0.0};
    for (size_t i = 0; i < sizeof shown / sizeof shown[0]; i++) {
        const ww_optional trust = trust_of(&density[shown[i]]);
        if (trust.set && !thin.set)
            thin = trust;
        if (trust.set)
            dense = trust;
    }
    if (!thin.set)
        return;
    ww__text_add(text, "; trust +-");
    ww__words_trust_ends(text, thin.value, dense.value);
}

static void add_act(ww__text *text, const ww_whole *whole, ww_channel channel) {
    if (channel == WW_CHANNEL_COUNT || whole->pixels == 0) {
        ww__text_add(text, "nothing was counted.");
        return;
    }
    if (whole->off)
        ww__text_add(text, WW__SCAN_OFF);
    if (whole->calibrated)
        add_density_range(text, whole->density[channel]);
    else
        ww__words_codes(text, whole->code[channel][WW_WHOLE_P0_1],
                        whole->code[channel][WW_WHOLE_P99_9], whole->white);
    if (channel != WW_VISUAL)
        ww__text_add_format(text, " in %s", ww_channel_name(channel));
    ww__text_add(text, ", without the outermost 0.1 % at either end; median ");
    if (whole->calibrated)
        ww__words_cell(text, &whole->density[channel][WW_WHOLE_MEDIAN]);
    else
        ww__words_code(text, whole->code[channel][WW_WHOLE_MEDIAN], whole->white);
    if (whole->calibrated)
        add_trust(text, whole->density[channel]);
    ww__text_add(text, "; ");
    add_pixels(text, whole->pixels);
    ww__text_add(text, ".");
}

/* The channel with the greatest share; WW_CHANNEL_COUNT where all are 0. */
static ww_channel worst_of(const ww_whole *whole, const double share[WW_CHANNEL_COUNT]) {
    ww_channel worst = WW_CHANNEL_COUNT;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (whole->has[c] && share[c] > 0.0 &&
            (worst == WW_CHANNEL_COUNT || share[c] > share[worst]))
            worst = (ww_channel)c;
    return worst;
}

static void add_clipped(ww__text *text, const ww_whole *whole, const double share[WW_CHANNEL_COUNT],
                        const char *where) {
    const ww_channel worst = worst_of(whole, share);
    if (worst == WW_CHANNEL_COUNT)
        return;
    ww__text_add(text, " ");
    if (share[worst] < 0.0001)
        ww__text_add(text, "Under 0.01");
    else
        ww__words_share(text, share[worst]);
    ww__text_add_format(text, " %% of the pixels are at %s", where);
    if (worst != WW_VISUAL)
        ww__text_add_format(text, " in %s", ww_channel_name(worst));
    ww__text_add(text, ".");
}

static void add_counted(ww__text *text, const ww_whole *whole) {
    size_t most = 0, where = 0;
    for (size_t c = 0; c < WW_CHANNEL_COUNT; c++)
        if (whole->has[c] && whole->left_out[c] > most) {
            most = whole->left_out[c];
            where = c;
        }
    if (most == 0) {
        ww__text_add(text, "every pixel was counted.");
        return;
    }
    ww__text_add_format(text, "all pixels were counted but %zu, which %s", most,
                        most == 1 ? "is no number" : "are no numbers");
    if (where != WW_VISUAL)
        ww__text_add_format(text, " in %s", ww_channel_name((ww_channel)where));
    ww__text_add(text, " (NaN or infinite).");
}

static void add_why(ww__text *text, const ww_whole *whole) {
    add_counted(text, whole);
    if (worst_of(whole, whole->clipped_low) == WW_CHANNEL_COUNT &&
        worst_of(whole, whole->clipped_high) == WW_CHANNEL_COUNT)
        ww__text_add(text, " None is clipped.");
    add_clipped(text, whole, whole->clipped_low, "code 0");
    add_clipped(text, whole, whole->clipped_high, "the greatest code");
    ww__words_scan(text, whole->bits, whole->px_per_mm, whole->profile);
    if (!whole->calibrated)
        ww__text_add(text, " Densities need a scanner file: scan a known step wedge with the same "
                           "settings, calibrate with `wedgework scanner`, and give its file with "
                           "--scanner.");
}

static void add_density(const ww_cell *cell, ww__report *report) {
    ww__text text = WW__TEXT_INIT;
    ww__words_density(&text, cell);
    ww__report_take(report, &text);
    if (trust_of(cell).set)
        ww__words_trust(&text, trust_of(cell).value);
    ww__report_take(report, &text);
}

static void add_densities(const ww_whole *whole, ww__report *report) {
    static const char *const share[WW_WHOLE_COUNT] = {
        [WW_WHOLE_MAX] = "thinnest",  [WW_WHOLE_P99_9] = "0.1 %", [WW_WHOLE_P99] = "1 %",
        [WW_WHOLE_MEDIAN] = "median", [WW_WHOLE_P1] = "99 %",     [WW_WHOLE_P0_1] = "99.9 %",
        [WW_WHOLE_MIN] = "densest"};
    ww__heading heading[1 + 2 * WW_CHANNEL_COUNT] = {{"share", "of pixels"}};
    size_t columns = 1;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (whole->has[c]) {
            heading[columns++] = (ww__heading){ww_channel_name((ww_channel)c), "D"};
            heading[columns++] = (ww__heading){"trust", "+-D"};
        }
    ww__report_table(report,
                     "Densities (scanner): this share of the pixels is no denser, trust 95 %",
                     columns, "lrererere");
    ww__report_headings(report, heading);
    for (int i = WW_WHOLE_COUNT; i-- > 0;) {
        ww__report_item(report, share[i]);
        for (int c = 0; c < WW_CHANNEL_COUNT; c++)
            if (whole->has[c])
                add_density(&whole->density[c][i], report);
    }
}

static void add_noise(ww__report *report) {
    ww__report_list(report, "Trust", false);
    ww__report_item(report,
                    "It is that of the scanner file and of the light from scan to scan. The "
                    "noise of single pixels is not in it: it spreads both ends.");
}

static void add_codes(const ww_whole *whole, ww__report *report) {
    static const ww__heading heading[] = {
        {"channel", ""},      {"least", "code"},    {"0.1 %", "code"},  {"1 %", "code"},
        {"median", "code"},   {"99 %", "code"},     {"99.9 %", "code"}, {"greatest", "code"},
        {"clipped", "% low"}, {"clipped", "% high"}};
    ww__report_table(report, "Code values: this share of the pixels is no lighter",
                     sizeof heading / sizeof heading[0], "lrrrrrrrrr");
    ww__report_headings(report, heading);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        ww__text text = WW__TEXT_INIT;
        if (!whole->has[c])
            continue;
        ww__report_item(report, ww_channel_name((ww_channel)c));
        for (int i = 0; i < WW_WHOLE_COUNT; i++) {
            ww__words_code(&text, whole->code[c][i], whole->white);
            ww__report_take(report, &text);
        }
        ww__words_share_cell(&text, whole->clipped_low[c]);
        ww__report_take(report, &text);
        ww__words_share_cell(&text, whole->clipped_high[c]);
        ww__report_take(report, &text);
    }
}

enum { MERGED = 10 }; /* bins to a row of the table: 0.20 D */

static size_t merged(const ww_whole_bins *bins, int channel, size_t from) {
    size_t sum = 0;
    for (size_t i = from; i < from + MERGED && i < bins->n; i++)
        sum += bins->count[channel][i];
    return sum;
}

static size_t merged_of_all(const ww_whole *whole, size_t from) {
    size_t sum = 0;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        sum += whole->has[c] ? merged(&whole->bins, c, from) : 0;
    return sum;
}

/* One row: what it counts, and the share of each channel's pixels. */
static void add_shares(const ww_whole *whole, ww__text *name, const size_t count[WW_CHANNEL_COUNT],
                       ww__report *report) {
    ww__report_take(report, name);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        ww__text cell = WW__TEXT_INIT;
        if (!whole->has[c])
            continue;
        ww__words_share_cell(&cell, (double)count[c] / (double)whole->pixels);
        ww__report_take(report, &cell);
    }
}

static void begin_bins(const ww_whole *whole, ww__report *report) {
    ww__heading heading[1 + WW_CHANNEL_COUNT] = {{"density", "D"}};
    size_t columns = 1;
    if (!whole->calibrated)
        heading[0] = (ww__heading){"below the greatest code", "log10"};
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (whole->has[c])
            heading[columns++] = (ww__heading){ww_channel_name((ww_channel)c), "% of pixels"};
    ww__report_table(report, "Histogram", columns, "lrrrr");
    ww__report_headings(report, heading);
}

static void add_bins(const ww_whole *whole, ww__report *report) {
    const ww_whole_bins *bins = &whole->bins;
    begin_bins(whole, report);
    for (size_t from = 0; from < bins->n; from += MERGED) {
        size_t count[WW_CHANNEL_COUNT];
        ww__text name = WW__TEXT_INIT;
        if (merged_of_all(whole, from) == 0)
            continue;
        for (int c = 0; c < WW_CHANNEL_COUNT; c++)
            count[c] = merged(bins, c, from);
        ww__words_range(&name, bins->from + (double)from * bins->width,
                        bins->from + (double)(from + MERGED) * bins->width, 2);
        add_shares(whole, &name, count, report);
    }
    for (int beyond = 0; beyond < 2; beyond++) {
        const size_t *count = beyond == 0 ? bins->lighter : bins->darker;
        ww__text name = WW__TEXT_INIT;
        size_t all = 0;
        for (int c = 0; c < WW_CHANNEL_COUNT; c++)
            all += whole->has[c] ? count[c] : 0;
        if (all == 0)
            continue;
        ww__text_add(&name, beyond == 0 ? "lighter" : "darker");
        ww__text_add(&name, whole->calibrated ? ", no density" : "");
        add_shares(whole, &name, count, report);
    }
}

void ww__whole_report(const ww_whole *whole, ww__report *report) {
    ww__text sentence = WW__TEXT_INIT;
    const ww_channel channel = ww__scan_main_channel(whole->has);
    add_act(&sentence, whole, channel);
    ww__report_act(report, &sentence);
    if (channel != WW_CHANNEL_COUNT && whole->pixels > 0) {
        add_why(&sentence, whole);
        ww__report_why(report, &sentence);
        if (whole->calibrated)
            add_densities(whole, report);
        add_codes(whole, report);
        add_bins(whole, report);
        if (whole->calibrated && !whole->off)
            add_noise(report);
    }
    ww__report_notes(report, &whole->notes);
}
