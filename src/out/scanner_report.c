/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/scanner.h"
#include "out/report.h"
#include "out/scan_words.h"
#include "out/words.h"
#include <math.h>

/* A power that departs from 1 by less is none to speak of. */
static const double linear_within = 0.005;

static size_t count_channels(const ww_scanner *scanner) {
    size_t n = 0;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        n += scanner->channel[c].present;
    return n;
}

/* The channel that sees least far, WW_CHANNEL_COUNT where that is not known of any. */
static ww_channel find_least(const ww_scanner *scanner) {
    ww_channel least = WW_CHANNEL_COUNT;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_scanner_channel *channel = &scanner->channel[c];
        if (channel->present && ww_quantity_present(channel->dmax) &&
            (least == WW_CHANNEL_COUNT || channel->dmax.value < scanner->channel[least].dmax.value))
            least = (ww_channel)c;
    }
    return least;
}

/* The wedge ends before the noise drowns it: the scanner may see further. */
static bool wedge_ends(const ww_scanner *scanner, int c) {
    return scanner->channel[c].dmax.how == WW_MEASURED &&
           !ww__scanner_ends_black(scanner, (ww_channel)c);
}

/* Black that was taken off hides how much flare there is. */
static bool hides_flare(const ww_scanner *scanner, int c) {
    return !scanner->dark_scan && scanner->channel[c].dark.value < 0.0;
}

typedef enum apart { LEAST, ALIKE, UNSURE } apart;

/* Whether the channel that sees least far does so beyond doubt: its interval ends before each of
 * the others' begins. Where the wedge ends is no difference between channels. */
static apart how_far_apart(const ww_scanner *scanner, ww_channel least) {
    const ww_scanner_channel *own = &scanner->channel[least];
    size_t beyond = 0, alike = 0;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_scanner_channel *other = &scanner->channel[c];
        if (c == (int)least || !other->present || !ww_quantity_present(other->dmax))
            continue;
        if (wedge_ends(scanner, c)
                ? !wedge_ends(scanner, (int)least) && own->dmax.high < other->dmax.value
                : own->dmax.high < other->dmax.low)
            beyond++;
        else
            alike++;
    }
    return alike == 0 ? LEAST : beyond == 0 ? ALIKE : UNSURE;
}

/* A wedge may have another density for each channel, and end there. */
static bool end_alike(const ww_scanner *scanner, ww_channel least) {
    bool alike = true;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (scanner->channel[c].present && wedge_ends(scanner, c) &&
            wedge_ends(scanner, (int)least))
            alike = alike &&
                    scanner->channel[c].dmax.value <=
                        scanner->channel[least].dmax.value + scanner->channel[least].point[0].doubt;
    return alike;
}

/* Where the wedge ends is a least value, without an interval of its own. */
static void add_dmax(ww__text *text, const ww_scanner *scanner, int c) {
    ww_quantity shown = scanner->channel[c].dmax;
    if (wedge_ends(scanner, c))
        shown.low = shown.high = shown.value;
    ww__words_interval(text, shown, 2);
}

static ww_channel find_most_flare(const ww_scanner *scanner) {
    ww_channel most = WW_CHANNEL_COUNT;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_scanner_channel *channel = &scanner->channel[c];
        if (channel->present && ww_quantity_present(channel->flare) &&
            (most == WW_CHANNEL_COUNT || channel->flare.value > scanner->channel[most].flare.value))
            most = (ww_channel)c;
    }
    return most;
}

static ww_quantity in_percent(ww_quantity share) {
    return (ww_quantity){100 * share.value, 100 * share.low, 100 * share.high, share.how};
}

/* ------------------------------------------------------------------------------------ the act */

static void add_gamma(ww__text *text, const ww_scanner *scanner) {
    const ww_quantity gamma = scanner->gamma;
    if (scanner->encoding == WW_ENCODING_SRGB) {
        ww__text_add(text, "codes are not light but encoded as sRGB");
    } else if (!ww_quantity_present(gamma)) {
        ww__text_add(text, "encoding not known");
    } else if (fabs(gamma.value - 1.0) <= linear_within) {
        ww__text_add(text, "codes are linear");
    } else if (!ww__scanner_is_encoded(scanner)) {
        ww__text_add(text, "codes are linear, but the wedge or the scanner is off by ");
        ww__text_add_number(text, 100.0 * fabs(1.0 - 1.0 / gamma.value), 1);
        ww__text_add(text, " %");
    } else {
        ww__text_add(text, "codes are not light but encoded, gamma ");
        ww__words_interval(text, gamma, 2);
    }
}

/* Without a scan in the dark, dark may be any share of it. */
static void add_flare(ww__text *text, const ww_scanner *scanner, ww_channel name) {
    const ww_quantity flare = in_percent(scanner->channel[name].flare);
    ww__text_add(text, "flare ");
    if (hides_flare(scanner, (int)name)) {
        ww__text_add(text, "cannot be told, as black was taken off; ");
        return;
    }
    if (scanner->dark_scan) {
        ww__words_interval(text, flare, 2);
    } else {
        ww__text_add(text, "at most ");
        ww__text_add_number(text, flare.high, 2);
    }
    ww__text_add(text, " % of open light");
    if (count_channels(scanner) > 1)
        ww__text_add_format(text, " (%s)", ww_channel_name(name));
    ww__text_add(text, "; ");
}

static void add_act(ww__text *text, const ww_scanner *scanner) {
    const ww_channel least = find_least(scanner), flare = find_most_flare(scanner);
    if (count_channels(scanner) == 0) {
        ww__text_add(text, "no calibration: no channel was fitted.");
        return;
    }
    if (scanner->misfit) { /* and none of its figures means anything */
        ww__text_add(text, "trust nothing that is read by this calibration, as the first note "
                           "says.");
        return;
    }
    if (least == WW_CHANNEL_COUNT) {
        ww__text_add(text, "how dense a film this scanner sees through is not known; ");
    } else {
        ww__text_add(text, "this scanner sees to density ");
        add_dmax(text, scanner, (int)least);
        if (wedge_ends(scanner, (int)least))
            ww__text_add(text, " at least, where the wedge ends");
        else if (ww__scanner_ends_black(scanner, least))
            ww__text_add(text, ", as denser steps of the wedge are clipped to black");
        const apart others = how_far_apart(scanner, least);
        if (count_channels(scanner) > 1 && others == LEAST)
            ww__text_add_format(text, ", %s the least", ww_channel_name(least));
        else if (count_channels(scanner) > 1 && others == ALIKE && end_alike(scanner, least))
            ww__text_add(text, ", all channels alike");
        else if (count_channels(scanner) > 1 && wedge_ends(scanner, (int)least))
            ww__text_add_format(text, " in %s", ww_channel_name(least));
        ww__text_add(text, "; ");
    }
    if (flare != WW_CHANNEL_COUNT)
        add_flare(text, scanner, flare);
    add_gamma(text, scanner);
    ww__text_add(text, ".");
}

/* ---------------------------------------------------------------------------------------- why */

static const char *wedge_word(ww_wedge_kind kind) {
    switch (kind) {
    case WW_WEDGE_CERTIFIED:
        return "a certified wedge";
    case WW_WEDGE_NOMINAL:
        return "a nominal wedge";
    case WW_WEDGE_UNKNOWN:
        break;
    }
    return "a wedge of unknown pedigree";
}

static void add_why(ww__text *text, const ww_scanner *scanner) {
    const ww_channel name = ww__scan_scanner_channel(scanner);
    const ww_scanner_channel *channel;
    if (name == WW_CHANNEL_COUNT)
        return;
    channel = &scanner->channel[name];
    ww__text_add_format(text, "%zu steps of %s were fitted", channel->n_steps,
                        wedge_word(scanner->wedge));
    if (count_channels(scanner) > 1)
        ww__text_add_format(text, " (%s)", ww_channel_name(name));
    ww__text_add(text, "; the model leaves ");
    ww__text_add_number(text, channel->residual_sd, 3);
    ww__text_add(text, " D, at most ");
    ww__text_add_number(text, fabs(channel->worst_residual), 3);
    ww__text_add(text, " D");
    if (channel->n_points > 0 && !scanner->misfit) {
        ww__text_add(text, "; densities are to be trusted to +-");
        ww__words_trust_ends(text, channel->point[channel->n_points - 1].doubt,
                             channel->point[0].doubt);
    }
    ww__text_add(text, ".");
}

/* ------------------------------------------------------------------------------------- tables */

static void add_channels(const ww_scanner *scanner, ww__report *report) {
    static const ww__heading heading[] = {{"channel", ""},
                                          {"sees to", "D"},
                                          {"wedge covers", "D"},
                                          {"flare", "% of open light"},
                                          {"dark", "% of full scale"},
                                          {"model leaves", "sd, D"},
                                          {"at most", "D"}};
    ww__report_table(report, "What it sees (95 % intervals)", sizeof heading / sizeof heading[0],
                     "lrrrrrr");
    ww__report_headings(report, heading);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_scanner_channel *channel = &scanner->channel[c];
        ww__text text = WW__TEXT_INIT;
        if (!channel->present)
            continue;
        ww__report_item(report, ww_channel_name((ww_channel)c));
        add_dmax(&text, scanner, c);
        ww__text_add(&text, wedge_ends(scanner, c) ? " +" : "");
        ww__report_take(report, &text);
        if (channel->n_points > 0)
            ww__words_range(&text, channel->point[channel->n_points - 1].density,
                            channel->point[0].density, 2);
        else
            ww__text_add(&text, "-");
        ww__report_take(report, &text);
        if (hides_flare(scanner, c))
            ww__text_add(&text, "-");
        else
            ww__words_interval(&text, in_percent(channel->flare), 2);
        ww__report_take(report, &text);
        ww__words_interval(&text, in_percent(channel->dark), 3);
        ww__report_take(report, &text);
        ww__text_add_number(&text, channel->residual_sd, 3);
        ww__report_take(report, &text);
        ww__text_add_number(&text, fabs(channel->worst_residual), 3);
        ww__report_take(report, &text);
    }
}

static void add_noise(const ww_scanner *scanner, ww__report *report) {
    static const double densities[] = {0.3, 1.0, 1.5, 2.0, 2.5, 3.0};
    static const ww__heading heading[] = {{"channel", ""},  {"at 0.30", "D"}, {"at 1.00", "D"},
                                          {"at 1.50", "D"}, {"at 2.00", "D"}, {"at 2.50", "D"},
                                          {"at 3.00", "D"}};
    ww__report_table(report, "Noise of one pixel, 1 sd; n pixels averaged: divided by root n",
                     sizeof heading / sizeof heading[0], "lrrrrrr");
    ww__report_headings(report, heading);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_scanner_channel *channel = &scanner->channel[c];
        if (!channel->present)
            continue;
        ww__report_item(report, ww_channel_name((ww_channel)c));
        for (size_t i = 0; i < sizeof densities / sizeof densities[0]; i++) {
            ww__text text = WW__TEXT_INIT;
            ww__text_add_number(&text, ww_scanner_noise_at(channel, densities[i]), 3);
            ww__report_take(report, &text);
        }
    }
}

static void add_marks(const ww_scanner *scanner, ww__report *report) {
    bool ends = false;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        ends |= scanner->channel[c].present && wedge_ends(scanner, c);
    ww__report_list(report, "Marks", false);
    if (ends)
        ww__report_item(report, "What is marked + is at least that: the wedge ends there, and its "
                                "densest step still stands out of the noise.");
}

/* Steps that are clipped, compressed or suspect are told in the notes, by who knows why. */
void ww__scanner_report(const ww_scanner *scanner, ww__report *report) {
    ww__text sentence = WW__TEXT_INIT;
    add_act(&sentence, scanner);
    ww__report_act(report, &sentence);
    add_why(&sentence, scanner);
    ww__report_why(report, &sentence);
    add_channels(scanner, report);
    add_marks(scanner, report);
    add_noise(scanner, report);
    ww__report_notes(report, &scanner->notes);
}
