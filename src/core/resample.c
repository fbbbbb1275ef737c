/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "resample.h"
#include "base/threads.h"
#include "departure.h"
#include "figure.h"
#include "interval.h"
#include "rows.h"

#include <assert.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

enum { CHUNK = 25, CHORDS = 3 };
static const double nudge = 1e-4;      /* bump height for a figure's derivative [D] */
static const double far_step = 0.7;    /* working parameters: beyond, straight lines mislead */
static const double chord_step = 0.02; /* still moving that much after CHORDS: solve in full */

/* One candidate made ready: everything that its resamples share. */
typedef struct plan {
    const ww__shape_fit *fit;
    ww__rows rows;
    double *bump; /* rows x bumps */
    ww__departure departure;
    ww_figure_set figures;
    double by_bump[WW_FIGURE_COUNT][WW__DEPARTURE_BUMPS_MAX];
} plan;

static void plan_release(plan *q) {
    ww__rows_release(&q->rows);
    free(q->bump);
}

static double density_at(const ww_shape *shape, double u) {
    return ww_model_density(shape, shape->falling ? -u : u, NULL);
}

/* What each bump does to each figure. */
static void plan_derivatives(const ww__resample_request *r, double base, plan *q) {
    ww__figure_compute(&q->fit->shape, NULL, r->low, r->high, base, r->rules, &q->figures);
    for (size_t k = 0; k < q->departure.n_bumps; k++) {
        ww__bump bump = ww__departure_bump(&q->departure, k);
        bump.height = nudge;
        ww_figure_set moved;
        ww__figure_compute(&q->fit->shape, &bump, r->low, r->high, base, r->rules, &moved);
        for (size_t f = 0; f < WW_FIGURE_COUNT; f++) {
            const bool both = q->figures.how[f] != WW_ABSENT && moved.how[f] == q->figures.how[f];
            q->by_bump[f][k] = both ? (moved.value[f] - q->figures.value[f]) / nudge : 0.0;
        }
    }
}

static double base_of(const ww__resample_request *r, const ww__shape_fit *fit) {
    return r->series->has_base ? r->base_fog : fit->shape.parameter[0];
}

static ww_status plan_make(const ww__resample_request *r, const ww__shape_fit *fit, plan *q,
                           ww_error *err) {
    const bool falling = fit->shape.falling;
    *q = (plan){.fit = fit};
    ww_status status = ww__rows_new(r->series, fit, &q->rows, err);
    if (status != WW_OK)
        return status;
    ww__departure_layout(&q->rows, falling ? -r->high : r->low, falling ? -r->low : r->high,
                         &q->departure);
    const size_t n = q->rows.n, bumps = q->departure.n_bumps;
    q->bump = malloc(n * bumps * sizeof *q->bump);
    double *weighted = malloc(n * bumps * sizeof *weighted);
    if (q->bump && weighted) {
        for (size_t i = 0; i < n; i++) {
            for (size_t k = 0; k < bumps; k++) {
                q->bump[i * bumps + k] = ww__departure_at(&q->departure, k, q->rows.u[i]);
                weighted[i * bumps + k] = q->rows.root_weight[i] * q->bump[i * bumps + k];
            }
        }
        plan_derivatives(r, base_of(r, fit), q);
        status = ww__departure_learn(&q->departure, n, q->rows.residual, q->rows.hat, weighted,
                                     ww__departure_typical(&q->rows, fit->shape.model), err);
    } else {
        status = ww_error_set(err, WW_EMEMORY, "no memory to resample %zu readings", n);
    }
    free(weighted);
    return status;
}

/* The full fit, for changes too large for straight lines. */
static ww_status solve(const ww__resample_request *r, const plan *q, const double change[],
                       double density[], ww_shape *shape) {
    ww__series world = *r->series;
    world.density = density;
    size_t row = 0;
    for (size_t i = 0; i < world.n; i++)
        density[i] =
            world.weight[i] > 0.0 ? r->series->density[i] + change[row++] : r->series->density[i];
    if (row < q->rows.n)
        world.base += change[row];
    ww__shape_fit fit;
    const ww_status status =
        ww__shape_fit_solve(&world, q->fit->shape.model, q->fit->shape.falling, q->fit, &fit, NULL);
    if (status == WW_OK)
        *shape = fit.shape;
    return status;
}

static void step(const plan *q, const double change[], double working[], double *most) {
    *most = 0.0;
    for (size_t a = 0; a < q->rows.p; a++) {
        double sum = 0.0;
        for (size_t i = 0; i < q->rows.n; i++)
            sum += q->rows.gain[a * q->rows.n + i] * change[i];
        working[a] += sum;
        *most = fmax(*most, fabs(sum));
    }
}

/*
 * Refit to the fitted curve plus `change`. First along the straight lines of the fit's own
 * Jacobian; then chords with the same Jacobian take up the curvature, which costs no new one.
 */
static ww_status refit(const ww__resample_request *r, const plan *q, const double change[],
                       double scratch[], ww_shape *shape) {
    double working[WW_MODEL_PARAMETERS_MAX], most;
    memcpy(working, q->fit->working, q->rows.p * sizeof *working);
    step(q, change, working, &most);
    if (!(most <= far_step))
        return solve(r, q, change, scratch, shape);
    ww__shape_fit_natural(working, shape);
    if (shape->model == WW_MODEL_SPLINE)
        return WW_OK; /* its penalty is straight in these parameters: a chord would leave it out */
    for (int chord = 0; chord < CHORDS; chord++) {
        for (size_t i = 0; i < q->rows.n; i++)
            scratch[i] = q->rows.fitted[i] + change[i] - density_at(shape, q->rows.u[i]);
        step(q, scratch, working, &most);
        ww__shape_fit_natural(working, shape);
    }
    if (!(most <= chord_step))
        return solve(r, q, change, scratch, shape);
    return WW_OK;
}

typedef struct job {
    const ww__resample_request *request;
    const plan *plans;
    gsl_rng **rng;    /* two a worker: readings, exposures */
    double **scratch; /* two rows' lengths a worker */
    ww__resampled *sample;
    size_t room;
} job;

/* Which candidate resample b belongs to: shares are met exactly, not by chance. */
static size_t candidate_of(const ww__resample_request *r, size_t b) {
    const double at = ((double)b + 0.5) / (double)r->resamples;
    double sum = 0.0;
    size_t last = 0;
    for (size_t c = 0; c < r->n_candidates; c++) {
        sum += r->candidate[c].share;
        if (r->candidate[c].share > 0.0)
            last = c;
        if (at < sum)
            return c;
    }
    return last;
}

static void draw_change(const ww__resample_request *r, const plan *q, gsl_rng *readings,
                        gsl_rng *exposures, const double height[], double scatter,
                        double change[]) {
    const size_t bumps = q->departure.n_bumps;
    for (size_t i = 0; i < q->rows.n; i++) {
        change[i] = gsl_ran_gaussian_ziggurat(readings, scatter) / q->rows.root_weight[i];
        if (r->wedge_sd.set)
            change[i] += q->rows.slope[i] * gsl_ran_gaussian_ziggurat(exposures, r->wedge_sd.value);
        for (size_t k = 0; k < bumps; k++)
            change[i] += height[k] * q->bump[i * bumps + k];
    }
}

static void take_figures(const ww__resample_request *r, const plan *q, const double height[],
                         ww__resampled *out) {
    ww_figure_set set;
    ww__figure_compute(&out->shape, NULL, r->low, r->high, out->base_fog, r->rules, &set);
    for (size_t f = 0; f < WW_FIGURE_COUNT; f++) {
        out->present[f] =
            set.how[f] != WW_ABSENT && q->figures.how[f] != WW_ABSENT && isfinite(set.value[f]);
        if (!out->present[f])
            continue;
        double truth = q->figures.value[f];
        for (size_t k = 0; k < q->departure.n_bumps; k++)
            truth += q->by_bump[f][k] * height[k];
        out->under[f] = set.value[f] < truth;
        out->figure[f] = q->figures.value[f] + set.value[f] - truth;
    }
    /* Base+fog as read is not touched by a departure: its error is the base reading's own. */
    out->figure[WW_FIGURE_BASE_FOG] = out->base_fog;
    out->under[WW_FIGURE_BASE_FOG] = out->base_fog < q->figures.value[WW_FIGURE_BASE_FOG];
    const bool places[WW_FIGURE_COUNT] = {
        [WW_FIGURE_SPEED_POINT] = true, [WW_FIGURE_TOE] = true, [WW_FIGURE_SHOULDER] = true};
    for (size_t f = 0; f < WW_FIGURE_COUNT; f++)
        if (out->present[f] && places[f])
            out->figure[f] += out->log_h_error;
    if (out->present[WW_FIGURE_PAPER_SPEED])
        out->figure[WW_FIGURE_PAPER_SPEED] *= pow(10.0, -out->log_h_error);
}

/* Neighbouring resamples must not begin alike: the finisher of splitmix64 (Steele, Lea and Flood,
 * Proceedings of OOPSLA 2014, 453-472). */
static unsigned long mix(unsigned long seed, size_t item) {
    uint64_t z = (uint64_t)seed * UINT64_C(0x9e3779b97f4a7c15) + (uint64_t)item + 1;
    z = (z ^ (z >> 30)) * UINT64_C(0xbf58476d1ce4e5b9);
    z = (z ^ (z >> 27)) * UINT64_C(0x94d049bb133111eb);
    return (unsigned long)((z ^ (z >> 31)) & 0xffffffffu) | 1ul;
}

/* A world that no fit settles on is no good sample; without memory there is no result at all. */
static ww_status resample_one(const job *j, size_t b, size_t worker, ww_error *err) {
    const ww__resample_request *r = j->request;
    gsl_rng *readings = j->rng[2 * worker], *exposures = j->rng[2 * worker + 1];
    gsl_rng_set(readings, mix(r->seed, WW_CHANNEL_COUNT * b + r->channel));
    gsl_rng_set(exposures, mix(~r->seed, b));
    const plan *q = &j->plans[candidate_of(r, b)];
    double *change = j->scratch[worker], *scratch = change + j->room;
    double height[WW__DEPARTURE_BUMPS_MAX], scatter;
    ww__resampled *out = &j->sample[b];

    *out = (ww__resampled){.shape = q->fit->shape};
    out->log_h_error =
        r->log_h0_sd.set ? gsl_ran_gaussian_ziggurat(exposures, r->log_h0_sd.value) : 0.0;
    ww__departure_draw(&q->departure, readings, height, &scatter);
    draw_change(r, q, readings, exposures, height, scatter, change);
    const ww_status status = refit(r, q, change, scratch, &out->shape);
    if (status == WW_EMEMORY)
        return ww_error_set(err, status, "no memory for the resamples");
    if (status != WW_OK)
        return WW_OK;
    /* change is gone after a full solve's use of scratch only: the base row is still its last. */
    out->base_fog = r->series->has_base
                        ? r->base_fog + (r->series->base_weight > 0.0 ? change[q->rows.n - 1] : 0.0)
                        : out->shape.parameter[0];
    out->good = true;
    take_figures(r, q, height, out);
    return WW_OK;
}

static ww_status resample_chunk(size_t item, size_t worker, void *context, ww_error *err) {
    const job *j = context;
    const size_t from = item * CHUNK;
    ww_status status = WW_OK;
    for (size_t b = from; b < from + CHUNK && b < j->request->resamples && status == WW_OK; b++)
        status = resample_one(j, b, worker, err);
    return status;
}

static ww_status run_job(job *j, ww_error *err) {
    const size_t workers = ww__threads_count(j->request->threads);
    j->rng = calloc(2 * workers, sizeof(gsl_rng *));
    j->scratch = calloc(workers, sizeof(double *));
    bool room = j->rng && j->scratch;
    for (size_t w = 0; room && w < workers; w++) {
        j->rng[2 * w] = gsl_rng_alloc(gsl_rng_taus2);
        j->rng[2 * w + 1] = gsl_rng_alloc(gsl_rng_taus2);
        j->scratch[w] = malloc(2 * j->room * sizeof(double));
        room = j->rng[2 * w] && j->rng[2 * w + 1] && j->scratch[w];
    }
    ww_status status = WW_OK;
    if (room)
        status = ww__threads_for((j->request->resamples + CHUNK - 1) / CHUNK, workers,
                                 resample_chunk, j, err);
    else
        status = ww_error_set(err, WW_EMEMORY, "no memory for the resamples");
    for (size_t w = 0; w < workers; w++) {
        if (j->rng && j->rng[2 * w])
            gsl_rng_free(j->rng[2 * w]);
        if (j->rng && j->rng[2 * w + 1])
            gsl_rng_free(j->rng[2 * w + 1]);
        if (j->scratch)
            free(j->scratch[w]);
    }
    free(j->rng);
    free(j->scratch);
    return status;
}

ww_status ww__resample_run(const ww__resample_request *request, ww__resampled sample[],
                           ww_error *err) {
    assert(request && sample && request->n_candidates > 0);
    plan *plans = calloc(request->n_candidates, sizeof *plans);
    if (!plans)
        return ww_error_set(err, WW_EMEMORY, "no memory for the resamples");
    ww_status status = WW_OK;
    for (size_t c = 0; c < request->n_candidates && status == WW_OK; c++)
        status = plan_make(request, &request->candidate[c].fit, &plans[c], err);
    if (status == WW_OK) {
        job j = {.request = request,
                 .plans = plans,
                 .sample = sample,
                 .room = request->series->n + ww__series_rows(request->series) + 1};
        status = run_job(&j, err);
    }
    for (size_t c = 0; c < request->n_candidates; c++)
        plan_release(&plans[c]);
    free(plans);
    return status;
}

ww_status ww__resample_figure(const ww__resampled sample[], size_t n, ww_figure figure,
                              ww_quantity *quantity, ww_error *err) {
    assert(sample && quantity && figure < WW_FIGURE_COUNT);
    double *value = malloc((n ? n : 1) * sizeof *value);
    if (!value)
        return ww_error_set(err, WW_EMEMORY, "no memory for the intervals");
    size_t have = 0, under = 0;
    for (size_t b = 0; b < n; b++) {
        if (!sample[b].good || !sample[b].present[figure])
            continue;
        value[have++] = sample[b].figure[figure];
        under += sample[b].under[figure];
    }
    double low, high;
    const ww_status status = ww__interval_of(value, have, under, &low, &high, err);
    free(value);
    if (status != WW_OK)
        return status;
    quantity->low = fmin(low, quantity->value);
    quantity->high = fmax(high, quantity->value);
    return WW_OK;
}
