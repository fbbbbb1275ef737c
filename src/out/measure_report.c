/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "out/report.h"
#include "out/scan_words.h"
#include "out/words.h"
#include <math.h>

static const char remedy[] =
    "There are no densities without a scanner file. Next, scan a known step wedge with the same "
    "settings, calibrate with `wedgework scanner`, and give its file with --scanner.";

static size_t count_steps(const ww_measured *measured) {
    return measured->n - measured->n_spots;
}

static void add_name(ww__text *text, const ww_patch *patch) {
    char shown[64];
    if (!(patch->radius > 0.0))
        ww__text_add(text, "step ");
    ww__text_add(text, ww__escape_message(patch->step, shown, sizeof shown));
}

/* ------------------------------------------------------------------------------------ the act */

/* The thinnest and the densest patch that has a density; false where none has. */
static bool find_ends(const ww_measured *measured, ww_channel channel, const ww_cell **thin,
                      const ww_cell **dense) {
    *thin = *dense = NULL;
    for (size_t i = 0; i < measured->n; i++) {
        const ww_cell *cell = &measured->patch[i].channel[channel].density;
        if (cell->state != WW_CELL_VALUE)
            continue;
        if (!*thin || cell->value < (*thin)->value)
            *thin = cell;
        if (!*dense || cell->value > (*dense)->value)
            *dense = cell;
    }
    return *thin != NULL;
}

static size_t count_reach(const ww_measured *measured, ww_channel channel, ww_reach reach) {
    size_t n = 0;
    for (size_t i = 0; i < measured->n; i++)
        n += measured->patch[i].channel[channel].reach == reach;
    return n;
}

/* What has no density, and why. */
static void add_without(ww__text *text, const ww_measured *measured, ww_channel channel) {
    static const struct {
        ww_reach reach;
        const char *says;
    } rows[] = {{WW_REACH_LIGHT, "too light to be read"},
                {WW_REACH_DARK, "beyond what the scanner's wedge covered"},
                {WW_REACH_NONE, "of no one density"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const size_t n = count_reach(measured, channel, rows[i].reach);
        if (n > 0)
            ww__text_add_format(text, "; %zu %s", n, rows[i].says);
    }
}

static void add_densities(ww__text *text, const ww_measured *measured, ww_channel channel) {
    const ww_cell *thin, *dense;
    if (find_ends(measured, channel, &thin, &dense)) {
        const double thin_trust = ww__scan_trust(thin), dense_trust = ww__scan_trust(dense);
        ww__text_add(text, measured->n == 1 ? "; density " : "; densities ");
        ww__words_range(text, thin->value, dense->value, 2);
        ww__text_add(text, " (scanner");
        if (channel != WW_VISUAL)
            ww__text_add_format(text, ", %s", ww_channel_name(channel));
        ww__text_add(text, ")");
        if (thin_trust > 0.0 || dense_trust > 0.0) {
            ww__text_add(text, ", trust +-");
            ww__words_trust_ends(text, thin_trust, dense_trust);
        }
    }
    add_without(text, measured, channel);
    ww__text_add(text, ".");
}

static void add_codes(ww__text *text, const ww_measured *measured, ww_channel channel) {
    double low = measured->patch[0].channel[channel].code, high = low;
    for (size_t i = 1; i < measured->n; i++) {
        low = fmin(low, measured->patch[i].channel[channel].code);
        high = fmax(high, measured->patch[i].channel[channel].code);
    }
    ww__text_add(text, "; ");
    ww__words_codes(text, low, high, measured->white);
    ww__text_add(text, " of ");
    ww__words_code(text, measured->white, fmax(measured->white, 256.0));
    if (channel != WW_VISUAL)
        ww__text_add_format(text, " (%s)", ww_channel_name(channel));
    ww__text_add(text, ", no densities.");
}

static void add_act(ww__text *text, const ww_measured *measured) {
    const ww_channel channel = ww__scan_main_channel(measured->has);
    if (measured->n == 0 || channel == WW_CHANNEL_COUNT) {
        ww__text_add(text, "nothing was read.");
        return;
    }
    if (measured->off)
        ww__text_add(text, WW__SCAN_OFF);
    ww__words_found(text, measured);
    if (measured->calibrated)
        add_densities(text, measured, channel);
    else
        add_codes(text, measured, channel);
}

/* ---------------------------------------------------------------------------------------- why */

static void add_direction(ww__text *text, const ww_measured *measured) {
    const char *begin = measured->upright ? "at the top" : "at the left";
    const char *end = measured->upright ? "at the bottom" : "at the right";
    add_name(text, &measured->patch[0]);
    ww__text_add_format(text, " lies %s, ", measured->reversed ? end : begin);
    add_name(text, &measured->patch[count_steps(measured) - 1]);
    ww__text_add_format(
        text, " %s. The middle 60 %% of each was read%s: ", measured->reversed ? begin : end,
        measured->n_spots > 0 ? ", of a spot all" : "");
}

static bool has_no_number(const ww_patch *patch) {
    bool any = false;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        any |= patch->channel[c].no_number > 0;
    return any;
}

/* "2961 to 2980 pixels each, at most 1.2 % of them left out as dust or scratches (step 8)." */
static void add_pixels(ww__text *text, const ww_measured *measured) {
    size_t least = measured->patch[0].n, most = least, worst = 0;
    for (size_t i = 1; i < measured->n; i++) {
        const ww_patch *patch = &measured->patch[i];
        least = patch->n < least ? patch->n : least;
        most = patch->n > most ? patch->n : most;
        if (patch->rejected > measured->patch[worst].rejected)
            worst = i;
    }
    ww__words_range(text, (double)least, (double)most, 0);
    ww__text_add_format(text, " pixel%s, averaged as light; ", most == 1 ? "" : "s");
    if (measured->patch[worst].rejected > 0.0) {
        ww__text_add(text, "at most ");
        ww__words_share(text, measured->patch[worst].rejected);
        ww__text_add(text, has_no_number(&measured->patch[worst])
                               ? " % left out as dust, scratches or no numbers ("
                               : " % left out as dust or scratches (");
        add_name(text, &measured->patch[worst]);
        ww__text_add(text, ").");
    } else {
        ww__text_add(text, "none left out.");
    }
}

static void add_why(ww__text *text, const ww_measured *measured) {
    if (measured->n == 0)
        return;
    if (count_steps(measured) > 0)
        add_direction(text, measured);
    add_pixels(text, measured);
    ww__words_scan(text, measured->bits, measured->px_per_mm, measured->profile);
    if (!measured->calibrated)
        ww__text_add_format(text, " %s", remedy);
}

/* ------------------------------------------------------------------------------------- tables */

static const char *channel_heading(const ww_measured *measured, int channel, const char *alone) {
    return measured->has[WW_VISUAL] ? alone : ww_channel_name((ww_channel)channel);
}

static void add_density(const ww_cell *cell, ww__report *report) {
    ww__text text = WW__TEXT_INIT;
    ww__words_density(&text, cell);
    ww__report_take(report, &text);
    if (ww__scan_trust(cell) > 0.0)
        ww__words_trust(&text, ww__scan_trust(cell));
    ww__report_take(report, &text);
}

static void add_density_table(const ww_measured *measured, ww__report *report) {
    char align[2 + 2 * WW_CHANNEL_COUNT] = "l";
    ww__heading heading[1 + 2 * WW_CHANNEL_COUNT] = {{ww__words_patches(measured), ""}};
    size_t columns = 1;
    if (!measured->calibrated)
        return;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (measured->has[c]) {
            align[columns] = 'r';
            heading[columns++] = (ww__heading){channel_heading(measured, c, "density"), "D"};
            align[columns] = 'e';
            heading[columns++] = (ww__heading){"trust", "+-D"};
        }
    ww__report_table(report, "Densities (scanner), trust 95 %", columns, align);
    ww__report_headings(report, heading);
    for (size_t i = 0; i < measured->n; i++) {
        ww__report_item(report, measured->patch[i].step);
        for (int c = 0; c < WW_CHANNEL_COUNT; c++)
            if (measured->has[c])
                add_density(&measured->patch[i].channel[c].density, report);
    }
}

static void take_share(ww__report *report, double share) {
    ww__text text = WW__TEXT_INIT;
    ww__words_share_cell(&text, share);
    ww__report_take(report, &text);
}

static void take_code(const ww_measured *measured, double code, ww__report *report) {
    ww__text text = WW__TEXT_INIT;
    ww__words_code(&text, code, measured->white);
    ww__report_take(report, &text);
}

/* Of the channel where it is the greatest, as a share of the code. */
static double worst_drift(const ww_measured *measured, const ww_patch *patch) {
    double worst = 0.0;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_patch_channel *channel = &patch->channel[c];
        if (measured->has[c] && channel->code > 0.0 &&
            fabs(channel->drift) > fabs(worst) * channel->code)
            worst = channel->drift / channel->code;
    }
    return worst;
}

static double worst_clipped(const ww_measured *measured, const ww_patch *patch) {
    double worst = 0.0;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (measured->has[c])
            worst = fmax(worst, patch->channel[c].clipped);
    return worst;
}

static bool any_clipped(const ww_measured *measured) {
    for (size_t i = 0; i < measured->n; i++)
        if (worst_clipped(measured, &measured->patch[i]) > 0.0)
            return true;
    return false;
}

/* Headings of the code table; returns how many. */
static size_t set_code_headings(const ww_measured *measured, bool clipped, ww__heading heading[]) {
    size_t n = 0;
    heading[n++] = (ww__heading){ww__words_patches(measured), ""};
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (measured->has[c])
            heading[n++] = (ww__heading){channel_heading(measured, c, "mean"), "code"};
    heading[n++] = (ww__heading){"noise", "sd, code"};
    heading[n++] = (ww__heading){"kept", "px"};
    heading[n++] = (ww__heading){"left out", "%"};
    heading[n++] = (ww__heading){"drift", "%"};
    if (clipped)
        heading[n++] = (ww__heading){"clipped", "%"};
    return n;
}

/* The noise is that of the channel that the act speaks of. */
static void add_code_table(const ww_measured *measured, ww_channel main, ww__report *report) {
    static const char *const title[WW_CHANNEL_COUNT] = {
        [WW_RED] = "Code values; noise is that of one pixel in red",
        [WW_GREEN] = "Code values; noise is that of one pixel in green",
        [WW_BLUE] = "Code values; noise is that of one pixel in blue",
        [WW_VISUAL] = "Code values; noise is that of one pixel"};
    const bool clipped = any_clipped(measured);
    ww__heading heading[WW__COLUMNS_MAX];
    const size_t columns = set_code_headings(measured, clipped, heading);
    ww__report_table(report, title[main], columns, "lrrrrrrrrrrr");
    ww__report_headings(report, heading);
    for (size_t i = 0; i < measured->n; i++) {
        const ww_patch *patch = &measured->patch[i];
        ww__text text = WW__TEXT_INIT;
        ww__report_item(report, patch->step);
        for (int c = 0; c < WW_CHANNEL_COUNT; c++)
            if (measured->has[c])
                take_code(measured, patch->channel[c].code, report);
        take_code(measured, patch->channel[main].sd, report);
        ww__text_add_format(&text, "%zu", patch->n);
        ww__report_take(report, &text);
        take_share(report, patch->rejected);
        ww__text_add_number(&text, 100.0 * worst_drift(measured, patch), 1);
        ww__report_take(report, &text);
        if (clipped)
            take_share(report, worst_clipped(measured, patch));
    }
}

static void add_drift(ww__report *report) {
    ww__report_list(report, "Drift", false);
    ww__report_item(report,
                    "By how much one end of what was read is lighter than the other, right than "
                    "left or below than above along its longer way, in % of its mean code; of a "
                    "spot, without a sign, the way that it changes most. Where codes are light, "
                    "1 % is 0.004 D.");
}

void ww__measured_report(const ww_measured *measured, ww__report *report) {
    const ww_channel main = ww__scan_main_channel(measured->has);
    ww__text sentence = WW__TEXT_INIT;
    add_act(&sentence, measured);
    ww__report_act(report, &sentence);
    add_why(&sentence, measured);
    ww__report_why(report, &sentence);
    if (measured->n > 0 && main != WW_CHANNEL_COUNT) {
        add_density_table(measured, report);
        add_code_table(measured, main, report);
        add_drift(report);
    }
    ww__report_notes(report, &measured->notes);
}
