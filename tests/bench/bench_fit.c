/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A fit of three channels by 21 steps with 1000 resamples, one thread, against the same number of
 * bare GSL fits of the five-parameter logistic: same readings, same tolerances, Cholesky solver,
 * analytic Jacobian, one workspace for all. The two take turns; of each pair the ratio is taken,
 * and the median of the ratios is printed. Aim: within 1.3. The readings are invented.
 */
#include <gsl/gsl_multifit_nlinear.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <wedgework/fit.h>
#include <wedgework/start.h>

enum { STEPS = 21, CHANNELS = 3, RESAMPLES = 1000, PAIRS = 9, PARAMETERS = 5 };

/* base + fog, range, slope, middle, asymmetry */
static const double material[CHANNELS][PARAMETERS] = {{0.213, 1.93, 2.71, -1.37, 0.71},
                                                      {0.617, 2.07, 2.53, -1.29, 0.83},
                                                      {0.871, 2.31, 2.83, -1.41, 0.77}};

static double log_h[STEPS], density[CHANNELS][STEPS];

/* Steps of half a stop; 0.01 D of reading noise from a plain linear congruential generator. */
static unsigned long long seed = 2731;
static double uniform(void) {
    seed = seed * 6364136223846793005ULL + 1442695040888963407ULL;
    return (double)(seed >> 11) * 0x1p-53;
}

static double logistic(const double p[], double x, double gradient[]) {
    const double e = exp(-p[2] * (x - p[3]));
    const double fraction = pow(1.0 + e, -p[4]);
    if (gradient) {
        const double by_z = p[1] * p[4] * fraction * e / (1.0 + e);
        gradient[0] = 1.0;
        gradient[1] = fraction;
        gradient[2] = by_z * (x - p[3]);
        gradient[3] = -by_z * p[2];
        gradient[4] = -p[1] * fraction * log1p(e);
    }
    return p[0] + p[1] * fraction;
}

static void make_readings(void) {
    for (size_t i = 0; i < STEPS; i++) {
        log_h[i] = -3.0 + 0.15 * (double)i;
        for (size_t c = 0; c < CHANNELS; c++)
            density[c][i] = logistic(material[c], log_h[i], NULL) +
                            0.01 * (uniform() + uniform() + uniform() + uniform() - 2.0);
    }
}

/* ---- bare GSL ---- */

static int residual(const gsl_vector *p, void *data, gsl_vector *f) {
    const double *y = data;
    for (size_t i = 0; i < STEPS; i++)
        gsl_vector_set(f, i, logistic(p->data, log_h[i], NULL) - y[i]);
    return GSL_SUCCESS;
}

static int jacobian(const gsl_vector *p, void *data, gsl_matrix *j) {
    (void)data;
    for (size_t i = 0; i < STEPS; i++)
        (void)logistic(p->data, log_h[i], gsl_matrix_ptr(j, i, 0));
    return GSL_SUCCESS;
}

/* The usual start: the ends, the middle between them, the steepest step, symmetric. */
static void usual_start(const double y[], double p[]) {
    double steepest = 0.0;
    p[0] = y[0];
    p[1] = y[STEPS - 1] - y[0];
    p[3] = log_h[STEPS / 2];
    for (size_t i = 1; i < STEPS; i++) {
        steepest = fmax(steepest, (y[i] - y[i - 1]) / (log_h[i] - log_h[i - 1]));
        if (y[i - 1] < p[0] + 0.5 * p[1] && y[i] >= p[0] + 0.5 * p[1])
            p[3] = log_h[i];
    }
    p[2] = 4.0 * steepest / p[1];
    p[4] = 1.0;
}

static bool gsl_fit(gsl_multifit_nlinear_workspace *w, double y[], double p[]) {
    gsl_multifit_nlinear_fdf fdf = {
        .f = residual, .df = jacobian, .n = STEPS, .p = PARAMETERS, .params = y};
    gsl_vector_const_view start = gsl_vector_const_view_array(p, PARAMETERS);
    int info;
    gsl_multifit_nlinear_init(&start.vector, &fdf, w);
    const int status = gsl_multifit_nlinear_driver(200, 1e-12, 1e-15, 0.0, NULL, NULL, &info, w);
    memcpy(p, w->x->data, PARAMETERS * sizeof *p);
    return status == GSL_SUCCESS;
}

/* One fit and its resampled residuals, a channel at a time; the number that converged. */
static size_t bare_gsl(void) {
    gsl_multifit_nlinear_parameters options = gsl_multifit_nlinear_default_parameters();
    options.solver = gsl_multifit_nlinear_solver_cholesky;
    gsl_multifit_nlinear_workspace *w =
        gsl_multifit_nlinear_alloc(gsl_multifit_nlinear_trust, &options, STEPS, PARAMETERS);
    size_t converged = 0;
    for (size_t c = 0; w && c < CHANNELS; c++) {
        double p[PARAMETERS], again[PARAMETERS], fitted[STEPS], y[STEPS];
        usual_start(density[c], p);
        converged += gsl_fit(w, density[c], p);
        for (size_t i = 0; i < STEPS; i++)
            fitted[i] = logistic(p, log_h[i], NULL);
        for (size_t r = 0; r < RESAMPLES; r++) {
            for (size_t i = 0; i < STEPS; i++) {
                const size_t from = (size_t)(uniform() * STEPS);
                y[i] = fitted[i] + density[c][from] - fitted[from];
            }
            usual_start(y, again);
            converged += gsl_fit(w, y, again);
        }
    }
    if (w)
        gsl_multifit_nlinear_free(w);
    return converged;
}

/* ---- ours ---- */

static void make_table(ww_readings *readings, ww_row row[], char label[][8], char nothing[]) {
    *readings = (ww_readings){.exposure = WW_EXPOSURE_LOG_H, .row = row, .n = STEPS};
    for (size_t i = 0; i < STEPS; i++) {
        snprintf(label[i], sizeof label[i], "%zu", i + 1);
        row[i] = (ww_row){.step = label[i],
                          .tone = nothing,
                          .pack = nothing,
                          .exposure = {true, log_h[i]},
                          .line = i + 2};
        for (size_t c = 0; c < CHANNELS; c++) {
            readings->has[c] = true;
            row[i].cell[c] = (ww_cell){.state = WW_CELL_VALUE, .value = density[c][i], .n = 1};
        }
    }
}

static ww_status ours(const ww_readings *readings) {
    ww_fit_options options = WW_FIT_OPTIONS_INIT;
    options.model_given = true;
    options.model = WW_MODEL_LOGISTIC;
    options.resamples = RESAMPLES;
    options.threads = 1;
    ww_curve curve = WW_CURVE_INIT;
    ww_error err = WW_ERROR_INIT;
    const ww_status status = ww_fit_readings(readings, &options, &curve, &err);
    if (status != WW_OK)
        printf("the fit failed: %s\n", err.msg);
    ww_curve_release(&curve);
    return status;
}

/* ---- in turns ---- */

static double now_s(void) {
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static int by_size(const void *a, const void *b) {
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static double median(const double x[]) {
    double sorted[PAIRS];
    memcpy(sorted, x, sizeof sorted);
    qsort(sorted, PAIRS, sizeof *sorted, by_size);
    return sorted[PAIRS / 2];
}

int main(void) {
    double bare_s[PAIRS], ours_s[PAIRS], ratio[PAIRS];
    ww_readings readings;
    ww_row row[STEPS];
    char label[STEPS][8], nothing[] = "";
    size_t converged = 0;
    ww_start();
    make_readings();
    make_table(&readings, row, label, nothing);
    for (int i = -1; i < PAIRS; i++) { /* the first pair warms up */
        const double before = now_s();
        converged = bare_gsl();
        const double between = now_s();
        if (ours(&readings) != WW_OK)
            return 1;
        if (i < 0)
            continue;
        bare_s[i] = between - before;
        ours_s[i] = now_s() - between;
        ratio[i] = ours_s[i] / bare_s[i];
    }
    printf("bare GSL  %8.1f ms   %zu of %d fits converged\n", 1e3 * median(bare_s), converged,
           CHANNELS * (RESAMPLES + 1));
    printf("wedgework %8.1f ms   fit, resamples and figures\n", 1e3 * median(ours_s));
    printf("ratio     %8.2f      median of %d pairs; aim: within 1.3\n", median(ratio), PAIRS);
    return 0;
}
