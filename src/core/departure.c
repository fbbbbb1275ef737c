/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "departure.h"

#include <assert.h>
#include <gsl/gsl_eigen.h>
#include <gsl/gsl_matrix.h>
#include <gsl/gsl_randist.h>
#include <math.h>

static const double logistic_departure = 0.007; /* log H */
static const double other_departure = 0.0035;
static const double full_rise = 0.2;    /* of the density range, from one reading to the next */
static const double spacing_most = 0.3; /* log H */
static const double spacing_least = 0.1;
static const double bumps_a_rise = 8.0;
static const double scale_most = 3.0;     /* times what is typical */
static const double scatter_least = 0.25; /* times the residual scatter */
static const double scatter_most = 2.0;

/* How steep and how high the fitted curve is where it was read. */
typedef struct extent {
    double steepest; /* dD/du */
    double range;    /* D */
    double rise;     /* largest from one reading to the next along u, D */
} extent;

static extent extent_of(const ww__rows *rows) {
    double thin = HUGE_VAL, dense = -HUGE_VAL;
    extent e = {0.0, 0.0, 0.0};
    for (size_t i = 0; i < rows->n; i++) {
        e.steepest = fmax(e.steepest, rows->slope[i]);
        thin = fmin(thin, rows->fitted[i]);
        dense = fmax(dense, rows->fitted[i]);
        double next = HUGE_VAL; /* the curve rises: the next reading is the next density */
        for (size_t j = 0; j < rows->n; j++)
            if (rows->fitted[j] > rows->fitted[i])
                next = fmin(next, rows->fitted[j]);
        if (next < HUGE_VAL)
            e.rise = fmax(e.rise, next - rows->fitted[i]);
    }
    e.steepest = fmax(e.steepest, 0.01);
    e.range = fmax(dense - thin, 0.01);
    return e;
}

void ww__departure_layout(const ww__rows *rows, double low, double high, ww__departure *departure) {
    assert(low < high);
    const extent e = extent_of(rows);
    const double spacing =
        fmin(fmax(e.range / e.steepest / bumps_a_rise, spacing_least), spacing_most);
    size_t n = (size_t)ceil(fmin((high - low) / spacing, WW__DEPARTURE_BUMPS_MAX - 1)) + 1;
    if (n < 3)
        n = 3;
    departure->n_bumps = n;
    departure->first = low;
    departure->spacing = (high - low) / (double)(n - 1);
}

double ww__departure_between(const ww__rows *rows, double slope) {
    const extent e = extent_of(rows);
    const double sparse = e.rise / e.range / full_rise;
    return other_departure * slope * sparse * sparse;
}

double ww__departure_typical(const ww__rows *rows, ww_model_kind model) {
    const double steepest = extent_of(rows).steepest;
    return (model == WW_MODEL_LOGISTIC ? logistic_departure : other_departure) * steepest +
           ww__departure_between(rows, steepest);
}

ww__bump ww__departure_bump(const ww__departure *departure, size_t k) {
    return (ww__bump){1.0, departure->first + (double)k * departure->spacing, departure->spacing};
}

double ww__departure_at(const ww__departure *departure, size_t k, double u) {
    const double z = (u - departure->first) / departure->spacing - (double)k;
    return exp(-0.5 * z * z);
}

/* Residuals seen along the directions in which a departure would show. */
typedef struct spectrum {
    size_t n;                               /* directions */
    double gain[WW__DEPARTURE_BUMPS_MAX];   /* variance a unit scale puts there */
    double square[WW__DEPARTURE_BUMPS_MAX]; /* squared residual seen there */
    double rest;                            /* squared residual in all other directions */
    double freedom;                         /* degrees of freedom in all */
} spectrum;

/* bumps' (I - H)(I - H) bumps is as small as there are bumps: its eigenvalues are the gains. */
static void project(const ww__departure *d, size_t n, const double hat[], const double bumps[],
                    gsl_matrix *seen) {
    for (size_t i = 0; i < n; i++) {
        for (size_t k = 0; k < d->n_bumps; k++) {
            double sum = bumps[i * d->n_bumps + k];
            for (size_t j = 0; j < n; j++)
                sum -= hat[i * n + j] * bumps[j * d->n_bumps + k];
            gsl_matrix_set(seen, i, k, sum);
        }
    }
}

static void take_spectrum(const gsl_matrix *seen, const gsl_matrix *directions,
                          const gsl_vector *gains, size_t n, const double residual[], spectrum *s) {
    double all = 0.0, taken = 0.0;
    for (size_t i = 0; i < n; i++)
        all += residual[i] * residual[i];
    const size_t bumps = seen->size2;
    s->n = 0;
    for (size_t c = 0; c < bumps && (double)s->n < s->freedom; c++) {
        const double gain = gsl_vector_get(gains, c);
        if (!(gain > 1e-9))
            continue;
        double along = 0.0;
        for (size_t k = 0; k < bumps; k++) {
            double dot = 0.0;
            for (size_t i = 0; i < n; i++)
                dot += gsl_matrix_get(seen, i, k) * residual[i];
            along += gsl_matrix_get(directions, k, c) * dot;
        }
        s->gain[s->n] = gain;
        s->square[s->n] = along * along / gain;
        taken += s->square[s->n];
        s->n++;
    }
    s->rest = fmax(0.0, all - taken);
}

static ww_status find_spectrum(const ww__departure *d, size_t n, const double residual[],
                               const double hat[], const double bumps[], spectrum *s,
                               ww_error *err) {
    gsl_matrix *seen = gsl_matrix_alloc(n, d->n_bumps);
    gsl_matrix *square = gsl_matrix_alloc(d->n_bumps, d->n_bumps);
    gsl_matrix *directions = gsl_matrix_alloc(d->n_bumps, d->n_bumps);
    gsl_vector *gains = gsl_vector_alloc(d->n_bumps);
    gsl_eigen_symmv_workspace *work = gsl_eigen_symmv_alloc(d->n_bumps);
    const bool room = seen && square && directions && gains && work;
    if (room) {
        project(d, n, hat, bumps, seen);
        for (size_t a = 0; a < d->n_bumps; a++) {
            for (size_t b = 0; b < d->n_bumps; b++) {
                double sum = 0.0;
                for (size_t i = 0; i < n; i++)
                    sum += gsl_matrix_get(seen, i, a) * gsl_matrix_get(seen, i, b);
                gsl_matrix_set(square, a, b, sum);
            }
        }
        gsl_eigen_symmv(square, gains, directions, work);
        gsl_eigen_symmv_sort(gains, directions, GSL_EIGEN_SORT_VAL_DESC);
        s->freedom = (double)n;
        for (size_t i = 0; i < n; i++)
            s->freedom -= hat[i * n + i];
        s->freedom = fmax(1.0, s->freedom);
        take_spectrum(seen, directions, gains, n, residual, s);
    }
    if (seen)
        gsl_matrix_free(seen);
    if (square)
        gsl_matrix_free(square);
    if (directions)
        gsl_matrix_free(directions);
    if (gains)
        gsl_vector_free(gains);
    if (work)
        gsl_eigen_symmv_free(work);
    return room ? WW_OK : ww_error_set(err, WW_EMEMORY, "no memory to resample %zu readings", n);
}

static double log_weight(const spectrum *s, double scale, double scatter, double typical) {
    const double noise = scatter * scatter, ratio = scale / typical;
    double sum = -0.5 * ratio * ratio; /* half-normal: what published curves say */
    for (size_t c = 0; c < s->n; c++) {
        const double variance = noise + scale * scale * s->gain[c];
        sum -= 0.5 * (log(variance) + s->square[c] / variance);
    }
    return sum - 0.5 * ((s->freedom - (double)s->n) * log(noise) + s->rest / noise);
}

ww_status ww__departure_learn(ww__departure *departure, size_t n, const double residual[],
                              const double hat[], const double bumps[], double typical,
                              ww_error *err) {
    spectrum s = {0};
    const ww_status status = find_spectrum(departure, n, residual, hat, bumps, &s, err);
    if (status != WW_OK)
        return status;

    double all = 0.0, most = -HUGE_VAL, sum = 0.0;
    for (size_t i = 0; i < n; i++)
        all += residual[i] * residual[i];
    const double middle = fmax(sqrt(all / s.freedom), 1e-6);
    for (size_t a = 0; a < WW__DEPARTURE_SCALES; a++)
        departure->scale[a] = typical * scale_most * (double)a / (WW__DEPARTURE_SCALES - 1);
    for (size_t b = 0; b < WW__DEPARTURE_SCATTERS; b++)
        departure->scatter[b] =
            middle * scatter_least *
            pow(scatter_most / scatter_least, (double)b / (WW__DEPARTURE_SCATTERS - 1));
    for (size_t a = 0; a < WW__DEPARTURE_SCALES; a++) {
        for (size_t b = 0; b < WW__DEPARTURE_SCATTERS; b++) {
            double *const w = &departure->cumulative[a * WW__DEPARTURE_SCATTERS + b];
            *w = log_weight(&s, departure->scale[a], departure->scatter[b], typical);
            most = fmax(most, *w);
        }
    }
    for (size_t i = 0; i < WW__DEPARTURE_SCALES * WW__DEPARTURE_SCATTERS; i++) {
        sum += exp(departure->cumulative[i] - most);
        departure->cumulative[i] = sum;
    }
    return WW_OK;
}

void ww__departure_draw(const ww__departure *departure, gsl_rng *rng, double height[],
                        double *scatter) {
    enum { CELLS = WW__DEPARTURE_SCALES * WW__DEPARTURE_SCATTERS };
    const double at = gsl_rng_uniform(rng) * departure->cumulative[CELLS - 1];
    size_t low = 0, high = CELLS - 1;
    while (low < high) {
        const size_t middle = (low + high) / 2;
        if (departure->cumulative[middle] < at)
            low = middle + 1;
        else
            high = middle;
    }
    const double scale = departure->scale[low / WW__DEPARTURE_SCATTERS];
    *scatter = departure->scatter[low % WW__DEPARTURE_SCATTERS];
    for (size_t k = 0; k < departure->n_bumps; k++)
        height[k] = scale * gsl_ran_gaussian_ziggurat(rng, 1.0);
}
