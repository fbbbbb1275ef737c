/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "scanner_wedge.h"
#include "base/escape.h"
#include "scanner_noise.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <wedgework/number.h>

static const double least_power = 0.95;    /* 1 is linear; below it codes outrun light */
static const double usual_power = 2.2;     /* and what sRGB is near */
static const double refuted = 4.0;         /* sd of a certificate, and no less than this: */
static const double refuted_least = 0.02;  /* D, rms */
static const double strange_misfit = 0.05; /* D, rms: a nominal wedge is off by a third of that */
static const double noise_allowed = 2.0;   /* sd of a step's mean */

const char *ww__scanner_wedge_name(const ww_readings *wedge, char shown[], size_t size) {
    return wedge->file ? ww__escape_message(wedge->file, shown, size) : "the wedge file";
}

ww_status ww__scanner_wedge_check(const ww__scanner_model *model, const ww_measured *measured,
                                  const ww_readings *wedge, ww_error *err) {
    char gamma[32], shown[200];
    assert(model && measured && wedge);
    if (model->encoding == WW_ENCODING_SRGB || !(model->gamma_high < least_power))
        return WW_OK;
    ww_number_format(model->gamma, 2, gamma, sizeof gamma);
    return ww_error_set_at(err, WW_EMISMATCH, measured->file, 0,
                           "the codes would rise faster than light (gamma %s; 1 is linear, and "
                           "encodings lie above): either the scanning program put a tone curve "
                           "over the scan (contrast, levels, automatic ones), or '%s' is not the "
                           "wedge on the glass, or not all of it; scan without any curve, and "
                           "give the wedge's own densities",
                           gamma, ww__scanner_wedge_name(wedge, shown, sizeof shown));
}

/* Of the outermost steps only: by how much one is off, as a share of what it differs by from its
 * neighbour. One that is off by more than that is not the step that was named. */
static double off_end(const ww_scanner_step *end, const ww_scanner_step *neighbour) {
    const double apart = fabs(end->density - neighbour->density);
    return end->suspect && apart > 0.0 ? fabs(end->fitted - end->density) / apart : 0.0;
}

static ww_status refuse_end(const ww_scanner_step *end, size_t named, const ww_measured *measured,
                            const ww_readings *wedge, ww_error *err) {
    char off[32], shown[200];
    ww_number_format(fabs(end->fitted - end->density), 2, off, sizeof off);
    return ww_error_set_at(
        err, WW_EMISMATCH, measured->file, 0,
        "%zu steps are seen where '%s' names %zu: what lies in the place of step "
        "'%.40s' reads %s D %s than that, as what lies beside the strip may; "
        "give the file of the wedge on the glass, or clean that step",
        named - 1, ww__scanner_wedge_name(wedge, shown, sizeof shown), named, end->step, off,
        end->fitted > end->density ? "denser" : "thinner");
}

ww_status ww__scanner_wedge_end(const ww_scanner *scanner, const ww_measured *measured,
                                const ww_readings *wedge, ww_error *err) {
    assert(scanner && measured && wedge);
    for (size_t c = 0; c < WW_CHANNEL_COUNT && measured->end_assumed; c++) {
        const ww_scanner_channel *channel = &scanner->channel[c];
        const size_t n = channel->n_steps;
        if (!channel->present || n < 2)
            continue;
        const ww_scanner_step *first = &channel->step[0], *last = &channel->step[n - 1];
        if (off_end(last, last - 1) > 1.0)
            return refuse_end(last, measured->n, measured, wedge, err);
        if (off_end(first, first + 1) > 1.0)
            return refuse_end(first, measured->n, measured, wedge, err);
    }
    return WW_OK;
}

/* What the model leaves, rms, of steps that a code is fine enough to tell. Neither rounding nor
 * noise is a fault of the wedge: what lies within a step's own noise stays below the limit. */
static double misfit(const ww_scanner *scanner, const ww__scanner_strip *strip, double limit) {
    const ww_scanner_channel *c = &scanner->channel[strip->channel];
    const ww__scanner_light light = ww__scanner_light_of(scanner, strip->channel);
    double sum = 0.0;
    size_t n = 0;
    for (size_t i = 0; i < c->n_steps; i++) {
        const double density = c->step[i].density, off = c->step[i].fitted - density;
        if (c->step[i].clipped || c->step[i].suspect ||
            !(ww__scanner_noise_code(&light, density, strip->step) < strange_misfit))
            continue;
        const double noise = ww__scanner_noise_code(&light, density, strip->row[i].mean_sd);
        sum += pow(off * limit / hypot(limit, noise_allowed * noise), 2.0);
        n++;
    }
    return n > 2 ? sqrt(sum / (double)(n - 2)) : 0.0;
}

/* D from step to step by the wedge file, on average. */
static double mean_step(const ww_scanner *scanner, ww_channel channel) {
    const ww_scanner_channel *c = &scanner->channel[channel];
    double thin = HUGE_VAL, dense = -HUGE_VAL;
    for (size_t i = 0; i < c->n_steps; i++) {
        thin = fmin(thin, c->step[i].density);
        dense = fmax(dense, c->step[i].density);
    }
    return (dense - thin) / (double)(c->n_steps - 1);
}

/* No export makes such a power: densities by another factor do, before a usual one. */
static ww_status note_strange(const ww__scanner_strips *strips, const char *file,
                              ww_scanner *scanner, ww_error *err) {
    const ww_quantity gamma = scanner->gamma;
    const double step = mean_step(scanner, strips->strip[0].channel);
    char power[32], low[32], high[32], said[32], light[32], encoded[32];
    ww_number_format(gamma.value, 2, power, sizeof power);
    ww_number_format(gamma.low, 2, low, sizeof low);
    ww_number_format(gamma.high, 2, high, sizeof high);
    ww_number_format(step, 2, said, sizeof said);
    ww_number_format(step / gamma.value, 2, light, sizeof light);
    ww_number_format(step * usual_power / gamma.value, 2, encoded, sizeof encoded);
    return ww_notes_add(
        &scanner->notes, err,
        "Before all else: light would go as code to the power of %s (%s to %s), "
        "and no export encodes so. Most likely the wedge on the glass is another "
        "than '%s' says: its steps would be about %s D apart instead of %s if codes "
        "are light, %s if they are encoded as sRGB or nearly so. Give the "
        "file of that wedge; until then trust nothing that is read by this file",
        power, low, high, file, light, said, encoded);
}

/* A correction mends a scanner's small ways, not another wedge's densities; a certificate
 * stands for more than a tolerance does. */
static double most_left(const ww__scanner_wedge *wedge) {
    return wedge->nominal ? strange_misfit
                          : fmin(fmax(refuted * wedge->sd, refuted_least), strange_misfit);
}

ww_status ww__scanner_wedge_note(const ww__scanner_strips *strips, const ww_readings *wedge,
                                 ww_scanner *scanner, ww_error *err) {
    double worst = 0.0;
    char left[32], sd[48] = "what a wedge is off by", shown[200], text[32];
    assert(strips && wedge && scanner);
    const double limit = most_left(&strips->wedge);
    if (ww__scanner_is_strange(scanner)) {
        scanner->misfit = true;
        return note_strange(strips, ww__scanner_wedge_name(wedge, shown, sizeof shown), scanner,
                            err);
    }
    for (size_t s = 0; s < strips->n; s++)
        worst = fmax(worst, misfit(scanner, &strips->strip[s], limit));
    if (!(worst > limit))
        return WW_OK;
    scanner->misfit = true;
    ww_number_format(worst, 3, left, sizeof left);
    if (!strips->wedge.nominal)
        snprintf(sd, sizeof sd, "the %s D of its certificate",
                 ww_number_format(strips->wedge.sd, 3, text, sizeof text));
    return ww_notes_add(&scanner->notes, err,
                        "Before all else: the model leaves %s D, far over %s. "
                        "Check that '%s' is the file of the wedge on the glass, that all its steps "
                        "were found in their order, and that the scan had no tone curve and no "
                        "automatic exposure; until then trust nothing that is read by this file",
                        left, sd, ww__scanner_wedge_name(wedge, shown, sizeof shown));
}
