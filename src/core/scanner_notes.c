/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "scanner_notes.h"
#include "base/text.h"
#include "channel_notes.h"
#include "scanner_end_notes.h"
#include "scanner_step_notes.h"
#include "scanner_wedge.h"

#include <assert.h>
#include <math.h>
#include <wedgework/number.h>

static const double far_beyond = 2.0;      /* of a stated sd, by what the steps show */
static const double slight = 0.002;        /* D between two encodings, not worth a note */
static const double small_constant = 1e-5; /* light below 0 that is no fault */

enum { NUMBER = 24, USUAL_LEAST = 10 /* steps that carry a calibration; common practice */ };

static const char *number(double value, int decimals, char text[NUMBER]) {
    return ww_number_format(value, decimals, text, NUMBER);
}

/* What density 1.00 looks like where codes pass for light. */
static double read_as_linear(const ww_scanner *scanner) {
    return -log10(ww_scanner_code(scanner, 0.1) / ww_scanner_code(scanner, 1.0));
}

/* By no encoding: the wedge's densities and the codes differ in scale. */
static ww_status add_scale(ww_scanner *scanner, ww_error *err) {
    const ww_quantity gamma = scanner->gamma;
    char value[NUMBER], low[NUMBER], high[NUMBER], off[NUMBER];
    return ww_notes_add(
        &scanner->notes, err,
        "Codes are most likely light, but the wedge's densities are %s %% %s than its file says "
        "(light as code to the power of %s, %s to %s, and no export encodes so): the file is off "
        "by that throughout, or the scanner is not linear. Densities follow the file, and their "
        "doubts hold the other; check the file, or calibrate on another wedge.",
        number(100.0 * fabs(1.0 - 1.0 / gamma.value), 1, off),
        gamma.value > 1.0 ? "less" : "greater", number(gamma.value, 3, value),
        number(gamma.low, 3, low), number(gamma.high, 3, high));
}

static ww_status add_encoding(ww_scanner *scanner, ww_error *err) {
    const ww_quantity gamma = scanner->gamma;
    char value[NUMBER], low[NUMBER], high[NUMBER], wrong[NUMBER];
    const bool linear = scanner->encoding == WW_ENCODING_POWER && gamma.value == 1.0;
    number(gamma.low, linear ? 3 : 2, low);
    number(gamma.high, linear ? 3 : 2, high);
    if (linear)
        return ww_notes_add(&scanner->notes, err,
                            "Codes are proportional to light; a power left free would lie between "
                            "%s and %s.",
                            low, high);
    if (!ww__scanner_is_encoded(scanner))
        return add_scale(scanner, err);
    if (ww__scanner_is_strange(scanner)) /* said before all else */
        return WW_OK;
    number(gamma.value, scanner->encoding == WW_ENCODING_SRGB ? 1 : 2, value);
    if (scanner->encoding == WW_ENCODING_SRGB)
        return ww_notes_add(&scanner->notes, err,
                            "Codes are not light: they are encoded as sRGB, which is near light = "
                            "code to the power of %s. Densities allow for it; read as linear, "
                            "density 1.00 would come out as about %s. Later scans must be encoded "
                            "alike, better linear.",
                            value, number(read_as_linear(scanner), 2, wrong));
    return ww_notes_add(&scanner->notes, err,
                        "Codes are not light: light goes as code to the power of %s (%s to %s). "
                        "Densities allow for it; read as linear, density 1.00 would come out as "
                        "about %s. Later scans must be encoded alike, better linear.",
                        value, low, high, number(read_as_linear(scanner), 2, wrong));
}

/* "sRGB", "a power of 2.17", "codes that are light" */
static void add_curve(const ww__scanner_light *light, ww__text *text) {
    char gamma[NUMBER];
    if (light->encoding == WW_ENCODING_SRGB)
        ww__text_add(text, "sRGB");
    else if (light->gamma == 1.0)
        ww__text_add(text, "codes that are light");
    else
        ww__text_add_format(text, "a power of %s", number(light->gamma, 2, gamma));
}

static ww_status add_rivals(const ww__scanner_story *story, ww_scanner *scanner, ww_error *err) {
    ww__text text = WW__TEXT_INIT;
    char apart[NUMBER];
    if (!(story->apart > slight))
        return WW_OK;
    const ww__scanner_light taken = ww__scanner_model_light(story->model, 0);
    add_curve(&taken, &text);
    for (size_t i = 0; i < story->model->n_rivals; i++) {
        ww__text_add(&text, " or ");
        add_curve(&story->model->rival[i][0], &text);
    }
    ww_status status = ww__text_status(&text, err);
    if (status == WW_OK)
        status = ww_notes_add(&scanner->notes, err,
                              "Which encoding the codes have, %s, these steps cannot tell: the "
                              "first was taken, and by the other densities differ by up to %s D, "
                              "which their doubt holds. A wedge of more steps or of a longer "
                              "range would tell, or a scan that is exported linear.",
                              ww__text_string(&text), number(story->apart, 3, apart));
    ww__text_release(&text);
    return status;
}

static ww_status add_wedge(const ww__scanner_story *story, const ww_readings *wedge,
                           ww_scanner *scanner, ww_error *err) {
    const ww__scanner_wedge *w = &story->strips->wedge;
    char sd[NUMBER], seen[NUMBER];
    double scatter = 0.0;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        scatter = fmax(scatter, story->scatter[c]);
    if (wedge->meta.relative == WW_RELATIVE_BASE || wedge->meta.relative == WW_RELATIVE_WHITE) {
        const ww_status status =
            ww_notes_add(&scanner->notes, err,
                         "The wedge's densities are relative, and so are all densities that this "
                         "scanner reads; add the density of the wedge's base to its file.");
        if (status != WW_OK)
            return status;
    }
    if (w->nominal)
        return ww_notes_add(&scanner->notes, err,
                            "The wedge is nominal%s: it may be off by 0.01 at its thin to 0.10 at "
                            "its dense end, all along, and no density read by it is surer than "
                            "that. A certified wedge, good to 0.01, would mend it.",
                            scanner->wedge == WW_WEDGE_NOMINAL ? "" : ", as its file says nothing");
    if (scatter > far_beyond * w->sd)
        return ww_notes_add(&scanner->notes, err,
                            "The wedge's densities are said to be off by %s D (one sd)%s, but its "
                            "steps scatter by %s D: the certificate is of another wedge or worse "
                            "than it says, or the steps are dirty. Doubts are by what the steps "
                            "show.",
                            number(w->sd, 3, sd),
                            scanner->wedge_sd.set ? "" : ", as certified without a figure",
                            number(hypot(scatter, w->sd), 3, seen));
    if (!scanner->wedge_sd.set)
        return ww_notes_add(&scanner->notes, err,
                            "The wedge is certified without a figure: each density is taken as "
                            "good to 0.01 D (95 %%).");
    return ww_notes_add(&scanner->notes, err,
                        "The wedge's densities are taken as off by %s D (one sd), each step on its "
                        "own and all of them together.",
                        number(scanner->wedge_sd.value, 3, sd));
}

static ww_status add_columns(const ww__scanner_story *story, ww_scanner *scanner, ww_error *err) {
    ww_status status = WW_OK;
    for (size_t s = 0; s < story->strips->n && status == WW_OK; s++) {
        const ww__scanner_strip *strip = &story->strips->strip[s];
        if ((int)strip->column == (int)strip->channel)
            continue;
        status = ww_notes_add(&scanner->notes, err,
                              "The wedge has no column for (%s); its %s densities stand in.",
                              ww_channel_name(strip->channel), ww_column_name(strip->column));
    }
    return status;
}

static ww_status add_dark(const ww__scanner_story *story, ww_scanner *scanner, ww_error *err) {
    ww_status status = WW_OK;
    bool above = false;
    for (size_t s = 0; s < story->strips->n && status == WW_OK; s++) {
        const ww_channel c = story->strips->strip[s].channel;
        char text[NUMBER];
        if (scanner->channel[c].dark.value > -small_constant) {
            above = true;
            continue;
        }
        status = ww_notes_add(&scanner->notes, err,
                              "Dark steps (%s) have less light than their densities say: black "
                              "was taken off too far, by %s %% of full light. Switch black "
                              "correction off.",
                              ww_channel_name(c),
                              number(-100.0 * scanner->channel[c].dark.value, 3, text));
    }
    if (status != WW_OK || scanner->dark_scan || !above)
        return status;
    if (story->dark == WW__SCANNER_DARK_LIGHT)
        return ww_notes_add(&scanner->notes, err,
                            "The dark scan is lighter than the wedge's densest steps: light leaked "
                            "in, or its settings were others. It was set aside; dark is taken as "
                            "0 and all constant light as flare.");
    return ww_notes_add(&scanner->notes, err,
                        "Flare and dark cannot be told apart by a wedge alone: dark is taken as 0 "
                        "and all constant light as flare. A scan with the lamp covered (--dark) "
                        "would tell.");
}

/* Of the channel that has the fewest. */
static ww_status add_few(const ww__scanner_strips *strips, ww_scanner *scanner, ww_error *err) {
    const ww__scanner_strip *fewest = NULL;
    size_t least = USUAL_LEAST;
    for (size_t s = 0; s < strips->n; s++) {
        const ww__scanner_strip *strip = &strips->strip[s];
        size_t n = 0;
        for (size_t i = 0; i < strip->n; i++)
            n += !strip->row[i].clipped && !strip->row[i].suspect;
        if (n < least)
            least = n, fewest = strip;
    }
    if (!fewest)
        return WW_OK;
    return ww_notes_add(&scanner->notes, err,
                        "Only %zu steps (%s) carry the calibration, where %d or more are usual: "
                        "few can tell a wrong one among them, or how much flare there is. A wedge "
                        "of more steps, all of them within what the scanner sees, tells more.",
                        least, ww_channel_name(fewest->channel), USUAL_LEAST);
}

static ww_status add_correction(const ww__scanner_story *story, ww_scanner *scanner,
                                ww_channel channel, ww_error *err) {
    char text[NUMBER];
    if (story->correction[channel] == 0.0)
        return WW_OK;
    return ww_notes_add(&scanner->notes, err,
                        "The scanner (%s) is not quite the model: a smooth correction of up to %s "
                        "D was added.",
                        ww_channel_name(channel),
                        number(fabs(story->correction[channel]), 2, text));
}

ww_status ww__scanner_notes_add(const ww__scanner_story *story, const ww_readings *wedge,
                                ww_scanner *scanner, ww_error *err) {
    assert(story && story->strips && wedge && scanner);
    if (story->slip.label)
        return ww__scanner_slip_note(&story->slip, wedge, scanner, err);
    ww_status status = ww__scanner_wedge_note(story->strips, wedge, scanner, err);
    if (status == WW_OK)
        status = add_encoding(scanner, err);
    if (status == WW_OK)
        status = add_rivals(story, scanner, err);
    if (status == WW_OK)
        status = add_few(story->strips, scanner, err);
    for (size_t s = 0; s < story->strips->n && status == WW_OK; s++) {
        const ww_channel channel = story->strips->strip[s].channel;
        status = ww__scanner_step_notes_add(scanner, channel, err);
        if (status == WW_OK)
            status = add_correction(story, scanner, channel, err);
    }
    if (status == WW_OK)
        status = ww__scanner_end_notes_add(story->strips, scanner, err);
    if (status == WW_OK)
        status = add_dark(story, scanner, err);
    if (status == WW_OK)
        status = add_columns(story, scanner, err);
    if (status == WW_OK)
        status = add_wedge(story, wedge, scanner, err);
    return status == WW_OK ? ww__channel_notes_merge(&scanner->notes, err) : status;
}
