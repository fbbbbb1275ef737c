/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <wedgework/fit.h>

#include "channel.h"
#include "channel_notes.h"
#include "interval.h"
#include "origin.h"
#include "outcome.h"
#include "over.h"
#include "points.h"
#include "repeats.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static const size_t labels_most = 2000;
static const double log_h0_most = 20.0; /* log H: from single photons to beyond the sun */

/* Samples of every channel side by side, as speed and crossover combine them. */
typedef struct samples {
    ww__resampled *of[WW_CHANNEL_COUNT];
    size_t n;
} samples;

static bool is_paper(const ww_meta *meta) {
    switch (meta->material) {
    case WW_MATERIAL_PAPER:
    case WW_MATERIAL_PRINT:
    case WW_MATERIAL_STRIP:
        return true;
    case WW_MATERIAL_UNKNOWN:
        return meta->density == WW_DENSITY_REFLECTION;
    default:
        return false;
    }
}

static ww_figure_rules rules_of(const ww_meta *meta) {
    return (ww_figure_rules){.paper = is_paper(meta),
                             .reversal = meta->process == WW_PROCESS_REVERSAL,
                             .emulsion = meta->emulsion,
                             .exposure_unit = meta->exposure_unit};
}

static void channel_shapes(const ww_curve *curve, ww_channel_shape shape[WW_CHANNEL_COUNT]) {
    for (size_t c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_channel_curve *k = &curve->channel[c];
        shape[c] = (ww_channel_shape){.shape = k->fitted ? &k->shape : NULL};
        if (!k->fitted)
            continue;
        shape[c].low = k->domain_low;
        shape[c].high = k->domain_high;
        shape[c].base_fog = k->figure[WW_FIGURE_BASE_FOG].value;
        shape[c].speed_point = (ww_optional){ww_quantity_present(k->figure[WW_FIGURE_SPEED_POINT]),
                                             k->figure[WW_FIGURE_SPEED_POINT].value};
    }
}

/* The same of resample b; false where one of the channels has none. */
static bool sample_shapes(const samples *s, size_t b, const ww_channel_shape central[],
                          ww_channel_shape shape[WW_CHANNEL_COUNT]) {
    for (size_t c = 0; c < WW_CHANNEL_COUNT; c++) {
        shape[c] = central[c];
        if (!central[c].shape)
            continue;
        const ww__resampled *sample = &s->of[c][b];
        if (!sample->good)
            return false;
        shape[c].shape = &sample->shape;
        shape[c].base_fog = sample->base_fog;
        shape[c].speed_point = (ww_optional){false, 0.0};
    }
    return true;
}

/* Where the figures of a speed are speed points, their own samples (departures from the model
 * included) give it; else the resampled shapes do. */
static bool sample_speed(const ww_curve *curve, const samples *s, size_t b, ww_channel lead,
                         const ww_speed_rules *rules, const ww_channel_shape central[],
                         double *exact) {
    const ww__resampled *one = &s->of[lead][b];
    if (curve->speed.standard == WW_SPEED_ISO_2240) {
        ww_channel_shape shape[WW_CHANNEL_COUNT];
        ww_speed speed = WW_SPEED_INIT;
        const char *reason;
        if (!sample_shapes(s, b, central, shape))
            return false;
        ww_speed_from_shapes(shape, rules, &speed, &reason);
        if (speed.standard == WW_SPEED_NONE)
            return false;
        *exact = speed.exact.value * pow(10.0, -one->log_h_error);
        return true;
    }
    if (!one->good || !one->present[WW_FIGURE_SPEED_POINT])
        return false;
    const double log_h = one->figure[WW_FIGURE_SPEED_POINT];
    if (curve->speed.standard != WW_SPEED_ISO_5800)
        return ww_speed_black_and_white(pow(10.0, log_h), exact, NULL) == WW_OK;

    double slowest = -HUGE_VAL;
    for (size_t c = 0; c < WW_VISUAL; c++) {
        const ww__resampled *other = &s->of[c][b];
        if (!other->good || !other->present[WW_FIGURE_SPEED_POINT])
            return false;
        slowest = fmax(slowest, other->figure[WW_FIGURE_SPEED_POINT]);
    }
    return ww_speed_colour_negative(log_h, slowest, exact, NULL) == WW_OK;
}

/* ISO 6 means visual density; what stands in for it is said. */
static ww_status note_judged_by(ww_curve *curve, ww_channel by, ww_error *err) {
    const ww_speed_standard standard = curve->speed.standard;
    if (by == WW_VISUAL || (standard != WW_SPEED_ISO_6 && standard != WW_SPEED_EXPOSURE_INDEX))
        return WW_OK;
    return ww_notes_add(
        &curve->notes, err,
        "black-and-white film read without visual density: the speed is that of "
        "%s%s",
        ww_channel_name(by),
        curve->meta.grain == WW_GRAIN_STAINED && by == WW_BLUE ? ", as the grain is stained" : "");
}

static ww_status find_speed(ww_curve *curve, const samples *s, ww_error *err) {
    const ww_meta *meta = &curve->meta;
    ww_speed_rules rules = {.paper = is_paper(meta),
                            .reversal = meta->process == WW_PROCESS_REVERSAL,
                            .emulsion = meta->emulsion,
                            .exposure_unit = meta->exposure_unit,
                            .status = meta->status};
    if (ww_curve_black_and_white_channel(curve, &rules.black_and_white, NULL) != WW_OK)
        rules.black_and_white = meta->grain == WW_GRAIN_STAINED ? WW_BLUE : WW_GREEN; /* missing */
    ww_channel_shape central[WW_CHANNEL_COUNT];
    channel_shapes(curve, central);
    const char *reason = NULL;
    ww_speed_from_shapes(central, &rules, &curve->speed, &reason);
    ww_status status = WW_OK;
    if (reason && !rules.paper)
        status = ww_notes_add(&curve->notes, err, "%s%s",
                              curve->speed.standard == WW_SPEED_NONE ? "" : "speed: ", reason);
    if (status == WW_OK)
        status = note_judged_by(curve, rules.black_and_white, err);
    if (status != WW_OK || curve->speed.standard == WW_SPEED_NONE)
        return status;

    const ww_channel lead = curve->speed.standard == WW_SPEED_ISO_5800   ? WW_GREEN
                            : curve->speed.standard == WW_SPEED_ISO_2240 ? WW_VISUAL
                                                                         : rules.black_and_white;
    double *value = malloc((s->n ? s->n : 1) * sizeof *value);
    if (!value)
        return ww_error_set(err, WW_EMEMORY, "no memory for the intervals");
    size_t have = 0, under = 0;
    for (size_t b = 0; b < s->n; b++) {
        if (!sample_speed(curve, s, b, lead, &rules, central, &value[have]))
            continue;
        /* Less exposure at the speed point is more speed. */
        under += !s->of[lead][b].under[WW_FIGURE_SPEED_POINT];
        have++;
    }
    double low, high;
    if (ww__interval_of(value, have, under, &low, &high, NULL) == WW_OK) {
        curve->speed.exact.low = fmin(low, curve->speed.exact.value);
        curve->speed.exact.high = fmax(high, curve->speed.exact.value);
    }
    free(value);
    return WW_OK;
}

static ww_status find_crossover(ww_curve *curve, const samples *s, ww_error *err) {
    const ww_figure_rules rules = rules_of(&curve->meta);
    ww_channel_shape central[WW_CHANNEL_COUNT];
    channel_shapes(curve, central);
    if (!central[WW_GREEN].shape || (!central[WW_RED].shape && !central[WW_BLUE].shape))
        return WW_OK; /* not a colour set */
    ww_error why = WW_ERROR_INIT;
    if (ww_crossover_compute(central, &rules, &curve->crossover, &why) != WW_OK)
        return ww_notes_add(&curve->notes, err, "no crossover: %s", why.msg);

    double *value = malloc((s->n ? s->n : 1) * sizeof *value);
    if (!value)
        return ww_error_set(err, WW_EMEMORY, "no memory for the intervals");
    size_t have = 0, under = 0;
    for (size_t b = 0; b < s->n; b++) {
        ww_channel_shape shape[WW_CHANNEL_COUNT];
        if (!sample_shapes(s, b, central, shape) ||
            ww_crossover_at(shape, &rules, &curve->crossover, &value[have], NULL) != WW_OK)
            continue;
        under += value[have] < curve->crossover.worst_cc.value;
        have++;
    }
    double low, high;
    if (ww__interval_of(value, have, under, &low, &high, NULL) == WW_OK)
        ww_crossover_judge(&curve->crossover, fmin(low, curve->crossover.worst_cc.value),
                           fmax(high, curve->crossover.worst_cc.value));
    free(value);
    return WW_OK;
}

/* ------------------------------------------------------------------------------ channels */

static ww_status fit_channels(const ww_readings *pooled, const ww_fit_options *options,
                              ww_curve *curve, samples *s, ww_error *err) {
    const ww_figure_rules rules = rules_of(&pooled->meta);
    for (size_t c = 0; c < WW_CHANNEL_COUNT; c++) {
        if (!pooled->has[c])
            continue;
        s->of[c] = calloc(s->n ? s->n : 1, sizeof *s->of[c]);
        if (!s->of[c])
            return ww_error_set(err, WW_EMEMORY, "no memory for %zu resamples", s->n);
        const ww__channel_job job = {.readings = pooled,
                                     .channel = (ww_channel)c,
                                     .rules = &rules,
                                     .options = options,
                                     .curve = &curve->channel[c],
                                     .sample = s->of[c],
                                     .notes = &curve->notes};
        ww_status status = ww__channel_fit(&job, err);
        if (status == WW_OK)
            status = ww__points_mark_moved(pooled, (ww_channel)c, curve->channel[c].point, err);
        if (status != WW_OK)
            return status;
    }
    return WW_OK;
}

/* A label that stands at two exposures is a typing slip in one of them, and which is not said. */
static ww_status note_labels(const ww_readings *pooled, ww_notes *notes, ww_error *err) {
    if (pooled->n > labels_most)
        return WW_OK; /* no channel takes as many */
    for (size_t i = 0; i < pooled->n; i++) {
        const ww_row *a = &pooled->row[i];
        for (size_t k = 0; k < i && a->step[0] && a->exposure.set; k++) {
            const ww_row *b = &pooled->row[k];
            if (!b->exposure.set || strcmp(a->step, b->step) != 0 ||
                a->exposure.value == b->exposure.value)
                continue;
            const ww_status status = ww_notes_add(
                notes, err,
                "step %s stands at two exposures (%s %g and %g): both are used as they stand; "
                "check the label and the exposure",
                a->step, ww_exposure_column_name(pooled->exposure), b->exposure.value,
                a->exposure.value);
            if (status != WW_OK)
                return status;
            break;
        }
    }
    return WW_OK;
}

/* Figures and speeds of a print are others than a film's. */
static ww_status note_material(ww_curve *curve, ww_error *err) {
    const ww_meta *meta = &curve->meta;
    const ww_density_status s = meta->status;
    const bool of_prints =
        s == WW_STATUS_A || s == WW_STATUS_T || s == WW_STATUS_E || s == WW_STATUS_VISUAL;
    if (meta->material != WW_MATERIAL_UNKNOWN || meta->density != WW_DENSITY_UNKNOWN ||
        meta->emulsion != WW_EMULSION_UNKNOWN || !of_prints)
        return WW_OK;
    return ww_notes_add(&curve->notes, err,
                        "prints are read in status %s as well as films, and nothing says what this "
                        "is: it is taken for a film; for paper add a line '# material: paper'",
                        ww_density_status_name(s));
}

static ww_status fit_pooled(ww_readings *pooled, const ww_fit_options *options, ww_curve *curve,
                            ww_error *err) {
    samples s = {.n = options->resamples};
    curve->exposure = pooled->exposure;
    ww_status status = ww_meta_copy(&pooled->meta, &curve->meta, err);
    if (status == WW_OK)
        status = ww_notes_copy(&pooled->notes, &curve->notes, err);
    if (status == WW_OK)
        status = ww__origin_note(curve, err);
    if (status == WW_OK)
        status = note_material(curve, err);
    if (status == WW_OK)
        status = note_labels(pooled, &curve->notes, err);
    if (status == WW_OK)
        status = ww__repeats_note(pooled, &curve->notes, err);
    if (status == WW_OK)
        status = ww__over_check(pooled, &curve->notes, err);
    if (status == WW_OK)
        status = fit_channels(pooled, options, curve, &s, err);
    if (status == WW_OK)
        status = find_speed(curve, &s, err);
    if (status == WW_OK)
        status = find_crossover(curve, &s, err);
    if (status == WW_OK)
        status = ww__channel_notes_merge(&curve->notes, err);
    if (status == WW_OK)
        status = ww__outcome_check(pooled, curve, err);
    for (size_t c = 0; c < WW_CHANNEL_COUNT; c++)
        free(s.of[c]);
    return status;
}

ww_status ww_fit_readings(const ww_readings *readings, const ww_fit_options *options,
                          ww_curve *curve, ww_error *err) {
    static const ww_fit_options defaults = WW_FIT_OPTIONS_INIT;
    assert(readings && curve);
    if (!options)
        options = &defaults;
    if (readings->exposure == WW_EXPOSURE_NONE)
        return ww_error_set_at(err, WW_ENODATA, readings->file, 0,
                               "no exposure column; give one of wedge, logh, stop or time, or name "
                               "the wedge with --through");
    if (options->log_h0.set && !(fabs(options->log_h0.value) <= log_h0_most))
        return ww_error_set(err, WW_EDOMAIN, "log h0 %g is beyond any exposure; give -%g to %g",
                            options->log_h0.value, log_h0_most, log_h0_most);
    ww_readings pooled = WW_READINGS_INIT;
    ww_status status = ww_readings_pool(readings, &pooled, err);
    if (status != WW_OK)
        return status;
    if (options->log_h0.set)
        pooled.meta.log_h0 = options->log_h0;
    ww_curve made = WW_CURVE_INIT;
    status = fit_pooled(&pooled, options, &made, err);
    const bool input = status == WW_EMISMATCH || status == WW_EDOMAIN;
    if (input && err && !err->file[0] && readings->file) {
        const ww_error why = *err; /* which file of several it was */
        ww_error_set_at(err, why.code, readings->file, 0, "%s", why.msg);
    }
    ww_readings_release(&pooled);
    if (status != WW_OK) {
        ww_curve_release(&made);
        return status;
    }
    *curve = made;
    return WW_OK;
}
