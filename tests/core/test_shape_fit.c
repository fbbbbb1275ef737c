/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/model.h"
#include "core/series_made.h"
#include "core/shape_fit.h"
#include "core/shapes.h"
#include <gsl/gsl_multifit.h>
#include <math.h>
#include <string.h>
#include <wedgework/start.h>

static ww_status solve(const ww__series *s, ww_model_kind model, bool falling, ww__shape_fit *fit) {
    return ww__shape_fit_solve(s, model, falling, NULL, fit, NULL);
}

static double density_of(const ww__shape_fit *fit, const double working[], double u) {
    ww_shape shape = fit->shape;
    ww__shape_fit_natural(working, &shape);
    return ww_model_density(&shape, shape.falling ? -u : u, NULL);
}

/* 21 readings of an emulsion that is none of the models. */
static ww__series noisy(uint64_t seed, double sd) {
    dice d = {seed};
    const emulsion e = emulsion_draw(&d, (emulsion_kind)(seed % EMULSION_KINDS), false);
    return made_of_emulsion(&e, &d, sd);
}

/* Source: definition. The readings are the shape's own: the fit must give the curve back, where a
 * parameter lies outside its fence (shapes.h goes that far) to a thousandth of a density. */
static void curves_come_back(void **state) {
    (void)state;
    for (size_t k = 0; k < sizeof shapes / sizeof *shapes; k++) {
        const named_shape *named = &shapes[k];
        const ww_shape *truth = &named->shape;
        ww__series s = made_series(31, 0.0, 0.0);
        for (size_t i = 0; i < s.n; i++)
            s.u[i] = (truth->falling ? -1.0 : 1.0) * position(named, 2 * (int)i);
        made_of_shape(truth, &s);
        test_status(named->name, ww__series_sort(&s, NULL), WW_OK, NULL);
        ww__shape_fit fit;
        test_status(named->name, solve(&s, truth->model, truth->falling, &fit), WW_OK, NULL);
        for (size_t i = 0; i < s.n; i++)
            test_close(named->name, density_of(&fit, fit.working, s.u[i]), s.density[i],
                       truth->model == WW_MODEL_SPLINE ? 0.006 : 0.001);
        ww__series_release(&s);
    }
}

/* ----------------------------------------------------------- an optimum, and what is told of it */

/* Derivatives by the working parameters, by central differences. */
static gsl_matrix *numeric_jacobian(const ww__series *s, const ww__shape_fit *fit) {
    gsl_matrix *x = gsl_matrix_alloc(s->n + 1, fit->shape.n);
    for (size_t i = 0; i <= s->n; i++) {
        for (size_t a = 0; a < fit->shape.n; a++) {
            double w[WW_MODEL_PARAMETERS_MAX];
            const double h = 1e-5, u = i < s->n ? s->u[i] : -50.0; /* the base, far down */
            memcpy(w, fit->working, sizeof w);
            w[a] += h;
            const double up = density_of(fit, w, u);
            w[a] -= 2.0 * h;
            gsl_matrix_set(x, i, a, (up - density_of(fit, w, u)) / (2.0 * h));
        }
    }
    return x;
}

/*
 * Source: the normal equations (no fence is in reach), AICc by its published formula (Hurvich and
 * Tsai 1989), covariance by weighted linear least squares of GSL on a Jacobian by central
 * differences.
 */
static void check_optimum(const ww__series *s, const ww__shape_fit *fit) {
    const size_t n = s->n + 1, p = fit->shape.n;
    gsl_matrix *x = numeric_jacobian(s, fit), *c = gsl_matrix_alloc(p, p);
    gsl_vector *w = gsl_vector_alloc(n), *y = gsl_vector_alloc(n), *b = gsl_vector_alloc(p);
    gsl_multifit_linear_workspace *work = gsl_multifit_linear_alloc(n, p);
    double rss = 0.0, linear_rss;
    for (size_t i = 0; i < n; i++) {
        const double weight = i < s->n ? s->weight[i] : s->base_weight;
        const double left = i < s->n ? s->density[i] - density_of(fit, fit->working, s->u[i])
                                     : s->base - fit->working[0];
        gsl_vector_set(w, i, weight);
        gsl_vector_set(y, i, left);
        rss += weight * left * left;
    }
    gsl_multifit_wlinear(x, w, y, b, c, &linear_rss, work);
    for (size_t a = 0; a < p; a++) {
        const double sd = fit->residual_sd * sqrt(gsl_matrix_get(c, a, a));
        test_close("no step left, in standard errors", gsl_vector_get(b, a) / sd, 0.0, 2e-3);
        for (size_t k = 0; k < p; k++)
            test_close("covariance", fit->unscaled[a * p + k], gsl_matrix_get(c, a, k),
                       1e-3 * sqrt(gsl_matrix_get(c, a, a) * gsl_matrix_get(c, k, k)));
    }
    const double rows = (double)n, k = (double)p + 1.0;
    assert_int_equal(fit->rows, n);
    test_close("rss", fit->rss, rss, 1e-10);
    test_close("parameters used", fit->used, (double)p, 1e-6);
    test_close("AICc", fit->aicc,
               rows * log(rss / rows) + 2.0 * k + 2.0 * k * (k + 1.0) / (rows - k - 1.0), 1e-5);
    test_close("residual sd", fit->residual_sd, sqrt(rss / (rows - (double)p)), 1e-8);
    gsl_multifit_linear_free(work);
    gsl_vector_free(w);
    gsl_vector_free(y);
    gsl_vector_free(b);
    gsl_matrix_free(x);
    gsl_matrix_free(c);
}

static void optimum(void **state) {
    (void)state;
    static const ww_model_kind models[] = {WW_MODEL_LOGISTIC, WW_MODEL_TOE_LINE_SHOULDER};
    for (uint64_t seed = 30; seed < 35; seed++) {
        ww__series s = noisy(seed, 0.006);
        for (size_t i = 0; i < s.n; i++)
            s.weight[i] = i % 3 ? 1.0 : 2.7;
        s.base_weight = 1.9;
        for (size_t m = 0; m < 2; m++) {
            ww__shape_fit fit, again;
            test_status("fit", solve(&s, models[m], false, &fit), WW_OK, NULL);
            check_optimum(&s, &fit);
            /* From its own solution it stays there. */
            test_status("again", ww__shape_fit_solve(&s, models[m], false, &fit, &again, NULL),
                        WW_OK, NULL);
            test_close("again", again.rss, fit.rss, 1e-7 * fit.rss);
        }
        ww__series_release(&s);
    }
}

static void gradients(void **state) {
    (void)state;
    for (size_t k = 0; k < sizeof shapes / sizeof *shapes; k++) {
        const named_shape *named = &shapes[k];
        ww__shape_fit fit = {.shape = named->shape};
        double w[WW_MODEL_PARAMETERS_MAX], gradient[WW_MODEL_PARAMETERS_MAX];
        for (size_t a = 0; a < fit.shape.n; a++)
            fit.working[a] = ww__model_positive(&fit.shape, a) ? log(fit.shape.parameter[a])
                                                               : fit.shape.parameter[a];
        for (int at = 0; at < POSITIONS; at += 4) {
            const double log_h = position(named, at), u = fit.shape.falling ? -log_h : log_h;
            const double d = ww__shape_fit_gradient(&fit.shape, u, gradient);
            test_close(named->name, d, density_of(&fit, fit.working, u), 1e-12);
            for (size_t a = 0; a < fit.shape.n; a++) {
                const double h = 1e-5;
                memcpy(w, fit.working, sizeof w);
                w[a] += h;
                const double up = density_of(&fit, w, u);
                w[a] -= 2.0 * h;
                test_close(named->name, gradient[a], (up - density_of(&fit, w, u)) / (2.0 * h),
                           1e-7);
            }
        }
    }
}

/* --------------------------------------------------------------------------- properties */

static void same_curve(const char *name, const ww__shape_fit *got, const ww__shape_fit *want,
                       double shift, double sign, double tolerance) {
    for (double u = -3.0; u < 0.0; u += 0.1)
        test_close(name, ww_model_density(&got->shape, sign * (u + shift), NULL),
                   ww_model_density(&want->shape, u, NULL), tolerance);
}

/*
 * Of each model: the order of the readings does not matter; a weight of two is a reading given
 * twice; a weight of nothing is a reading left out; a shift of u shifts the curve; a reversal
 * material is the mirror image.
 */
static void properties(void **state) {
    (void)state;
    ww__series s = noisy(41, 0.006);
    for (int m = 0; m < WW_MODEL_COUNT; m++) {
        const ww_model_kind model = (ww_model_kind)m;
        ww__series other = made_series(s.n, 0.0, 0.0), twice = made_series(s.n + 1, 0.0, 0.0);
        ww__shape_fit fit, got;
        made_base(&other, s.base);
        made_base(&twice, s.base);
        test_status("fit", solve(&s, model, false, &fit), WW_OK, NULL);
        for (size_t i = 0; i < s.n; i++) {
            other.u[i] = s.u[(i * 8 + 3) % s.n];
            other.density[i] = s.density[(i * 8 + 3) % s.n];
        }
        test_status("sort", ww__series_sort(&other, NULL), WW_OK, NULL);
        test_status("permuted", solve(&other, model, false, &got), WW_OK, NULL);
        same_curve("permuted", &got, &fit, 0.0, 1.0, 2e-6);
        test_status("falling", solve(&s, model, true, &got), WW_OK, NULL);
        same_curve("falling", &got, &fit, 0.0, -1.0, 1e-9);
        for (size_t i = 0; i < s.n; i++)
            other.u[i] += 2.731;
        test_status("shifted", solve(&other, model, false, &got), WW_OK, NULL);
        same_curve("shifted", &got, &fit, 2.731, 1.0, 2e-6);
        test_close("shifted", got.aicc, fit.aicc, 1e-5);
        other.weight[4] = 0.0; /* 0.4 D wrong, and it does not matter */
        const size_t out = (4 * 8 + 3) % s.n;
        other.density[4] += 0.4;
        s.weight[out] = 0.0;
        test_status("less one", solve(&s, model, false, &fit), WW_OK, NULL);
        test_status("left out", solve(&other, model, false, &got), WW_OK, NULL);
        same_curve("left out", &got, &fit, 2.731, 1.0, 2e-6);
        assert_int_equal(got.rows, s.n);
        s.weight[out] = 2.0;
        for (size_t i = 0; i <= s.n; i++) {
            twice.u[i] = i < s.n ? s.u[i] : s.u[out];
            twice.density[i] = i < s.n ? s.density[i] : s.density[out];
        }
        test_status("sort", ww__series_sort(&twice, NULL), WW_OK, NULL);
        test_status("weight 2", solve(&s, model, false, &fit), WW_OK, NULL);
        test_status("twice", solve(&twice, model, false, &got), WW_OK, NULL);
        if (model != WW_MODEL_SPLINE) { /* a spline's smoothing goes by the number of readings */
            same_curve("twice", &got, &fit, 0.0, 1.0, 2e-6);
            test_close("twice", got.rss, fit.rss, 1e-9);
        }
        s.weight[out] = 1.0;
        ww__series_release(&other);
        ww__series_release(&twice);
    }
    s.base_weight = 1e8; /* a base that is known for sure is the asymptote */
    ww__shape_fit fit;
    test_status("sure", solve(&s, WW_MODEL_TOE_LINE_SHOULDER, false, &fit), WW_OK, NULL);
    test_close("sure base", fit.shape.parameter[0], s.base, 1e-6);
    ww__series_release(&s);
}

/* The spline follows what neither closed model does, and rises everywhere. */
static void a_spline_follows(void **state) {
    (void)state;
    ww__series s = made_series(31, -3.0, 0.1);
    for (size_t i = 0; i < s.n; i++) /* two Gaussian integrals, well apart */
        s.density[i] = 0.2 + 0.45 * erfc(-(s.u[i] + 2.2) / 0.3) + 0.6 * erfc(-(s.u[i] + 0.7) / 0.3);
    ww__shape_fit fit, logistic;
    test_status("spline", solve(&s, WW_MODEL_SPLINE, false, &fit), WW_OK, NULL);
    test_status("logistic", solve(&s, WW_MODEL_LOGISTIC, false, &logistic), WW_OK, NULL);
    for (size_t i = 0; i < s.n; i++)
        test_close("followed", density_of(&fit, fit.working, s.u[i]), s.density[i], 0.02);
    test_true("better", fit.aicc < logistic.aicc - 10.0);
    test_true("no more parameters than rises", fit.used > 4.0 && fit.used <= (double)fit.shape.n);
    for (double u = -3.0; u < 0.0; u += 0.01)
        test_true("rises",
                  density_of(&fit, fit.working, u + 0.01) > density_of(&fit, fit.working, u));
    ww__series_release(&s);
}

/* ------------------------------------------------------------------------------- statuses */

static void refusals(void **state) {
    (void)state;
    /* Source: definition: one reading more than parameters, six for a spline. */
    static const size_t fewest[WW_MODEL_COUNT] = {[WW_MODEL_LOGISTIC] = 6,
                                                  [WW_MODEL_TOE_LINE_SHOULDER] = 7,
                                                  [WW_MODEL_TOE_LINE] = 5,
                                                  [WW_MODEL_SPLINE] = 6};
    for (int m = 0; m < WW_MODEL_COUNT; m++) {
        const ww_model_kind model = (ww_model_kind)m;
        const size_t n = fewest[m];
        ww_error err = WW_ERROR_INIT;
        ww__shape_fit fit = {.rows = 77};
        assert_int_equal(ww__shape_fit_minimum(model), n);
        ww__series s = made_series(n, -1.0, 0.3);
        for (size_t i = 0; i < n; i++)
            s.density[i] = 0.2 + 0.1 * (double)i + 0.01 * (double)(i % 2);
        test_status("enough", ww__shape_fit_solve(&s, model, false, NULL, &fit, &err), WW_OK, &err);
        fit.rows = 77;
        s.weight[2] = 0.0; /* what does not count is no reading */
        test_status("too few", ww__shape_fit_solve(&s, model, false, NULL, &fit, &err), WW_ENODATA,
                    &err);
        made_base(&s, 0.19); /* the base does */
        test_status("base", ww__shape_fit_solve(&s, model, false, NULL, &fit, &err), WW_OK, &err);
        fit.rows = 77;
        s.density[1] = (double)NAN;
        test_status("no number", ww__shape_fit_solve(&s, model, false, NULL, &fit, &err),
                    WW_ECONVERGE, &err);
        test_true("untouched", fit.rows == 77);
        ww__series_release(&s);
    }
}

int main(void) {
    ww_start();
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(curves_come_back), cmocka_unit_test(optimum),
        cmocka_unit_test(gradients),        cmocka_unit_test(properties),
        cmocka_unit_test(a_spline_follows), cmocka_unit_test(refusals),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
