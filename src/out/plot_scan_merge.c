/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/plot_script.h"
#include "out/scan_words.h"
#include <math.h>

/* Layout [px]. */
static const double left = 92, right = 24, bottom = 118, wide = 640, high = 380, top = 24;

/* Noise is known to the picture's darkest: no pixel lies deeper. */
static size_t known(const ww_scan_merge_channel *channel) {
    return channel->present ? (size_t)lround(10.0 * channel->darkest) + 1 : 0;
}

/* Channel, density below full scale, noise of the shorter scan, noise of the merged one. */
static void add_rows(const ww_scan_merge *merge, ww__text *script) {
    ww__text_add(script, "$noise << END_OF_TABLE\n");
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_scan_merge_channel *channel = &merge->channel[c];
        for (size_t i = 0; i < known(channel); i++) {
            const ww_scan_merge_gain *gain = &channel->gain[i];
            ww__plot_row(script, 4, (double[]){c, gain->below, gain->shorter, gain->merged});
        }
    }
    ww__text_add(script, "END_OF_TABLE\n");
}

/* "green, 2.00 stops apart" */
static void add_legend(const ww_scan_merge *merge, ww__text *script) {
    ww__text_add(script, "array legend_text[4] = ['', '', '', '']\n");
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        ww__text text = WW__TEXT_INIT;
        if (!merge->channel[c].present)
            continue;
        ww__text_add_format(&text, "%s, ", ww_channel_name((ww_channel)c));
        ww__text_add_number(&text, merge->channel[c].stops.value, 2);
        ww__text_add(&text, " stops apart");
        ww__plot_set_item(script, "legend_text", (size_t)c + 1, ww__text_string(&text));
        script->failed |= text.failed;
        ww__text_release(&text);
    }
}

/* The least noise, and the density at which the merged scan no longer sees in any channel, or the
 * picture ends. */
static void add_limits(const ww_scan_merge *merge, ww__text *script) {
    double least = WW__SIGNAL_IS_NOISE, to = 0.0;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        for (size_t i = 0; i < known(&merge->channel[c]); i++) {
            const ww_scan_merge_gain *gain = &merge->channel[c].gain[i];
            if (gain->merged > 0.0)
                least = fmin(least, gain->merged);
            if (gain->merged < WW__SIGNAL_IS_NOISE)
                to = fmax(to, gain->below);
        }
    double from, end;
    ww__plot_limits(0.0, to, &from, &end);
    ww__plot_set_number(script, "x_from", from);
    ww__plot_set_number(script, "x_to", end);
    ww__plot_set_number(script, "y_from", 0.5 * least);
    ww__plot_set_number(script, "y_to", 2.0 * WW__SIGNAL_IS_NOISE);
    ww__plot_set_number(script, "signal_is_noise", WW__SIGNAL_IS_NOISE);
}

ww_status ww__plot_scan_merge_data(const ww_scan_merge *merge, ww__text *script,
                                   ww__plot_size *size, ww_error *err) {
    *size = (ww__plot_size){left + wide + right, bottom + high + top};
    ww__plot_set_panel(script, "main", (ww__plot_panel){left, left + wide, bottom, bottom + high},
                       *size);
    add_limits(merge, script);
    add_legend(merge, script);
    add_rows(merge, script);
    return ww__text_status(script, err);
}
