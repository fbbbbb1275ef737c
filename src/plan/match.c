/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/readings.h"
#include "plan/match_parts.h"
#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <wedgework/number.h>
#include <wedgework/readings_light.h>

static const double uncorrected = 4.0; /* times as near to the output as it is */
static const double drifts = 0.10;     /* D, that an output's black moves by: common practice */

void ww_match_release(ww_match *match) {
    if (!match)
        return;
    free(match->aim);
    free(match->print);
    free(match->slip_in);
    ww_notes_release(&match->notes);
    *match = (ww_match)WW_MATCH_INIT;
}

static const char *name_of(size_t i, size_t n) {
    return n == 1 ? "gray" : ww_channel_name((ww_channel)((size_t)WW_RED + i));
}

/* " (red)" for messages where there are several. */
static const char *of_channel(const ww_match *match, size_t i, char text[16]) {
    text[0] = '\0';
    if (match->n > 1)
        snprintf(text, 16, " (%s)", match->channel[i].name);
    return text;
}

/* Light makes densities, but none where it is gone. */
static ww_status take_light(ww_readings *pooled, ww_column *read, ww_error *err) {
    if (*read < (ww_column)WW_CHANNEL_COUNT)
        return WW_OK;
    ww_readings_light(pooled);
    for (size_t i = 0; i < pooled->n; i++) {
        const ww_cell *light = &pooled->row[i].cell[*read];
        if (light->state == WW_CELL_VALUE && !(light->value > 0.0))
            return ww_error_set_at(err, WW_EDOMAIN, pooled->file, pooled->row[i].line,
                                   "no density comes of %s %g; give the least that the instrument "
                                   "can tell from none",
                                   ww_column_name(*read), light->value);
    }
    *read = WW_COLUMN_VISUAL;
    return WW_OK;
}

/* One that was taken counts before one that may be. */
static ww_status keep_slip(const ww_readings *readings, const ww_tone_slip *slip, ww_match *match,
                           ww_error *err) {
    const char *name = readings->file ? readings->file : readings->meta.name;
    if (slip->moved == 0 || (match->slip.moved != 0 && (match->slip.taken || !slip->taken)))
        return WW_OK;
    match->slip = *slip;
    free(match->slip_in);
    match->slip_in = NULL;
    return name ? ww__readings_text_copy(name, &match->slip_in, err) : WW_OK;
}

static ww_status fit_response(const ww_readings *readings, ww_column read, const double sent[],
                              const char *of, ww_tone_response *response, ww_notes *notes,
                              ww_error *err) {
    ww_readings pooled = WW_READINGS_INIT;
    ww_notes found = WW_NOTES_INIT;
    ww_status status = ww_readings_pool(readings, &pooled, err);
    if (status == WW_OK)
        status = take_light(&pooled, &read, err);
    if (status == WW_OK)
        status = ww_tone_response_fit(&pooled, ww_ramp_find(readings), read, sent, of, response,
                                      &found, err);
    if (status == WW_OK)
        status = ww__match_tell(readings, &found, notes, err);
    ww_notes_release(&found);
    ww_readings_release(&pooled);
    return status;
}

static ww_status fit(const ww_readings *readings, ww_column read, const double sent[],
                     const char *of, ww_tone_response *response, ww_match *match, ww_error *err) {
    const ww_status status = fit_response(readings, read, sent, of, response, &match->notes, err);
    return status == WW_OK ? keep_slip(readings, &response->slip, match, err) : status;
}

/* Equal steps of L* follow the print's own white and black, as far as they are known. */
static ww_status find_curve(ww_match *match, ww_match_channel *channel, ww_error *err) {
    const ww_status status =
        match->lightness ? ww__match_steps(&channel->print, &channel->aim, err) : WW_OK;
    return status == WW_OK ? ww__match_target(match, channel, err) : status;
}

/* Root mean square of what parts two responses, up to where both print. */
static double apart(const ww_tone_response *a, const ww_tone_response *b) {
    const double to = fmin(a->to, b->to) * (WW_TONE_RESPONSE_POINTS - 1);
    double sum = 0.0;
    size_t n = 0;
    for (; n < WW_TONE_RESPONSE_POINTS && (double)n <= to; n++)
        sum += pow(a->density[n] - b->density[n], 2.0);
    return sqrt(sum / (double)n);
}

/* Root mean square of both's errors. */
static double doubt(const ww_tone_response *a, const ww_tone_response *b) {
    double sum = 0.0;
    for (size_t i = 0; i < WW_TONE_RESPONSE_POINTS; i++)
        sum += a->error[i] * a->error[i] + b->error[i] * b->error[i];
    return sqrt(sum / WW_TONE_RESPONSE_POINTS);
}

/*
 * A print that is far nearer to the output without the curve than to what was sent through it was
 * made without: what it would teach is wrong. Where the curve does little, both are near, and
 * nothing is refused.
 */
static ww_status check_corrected(const ww_readings *later, const char *of,
                                 const ww_match_channel *channel, const ww_tone_response *through,
                                 ww_error *err) {
    ww_tone_response plain;
    ww_notes unused = WW_NOTES_INIT;
    ww_error none = WW_ERROR_INIT;
    char off[32], of_plain[32];
    const ww_status status = fit_response(later, channel->read, NULL, of, &plain, &unused, &none);
    ww_notes_release(&unused);
    if (status == WW_EMEMORY)
        return ww_error_set(err, status, "%s", none.msg);
    if (status != WW_OK) /* no response of an output: the curve made it what it is */
        return WW_OK;
    const double with = apart(through, &channel->print), without = apart(&plain, &channel->print);
    if (with <= uncorrected * fmax(without, doubt(&plain, &channel->print)))
        return WW_OK;
    return ww_error_set_at(err, WW_EMISMATCH, later->file, 0,
                           "this print%s reads as the output without the curve (%s D from it on "
                           "average, and %s D from what the curve makes of it): was it sent "
                           "through the curve? Print the scale of greys with it, and read that",
                           of, ww_number_format(without, 2, of_plain, sizeof of_plain),
                           ww_number_format(with, 2, off, sizeof off));
}

/* A curve chooses among what an output prints: readings that go far darker are of another one, of
 * the aim for instance. */
static ww_status check_black(const ww_readings *later, const char *of,
                             const ww_match_channel *channel, const ww_tone_response *through,
                             ww_error *err) {
    const size_t end = WW_TONE_RESPONSE_POINTS - 1;
    const double black = through->density[end], most = channel->print.density[end];
    char here[32], there[32];
    if (black <= most + drifts)
        return WW_OK;
    return ww_error_set_at(err, WW_EMISMATCH, later->file, 0,
                           "black%s is %s D here, and the output's most is %s D, beyond which no "
                           "curve leads: is this the corrected print? Print the scale of greys on "
                           "this output with the curve, and read that",
                           of, ww_number_format(black, 2, here, sizeof here),
                           ww_number_format(most, 2, there, sizeof there));
}

/* The print was made with the curve as it stands. */
static ww_status learn(const ww_readings *later, const char *of, ww_match *match,
                       ww_match_channel *channel, ww_error *err) {
    double sent[WW_TONE_RESPONSE_POINTS];
    ww_tone_response response;
    for (size_t i = 0; i < WW_TONE_RESPONSE_POINTS; i++)
        sent[i] = ww_match_out(channel, (double)i / (WW_TONE_RESPONSE_POINTS - 1));
    ww_status status = fit(later, channel->read, sent, of, &response, match, err);
    if (status == WW_OK)
        status = check_black(later, of, channel, &response, err);
    if (status == WW_OK)
        status = check_corrected(later, of, channel, &response, err);
    if (status != WW_OK)
        return status;
    channel->gain = ww_tone_response_learn(&channel->print, &response);
    return find_curve(match, channel, err);
}

static ww_status make_channel(const ww_match_request *request, size_t i, ww_match *match,
                              ww_error *err) {
    ww_match_channel *channel = &match->channel[i];
    ww_column aim;
    char of[16];
    channel->name = name_of(i, match->n);
    of_channel(match, i, of);
    ww_status status = ww__match_pair(request, i, match->n, &aim, &channel->read, err);
    if (status == WW_OK)
        status = fit(request->print, channel->read, NULL, of, &channel->print, match, err);
    channel->first = channel->print;
    if (status == WW_OK && request->aim)
        status = fit(request->aim, aim, NULL, of, &channel->aim, match, err);
    if (status == WW_OK && request->aim_curve)
        status = ww__match_curve(request->aim_curve, aim, &channel->aim, err);
    if (status == WW_OK)
        status = find_curve(match, channel, err);
    for (size_t k = 0; k < request->n_refine && status == WW_OK; k++)
        status = learn(request->refine[k], of, match, channel, err);
    if (status == WW_OK)
        ww__match_judge(match, channel);
    return status;
}

static ww_match_miss greater(ww_match_miss a, ww_match_miss b) {
    return b.any && (!a.any || fabs(b.density) > fabs(a.density)) ? b : a;
}

static void gather(ww_match *match) {
    for (size_t i = 0; i < match->n; i++) {
        const ww_match_channel *channel = &match->channel[i];
        if (i == 0 || fabs(channel->worst.density) > fabs(match->worst.density))
            match->worst_channel = i;
        match->worst = greater(match->worst, channel->worst);
        match->kept_miss = greater(match->kept_miss, channel->kept_miss);
        match->kept_miss.doubt = fmax(match->kept_miss.doubt, channel->kept_miss.doubt);
        for (int r = 0; r < WW_REGION_COUNT; r++)
            match->region[r] = greater(match->region[r], channel->region[r]);
    }
    match->holds =
        !match->slip.taken && (!match->absolute || fabs(match->worst.density) <= WW_MATCH_TOLD);
}

static ww_status copy_name(const ww_meta *meta, const char *file, char **name, ww_error *err) {
    const char *text = meta->name ? meta->name : file;
    return text ? ww__readings_text_copy(text, name, err) : WW_OK;
}

static ww_status make(const ww_match_request *request, ww_match *match, ww_error *err) {
    const ww_meta *aim = request->aim         ? &request->aim->meta
                         : request->aim_curve ? &request->aim_curve->meta
                                              : NULL;
    ww_status status = ww__match_check(request, match->ramp, err);
    if (status == WW_OK && aim)
        status = copy_name(aim, request->aim ? request->aim->file : NULL, &match->aim, err);
    if (status == WW_OK)
        status = copy_name(&request->print->meta, request->print->file, &match->print, err);
    for (size_t i = 0; i < match->n && status == WW_OK; i++)
        status = make_channel(request, i, match, err);
    if (status != WW_OK)
        return status;
    gather(match);
    return ww__match_remarks(request, match, err);
}

ww_status ww_match_make(const ww_match_request *request, ww_match *match, ww_error *err) {
    assert(request && request->print && match && !(request->aim && request->aim_curve));
    ww_match *made = calloc(1, sizeof *made);
    if (!made)
        return ww_error_set(err, WW_EMEMORY, "no memory for a correction");
    made->ramp = ww_ramp_find(request->print);
    made->n =
        made->ramp == WW_RAMP_VALUES || made->ramp == WW_RAMP_COLOURANTS ? WW_MATCH_CHANNELS : 1;
    made->absolute = request->absolute;
    made->lightness = !request->aim && !request->aim_curve;
    made->display = ww__match_display(request->print);
    made->above_white =
        ww__match_above_white(request, false) || ww__match_above_white(request, true);
    made->passes = request->n_refine;
    const ww_status status = make(request, made, err);
    if (status == WW_OK)
        *match = *made;
    else
        ww_match_release(made);
    free(made);
    return status;
}
