/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "scanner_model.h"
#include "lsq.h"
#include "scanner_common.h"

#include <assert.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

static const double gamma_least = 0.2, gamma_most = 6.0;
static const double srgb_near = 2.2; /* power that is usually given for sRGB */
static const double parted = 5.99;   /* of AICc: one is 20 times as likely as the other */
enum { PARAMETERS_MAX = 2 * WW_CHANNEL_COUNT + 1, ROUNDS = 5 };

/* Parameters: ln k and constant of each strip, then gamma where it is free. */
typedef struct problem {
    const ww__scanner_strips *strips;
    size_t n, p; /* rows with weight, parameters */
    ww_encoding encoding;
    bool free_gamma;
} problem;

ww__scanner_light ww__scanner_model_light(const ww__scanner_model *model, size_t strip) {
    return (ww__scanner_light){model->encoding, model->gamma, model->k[strip],
                               model->constant[strip]};
}

double ww__scanner_model_apart(const ww__scanner_model *model, size_t strip, double density) {
    const ww__scanner_light light = ww__scanner_model_light(model, strip);
    const double share = ww__scanner_share(&light, density, NULL);
    double apart = 0.0;
    for (size_t i = 0; i < model->n_rivals; i++)
        apart =
            fmax(apart, fabs(ww__scanner_dense(&model->rival[i][strip], share, density) - density));
    return apart;
}

void ww__scanner_model_gradient(const ww__scanner_light *light, double density,
                                double gradient[3]) {
    const double open = light->k * pow(10.0, -density);
    const double sum = open + light->constant;
    const double share = ww__scanner_encode(light, sum, &gradient[1]);
    gradient[0] = gradient[1] * open;
    gradient[2] = sum > 0.0 ? -share * log(sum) / (light->gamma * light->gamma) : 0.0;
}

double ww__scanner_model_error(const ww__scanner_light *light, const ww__scanner_row *row,
                               double scatter) {
    double slope;
    (void)ww__scanner_share(light, row->density, &slope);
    return hypot(row->mean_sd, slope * hypot(row->density_sd, scatter));
}

static bool counts(const ww__scanner_row *row) {
    return !row->clipped && !row->suspect;
}

static ww__scanner_light light_at(const problem *p, const double parameter[], size_t strip) {
    return (ww__scanner_light){p->encoding, p->free_gamma ? parameter[p->p - 1] : 1.0,
                               exp(parameter[2 * strip]), parameter[2 * strip + 1]};
}

static bool residual(const void *self, const double parameter[], double out[]) {
    const problem *p = self;
    size_t at = 0;
    for (size_t s = 0; s < p->strips->n; s++) {
        const ww__scanner_light light = light_at(p, parameter, s);
        if (!(light.gamma > gamma_least && light.gamma < gamma_most))
            return false;
        for (size_t i = 0; i < p->strips->strip[s].n; i++) {
            const ww__scanner_row *row = &p->strips->strip[s].row[i];
            if (!counts(row))
                continue;
            const double share = ww__scanner_share(&light, row->density, NULL);
            if (!(share > 0.0))
                return false;
            out[at++] = share - row->share;
        }
    }
    return true;
}

static bool jacobian(const void *self, const double parameter[], double out[]) {
    const problem *p = self;
    memset(out, 0, p->n * p->p * sizeof *out);
    size_t at = 0;
    for (size_t s = 0; s < p->strips->n; s++) {
        const ww__scanner_light light = light_at(p, parameter, s);
        for (size_t i = 0; i < p->strips->strip[s].n; i++) {
            const ww__scanner_row *row = &p->strips->strip[s].row[i];
            if (!counts(row))
                continue;
            double gradient[3];
            ww__scanner_model_gradient(&light, row->density, gradient);
            double *line = out + p->p * at++;
            line[2 * s] = gradient[0];
            line[2 * s + 1] = gradient[1];
            if (p->free_gamma)
                line[p->p - 1] = gradient[2];
        }
    }
    return true;
}

static void weigh(const problem *p, const double parameter[], const double scatter[],
                  double weight[]) {
    size_t at = 0;
    for (size_t s = 0; s < p->strips->n; s++) {
        const ww__scanner_light light = light_at(p, parameter, s);
        for (size_t i = 0; i < p->strips->strip[s].n; i++) {
            const ww__scanner_row *row = &p->strips->strip[s].row[i];
            if (counts(row))
                weight[at++] = pow(ww__scanner_model_error(&light, row, scatter[s]), -2.0);
        }
    }
}

/* ------------------------------------------------------------------------------------ start */

/* Slope of ln share over density in the thinner half of a strip: -ln 10 / gamma. */
static double slope_of(const ww__scanner_strip *strip) {
    double thin = HUGE_VAL, dense = -HUGE_VAL, n = 0, x = 0, y = 0, xx = 0, xy = 0;
    for (size_t i = 0; i < strip->n; i++) {
        thin = fmin(thin, strip->row[i].density);
        dense = fmax(dense, strip->row[i].density);
    }
    for (size_t i = 0; i < strip->n; i++) {
        const ww__scanner_row *row = &strip->row[i];
        if (!counts(row) || row->density > thin + 0.6 * (dense - thin))
            continue;
        const double d = row->density - thin, l = log(row->share);
        n++;
        x += d;
        y += l;
        xx += d * d;
        xy += d * l;
    }
    const double spread = n * xx - x * x;
    return n > 2.0 && spread > 0.0 ? (n * xy - x * y) / spread : -WW__SCANNER_LN10;
}

static double gamma_of(const ww__scanner_strips *strips) {
    double sum = 0.0;
    for (size_t s = 0; s < strips->n; s++)
        sum += slope_of(&strips->strip[s]);
    const double gamma = -WW__SCANNER_LN10 * (double)strips->n / sum;
    return gamma > 0.5 && gamma < 4.0 ? gamma : 1.0;
}

/* k by the brightest row, no constant. */
static void start_at(const problem *p, double gamma, double parameter[]) {
    const ww__scanner_light curve = {p->encoding, p->free_gamma ? gamma : 1.0, 1.0, 0.0};
    for (size_t s = 0; s < p->strips->n; s++) {
        const ww__scanner_strip *strip = &p->strips->strip[s];
        double share = 0.0, density = 0.0;
        for (size_t i = 0; i < strip->n; i++)
            if (counts(&strip->row[i]) && strip->row[i].share > share) {
                share = strip->row[i].share;
                density = strip->row[i].density;
            }
        parameter[2 * s] = log(ww__scanner_decode(&curve, share)) + WW__SCANNER_LN10 * density;
        parameter[2 * s + 1] = 0.0;
    }
    if (p->free_gamma)
        parameter[p->p - 1] = gamma;
}

static void start_from(const problem *p, const ww__scanner_model *model, double parameter[]) {
    for (size_t s = 0; s < p->strips->n; s++) {
        parameter[2 * s] = log(model->k[s]);
        parameter[2 * s + 1] = model->constant[s];
    }
    if (p->free_gamma)
        parameter[p->p - 1] = model->gamma;
}

/* --------------------------------------------------------------------------------- one model */

typedef struct solved {
    double parameter[PARAMETERS_MAX];
    double covariance[PARAMETERS_MAX * PARAMETERS_MAX];
    double chi_squared;
} solved;

/* Weights depend on the slope at the solution: a few rounds, or one with the weights given. */
static ww_status solve(const problem *p, const double scatter[], double weight[], bool keep_weights,
                       solved *out, ww_error *err) {
    const ww__lsq_problem lsq_problem = {p->n, p->p, residual, jacobian, p, weight};
    ww__lsq *lsq = NULL;
    ww_status status = ww__lsq_new(p->n, p->p, &lsq, err);
    for (int round = 0; round < (keep_weights ? 1 : ROUNDS) && status == WW_OK; round++) {
        ww__lsq_result result;
        if (!keep_weights)
            weigh(p, out->parameter, scatter, weight);
        status = ww__lsq_solve(lsq, &lsq_problem, out->parameter, &result, err);
        out->chi_squared = result.chi_squared;
    }
    if (status == WW_OK)
        ww__lsq_covariance(lsq, out->covariance);
    ww__lsq_free(lsq);
    return status;
}

static size_t rows_of(const ww__scanner_strips *strips) {
    size_t n = 0;
    for (size_t s = 0; s < strips->n; s++)
        for (size_t i = 0; i < strips->strip[s].n; i++)
            n += counts(&strips->strip[s].row[i]);
    return n;
}

static double aicc(double chi_squared, size_t n, size_t p) {
    const double rows = (double)n, used = (double)p;
    return rows * log(fmax(chi_squared, 1e-300) / rows) +
           2.0 * used * rows / fmax(rows - used - 1.0, 0.5);
}

/* Steps that scatter more than they should widen what is known; less proves nothing. */
static double inflation(const problem *p, const solved *s) {
    return p->n > p->p ? fmax(1.0, s->chi_squared / (double)(p->n - p->p)) : 1.0;
}

/* Where steps scatter more than they should, and with what steps and channels have in common. */
static void widen(const problem *p, const double weight[], solved *s) {
    const double factor = inflation(p, s);
    ww__scanner_light light[WW_CHANNEL_COUNT];
    for (size_t c = 0; c < p->strips->n; c++)
        light[c] = light_at(p, s->parameter, c);
    ww__scanner_common_add(p->strips, light, p->free_gamma, weight, s->covariance);
    for (size_t i = 0; i < p->p * p->p; i++)
        s->covariance[i] *= factor;
}

static void keep(const problem *p, const solved *s, ww__scanner_model *model) {
    model->encoding = p->encoding;
    model->free_gamma = p->free_gamma;
    model->gamma = p->free_gamma ? s->parameter[p->p - 1] : 1.0;
    for (size_t c = 0; c < p->strips->n; c++) {
        const double *block = s->covariance + 2 * c * p->p + 2 * c;
        model->k[c] = exp(s->parameter[2 * c]);
        model->constant[c] = s->parameter[2 * c + 1];
        model->variance_k[c] = block[0];
        model->covariance[c] = block[1];
        model->variance_constant[c] = block[p->p + 1];
    }
}

/* A model on trial; all are compared with the weights of the free power. */
typedef struct trial {
    problem problem;
    solved solved;
    ww_status status;
} trial;

static double aicc_of(const trial *t) {
    return t->status == WW_OK ? aicc(t->solved.chi_squared, t->problem.n, t->problem.p) : HUGE_VAL;
}

static void solve_again(trial *t, const double scatter[], double weight[], bool keep_weights,
                        ww_error *err) {
    start_at(&t->problem, 1.0, t->solved.parameter);
    t->status = solve(&t->problem, scatter, weight, keep_weights, &t->solved, err);
}

/* From the model before, from a guess by the slope, and from the encodings that are usual. */
static void solve_free(trial *t, const double scatter[], const ww__scanner_model *start,
                       double weight[], ww_error *err) {
    const double gammas[] = {gamma_of(t->problem.strips), 1.0, 2.2, 1.8};
    t->status = WW_ECONVERGE;
    if (start && start->free_gamma) {
        start_from(&t->problem, start, t->solved.parameter);
        t->status = solve(&t->problem, scatter, weight, false, &t->solved, err);
    }
    for (size_t i = 0; i < sizeof gammas / sizeof gammas[0] && t->status == WW_ECONVERGE; i++) {
        start_at(&t->problem, gammas[i], t->solved.parameter);
        t->status = solve(&t->problem, scatter, weight, false, &t->solved, err);
    }
    if (t->status == WW_ECONVERGE) { /* the others are compared by weights that none made */
        start_at(&t->problem, gammas[0], t->solved.parameter);
        weigh(&t->problem, t->solved.parameter, scatter, weight);
    }
}

enum { FREE, LINEAR, SRGB, TRIALS };

/* What the data cannot part from the best. */
static void keep_rivals(const trial t[TRIALS], size_t best, ww__scanner_model *model) {
    for (size_t i = 0; i < TRIALS; i++) {
        if (i == best || !(aicc_of(&t[i]) < aicc_of(&t[best]) + parted))
            continue;
        for (size_t s = 0; s < t[i].problem.strips->n; s++)
            model->rival[model->n_rivals][s] = light_at(&t[i].problem, t[i].solved.parameter, s);
        model->n_rivals++;
    }
}

/* Linear, where the free power leaves room for it or nothing else is likelier. */
static size_t best_of(trial t[TRIALS], const double scatter[], double gamma, double width,
                      double weight[], ww__scanner_model *model, ww_error *err) {
    size_t best = LINEAR;
    if (t[FREE].status == WW_OK && fabs(gamma - 1.0) <= WW__SCANNER_SURELY * width)
        return best;
    for (size_t i = LINEAR; i < TRIALS; i++)
        solve_again(&t[i], scatter, weight, true, err);
    for (size_t i = 0; i < TRIALS; i++)
        if (aicc_of(&t[i]) < aicc_of(&t[best]))
            best = i;
    keep_rivals(t, best, model);
    return best;
}

static ww_status choose(const ww__scanner_strips *strips, const double scatter[],
                        const ww__scanner_model *start, double weight[], size_t n,
                        ww__scanner_model *model, ww_error *err) {
    trial t[TRIALS] = {
        [FREE] = {.problem = {strips, n, 2 * strips->n + 1, WW_ENCODING_POWER, true}},
        [LINEAR] = {.problem = {strips, n, 2 * strips->n, WW_ENCODING_POWER, false}},
        [SRGB] = {.problem = {strips, n, 2 * strips->n, WW_ENCODING_SRGB, false}}};
    ww_error trouble = WW_ERROR_INIT; /* of a trial: the others may do */
    double gamma = 1.0, width = 0.0;

    solve_free(&t[FREE], scatter, start, weight, &trouble);
    if (t[FREE].status == WW_OK) {
        const size_t p = t[FREE].problem.p;
        widen(&t[FREE].problem, weight, &t[FREE].solved);
        gamma = t[FREE].solved.parameter[p - 1];
        width = WW__SCANNER_95 * sqrt(fmax(t[FREE].solved.covariance[p * p - 1], 0.0));
    }
    const size_t best = best_of(t, scatter, gamma, width, weight, model, &trouble);
    if (best != FREE)
        solve_again(&t[best], scatter, weight, false, &trouble);
    for (size_t i = 0; i < TRIALS; i++)
        if (t[i].status == WW_EMEMORY || (i == best && t[i].status != WW_OK))
            return ww_error_set(err, t[i].status, "%s", trouble.msg);
    if (best != FREE)
        widen(&t[best].problem, weight, &t[best].solved);
    keep(&t[best].problem, &t[best].solved, model);
    if (best == SRGB) /* a free power is off with flare, and says nothing */
        model->gamma = srgb_near;
    model->gamma_low = model->gamma_high = model->gamma;
    if (best != SRGB && t[FREE].status == WW_OK) {
        model->gamma_low = fmin(model->gamma, gamma - width);
        model->gamma_high = fmax(model->gamma, gamma + width);
    }
    return WW_OK;
}

ww_status ww__scanner_model_fit(const ww__scanner_strips *strips, const double scatter[],
                                const ww__scanner_model *start, ww__scanner_model *model,
                                ww_error *err) {
    assert(strips && strips->n > 0 && scatter && model);
    const size_t n = rows_of(strips);
    double *weight = calloc(n, sizeof *weight);
    if (!weight)
        return ww_error_set(err, WW_EMEMORY, "no memory for a calibration of %zu steps", n);
    ww__scanner_model made = {.gamma = 1.0};
    const ww_status status = choose(strips, scatter, start, weight, n, &made, err);
    free(weight);
    if (status == WW_OK)
        *model = made;
    return status;
}
