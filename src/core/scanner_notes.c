/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "scanner_notes.h"
#include "base/text.h"
#include "channel_notes.h"
#include "scanner_noise.h"
#include "scanner_wedge.h"

#include <assert.h>
#include <math.h>
#include <wedgework/number.h>

static const double coarse_step = 0.02;         /* D, of one code, worth a note */
static const double well_hidden = 0.9;          /* of a step of code, by noise: the mean is right */
static const double swapped_misfit = 1.0 / 3.0; /* of the difference of two steps, at most */
static const double far_beyond = 2.0;           /* of a stated sd, by what the steps show */
static const double slight = 0.002;             /* D between two encodings, not worth a note */
static const double small_constant = 1e-5;      /* light below 0 that is no fault */

enum { NUMBER = 24, RUN_LEAST = 3 /* steps that are told as "1 to 3" */ };

static const char *number(double value, int decimals, char text[NUMBER]) {
    return ww_number_format(value, decimals, text, NUMBER);
}

typedef bool step_test(const ww_scanner *scanner, const ww_scanner_step *step);

static bool is_bright(const ww_scanner *scanner, const ww_scanner_step *step) {
    return step->clipped && step->code > 0.5 * scanner->white;
}

static bool is_dark(const ww_scanner *scanner, const ww_scanner_step *step) {
    return step->clipped && !is_bright(scanner, step);
}

static bool is_compressed(const ww_scanner *scanner, const ww_scanner_step *step) {
    (void)scanner;
    return step->compressed;
}

/* "Step 3", "Steps 1, 2" or "Steps 1, 14 to 21"; NULL where there is none. */
static const char *name_steps(const ww_scanner *scanner, const ww_scanner_channel *channel,
                              step_test *test, ww__text *list) {
    size_t n = 0;
    for (size_t i = 0; i < channel->n_steps; i++)
        n += test(scanner, &channel->step[i]);
    *list = (ww__text)WW__TEXT_INIT;
    if (n == 0)
        return NULL;
    ww__text_add(list, n > 1 ? "Steps" : "Step");
    for (size_t i = 0, named = 0; i < channel->n_steps; i++) {
        size_t last = i;
        if (!test(scanner, &channel->step[i]))
            continue;
        while (last + 1 < channel->n_steps && test(scanner, &channel->step[last + 1]))
            last++;
        if (last < i + RUN_LEAST - 1)
            last = i;
        ww__text_add(list, named++ > 0 ? ", " : " ");
        ww__text_add(list, channel->step[i].step);
        if (last > i) {
            ww__text_add(list, " to ");
            ww__text_add(list, channel->step[last].step);
        }
        i = last;
    }
    return ww__text_string(list);
}

/* One sentence about some steps of a channel: "Steps 1, 2 (red) " and what is the matter. */
static ww_status add_steps(ww_scanner *scanner, ww_channel channel, step_test *test,
                           const char *what, ww_error *err) {
    ww__text list;
    const char *named = name_steps(scanner, &scanner->channel[channel], test, &list);
    ww_status status = ww__text_status(&list, err);
    if (named && status == WW_OK)
        status =
            ww_notes_add(&scanner->notes, err, "%s (%s) %s", named, ww_channel_name(channel), what);
    ww__text_release(&list);
    return status;
}

/* Whether each of two suspects reads the other's density. */
static bool are_swapped(const ww_scanner_step *a, const ww_scanner_step *b) {
    const double limit = swapped_misfit * fabs(a->density - b->density);
    return a->suspect && b->suspect && fabs(a->fitted - b->density) < limit &&
           fabs(b->fitted - a->density) < limit;
}

/* The step that it was swapped with; NULL: none. */
static const ww_scanner_step *partner_of(const ww_scanner_channel *channel,
                                         const ww_scanner_step *step) {
    for (size_t i = 0; i < channel->n_steps; i++)
        if (are_swapped(&channel->step[i], step))
            return &channel->step[i];
    return NULL;
}

static ww_status add_suspect(ww_scanner *scanner, ww_channel channel, const ww_scanner_step *step,
                             ww_error *err) {
    const double off = step->fitted - step->density;
    char text[NUMBER];
    return ww_notes_add(&scanner->notes, err,
                        "Step %s (%s) reads %s D %s than its density in the wedge file and all "
                        "other steps say; it was left out. Look for dust or a scratch, and at that "
                        "density.",
                        step->step, ww_channel_name(channel), number(fabs(off), 2, text),
                        off > 0.0 ? "denser" : "thinner");
}

static ww_status add_suspects(ww_scanner *scanner, ww_channel channel, ww_error *err) {
    const ww_scanner_channel *c = &scanner->channel[channel];
    ww_status status = WW_OK;
    for (size_t i = 0; i < c->n_steps && status == WW_OK; i++) {
        const ww_scanner_step *step = &c->step[i];
        const ww_scanner_step *partner = step->suspect ? partner_of(c, step) : NULL;
        if (partner && partner > step)
            status = ww_notes_add(&scanner->notes, err,
                                  "Steps %s and %s (%s) look swapped, in the wedge file or on the "
                                  "glass: each reads the density of the other. Both were left out; "
                                  "see which is wrong, put it right and calibrate again.",
                                  step->step, partner->step, ww_channel_name(channel));
        else if (step->suspect && !partner)
            status = add_suspect(scanner, channel, step, err);
    }
    return status;
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
        "Codes are most likely light, but the wedge's densities are %s %% %s than they say "
        "(light as code to the power of %s, %s to %s, and no export encodes so): its file is off "
        "by that throughout, or the scanner is not linear. Densities follow the wedge; check its "
        "file, or calibrate on another wedge.",
        number(100.0 * fabs(gamma.value - 1.0), 1, off), gamma.value > 1.0 ? "greater" : "less",
        number(gamma.value, 3, value), number(gamma.low, 3, low), number(gamma.high, 3, high));
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
                        "own.",
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
static ww_status add_steps_of_codes(const ww__scanner_strip *strip, ww_scanner *scanner,
                                    ww_error *err) {
    const ww_channel channel = strip->channel;
    const ww_scanner_channel *c = &scanner->channel[channel];
    const ww__scanner_light light = ww__scanner_light_of(scanner, channel);
    const double thin = c->point[c->n_points - 1].density;
    const double end = fmax(fmin(c->dmax.value, c->point[0].density), thin);
    char step[NUMBER], at[NUMBER], from[NUMBER];
    if (!(strip->step > 0.0))
        return WW_OK;
    const double code = strip->step, one = ww__scanner_noise_code(&light, end, code);
    if (one < coarse_step || !(one < 10.0))
        return WW_OK;
    return ww_notes_add(&scanner->notes, err,
                        "One code (%s) is over 0.02 D from density %s on, and %s D at density %s: "
                        "%u bits are too coarse there%s; scan with more.",
                        ww_channel_name(channel),
                        number(coarse_from(&light, code, thin, end), 2, from), number(one, 2, step),
                        number(end, 2, at), (unsigned)lround(log2(1.0 / code + 1.0)),
                        ww__scanner_noise_rounding(strip, code).hidden < well_hidden
                            ? ", and no number of pixels mends it"
                            : " for a pixel, though the mean of many tells more");
}

static ww_status add_end(ww_scanner *scanner, ww_channel channel, ww_error *err) {
    const ww_quantity dmax = scanner->channel[channel].dmax;
    char text[NUMBER];
    if (dmax.how != WW_MEASURED || ww__scanner_ends_black(scanner, channel))
        return WW_OK;
    return ww_notes_add(&scanner->notes, err,
                        "The wedge ends at density %s before the scanner does (%s): the scanner "
                        "sees at least so far.",
                        number(dmax.value, 2, text), ww_channel_name(channel));
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

static ww_status add_channel(const ww__scanner_story *story, const ww__scanner_strip *strip,
                             ww_scanner *scanner, ww_error *err) {
    const ww_channel channel = strip->channel;
    ww_status status = add_steps(scanner, channel, is_bright,
                                 "clipped at the bright end: no part in the calibration. Scan with "
                                 "less exposure.",
                                 err);
    if (status == WW_OK)
        status = add_steps(scanner, channel, is_dark,
                           "clipped at the dark end: no part in the calibration. The scanner, or "
                           "its black correction, ends before them.",
                           err);
    if (status == WW_OK)
        status = add_steps(scanner, channel, is_compressed,
                           "compressed: over half of the light there is flare and dark, and "
                           "densities are read with growing doubt. Mask all clear glass.",
                           err);
    if (status == WW_OK)
        status = add_suspects(scanner, channel, err);
    if (status == WW_OK)
        status = add_correction(story, scanner, channel, err);
    if (status == WW_OK)
        status = add_steps_of_codes(strip, scanner, err);
    return status == WW_OK ? add_end(scanner, channel, err) : status;
}

ww_status ww__scanner_notes_add(const ww__scanner_story *story, const ww_readings *wedge,
                                ww_scanner *scanner, ww_error *err) {
    assert(story && story->strips && wedge && scanner);
    ww_status status = ww__scanner_wedge_note(story->strips, wedge, scanner, err);
    if (status == WW_OK)
        status = add_encoding(scanner, err);
    if (status == WW_OK)
        status = add_rivals(story, scanner, err);
    for (size_t s = 0; s < story->strips->n && status == WW_OK; s++)
        status = add_channel(story, &story->strips->strip[s], scanner, err);
    if (status == WW_OK)
        status = add_dark(story, scanner, err);
    if (status == WW_OK)
        status = add_columns(story, scanner, err);
    if (status == WW_OK)
        status = add_wedge(story, wedge, scanner, err);
    return status == WW_OK ? ww__channel_notes_merge(&scanner->notes, err) : status;
}
