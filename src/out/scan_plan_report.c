/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/report.h"
#include "out/scan_plan_words.h"
#include "out/scan_words.h"
#include "out/words.h"
#include <math.h>

static void take_optional(ww__report *report, bool set, double value, int decimals) {
    if (set)
        ww__report_number(report, value, decimals);
    else
        ww__report_item(report, "-");
}

static void take_code(ww__report *report, bool set, double code, double white) {
    ww__text text = WW__TEXT_INIT;
    if (set)
        ww__words_code(&text, code, white);
    else
        ww__text_add(&text, "-");
    ww__report_take(report, &text);
}

static void take_snr(ww__report *report, bool set, double snr) {
    ww__text text = WW__TEXT_INIT;
    if (set)
        ww__words_snr(&text, snr);
    else
        ww__text_add(&text, "-");
    ww__report_take(report, &text);
}

/* As the first sentence has them; none where there are none. */
static void take_stops(ww__report *report, double stops) {
    ww__text text = WW__TEXT_INIT;
    if (stops > 0.0)
        ww__text_add_number(&text, stops, 1);
    else
        ww__text_add(&text, "-");
    ww__report_take(report, &text);
}

/* Beyond the wedge the scanner was not tried: marked. */
static void take_sight(ww__report *report, ww_quantity sees) {
    ww__text text = WW__TEXT_INIT;
    if (ww_quantity_present(sees))
        ww__text_add_number(&text, sees.value, 2);
    else
        ww__text_add(&text, "-");
    ww__text_add(&text, sees.how == WW_EXTRAPOLATED ? " *" : "");
    ww__report_take(report, &text);
}

/* Begins a row with the channel's name; false where the channel is none of the plan. */
static bool begin_row(const ww_scan_plan *plan, int c, ww__report *report) {
    if (plan->channel[c].present)
        ww__report_item(report, ww_channel_name((ww_channel)c));
    return plan->channel[c].present;
}

static void add_exposures(const ww_scan_plan *plan, ww__report *report) {
    static const ww__heading heading[] = {
        {"channel", ""},     {"open up", "stops"}, {"exposure", "times"},
        {"trust", "+-stop"}, {"light", "ratio"},   {"bright end", ""},
        {"", "D"},           {"code", ""}};
    ww__report_table(report, "Exposure", sizeof heading / sizeof heading[0], "lrrrrlrr");
    ww__report_headings(report, heading);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_scan_channel *channel = &plan->channel[c];
        if (!begin_row(plan, c, report))
            continue;
        ww__report_number(report, channel->stops.value, 1);
        ww__report_number(report, exp2(channel->stops.value), 2);
        ww__report_number(report, ww_scan_trust(channel->stops), 1);
        ww__report_number(report, channel->light, 2);
        ww__report_name(report, channel->tone[channel->base].tone);
        ww__report_number(report, channel->base_density, 2);
        take_code(report, true, channel->base_code, plan->white);
    }
}

static void add_highlights(const ww_scan_plan *plan, ww__report *report) {
    static const ww__heading heading[] = {
        {"channel", ""},   {"tone", ""},          {"", "D"},           {"code", ""},
        {"S/N", "before"}, {"S/N", "then"},       {"told", "D, 1 px"}, {"told", "D, 3 x 3"},
        {"on film", "D"},  {"flare leaves", "%"}, {"sees to", "D"}};
    bool beyond = false;
    ww__report_table(report, "The densest tone to be kept", sizeof heading / sizeof heading[0],
                     "llrrrrrrrrr");
    ww__report_headings(report, heading);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_scan_channel *channel = &plan->channel[c];
        if (!begin_row(plan, c, report))
            continue;
        const ww_scan_tone *tone = ww__scan_plan_highlight(channel);
        const bool known = !tone->over;
        ww__report_name(report, tone->tone);
        if (known)
            ww__report_number(report, tone->density, 2);
        else
            ww__report_item(report, "over");
        take_code(report, known, tone->code, plan->white);
        take_snr(report, channel->snr_before.set, channel->snr_before.value);
        take_snr(report, known, tone->snr);
        take_optional(report, channel->seen, channel->separable, 4);
        take_optional(report, channel->seen, channel->told, 4);
        take_optional(report, known && tone->thin.set, tone->density - tone->thin.value, 2);
        take_optional(report, known, 100.0 * channel->contrast, 0);
        take_sight(report, channel->sees);
        beyond |= channel->sees.how == WW_EXTRAPOLATED;
    }
    ww__report_list(report, "Marks", false);
    if (beyond)
        ww__report_item(report, "Where it sees to a density marked *, that lies beyond the wedge "
                                "that calibrated the scanner.");
}

static void add_more(const ww_scan_plan *plan, ww__report *report) {
    static const ww__heading heading[] = {{"channel", ""},
                                          {"second scan", "stops more"},
                                          {"needed from", "D"},
                                          {"merged, told", "D, 3 x 3"},
                                          {"noise", "of one scan's"},
                                          {"or mean of", "scans"}};
    if (plan->way == WW_SCAN_ONE || plan->way == WW_SCAN_NO_WAY)
        return;
    ww__report_table(report, "More scans than one", sizeof heading / sizeof heading[0], "lrrrrr");
    ww__report_headings(report, heading);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_scan_channel *channel = &plan->channel[c];
        const bool second = channel->second_stops > 0.0;
        if (!begin_row(plan, c, report))
            continue;
        take_stops(report, channel->second_stops);
        take_optional(report, second, channel->switch_at, 2);
        take_optional(report, second, channel->second_told, 4);
        take_optional(report, second, second ? 1.0 / channel->gain : 0.0, 2);
        take_optional(report, channel->average > 0, channel->average, 0);
    }
}

static void add_bits(const ww_scan_plan *plan, ww__report *report) {
    static const ww__heading heading[] = {{"channel", ""}, {"8 bit", "D"},  {"10 bit", "D"},
                                          {"12 bit", "D"}, {"14 bit", "D"}, {"16 bit", "D"}};
    ww__report_table(report, "One code, in density, at that tone",
                     sizeof heading / sizeof heading[0], "lrrrrr");
    ww__report_headings(report, heading);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_scan_channel *channel = &plan->channel[c];
        if (!channel->present || ww__scan_plan_highlight(channel)->over)
            continue;
        ww__report_item(report, ww_channel_name((ww_channel)c));
        for (size_t i = 0; i < WW_SCAN_BITS; i++)
            ww__report_number(report, channel->step[i], i < 3 ? 4 : 5); /* of 14 bits and 16, too */
    }
}

static void add_budget(const ww_scan_plan *plan, ww__report *report) {
    static const ww__heading heading[] = {{"channel", ""},
                                          {"readings", "stop"},
                                          {"calibration", "stop"},
                                          {"dark or flare", "stop"},
                                          {"largest", ""}};
    ww__report_table(report, "What the doubt is made of (half-widths, 95 %)",
                     sizeof heading / sizeof heading[0], "lrrrl");
    ww__report_headings(report, heading);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_scan_doubt *doubt = &plan->channel[c].doubt;
        if (!begin_row(plan, c, report))
            continue;
        ww__report_number(report, doubt->readings, 2);
        ww__report_number(report, doubt->calibration, 2);
        ww__report_number(report, doubt->dark, 2);
        ww__report_item(report, doubt->readings >= fmax(doubt->calibration, doubt->dark)
                                    ? "readings"
                                : doubt->calibration >= doubt->dark ? "calibration"
                                                                    : "dark or flare");
    }
}

static void add_tones(const ww_scan_plan *plan, ww__report *report) {
    static const ww__heading heading[] = {{"channel", ""}, {"tone", ""}, {"negative", "D"},
                                          {"code", ""},    {"S/N", ""},  {"noise", "D, 1 px"},
                                          {"", ""}};
    ww__report_table(report, "All tones, one scan", sizeof heading / sizeof heading[0], "llrrrrl");
    ww__report_headings(report, heading);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_scan_channel *channel = &plan->channel[c];
        for (size_t i = 0; channel->present && i < channel->n_tones; i++) {
            const ww_scan_tone *tone = &channel->tone[i];
            begin_row(plan, c, report);
            ww__report_name(report, tone->tone);
            if (tone->over)
                ww__report_item(report, "over");
            else
                ww__report_number(report, tone->density, 2);
            take_code(report, !tone->over, tone->code, plan->white);
            take_snr(report, !tone->over, tone->snr);
            take_optional(report, !tone->over, tone->noise, 4);
            ww__report_item(report, tone->kept ? "kept" : "");
        }
    }
}

void ww__scan_plan_report(const ww_scan_plan *plan, ww__report *report) {
    ww__text sentence = WW__TEXT_INIT;
    ww__words_scan_act(&sentence, plan);
    ww__report_act(report, &sentence);
    ww__words_scan_why(&sentence, plan);
    ww__report_why(report, &sentence);
    add_exposures(plan, report);
    add_highlights(plan, report);
    add_more(plan, report);
    add_bits(plan, report);
    add_tones(plan, report);
    add_budget(plan, report);
    ww__report_notes(report, &plan->notes);
}
