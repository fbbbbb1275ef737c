/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/report.h"
#include "out/scan_words.h"
#include <math.h>

#define ALIKE 0.05 /* [stops] that are no difference */

/* 0.5, 1, 2 and 3 D below full scale, as far as the picture goes; then its darkest. */
enum { SHOWN = 4 };
static const size_t shown[SHOWN] = {5, 10, 20, 30};

static void take_share(ww__report *report, double share) {
    ww__text text = WW__TEXT_INIT;
    ww__words_share_cell(&text, share);
    ww__report_take(report, &text);
}

static double trust_of(ww_quantity stops) {
    return ww_doubt_shown(stops.high - stops.value, 0.01);
}

static ww_channel main_channel(const ww_scan_merge *merge) {
    bool has[WW_CHANNEL_COUNT];
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        has[c] = merge->channel[c].present;
    return ww__scan_main_channel(has);
}

/* The densest of the picture at which the shorter scan sees anything: there a second one is wanted
 * most. */
static const ww_scan_merge_gain *telling(const ww_scan_merge_channel *channel) {
    const ww_scan_merge_gain *gain = channel->gain + lround(10.0 * channel->darkest);
    while (gain > channel->gain && !(gain->shorter < WW__SIGNAL_IS_NOISE))
        gain--;
    return gain;
}

/* Of the first channel that has one, or of places. */
static void add_flaw(ww__text *text, const ww_scan_merge *merge) {
    static const char *const words[] = {
        "",
        ", but the longer scan counted no more light",
        ", if the scanner file holds for them, which the scans deny",
        ", but not in one proportion at all levels",
        ", but one was sharpened, smoothed or a mean of more scans",
        ", but noisier than the scanner file holds"};
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (merge->channel[c].flaw != WW_SCAN_MERGE_SOUND) {
            ww__text_add(text, words[merge->channel[c].flaw]);
            return;
        }
    if (merge->differ.places > 0)
        ww__text_add(text, ", but the scans are not alike everywhere");
}

static void add_act(ww__text *text, const ww_scan_merge *merge, ww_channel name) {
    const ww_scan_merge_channel *channel = &merge->channel[name];
    const ww_scan_merge_gain *gain = telling(channel);
    ww__text_add(text, "merged, ");
    ww__text_add_number(text, channel->stops.value, 2);
    ww__text_add(text, " stops apart");
    if (merge->taken_as_light)
        ww__text_add(text, " if codes are light");
    if (merge->shift.places == 0)
        ww__text_add(text, " and not checked to lie on each other");
    add_flaw(text, merge);
    ww__text_add(text, ": noise of a pixel ");
    ww__text_add_number(text, gain->below, 2);
    ww__text_add_format(text, " D below full scale%s falls from ",
                        gain->below < channel->darkest ? "" : ", its darkest,");
    ww__text_add_number(text, gain->shorter, 4);
    ww__text_add(text, " to ");
    ww__text_add_number(text, gain->merged, 4);
    ww__text_add_format(text, " D (%s)%s; trust the ratio to +-", ww_channel_name(name),
                        channel->quieter ? " by the scanner file, which holds more than they have"
                                         : "");
    ww__text_add_number(text, trust_of(channel->stops), 2);
    ww__text_add(text, channel->black_taken ? " stop if black is the scanner file's." : " stop.");
}

static void add_shift(ww__text *text, const ww_scan_merge_shift *shift) {
    if (shift->places == 0)
        return;
    ww__text_add(text, ", and lies on it within ");
    ww__text_add_number(text, ceil(10.0 * hypot(shift->x, shift->y)) / 10.0, 1);
    ww__text_add_format(text, " px (%zu of 9 places had detail enough)", shift->places);
}

static void add_why(ww__text *text, const ww_scan_merge *merge,
                    const ww_scan_merge_channel *channel) {
    ww__text_add(text, "Why: ");
    ww__words_file_quoted(text, merge->longer_file, "the longer scan");
    ww__text_add(text, channel->flaw == WW_SCAN_MERGE_AMPLIFIED ? " has higher codes than "
                       : channel->stops.value < ALIKE           ? " got as much light as "
                                                                : " got more light than ");
    ww__words_file_quoted(text, merge->shorter_file, "the shorter one");
    ww__text_add_format(text, ", measured at %zu places that both hold", channel->places);
    add_shift(text, &merge->shift);
    if (channel->shorter > 0.0) {
        ww__text_add(text, "; ");
        ww__words_share(text, channel->shorter);
        ww__text_add(text, " % of pixels, clipped there, are from the shorter one alone");
    }
    ww__text_add(text, ".");
}

static void add_exposures(const ww_scan_merge *merge, ww__report *report) {
    static const ww__heading heading[] = {
        {"channel", ""},      {"longer by", "stops"}, {"trust", "+-stop"}, {"offset", "% of scale"},
        {"weighted", "% px"}, {"blended", "% px"},    {"shorter", "% px"}};
    ww__report_table(report, "Exposures, and where pixels come from",
                     sizeof heading / sizeof heading[0], "lrrrrrr");
    ww__report_headings(report, heading);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_scan_merge_channel *channel = &merge->channel[c];
        if (!channel->present)
            continue;
        ww__report_item(report, ww_channel_name((ww_channel)c));
        ww__report_number(report, channel->stops.value, 2);
        ww__report_number(report, trust_of(channel->stops), 2);
        ww__report_number(report, 100.0 * channel->offset, 3);
        take_share(report, channel->longer);
        take_share(report, channel->blended);
        take_share(report, channel->shorter);
    }
    ww__report_list(report, "Marks", false);
    ww__report_item(report, "Offset is what the longer scan has beside so many times the shorter "
                            "one's codes as it got more light: its black less as many times the "
                            "shorter one's, below 0 where both are alike. Merging takes it off.");
}

static void add_noise(const ww_scan_merge *merge, ww__report *report) {
    static const ww__heading heading[] = {{"channel", ""},
                                          {"below full scale", "D"},
                                          {"shorter alone", "D, 1 px"},
                                          {"merged", "D, 1 px"},
                                          {"left", "%"}};
    ww__report_table(report, "Noise, one standard deviation", sizeof heading / sizeof heading[0],
                     "lrrrr");
    ww__report_headings(report, heading);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const size_t darkest = (size_t)lround(10.0 * merge->channel[c].darkest);
        for (size_t i = 0; merge->channel[c].present && i < SHOWN; i++) {
            if (i > 0 && shown[i - 1] >= darkest)
                break;
            const size_t at = shown[i] < darkest ? shown[i] : darkest;
            const ww_scan_merge_gain *gain = &merge->channel[c].gain[at];
            ww__report_item(report, ww_channel_name((ww_channel)c));
            ww__report_number(report, gain->below, 2);
            ww__report_number(report, gain->shorter, 4);
            ww__report_number(report, gain->merged, 4);
            ww__report_number(
                report, gain->shorter > 0.0 ? 100.0 * gain->merged / gain->shorter : 100.0, 0);
        }
    }
}

void ww__scan_merge_report(const ww_scan_merge *merge, ww__report *report) {
    const ww_channel name = main_channel(merge);
    ww__text sentence = WW__TEXT_INIT;
    if (name < WW_CHANNEL_COUNT) {
        add_act(&sentence, merge, name);
        ww__report_act(report, &sentence);
        add_why(&sentence, merge, &merge->channel[name]);
        ww__report_why(report, &sentence);
    }
    add_exposures(merge, report);
    add_noise(merge, report);
    ww__report_notes(report, &merge->notes);
}
