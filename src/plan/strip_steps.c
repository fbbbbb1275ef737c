/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/readings.h"
#include "plan/print_parts.h"
#include "plan/strip_parts.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/fit.h>

/* Resamples tell how far a white that was not read is to be trusted; nothing else needs theirs. */
enum { RESAMPLES = 200, RESAMPLES_LEAST = 20, STEPS_TO_FIT = 5 };

static ww_status check_kind(const ww_readings *readings, ww_error *err) {
    const ww_meta *meta = &readings->meta;
    const char *file = readings->file;
    if (meta->process == WW_PROCESS_REVERSAL)
        return ww_error_set_at(err, WW_EMISMATCH, file, 0,
                               "this is a strip of reversal paper, whose density falls with "
                               "exposure; give a strip of paper that prints negatives");
    if (meta->material == WW_MATERIAL_FILM || meta->material == WW_MATERIAL_NEGATIVE ||
        meta->material == WW_MATERIAL_WEDGE || meta->material == WW_MATERIAL_SCREEN)
        return ww_error_set_at(err, WW_EMISMATCH, file, 0,
                               "these are readings of a %s, not of a strip of paper; give the "
                               "densities of the strip",
                               ww_material_name(meta->material));
    if (meta->density == WW_DENSITY_TRANSMISSION)
        return ww_error_set_at(err, WW_EMISMATCH, file, 0,
                               "a strip of paper is read in reflection, and these are transmission "
                               "densities");
    if (readings->exposure == WW_EXPOSURE_TIME)
        return ww__print_readings_check_zero(readings, err);
    if (readings->exposure != WW_EXPOSURE_NONE)
        return ww_error_set_at(err, WW_ENODATA, file, 0,
                               "the strip has a column %s and no times; give the seconds of each "
                               "step in a column time",
                               ww_exposure_column_name(readings->exposure));
    return ww_error_set_at(err, WW_ENODATA, file, 0,
                           "the strip has no times; add a column time with all the seconds that "
                           "each step got (`strip plan` lists them as totals)");
}

static ww_status copy_label(const ww_row *row, ww_strip_step *step, ww_error *err) {
    char text[64];
    const char *label = row->step[0] ? row->step : row->tone;
    if (!label[0])
        label = ww__print_format(text, sizeof text, "%.6g s", row->exposure.value);
    step->step = malloc(strlen(label) + 1);
    if (!step->step)
        return ww_error_set(err, WW_EMEMORY, "no memory for a label");
    strcpy(step->step, label);
    return WW_OK;
}

static ww_status take_step(const ww_readings *pooled, const ww_row *row, ww_strip *strip,
                           ww_error *err) {
    const ww_cell *cell = &row->cell[strip->channel];
    const bool safelight = strip->kind == WW_STRIP_SAFELIGHT;
    ww_strip_step *step = &strip->step[strip->n_steps];
    const double time_s = row->exposure.set ? row->exposure.value : 0.0;
    const bool covered = safelight && (ww__readings_is_covered(row) || time_s == 0.0);
    char text[WW__PRINT_TEXT_SIZE];
    ww_status status = copy_label(row, step, err);
    if (status != WW_OK)
        return status;
    strip->n_steps++;
    if (covered ? time_s != 0.0 : !(time_s > 0.0))
        return ww_error_set_at(
            err, WW_EDOMAIN, pooled->file, row->line, "%s",
            ww__print_format(text, sizeof text,
                             covered ? "step '%s' was covered all the time, and has %g s; leave "
                                       "that out, or give it another label"
                                     : "step '%s' has a time of %g s; give the seconds that it "
                                       "got, above 0",
                             ww__print_show(step->step).text, time_s));
    step->time_s = time_s;
    step->covered = covered;
    step->state = cell->state;
    step->n = cell->n > 0 ? cell->n : 1;
    if (cell->state == WW_CELL_VALUE) {
        step->density = cell->value;
        step->error = ww_readings_error(cell);
    }
    return WW_OK;
}

static ww_status take_steps(const ww_readings *pooled, ww_strip *strip, ww_error *err) {
    size_t rows = 0, values = 0;
    ww_status status = WW_OK;
    for (size_t i = 0; i < pooled->n; i++)
        rows += !pooled->row[i].is_base;
    if (rows > WW_STRIP_STEPS_MOST)
        return ww_error_set_at(err, WW_EDOMAIN, pooled->file, 0,
                               "%zu steps are more than a strip has; give at most %d", rows,
                               (int)WW_STRIP_STEPS_MOST);
    strip->step = calloc(rows + 1, sizeof *strip->step);
    if (!strip->step)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu steps", rows);
    for (size_t i = 0; i < pooled->n && status == WW_OK; i++)
        if (!pooled->row[i].is_base &&
            pooled->row[i].cell[strip->channel].state != WW_CELL_MISSING) {
            status = take_step(pooled, &pooled->row[i], strip, err);
            values += pooled->row[i].cell[strip->channel].state == WW_CELL_VALUE;
        }
    if (status == WW_OK && values == 0)
        return ww_error_set_at(err, WW_ENODATA, pooled->file, 0,
                               "no step of the strip was read; give their densities");
    return status;
}

/* --- paper white ------------------------------------------------------------------------------ */

static void base_white(const ww_readings *pooled, ww_strip *strip) {
    const ww_relative relative = pooled->meta.relative;
    strip->white.set = relative == WW_RELATIVE_WHITE || relative == WW_RELATIVE_BASE;
    for (size_t i = 0; i < pooled->n && !strip->white.set; i++) {
        const ww_cell *cell = &pooled->row[i].cell[strip->channel];
        if (!pooled->row[i].is_base || cell->state != WW_CELL_VALUE)
            continue;
        strip->white = (ww_optional){true, cell->value};
        strip->white_error = ww_readings_error(cell);
    }
}

/* The curve of the steps themselves: for paper white where it was not read, and for slips. */
static ww_status fit_steps(ww_readings *pooled, bool white_is_known, ww_curve *curve,
                           ww_error *err) {
    ww_fit_options options = WW_FIT_OPTIONS_INIT;
    const ww_material given = pooled->meta.material;
    ww_status status;
    options.resamples = white_is_known ? RESAMPLES_LEAST : RESAMPLES;
    pooled->meta.material = WW_MATERIAL_PAPER;
    status = ww_fit_readings(pooled, &options, curve, err);
    pooled->meta.material = given;
    return status;
}

static ww_status mark_suspects(const ww_channel_curve *curve, ww_strip *strip, ww_error *err) {
    for (size_t i = 0; i < curve->n_suspects; i++) {
        const ww_curve_point *point = &curve->point[curve->suspect[i].point];
        for (size_t k = 0; k < strip->n_steps; k++) {
            ww_strip_step *step = &strip->step[k];
            ww_status status;
            if (step->state != WW_CELL_VALUE || step->suspect ||
                fabs(log10(step->time_s) - point->log_h) > 1e-9 ||
                fabs(step->density - point->density) > 1e-9)
                continue;
            step->suspect = true;
            status = ww__print_say(
                &strip->notes, err,
                "Step '%s' lies %.2f D %s the curve of the others: read it again, above all where "
                "the time hangs on it.",
                ww__print_show(step->step).text, fabs(curve->suspect[i].residual),
                curve->suspect[i].residual > 0.0 ? "over" : "under");
            if (status != WW_OK)
                return status;
        }
    }
    return WW_OK;
}

/* Suspects are found on densities as they were read; white is taken off afterwards. */
static ww_status learn_from_curve(ww_readings *pooled, ww_strip *strip, ww_error *err) {
    ww_curve curve = WW_CURVE_INIT;
    ww_error why = WW_ERROR_INIT;
    ww_status status = fit_steps(pooled, strip->white.set, &curve, &why);
    const ww_channel_curve *channel = &curve.channel[strip->channel];
    if (status == WW_EMEMORY)
        return ww_error_set(err, WW_EMEMORY, "%s", why.msg);
    if (status == WW_OK && channel->fitted) {
        const ww_quantity white = channel->figure[WW_FIGURE_BASE_FOG];
        const double half = 0.5 * (white.high - white.low);
        if (!strip->white.set && ww_quantity_present(white) && half <= WW__STRIP_WHITE_TRUST) {
            strip->white = (ww_optional){true, white.value};
            strip->white_error = half / WW__STRIP_95;
            strip->white_fitted = true;
        }
        status = mark_suspects(channel, strip, err);
    } else {
        status = WW_OK;
    }
    ww_curve_release(&curve);
    return status;
}

/* Nothing on paper is lighter than its white: one of the two was misread or mistyped. */
static ww_status check_white(const ww_strip *strip, const char *file, ww_error *err) {
    char text[WW__PRINT_TEXT_SIZE];
    for (size_t i = 0; i < strip->n_steps && strip->white.set; i++) {
        const ww_strip_step *step = &strip->step[i];
        const double doubt =
            fmax(WW__STRIP_UNDER_WHITE, 4.0 * hypot(step->error, strip->white_error));
        if (step->state == WW_CELL_VALUE && step->density < strip->white.value - doubt)
            return ww_error_set_at(
                err, WW_EMISMATCH, file, 0, "%s",
                ww__print_format(text, sizeof text,
                                 "step '%s' reads %.2f, lighter than the paper's white, %.2f, "
                                 "which nothing on paper is; read both again and correct the row",
                                 ww__print_show(step->step).text, step->density,
                                 strip->white.value));
    }
    return WW_OK;
}

static ww_status find_white(ww_readings *pooled, bool needed, ww_strip *strip, ww_error *err) {
    size_t values = 0;
    ww_status status = WW_OK;
    base_white(pooled, strip);
    status = check_white(strip, pooled->file, err);
    if (status != WW_OK)
        return status;
    for (size_t i = 0; i < strip->n_steps; i++)
        values += strip->step[i].state == WW_CELL_VALUE;
    if (values >= STEPS_TO_FIT && strip->kind != WW_STRIP_SAFELIGHT)
        status = learn_from_curve(pooled, strip, err);
    if (status == WW_OK && needed && !strip->white.set)
        return ww_error_set_at(err, WW_ENODATA, pooled->file, 0,
                               "paper white is not known, and the aim is above it; add a row base "
                               "with the density of an unexposed, processed piece of this paper");
    for (size_t i = 0; i < strip->n_steps && strip->white.set; i++)
        strip->step[i].density -= strip->white.value;
    if (status == WW_OK && strip->white_fitted)
        status = ww__print_say(&strip->notes, err,
                               "Paper white was not read; %.2f is taken, where the steps' own "
                               "curve begins (+-%.2f). A row base settles it.",
                               strip->white.value, WW__STRIP_95 * strip->white_error);
    return status;
}

static ww_status note_reading(const ww_readings *pooled, ww_strip *strip, ww_error *err) {
    size_t over = 0;
    ww_status status = WW_OK;
    for (size_t i = 0; i < strip->n_steps; i++)
        over += strip->step[i].state == WW_CELL_OVER;
    if (over > 0)
        status = ww_notes_add(&strip->notes, err,
                              "%zu step%s beyond the instrument and could not be used.", over,
                              over == 1 ? " lies" : "s lie");
    if (status == WW_OK && pooled->meta.read == WW_READ_WET)
        status = ww_notes_add(&strip->notes, err,
                              "The strip was read wet. It darkens as it dries: read it dry, or "
                              "take off what your own pair of readings says.");
    return status;
}

ww_status ww__strip_steps_read(const ww_readings *readings, bool white_needed, ww_strip *strip,
                               ww_error *err) {
    ww_readings pooled = WW_READINGS_INIT;
    ww_status status = check_kind(readings, err);
    assert(!strip->step);
    if (status == WW_OK)
        status = ww_readings_black_and_white_channel(readings, &strip->channel, err);
    if (status == WW_OK)
        status = ww_readings_pool(readings, &pooled, err);
    if (status == WW_OK)
        status = ww_notes_copy(&pooled.notes, &strip->notes, err);
    if (status == WW_OK)
        status = take_steps(&pooled, strip, err);
    if (status == WW_OK && strip->kind != WW_STRIP_SAFELIGHT)
        status = ww__strip_added_check(strip, pooled.file, err);
    if (status == WW_OK)
        status = find_white(&pooled, white_needed, strip, err);
    if (status == WW_OK)
        status = note_reading(&pooled, strip, err);
    ww_readings_release(&pooled);
    return status;
}
