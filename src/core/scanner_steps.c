/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "scanner_steps.h"
#include "scanner.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double certified = 0.01;    /* D, 95 %, where a certificate gives no sd */
static const double nominal_thin = 0.01; /* D, 95 %, at the wedge's ends */
static const double nominal_dense = 0.10;
static const double clipped_most = 0.01;  /* share of a patch's pixels */
static const double apart = 0.05;         /* D; densities nearer say nothing about direction */
static const double falling_least = 0.75; /* share of pairs of steps */
static const double evenness = 5e-4;      /* of the light, from step to step */
static const double pi = 3.14159265358979324;

double ww__scanner_wedge_off(const ww__scanner_wedge *wedge, double density) {
    if (!wedge->nominal)
        return WW__SCANNER_95 * wedge->sd;
    const double range = wedge->dense - wedge->thin;
    const double along = range > 0.0 ? (density - wedge->thin) / range : 1.0;
    return nominal_thin + (nominal_dense - nominal_thin) * fmin(fmax(along, 0.0), 1.0);
}

double ww__scanner_steps_unrounded(double code, double sd) {
    const double part = code - floor(code);
    return sqrt(fmax(sd * sd - part * (1.0 - part), 0.0));
}

double ww__scanner_steps_code(double step, double white) {
    return white > 1.0 ? fmax(step, 1.0) : 0.0;
}

double ww__scanner_steps_mean_sd(double code, double sd, size_t n, double step, double white) {
    assert(white > 0.0);
    double variance = sd * sd / (double)(n > 0 ? n : 1) + pow(evenness * code, 2.0);
    const double one = ww__scanner_steps_code(step, white);
    if (one > 0.0) {
        const double noise = ww__scanner_steps_unrounded(code / one, sd / one);
        variance += one * one * exp(-4.0 * pi * pi * noise * noise) / 12.0;
    } else {
        variance += 1e-14;
    }
    return sqrt(variance) / white;
}

void ww__scanner_steps_release(ww__scanner_strips *strips) {
    if (!strips)
        return;
    for (size_t i = 0; i < strips->n; i++)
        free(strips->strip[i].row);
    *strips = (ww__scanner_strips)WW__SCANNER_STRIPS_INIT;
}

/* ----------------------------------------------------------------------------------- labels */

static size_t steps_of(const ww_readings *wedge) {
    size_t n = 0;
    for (size_t i = 0; i < wedge->n; i++)
        n += !wedge->row[i].is_base;
    return n;
}

static const ww_row *row_of(const ww_readings *wedge, const char *label) {
    for (size_t i = 0; i < wedge->n; i++)
        if (!wedge->row[i].is_base && strcmp(wedge->row[i].step, label) == 0)
            return &wedge->row[i];
    return NULL;
}

/* Replicates are pooled by now, so a label that comes twice stands on two different steps. */
static ww_status check_labels(const ww_measured *measured, const ww_readings *wedge,
                              ww_error *err) {
    const size_t steps = steps_of(wedge);
    for (size_t i = 0; i < measured->n; i++) {
        const char *label = measured->patch[i].step;
        if (!row_of(wedge, label))
            return ww_error_set_at(err, WW_EMISMATCH, measured->file, 0,
                                   "step '%.80s' of the scan is not in the wedge file%s%.200s; "
                                   "measure the scan with this wedge's own file",
                                   label, wedge->file ? " " : "", wedge->file ? wedge->file : "");
        for (size_t k = 0; k < i; k++)
            if (strcmp(measured->patch[k].step, label) == 0)
                return ww_error_set_at(err, WW_EMISMATCH, measured->file, 0,
                                       "step '%.80s' was read twice in the scan; give each step a "
                                       "label of its own",
                                       label);
    }
    if (measured->n != steps)
        return ww_error_set_at(err, WW_EMISMATCH, measured->file, 0,
                               "the scan has %zu steps where the wedge file has %zu; give the "
                               "wedge that was scanned, each label once",
                               measured->n, steps);
    return WW_OK;
}

/* ---------------------------------------------------------------------------------- columns */

static ww_status column_of(const ww_readings *wedge, ww_channel channel, ww_column *column,
                           ww_error *err) {
    ww_channel found = channel;
    if (!wedge->has[channel]) {
        found = WW_VISUAL;
        if (channel == WW_VISUAL &&
            ww_readings_black_and_white_channel(wedge, &found, NULL) != WW_OK)
            found = WW_VISUAL;
        if (!wedge->has[found])
            return ww_error_set_at(err, WW_ENODATA, wedge->file, 0,
                                   "the wedge has no density for %s; add a column %s, or visual "
                                   "for every channel",
                                   ww_channel_name(channel), ww_channel_name(channel));
    }
    *column = (ww_column)found;
    return WW_OK;
}

static void find_wedge(const ww_readings *pooled, ww__scanner_wedge *wedge) {
    const ww_meta *meta = &pooled->meta;
    wedge->nominal = !meta->wedge_sd.set && meta->wedge != WW_WEDGE_CERTIFIED;
    wedge->sd = meta->wedge_sd.set ? meta->wedge_sd.value : certified / WW__SCANNER_95;
    wedge->thin = HUGE_VAL;
    wedge->dense = -HUGE_VAL;
    for (size_t i = 0; i < pooled->n; i++)
        for (size_t c = 0; c < WW_CHANNEL_COUNT; c++) {
            const ww_cell *cell = &pooled->row[i].cell[c];
            if (cell->state != WW_CELL_VALUE || pooled->row[i].is_base)
                continue;
            wedge->thin = fmin(wedge->thin, cell->value);
            wedge->dense = fmax(wedge->dense, cell->value);
        }
}

/* ------------------------------------------------------------------------------------- rows */

static void fill_row(const ww_measured *measured, const ww_patch *patch, ww_channel channel,
                     const ww_cell *cell, const ww__scanner_wedge *wedge, ww__scanner_row *row) {
    const ww_patch_channel *p = &patch->channel[channel];
    const double repeats =
        cell->sd.set ? cell->sd.value / sqrt((double)(cell->n ? cell->n : 1)) : 0.0;
    const double own =
        wedge->nominal ? ww__scanner_wedge_off(wedge, cell->value) / WW__SCANNER_95 : wedge->sd;
    *row = (ww__scanner_row){
        .label = patch->step,
        .density = cell->value,
        .density_sd = hypot(own, repeats),
        .share = p->code / measured->white,
        .pixel_sd = p->sd / measured->white,
        .mean_sd = ww__scanner_steps_mean_sd(p->code, p->sd, patch->n, p->step, measured->white),
        .clipped = p->clipped > clipped_most || p->code <= 0.0 || p->code >= measured->white};
}

static ww_status check_fall(const ww_measured *measured, const ww__scanner_strip *strip,
                            ww_error *err) {
    size_t pairs = 0, falling = 0;
    for (size_t i = 0; i < strip->n; i++)
        for (size_t k = 0; k < i; k++) {
            const ww__scanner_row *a = &strip->row[i], *b = &strip->row[k];
            if (a->clipped || b->clipped || fabs(a->density - b->density) < apart)
                continue;
            pairs++;
            falling += (a->density > b->density) == (a->share < b->share);
        }
    if ((double)falling >= falling_least * (double)pairs)
        return WW_OK;
    return ww_error_set_at(err, WW_EMISMATCH, measured->file, 0,
                           "codes (%s) do not fall as the wedge grows denser: is the strip read "
                           "from its other end, or was the scan inverted? Scan as a positive, and "
                           "look at the order of the steps",
                           ww_channel_name(strip->channel));
}

static ww_status check_count(const ww_measured *measured, const ww__scanner_strip *strip,
                             ww_error *err) {
    size_t kept = 0;
    for (size_t i = 0; i < strip->n; i++)
        kept += !strip->row[i].clipped;
    if (kept >= WW__SCANNER_STEPS_LEAST)
        return WW_OK;
    return ww_error_set_at(err, WW_ENODATA, measured->file, 0,
                           "%zu of %zu steps (%s) are not clipped, and a calibration needs %d; "
                           "scan without clipping at either end, or take a wedge of more steps",
                           kept, strip->n, ww_channel_name(strip->channel),
                           WW__SCANNER_STEPS_LEAST);
}

static ww_status fill_strip(const ww_measured *measured, const ww_readings *wedge,
                            const ww__scanner_wedge *worth, ww__scanner_strip *strip,
                            ww_error *err) {
    strip->row = calloc(measured->n ? measured->n : 1, sizeof *strip->row);
    if (!strip->row)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu steps", measured->n);
    for (size_t i = 0; i < measured->n; i++) {
        const ww_cell *cell = &row_of(wedge, measured->patch[i].step)->cell[strip->column];
        const double step = ww__scanner_steps_code(measured->patch[i].channel[strip->channel].step,
                                                   measured->white);
        strip->step = fmax(strip->step, step / measured->white);
        if (cell->state == WW_CELL_VALUE)
            fill_row(measured, &measured->patch[i], strip->channel, cell, worth,
                     &strip->row[strip->n++]);
    }
    const ww_status status = check_count(measured, strip, err);
    return status == WW_OK ? check_fall(measured, strip, err) : status;
}

ww_status ww__scanner_steps_match(const ww_measured *measured, const ww_readings *wedge,
                                  ww__scanner_strips *strips, ww_error *err) {
    assert(measured && wedge && strips && measured->white > 0.0);
    ww__scanner_strips made = WW__SCANNER_STRIPS_INIT;
    ww_readings pooled = WW_READINGS_INIT;
    ww_status status = ww_readings_pool(wedge, &pooled, err);
    if (status == WW_OK)
        status = check_labels(measured, &pooled, err);
    if (status == WW_OK)
        find_wedge(&pooled, &made.wedge);
    for (size_t c = 0; c < WW_CHANNEL_COUNT && status == WW_OK; c++) {
        if (!measured->has[c])
            continue;
        ww__scanner_strip *strip = &made.strip[made.n];
        strip->channel = (ww_channel)c;
        status = column_of(&pooled, strip->channel, &strip->column, err);
        if (status == WW_OK) {
            made.n++;
            status = fill_strip(measured, &pooled, &made.wedge, strip, err);
        }
    }
    ww_readings_release(&pooled);
    if (status == WW_OK)
        *strips = made;
    else
        ww__scanner_steps_release(&made);
    return status;
}
