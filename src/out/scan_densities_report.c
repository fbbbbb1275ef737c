/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/report.h"
#include "out/scan_words.h"
#include <math.h>

#define BEYOND 0.005 /* [D] told of the model beyond the wedge */

static ww_channel main_channel(const ww_scan_densities *densities) {
    bool has[WW_CHANNEL_COUNT];
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        has[c] = densities->channel[c].present;
    return ww__scan_main_channel(has);
}

static void add_act(ww__text *text, const ww_scan_densities *densities) {
    double thin = 0.0, dense = 0.0;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        thin = fmax(thin, densities->channel[c].thin_doubt);
        dense = fmax(dense, densities->channel[c].dense_doubt);
    }
    ww__text_add(text, densities->scaled
                           ? "densities written in 16 bits, code = 10000 D + 5000"
                           : "densities written in floating point, each sample is D itself");
    if (densities->no_light >= WW_SCAN_DENSITIES_NO_LIGHT) {
        ww__text_add(text, ", but ");
        ww__words_share(text, densities->no_light);
        ww__text_add(text, " % of samples are no light, and have no density");
    }
    if (densities->off) {
        ww__text_add(text, "; all of them are off, as the notes say.");
        return;
    }
    ww__text_add(text, "; trust +-");
    ww__words_trust_ends(text, thin, dense);
    ww__text_add(text, ", beside a pixel's own noise, if exposed as the wedge was.");
}

static double beyond(const ww_scan_densities_channel *channel) {
    return channel->thinner + channel->denser;
}

static void add_pixels(double share, const char *of, const char *none, ww__text *text) {
    if (share > 0.0) {
        ww__words_share(text, share);
        ww__text_add_format(text, " %%%s", of);
    } else {
        ww__text_add(text, none);
    }
}

static void add_why(ww__text *text, const ww_scan_densities *densities, ww_channel name) {
    const ww_scan_densities_channel *channel = &densities->channel[name];
    ww_channel worst = name;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (beyond(&densities->channel[c]) > beyond(&densities->channel[worst]))
            worst = (ww_channel)c;
    ww__text_add(text, "Why: codes of ");
    ww__words_file_quoted(text, densities->file, "the scan");
    ww__text_add(text, " are calibrated from ");
    ww__text_add_number(text, channel->thin, 2);
    ww__text_add(text, " to ");
    ww__text_add_number(text, channel->dense, 2);
    ww__text_add_format(text, " D (%s)", ww_channel_name(name));
    if (channel->dense - channel->wedge >= BEYOND) {
        ww__text_add(text, ", beyond ");
        ww__text_add_number(text, channel->wedge, 2);
        ww__text_add(text, " D, where the wedge ends, by the model alone");
    }
    ww__text_add(text, "; ");
    add_pixels(densities->channel[worst].thinner, " of pixels", "no pixels", text);
    ww__text_add(text, " are thinner, ");
    add_pixels(densities->channel[worst].denser, "", "none", text);
    ww__text_add_format(text, " denser%s%s%s: they have the density of the end.",
                        worst == name ? "" : " (", worst == name ? "" : ww_channel_name(worst),
                        worst == name ? "" : ")");
}

static void add_channels(const ww_scan_densities *densities, ww__report *report) {
    static const ww__heading heading[] = {
        {"channel", ""},  {"thin end", "D"},   {"trust", "+-D"},  {"dense end", "D"},
        {"trust", "+-D"}, {"thinner", "% px"}, {"denser", "% px"}};
    ww__report_table(report, "What the calibration reaches, and pixels beyond",
                     sizeof heading / sizeof heading[0], "lrrrrrr");
    ww__report_headings(report, heading);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_scan_densities_channel *channel = &densities->channel[c];
        ww__text text = WW__TEXT_INIT;
        if (!channel->present)
            continue;
        ww__report_item(report, ww_channel_name((ww_channel)c));
        ww__report_number(report, channel->thin, 2);
        ww__words_trust(&text, channel->thin_doubt);
        ww__report_take(report, &text);
        ww__report_number(report, channel->dense, 2);
        ww__words_trust(&text, channel->dense_doubt);
        ww__report_take(report, &text);
        ww__words_share_cell(&text, channel->thinner);
        ww__report_take(report, &text);
        ww__words_share_cell(&text, channel->denser);
        ww__report_take(report, &text);
    }
}

void ww__scan_densities_report(const ww_scan_densities *densities, ww__report *report) {
    const ww_channel name = main_channel(densities);
    ww__text sentence = WW__TEXT_INIT;
    add_act(&sentence, densities);
    ww__report_act(report, &sentence);
    if (name < WW_CHANNEL_COUNT) {
        add_why(&sentence, densities, name);
        ww__report_why(report, &sentence);
    }
    add_channels(densities, report);
    ww__report_notes(report, &densities->notes);
}
