/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/compare_words.h"
#include "out/report.h"
#include "out/scan_words.h"
#include <math.h>

static const char at_least[] = ">= ", at_most[] = "<= ";

static void take_signed(ww__report *report, bool there, double value, int decimals) {
    ww__text text = WW__TEXT_INIT;
    if (there) {
        if (value > 0.0)
            ww__text_add(&text, "+");
        ww__text_add_number(&text, value, decimals);
    } else {
        ww__text_add(&text, "-");
    }
    ww__report_take(report, &text);
}

static void take_trust(ww__report *report, bool there, double half) {
    ww__text text = WW__TEXT_INIT;
    if (there)
        ww__words_trust(&text, half);
    else
        ww__text_add(&text, "-");
    ww__report_take(report, &text);
}

static void take_quantity(ww__report *report, ww_quantity quantity) {
    if (ww_quantity_present(quantity))
        ww__report_number(report, quantity.value, 2);
    else
        ww__report_item(report, "-");
}

/* What a black that was not read leaves open: it and what is reckoned from it are on one side. */
static void take_bound(ww__report *report, bool known, const char *side, double value,
                       int decimals) {
    ww__text text = WW__TEXT_INIT;
    ww__text_add(&text, known ? "" : side);
    ww__text_add_number(&text, value, decimals);
    ww__report_take(report, &text);
}

static void take_dark_end(ww__report *report, const ww_compare_print *print, ww_quantity quantity) {
    if (ww_quantity_present(quantity))
        take_bound(report, print->black_known, at_least, quantity.value, 2);
    else
        ww__report_item(report, "-");
}

static const char *name_of(const ww_comparison *comparison, size_t print) {
    return comparison->print[print].name;
}

/* --- prints ----------------------------------------------------------------------------------- */

static double half_of(ww_quantity quantity) {
    return (quantity.high - quantity.low) / 2.0;
}

/* A column that only some comparisons have. */
static void add_column(ww__heading heading[], char align[], size_t *n, const char *name,
                       const char *unit, char side) {
    heading[*n] = (ww__heading){name, unit};
    align[(*n)++] = side;
    align[*n] = '\0';
}

/* What the columns that stand there mean. */
static void add_marks(const ww_comparison *comparison, const bool drift[WW_COMPARE_DRIFTS],
                      ww__report *report) {
    const bool densities = drift[WW_COMPARE_RED_GREEN] || drift[WW_COMPARE_BLUE_GREEN];
    const bool colours = drift[WW_COMPARE_A] || drift[WW_COMPARE_B];
    ww__report_list(report, "Marks", false);
    ww__report_item(report,
                    comparison->print[0].curve
                        ? "Gradient is the curve's average gradient, in D over log H."
                        : "Gradient is D over the whole scale sent (of exposures: over log H), "
                          "between a quarter and three quarters of the range.");
    if (densities)
        ww__report_item(report, "Red-green and blue-green are how far greys leave the hue of their "
                                "white, where they do most.");
    if (colours)
        ww__report_item(report, "Drift is how far a* and b* of greys leave the hue of their white, "
                                "where they do most; white's own a* and b* fade as tones darken.");
}

static void add_prints(const ww_comparison *comparison, ww__report *report) {
    ww__heading heading[WW__COLUMNS_MAX] = {
        {"print", ""},    {"white", "D"},
        {"black", "D"},   {"range", "D"},
        {"trust", "+-D"}, {"gradient", comparison->print[0].curve ? "D/log H" : "D/scale"}};
    char align[WW__COLUMNS_MAX + 1] = "lrrrrr";
    size_t n = 6;
    bool drift[WW_COMPARE_DRIFTS] = {false, false}, lab = false;
    for (size_t i = 0; i < comparison->n; i++) {
        lab = lab || comparison->print[i].has_lab;
        for (size_t d = 0; d < WW_COMPARE_DRIFTS; d++)
            drift[d] = drift[d] || comparison->print[i].drift[d].there;
    }
    for (size_t d = 0; d < WW_COMPARE_DRIFTS; d++)
        if (drift[d])
            add_column(heading, align, &n, d < WW_COMPARE_A ? ww_compare_drift_name(d) : "drift",
                       d < WW_COMPARE_A ? "D" : ww_compare_drift_name(d), 'r');
    if (lab) {
        add_column(heading, align, &n, "white a*", "", 'r');
        add_column(heading, align, &n, "white b*", "", 'r');
    }
    ww__report_table(report, "Prints", n, align);
    ww__report_headings(report, heading);
    for (size_t i = 0; i < comparison->n; i++) {
        const ww_compare_print *print = &comparison->print[i];
        ww__report_name(report, print->name);
        take_quantity(report, print->white);
        take_dark_end(report, print, print->black);
        take_dark_end(report, print, print->range);
        take_trust(report, ww_quantity_present(print->range), half_of(print->range));
        take_quantity(report, print->gradient);
        for (size_t d = 0; d < WW_COMPARE_DRIFTS; d++)
            if (drift[d])
                take_signed(report, print->drift[d].there, print->drift[d].value,
                            d < WW_COMPARE_A ? 2 : 1);
        if (lab) {
            take_signed(report, print->has_lab, print->white_lab.a, 1);
            take_signed(report, print->has_lab, print->white_lab.b, 1);
        }
    }
    add_marks(comparison, drift, report);
}

static void add_seen(const ww_comparison *comparison, ww__report *report) {
    static const ww__heading heading[] = {{"print", ""},  {"veil", "% of white"}, {"white", "D"},
                                          {"black", "D"}, {"range", "D"},         {"black", "L*"}};
    ww__report_table(report, "Under the light of a room", sizeof heading / sizeof heading[0],
                     "lrrrrr");
    ww__report_headings(report, heading);
    for (size_t i = 0; i < comparison->n; i++)
        for (size_t v = 0; v < WW_VIEWING_VEILS; v++) {
            const ww_compare_print *print = &comparison->print[i];
            if (!ww_quantity_present(print->range))
                continue;
            ww__report_name(report, print->name);
            ww__report_number(report, 100.0 * print->seen[v].veil, 1);
            ww__report_number(report, print->seen[v].white, 2);
            take_bound(report, print->black_known, at_least, print->seen[v].black, 2);
            take_bound(report, print->black_known, at_least, print->seen[v].range, 2);
            take_bound(report, print->black_known, at_most,
                       ww_viewing_lightness(print->seen[v].black), 1);
        }
}

static void take_optional(ww__report *report, ww_optional value, int decimals) {
    if (value.set)
        ww__report_number(report, value.value, decimals);
    else
        ww__report_item(report, "-");
}

static void add_screens(const ww_comparison *comparison, ww__report *report) {
    static const ww__heading heading[] = {
        {"display", ""}, {"white", "cd/m2"}, {"black", "cd/m2"}, {"white is like", "K"}};
    ww__report_table(report, "Displays", sizeof heading / sizeof heading[0], "lrrr");
    ww__report_headings(report, heading);
    for (size_t i = 0; i < comparison->n; i++) {
        const ww_compare_print *print = &comparison->print[i];
        if (!print->white_luminance.set)
            continue;
        ww__report_name(report, print->name);
        take_optional(report, print->white_luminance, 0);
        take_optional(report, print->black_luminance, 2);
        take_optional(
            report,
            (ww_optional){print->temperature.set, 50.0 * round(print->temperature.value / 50.0)},
            0);
    }
}

/* --- pairs ------------------------------------------------------------------------------------ */

static void add_regions(const ww_comparison *comparison, ww__report *report) {
    static const ww__heading heading[] = {{"print", ""},    {"tones", ""},    {"read", ""},
                                          {"mean", "D"},    {"trust", "+-D"}, {"worst", "D"},
                                          {"trust", "+-D"}, {"channel", ""},  {"at", ""}};
    ww__report_table(report, "Differences from the first, darker is +",
                     sizeof heading / sizeof heading[0], "llrrrrrll");
    ww__report_headings(report, heading);
    for (size_t i = 0; i < comparison->n_pairs; i++)
        for (int r = 0; r < WW_REGION_COUNT; r++) {
            const ww_compare_pair *pair = &comparison->pair[i];
            const ww_compare_region *region = &pair->region[r];
            if (region->n == 0)
                continue;
            ww__report_name(report, name_of(comparison, pair->b));
            ww__report_item(report, ww_viewing_region_word((ww_region_name)r));
            ww__report_number(report, (double)region->n, 0);
            take_signed(report, true, region->mean, 2);
            take_trust(report, true, region->half);
            take_signed(report, region->worst.there, region->worst.value, 2);
            take_trust(report, region->worst.there, region->worst.half);
            ww__report_item(report, ww_channel_name(region->worst.channel));
            ww__report_name(report, ww__words_compare_tone(comparison, pair, region->worst.at));
        }
}

static void add_never(const ww_comparison *comparison, ww__report *report) {
    ww__report_list(report, "What no curve takes away", false);
    for (size_t i = 0; i < comparison->n_pairs; i++)
        for (size_t which = 0; which < WW__COMPARE_NEVER; which++) {
            ww__text text = WW__TEXT_INIT;
            if (ww__words_compare_never(&text, comparison, &comparison->pair[i], which))
                ww__report_take(report, &text);
            ww__text_release(&text);
        }
}

static const char *verdict_word(const ww_compare_check *check) {
    switch (check->verdict) {
    case WW_COMPARE_WITHIN:
        return check->doubtful ? "within, in doubt" : "within";
    case WW_COMPARE_BEYOND:
        return check->doubtful ? "beyond, in doubt" : "beyond";
    default:
        return "not read";
    }
}

static void add_limits(const ww_comparison *comparison, ww__report *report) {
    static const ww__heading heading[] = {{"print", ""}, {"limit", ""},   {"most", ""},
                                          {"found", ""}, {"trust", "+-"}, {"unit", ""},
                                          {"", ""}};
    ww__report_table(report, "What was agreed", sizeof heading / sizeof heading[0], "llrrrll");
    ww__report_headings(report, heading);
    for (size_t i = 0; i < comparison->n_pairs; i++)
        for (int k = 0; k < WW_LIMIT_COUNT; k++) {
            const ww_compare_check *check = &comparison->pair[i].check[k];
            const bool known = check->verdict != WW_COMPARE_UNKNOWN, colour = k > WW_LIMIT_DRIFT;
            if (check->verdict == WW_COMPARE_NOT_ASKED)
                continue;
            ww__report_name(report, name_of(comparison, comparison->pair[i].b));
            ww__report_item(report, ww_compare_limit_name((ww_compare_limit)k));
            ww__report_number(report, check->limit, colour ? 1 : ww__text_decimals(check->limit));
            take_signed(report, known, check->value, colour ? 1 : 2);
            if (colour && known)
                ww__report_number(report, ceil(10.0 * check->half) / 10.0, 1);
            else
                take_trust(report, known, check->half);
            ww__report_item(report, k < WW_LIMIT_DE2000_MEAN   ? "D"
                                    : k == WW_LIMIT_NEUTRAL_AB ? "a*, b*"
                                                               : "CIEDE2000");
            ww__report_item(report, verdict_word(check));
        }
}

/* In every channel that was read, and in colour. */
static bool is_within_doubt(const ww_compare_difference *tone) {
    bool any = false;
    if (tone->de2000.set && tone->de2000.value > tone->de2000_half)
        return false;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        if (tone->density[c].set && fabs(tone->density[c].value) > tone->half[c])
            return false;
        any = any || tone->density[c].set;
    }
    return any;
}

static const char *remark(const ww_compare_pair *pair, const ww_compare_difference *tone) {
    return is_within_doubt(tone)                             ? "within doubt"
           : tone->density[pair->main].set && !tone->reached ? "out of reach"
                                                             : "";
}

static void add_tones(const ww_comparison *comparison, ww__report *report) {
    static const ww_channel order[] = {WW_VISUAL, WW_RED, WW_GREEN, WW_BLUE};
    enum { CHANNELS = sizeof order / sizeof order[0] };
    ww__heading heading[WW__COLUMNS_MAX] = {{"print", ""}, {"tone", ""}};
    char align[WW__COLUMNS_MAX + 1] = "ll";
    bool has[CHANNELS] = {false, false, false, false}, colours = false;
    size_t n = 2;
    for (size_t i = 0; i < comparison->n_pairs; i++) {
        colours = colours || comparison->pair[i].n_de2000 > 0;
        for (size_t c = 0; c < CHANNELS; c++)
            has[c] = has[c] || comparison->pair[i].has[order[c]];
    }
    for (size_t c = 0; c < CHANNELS; c++)
        if (has[c])
            add_column(heading, align, &n, ww_channel_name(order[c]), "D", 'r');
    add_column(heading, align, &n, "trust", "+-D", 'r');
    if (colours)
        add_column(heading, align, &n, "CIEDE2000", "", 'r');
    add_column(heading, align, &n, "", "", 'l');
    ww__report_table(report, "Tone by tone, darker than the first is +", n, align);
    ww__report_headings(report, heading);
    for (size_t i = 0; i < comparison->n_pairs; i++) {
        const ww_compare_pair *pair = &comparison->pair[i];
        for (size_t t = 0; t < pair->n; t++) {
            const ww_compare_difference *tone = &pair->tone[t];
            ww__report_name(report, name_of(comparison, pair->b));
            ww__report_name(report, ww__words_compare_tone(comparison, pair, t));
            for (size_t c = 0; c < CHANNELS; c++)
                if (has[c])
                    take_signed(report, tone->density[order[c]].set, tone->density[order[c]].value,
                                2);
            take_trust(report, tone->density[pair->main].set, tone->half[pair->main]);
            if (colours)
                take_optional(report, tone->de2000, 1);
            ww__report_item(report, remark(pair, tone));
        }
    }
}

void ww__compare_report(const ww_comparison *comparison, ww__report *report) {
    ww__text sentence = WW__TEXT_INIT;
    ww__words_compare_act(&sentence, comparison);
    ww__report_act(report, &sentence);
    ww__words_compare_why(&sentence, comparison);
    ww__report_why(report, &sentence);
    add_limits(comparison, report);
    add_never(comparison, report);
    add_regions(comparison, report);
    add_prints(comparison, report);
    add_seen(comparison, report);
    add_screens(comparison, report);
    add_tones(comparison, report);
    ww__report_notes(report, &comparison->notes);
}
