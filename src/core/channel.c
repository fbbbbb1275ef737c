/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "channel.h"
#include "accused.h"
#include "base_check.h"
#include "bend.h"
#include "choice.h"
#include "fittable.h"
#include "model.h"
#include "points.h"
#include "suspect.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double toe_share = 0.5; /* of gamma: the slope at the first step once the toe shows */
static const double least_base = 0.005; /* D: what rounds to 0.00 is no base */
static const double few_samples = 0.5;  /* of the resamples: under that, an interval is doubtful */

/* Everything between the points and the curve, released in one place. */
typedef struct work {
    const ww__channel_job *job;
    ww__points points;
    ww__series series;
    ww__choice choice;
    ww__findings findings;
    bool base_left_out;
    const char *of; /* " (red)" where there are several channels, for notes */
    char of_text[16];
} work;

/* --------------------------------------------------------------------- curve and figures */

static ww_status name_suspects(work *w, ww_error *err) {
    const ww__shape_fit *fit = &w->choice.candidate[w->choice.best].fit;
    const ww__accused accused = {.findings = &w->findings,
                                 .series = &w->series,
                                 .shape = &fit->shape,
                                 .residual_sd = fit->residual_sd,
                                 .transmission =
                                     w->job->readings->meta.density == WW_DENSITY_TRANSMISSION,
                                 .of = w->of,
                                 .points = &w->points,
                                 .curve = w->job->curve,
                                 .notes = w->job->notes};
    return ww__accused_name(&accused, err);
}

/* Covariance of the natural parameters: of the working ones, by dp = p dw where p = e^w. */
static ww_status take_shape(const work *w, ww_error *err) {
    const ww__shape_fit *fit = &w->choice.candidate[w->choice.best].fit;
    ww_channel_curve *c = w->job->curve;
    const size_t n = fit->shape.n;
    c->covariance = malloc(n * n * sizeof *c->covariance);
    if (!c->covariance)
        return ww_error_set(err, WW_EMEMORY, "no memory for a curve");
    for (size_t a = 0; a < n; a++) {
        for (size_t b = 0; b < n; b++) {
            const double by_a = ww__model_positive(&fit->shape, a) ? fit->shape.parameter[a] : 1.0;
            const double by_b = ww__model_positive(&fit->shape, b) ? fit->shape.parameter[b] : 1.0;
            c->covariance[a * n + b] =
                fit->residual_sd * fit->residual_sd * fit->unscaled[a * n + b] * by_a * by_b;
        }
    }
    c->shape = fit->shape;
    c->residual_sd = fit->residual_sd;
    double squares = 0.0, low = HUGE_VAL, high = -HUGE_VAL;
    size_t counted = 0;
    for (size_t i = 0; i < w->series.n; i++) {
        low = fmin(low, w->series.u[i]);
        high = fmax(high, w->series.u[i]);
        if (!(w->series.weight[i] > 0.0))
            continue;
        const double miss =
            ww__points_departure(&w->points, ww__points_index(&w->points, i), &fit->shape);
        squares += miss * miss;
        counted++;
    }
    c->residual_rms = counted ? sqrt(squares / (double)counted) : 0.0;
    c->domain_low = fit->shape.falling ? -high : low;
    c->domain_high = fit->shape.falling ? -low : high;
    c->fitted = true;
    return WW_OK;
}

static double base_of(const work *w) {
    return w->series.has_base ? w->series.base : w->job->curve->shape.parameter[0];
}

/* Base+fog without a base reading stands only where the toe shows it. */
static bool base_is_seen(const work *w) {
    const ww_channel_curve *c = w->job->curve;
    double slope;
    (void)ww_model_density(&c->shape, c->shape.falling ? c->domain_high : c->domain_low, &slope);
    return c->construction.how[WW_FIGURE_GAMMA] != WW_ABSENT &&
           fabs(slope) <= toe_share * c->construction.value[WW_FIGURE_GAMMA];
}

static ww_status note_base(const work *w, bool seen, ww_error *err) {
    const char *heading = ww_figure_heading(WW_FIGURE_BASE_FOG, w->job->rules->paper);
    if (w->series.has_base || (w->base_left_out && seen))
        return WW_OK;
    if (w->job->rules->reversal && seen)
        return ww_notes_add(w->job->notes, err,
                            "no reading of D-min%s: %s is the fitted asymptote of the toe; read a "
                            "fully exposed, processed piece",
                            w->of, heading);
    if (seen)
        return ww_notes_add(w->job->notes, err,
                            "no base row%s: %s is the fitted asymptote of the toe; read a "
                            "processed, unexposed piece and give it as step 'base'",
                            w->of, heading);
    return ww_notes_add(w->job->notes, err,
                        "no base row%s, and the first step is not on the toe: %s is extrapolated "
                        "and with it every figure above it; read a processed, unexposed piece and "
                        "give it as step 'base'",
                        w->of, heading);
}

static ww_how how_of(const work *w, ww_figure f, bool seen) {
    const ww_how how = w->job->curve->construction.how[f];
    const bool free_of_base =
        f == WW_FIGURE_GAMMA || f == WW_FIGURE_DMAX || f == WW_FIGURE_SHOULDER;
    if (how == WW_ABSENT || w->series.has_base)
        return f == WW_FIGURE_BASE_FOG && how != WW_ABSENT ? WW_MEASURED : how;
    return seen || free_of_base ? how : WW_EXTRAPOLATED;
}

static ww_status take_figure(const work *w, ww_figure f, bool seen, ww_error *err) {
    ww_channel_curve *c = w->job->curve;
    const ww_how how = how_of(w, f, seen);
    const char *heading = ww_figure_heading(f, w->job->rules->paper);
    const char *reason = ww_figure_applies(f, w->job->rules) ? c->construction.reason[f] : NULL;
    const char *no = how == WW_ABSENT ? "no " : "";
    ww_status status = WW_OK;
    if (reason)
        status = ww_notes_add(w->job->notes, err, "%s%s%s: %s", no, heading, w->of, reason);
    if (how == WW_ABSENT || status != WW_OK)
        return status;
    const double value = c->construction.value[f];
    c->figure[f] = (ww_quantity){value, value, value, how};
    const size_t n = w->job->options->resamples;
    status = ww__resample_figure(w->job->sample, n, f, &c->figure[f], NULL);
    if (status == WW_EMEMORY)
        return ww_error_set(err, WW_EMEMORY, "no memory for the intervals");
    size_t have = 0;
    for (size_t b = 0; b < n; b++)
        have += w->job->sample[b].good && w->job->sample[b].present[f];
    if (status == WW_OK && (double)have >= few_samples * (double)n)
        return WW_OK;
    return ww_notes_add(w->job->notes, err,
                        "the interval of %s%s rests on %zu of %zu resamples, the others did not "
                        "reach it; take it for a lower limit of the doubt",
                        heading, w->of, have, n);
}

static ww_status take_figures(const work *w, ww_error *err) {
    ww_channel_curve *c = w->job->curve;
    const ww__channel_job *job = w->job;
    ww_figure_rules rules = *job->rules;
    rules.bends = ww__bend_found(&w->series, &c->shape);
    ww_status status = ww_figure_compute(&c->shape, c->domain_low, c->domain_high, base_of(w),
                                         &rules, &c->construction, err);
    if (status != WW_OK)
        return status;
    const ww__resample_request request = {.series = &w->series,
                                          .candidate = w->choice.candidate,
                                          .n_candidates = w->choice.n,
                                          .base_fog = base_of(w),
                                          .low = c->domain_low,
                                          .high = c->domain_high,
                                          .rules = &rules,
                                          .log_h0_sd = job->readings->meta.log_h0_sd,
                                          .wedge_sd = job->readings->meta.wedge_sd,
                                          .resamples = job->options->resamples,
                                          .threads = job->options->threads,
                                          .seed = job->options->seed,
                                          .channel = (unsigned)job->channel};
    status = ww__resample_run(&request, job->sample, err);
    const bool seen = status == WW_OK && base_is_seen(w);
    if (status == WW_OK)
        status = note_base(w, seen, err);
    for (size_t f = 0; f < WW_FIGURE_COUNT && status == WW_OK; f++)
        status = take_figure(w, (ww_figure)f, seen, err);
    return status;
}

/* -------------------------------------------------------------------------------- in all */

static ww_status note_points(const work *w, size_t cut, ww_error *err) {
    size_t over = 0;
    for (size_t i = 0; i < w->points.n; i++)
        over += w->points.point[i].state == WW_CELL_OVER;
    ww_status status = WW_OK;
    if (over)
        status =
            ww_notes_add(w->job->notes, err,
                         "%zu step%s%s beyond the instrument: not fitted; the curve ends at the "
                         "last step that was read",
                         over, over == 1 ? "" : "s", w->of);
    if (cut && status == WW_OK)
        status =
            ww_notes_add(w->job->notes, err,
                         "density%s really falls again over the last %zu steps (solarisation, "
                         "or development gone wrong): the curve is cut at its greatest density",
                         w->of, cut);
    return status;
}

/* Without a curve, the base is still known where it was read. */
static void take_base_alone(const work *w) {
    if (!w->points.has_base)
        return;
    const double half = w->points.base_sd.set
                            ? 1.96 * w->points.base_sd.value / sqrt((double)w->points.base_n)
                            : 0.0;
    w->job->curve->figure[WW_FIGURE_BASE_FOG] =
        (ww_quantity){w->points.base, w->points.base - half, w->points.base + half, WW_MEASURED};
}

/* A base that contradicts the steps would bend every figure: it is named and left out. */
static ww_status check_base(work *w, bool falling, const ww_model_kind *only, ww_error *err) {
    ww__base_verdict verdict;
    double expected;
    const ww_status status = ww__base_check(&w->series, falling, only, &verdict, &expected, err);
    if (status != WW_OK || verdict == WW__BASE_FITS)
        return status;
    const double base = w->series.base;
    const char *heading = ww_figure_heading(WW_FIGURE_BASE_FOG, w->job->rules->paper);
    w->base_left_out = true;
    w->series.has_base = false;
    w->series.base_weight = 0.0;
    if (verdict == WW__BASE_UNEXPOSED)
        return ww_notes_add(w->job->notes, err,
                            "the base row%s reads %.2f: on reversal material an unexposed piece is "
                            "the densest, so it says nothing of %s, which is taken from the curve; "
                            "a fully exposed, processed piece would give it",
                            w->of, base, heading);
    return ww_notes_add(w->job->notes, err,
                        "the base row%s reads %.2f, and the steps ask for about %.2f: it does not "
                        "move the result, and %s is taken from the curve; read the base again",
                        w->of, base, expected, heading);
}

/* No base is as clear as nothing: then the zero is the base's own, and densities above it are taken
 * for absolute ones. */
static ww_status check_zero(const work *w, ww_error *err) {
    const ww_relative relative = w->job->readings->meta.relative;
    if (!w->points.has_base || w->points.base >= least_base ||
        (relative != WW_RELATIVE_ABSOLUTE && relative != WW_RELATIVE_UNKNOWN))
        return WW_OK;
    const bool paper = w->job->rules->paper;
    return ww_notes_add(w->job->notes, err,
                        "the base row%s reads %.2f, which no %s does; if the instrument was set to "
                        "zero on it, write '# relative to: %s', else set its zero on %s and read "
                        "all again",
                        w->of, w->points.base, paper ? "paper" : "film", paper ? "white" : "base",
                        paper ? "its white standard" : "no film");
}

/* Suspects are looked for among the steps alone: a base that is off must not accuse them, nor a
 * slip the base. */
static ww_status find_suspects(work *w, bool falling, const ww_model_kind *only, ww_error *err) {
    const bool has_base = w->series.has_base;
    const double base_weight = w->series.base_weight;
    w->series.has_base = false;
    w->series.base_weight = 0.0;
    ww_status status = ww__choice_make(&w->series, falling, only, &w->choice, err);
    if (status == WW_OK)
        status = ww__suspect_find(&w->series, falling, only, true, &w->choice, &w->findings, err);
    w->series.has_base = has_base;
    w->series.base_weight = base_weight;
    /* Five steps may need their base to carry a curve at all: then nothing is accused. */
    return has_base && (status == WW_ENODATA || status == WW_ECONVERGE) ? WW_OK : status;
}

static ww_status fit_points(work *w, ww_error *err) {
    const ww__channel_job *job = w->job;
    const bool falling = job->rules->reversal;
    const ww_model_kind *only = job->options->model_given ? &job->options->model : NULL;
    const size_t cut = ww__points_cut_fall(&w->points, falling);
    ww_status status = note_points(w, cut, err);
    if (status == WW_OK)
        status = ww__points_series(&w->points, falling, &w->series, err);
    bool can = false;
    if (status == WW_OK)
        status = ww__fittable(&w->series, job->rules, w->of, job->notes, &can, err);
    if (status != WW_OK || !can) {
        take_base_alone(w);
        return status;
    }
    status = find_suspects(w, falling, only, err);
    if (status == WW_OK)
        status = check_zero(w, err);
    if (status == WW_OK)
        status = check_base(w, falling, only, err);
    if (status == WW_OK)
        status = ww__choice_make(&w->series, falling, only, &w->choice, err);
    if (status == WW_ENODATA || status == WW_ECONVERGE) {
        take_base_alone(w);
        return ww_notes_add(job->notes, err, "no curve%s: %s", w->of,
                            err && err->msg[0] ? err->msg : "no model settles on these readings");
    }
    if (status == WW_OK)
        status = name_suspects(w, err);
    if (status == WW_OK)
        status = take_shape(w, err);
    if (status == WW_OK)
        status = take_figures(w, err);
    return status;
}

static size_t density_columns(const ww_readings *readings) {
    size_t n = 0;
    for (size_t c = 0; c < WW_CHANNEL_COUNT; c++)
        n += readings->has[c];
    return n;
}

ww_status ww__channel_fit(const ww__channel_job *job, ww_error *err) {
    assert(job && job->curve && job->notes);
    work w = {.job = job, .points = WW__POINTS_INIT, .series = WW__SERIES_INIT, .of = ""};
    if (density_columns(job->readings) > 1) {
        snprintf(w.of_text, sizeof w.of_text, " (%s)", ww_channel_name(job->channel));
        w.of = w.of_text;
    }
    ww_status status = ww__points_take(job->readings, job->channel, &w.points, err);
    if (status == WW_OK)
        status = fit_points(&w, err);
    job->curve->present = status == WW_OK && (w.points.n > 0 || w.points.has_base);
    if (status == WW_OK) { /* the points go over to the curve */
        job->curve->point = w.points.point;
        job->curve->n_points = w.points.n;
        w.points = (ww__points)WW__POINTS_INIT;
    }
    ww__points_release(&w.points);
    ww__series_release(&w.series);
    return status;
}
