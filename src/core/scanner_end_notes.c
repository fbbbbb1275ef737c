/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "scanner_end_notes.h"
#include "base/text.h"
#include "scanner.h"
#include "scanner_noise.h"

#include <assert.h>
#include <math.h>

static const double coarse_step = 0.02; /* D, of one code, worth a note */
static const double well_hidden = 0.9;  /* of a step of code, by noise: the mean is right */
static const double well_filled = 0.25; /* of the scale: below, two bits or more lie idle */

/* The density from which on one code is a coarse step of it, by halving. */
static double coarse_from(const ww__scanner_light *light, double step, double thin, double dense) {
    for (int i = 0; i < 50; i++) {
        const double middle = 0.5 * (thin + dense);
        if (ww__scanner_noise_code(light, middle, step) < coarse_step)
            thin = middle;
        else
            dense = middle;
    }
    return thin;
}

/* What one code is worth where the scanner, or the wedge, ends. */
typedef struct coarse {
    ww_channel channel;
    double from, end, one; /* D: over coarse_step from there on; the end, and a code there */
    double code, lightest; /* a step of the codes, and that of the wedge: shares of white */
    bool hidden;           /* by noise, so that means are right */
} coarse;

static bool is_coarse(const ww__scanner_strip *strip, const ww_scanner *scanner, coarse *c) {
    const ww_scanner_channel *channel = &scanner->channel[strip->channel];
    const ww__scanner_light light = ww__scanner_light_of(scanner, strip->channel);
    const double thin = channel->point[channel->n_points - 1].density;
    if (!(strip->step > 0.0))
        return false;
    *c = (coarse){.channel = strip->channel, .code = strip->step};
    c->end = fmax(fmin(channel->dmax.value, channel->point[0].density), thin);
    c->one = ww__scanner_noise_code(&light, c->end, c->code);
    c->from = coarse_from(&light, c->code, thin, c->end);
    for (size_t i = 0; i < strip->n; i++)
        c->lightest = fmax(c->lightest, strip->row[i].share);
    c->hidden = ww__scanner_noise_rounding(strip, c->code).hidden >= well_hidden;
    return c->one >= coarse_step && c->one < 10.0;
}

/* More bits help where those there are were used. */
static void add_remedy(const coarse *c, ww__text *text) {
    const bool filled = c->lightest >= well_filled;
    if (filled) {
        ww__text_add_format(text, ": %u bits are", (unsigned)lround(log2(1.0 / c->code + 1.0)));
    } else {
        ww__text_add(text, ": the lightest step fills ");
        ww__text_add_number(text, 100.0 * c->lightest, 1);
        ww__text_add(text, " % of the scale, and its codes are");
    }
    ww__text_add_format(text, " too coarse there%s; scan with more%s.",
                        c->hidden ? " for a pixel, though the mean of many tells more"
                                  : ", and no number of pixels mends it",
                        filled ? "" : " exposure, or export so that the codes fill the scale");
}

/* Of several channels the worst: where any begins to be coarse, and which is at its end. */
static ww_status add_codes(const ww__scanner_strips *strips, ww_scanner *scanner, ww_error *err) {
    ww__text names = WW__TEXT_INIT, text = WW__TEXT_INIT;
    coarse worst = {.one = 0.0}, c;
    double from = HUGE_VAL;
    size_t n = 0;
    for (size_t s = 0; s < strips->n; s++) {
        if (!is_coarse(&strips->strip[s], scanner, &c))
            continue;
        ww__text_add_format(&names, "%s%s", n++ > 0 ? ", " : "", ww_channel_name(c.channel));
        from = fmin(from, c.from);
        if (c.one > worst.one)
            worst = c;
    }
    if (n == 0)
        return WW_OK;
    ww__text_add_format(&text, "One code (%s) is over 0.02 D from density ",
                        ww__text_string(&names));
    ww__text_add_number(&text, from, 2);
    ww__text_add(&text, " on, and ");
    ww__text_add_number(&text, worst.one, 2);
    ww__text_add(&text, " D at density ");
    ww__text_add_number(&text, worst.end, 2);
    if (n > 1)
        ww__text_add_format(&text, " in %s", ww_channel_name(worst.channel));
    add_remedy(&worst, &text);
    ww_status status = ww__text_status(&text, err);
    if (status == WW_OK)
        status = ww_notes_add(&scanner->notes, err, "%s", ww__text_string(&text));
    ww__text_release(&names);
    ww__text_release(&text);
    return status;
}

static bool ends_first(const ww_scanner *scanner, ww_channel channel) {
    return scanner->channel[channel].dmax.how == WW_MEASURED &&
           !ww__scanner_ends_black(scanner, channel);
}

/* "3.05 (red, green), 3.11 (blue)": channels that end alike, to 0.01 D, stand together. */
static void add_densities(const ww__scanner_strips *strips, const ww_scanner *scanner,
                          ww__text *text) {
    bool told[WW_CHANNEL_COUNT] = {false};
    for (size_t i = 0, n = 0; i < strips->n; i++) {
        const ww_channel first = strips->strip[i].channel;
        if (told[first] || !ends_first(scanner, first))
            continue;
        const long end = lround(100.0 * scanner->channel[first].dmax.value);
        ww__text_add(text, n++ > 0 ? ", " : "");
        ww__text_add_number(text, (double)end / 100.0, 2);
        for (size_t k = i; k < strips->n; k++) {
            const ww_channel c = strips->strip[k].channel;
            if (!ends_first(scanner, c) || lround(100.0 * scanner->channel[c].dmax.value) != end)
                continue;
            ww__text_add_format(text, "%s%s", k == i ? " (" : ", ", ww_channel_name(c));
            told[c] = true;
        }
        ww__text_add(text, ")");
    }
}

static ww_status add_wedge_end(const ww__scanner_strips *strips, ww_scanner *scanner,
                               ww_error *err) {
    ww__text text = WW__TEXT_INIT;
    add_densities(strips, scanner, &text);
    ww_status status = ww__text_status(&text, err);
    if (status == WW_OK && *ww__text_string(&text) != '\0')
        status = ww_notes_add(&scanner->notes, err,
                              "The wedge ends at density %s before the scanner does: the scanner "
                              "sees at least so far.",
                              ww__text_string(&text));
    ww__text_release(&text);
    return status;
}

ww_status ww__scanner_end_notes_add(const ww__scanner_strips *strips, ww_scanner *scanner,
                                    ww_error *err) {
    assert(strips && scanner);
    const ww_status status = add_codes(strips, scanner, err);
    return status == WW_OK ? add_wedge_end(strips, scanner, err) : status;
}
