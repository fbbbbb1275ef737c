/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/lsq.h"
#include "core/model.h"
#include "refs/nist_models.h"
#include "refs/nist_nonlinear.h"
#include "refs/sigmoid.h"
#include "support/support.h"
#include <gsl/gsl_fit.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/start.h>

#define COUNT(a) (sizeof(a) / sizeof *(a))

/* ------------------------------------------------------------------ NIST StRD */

typedef struct nist_case {
    const nist_set *set;
    const nist_row *row;
} nist_case;

static nist_case nist_find(const nist_row *row) {
    for (size_t i = 0; i < COUNT(nist_sets); i++)
        if (strcmp(nist_sets[i].name, row->name) == 0)
            return (nist_case){&nist_sets[i], row};
    fail_msg("%s: no such set", row->name);
    return (nist_case){NULL, NULL};
}

static bool nist_residual(const void *self, const double b[], double f[]) {
    const nist_case *c = self;
    double g[NIST_PARAMETERS_MAX];
    for (size_t i = 0; i < c->set->n; i++) {
        const double *line = c->set->data + i * c->set->columns;
        f[i] = c->row->model(b, line + 1, g) - (c->row->log_response ? log(line[0]) : line[0]);
    }
    return true;
}

static bool nist_jacobian(const void *self, const double b[], double j[]) {
    const nist_case *c = self;
    for (size_t i = 0; i < c->set->n; i++)
        (void)c->row->model(b, c->set->data + i * c->set->columns + 1, j + i * c->set->p);
    return true;
}

static void nist_solve(nist_case c, int start, ww__lsq *lsq) {
    const ww__lsq_problem problem = {.n = c.set->n,
                                     .p = c.set->p,
                                     .residual = nist_residual,
                                     .jacobian = nist_jacobian,
                                     .self = &c};
    const size_t p = c.set->p;
    ww__lsq_result result = {0};
    ww_error err = WW_ERROR_INIT;
    double b[NIST_PARAMETERS_MAX], covariance[NIST_PARAMETERS_MAX * NIST_PARAMETERS_MAX];
    char row[64];
    snprintf(row, sizeof row, "%s from start %d", c.set->name, start + 1);
    memcpy(b, c.set->start[start], sizeof b);
    test_status(row, ww__lsq_solve(lsq, &problem, b, &result, &err), WW_OK, &err);
    ww__lsq_covariance(lsq, covariance);
    test_close(row, result.chi_squared / c.set->certified_rss, 1.0, 1e-7);
    test_true(row, result.iterations > 0);
    const double variance = result.chi_squared / (double)(c.set->n - p);
    for (size_t i = 0; i < p; i++) {
        const double se = sqrt(covariance[i * p + i] * variance);
        test_close(row, b[i] / c.set->certified[i], 1.0, 1e-6);
        test_close(row, se / c.set->certified_sd[i], 1.0, 1e-4);
    }
}

/*
 * Source: NIST StRD certified values. Every set is solved from both of NIST's start points; none of
 * the first ones fails. Those of BoxBOD (a plateau lies on the way), MGH10, MGH17 and Bennett5 need
 * the careful settings.
 */
static void nist(void **state) {
    (void)state;
    for (size_t i = 0; i < COUNT(nist_rows); i++) {
        const nist_case c = nist_find(&nist_rows[i]);
        ww__lsq *lsq = NULL;
        assert_int_equal(ww__lsq_new(c.set->n, c.set->p, &lsq, NULL), WW_OK);
        for (int start = 0; start < 2; start++)
            nist_solve(c, start, lsq);
        ww__lsq_free(lsq);
    }
}

/* Source: central differences. A wrong derivative could still lead to the right place, slowly. */
static void nist_derivatives(void **state) {
    (void)state;
    for (size_t i = 0; i < COUNT(nist_rows); i++) {
        const nist_case c = nist_find(&nist_rows[i]);
        const double *x = c.set->data + (c.set->n / 3) * c.set->columns + 1;
        double b[NIST_PARAMETERS_MAX], g[NIST_PARAMETERS_MAX], unused[NIST_PARAMETERS_MAX];
        memcpy(b, c.set->certified, sizeof b);
        const double y = c.row->model(b, x, g);
        for (size_t k = 0; k < c.set->p; k++) {
            const double h = 1e-5 * fabs(b[k]);
            b[k] = c.set->certified[k] + h;
            const double above = c.row->model(b, x, unused);
            b[k] = c.set->certified[k] - h;
            const double below = c.row->model(b, x, unused);
            b[k] = c.set->certified[k];
            /* error h^2 f'''/6 and rounding eps y/h, both as parts of the parameter's effect */
            const double effect = fabs(g[k] * b[k]) + fabs(y) * 1e-4;
            test_close(c.set->name, (above - below) / (2.0 * h) * b[k] / effect,
                       g[k] * b[k] / effect, 2e-6);
        }
    }
}

/* ------------------------------------------------------------------ logistic fits of others */

/* Our logistic along -ln dose: base_fog = c, range = d - c, slope = b, middle = -ln e. */
static ww_shape dose_shape(const double p[], bool asymmetric) {
    return (ww_shape){.model = WW_MODEL_LOGISTIC,
                      .falling = true,
                      .n = WW__LOGISTIC_COUNT,
                      .parameter = {p[0], p[1], p[2], p[3], asymmetric ? p[4] : 1.0}};
}

static bool dose_residual(const void *self, const double p[], double f[]) {
    const doses *d = self;
    const ww_shape shape = dose_shape(p, d->row->asymmetric);
    for (size_t i = 0; i < d->n; i++)
        f[i] = ww_model_density(&shape, d->log_dose[i], NULL) - d->response[i];
    return ww__model_valid(&shape);
}

static bool dose_jacobian(const void *self, const double p[], double j[]) {
    const doses *d = self;
    const ww_shape shape = dose_shape(p, d->row->asymmetric);
    const size_t n = d->row->asymmetric ? 5 : 4;
    for (size_t i = 0; i < d->n; i++) {
        double gradient[WW_MODEL_PARAMETERS_MAX];
        ww__model_gradient(&shape, d->log_dose[i], gradient);
        memcpy(j + i * n, gradient, n * sizeof *j);
    }
    return true;
}

/* Theirs from ours, with errors by the delta method: d = c + range, e = e^(-middle). */
static void check_doses(const doses *d, const double p[], const double covariance[], double rss) {
    const sigmoid_row *row = d->row;
    const size_t n = row->asymmetric ? 5 : 4;
    const double s2 = rss / (double)(d->n - n), e = exp(-p[3]);
    const double *v = covariance;
    const double got[5] = {p[2], p[0], p[0] + p[1], e, n == 5 ? p[4] : 1.0};
    const double variance[5] = {v[2 * n + 2], v[0], v[0] + 2.0 * v[1] + v[n + 1],
                                e * e * v[3 * n + 3], n == 5 ? v[4 * n + 4] : 0.0};
    for (size_t i = 0; i < 5; i++) {
        test_close(row->name, got[i], row->estimate[i],
                   row->tolerance * (row->se[i] > 0.0 ? row->se[i] : fabs(row->estimate[i])));
        if (row->se[i] > 0.0)
            test_close(row->name, sqrt(s2 * variance[i]) / row->se[i], 1.0, row->se_tolerance);
    }
    if (row->rss > 0.0)
        test_close(row->name, rss / row->rss, 1.0, 1e-7);
}

/* Source: each row's. */
static void logistic(void **state) {
    (void)state;
    for (size_t i = 0; i < COUNT(sigmoid_rows); i++) {
        const sigmoid_row *row = &sigmoid_rows[i];
        char *path = test_data(row->file);
        if (!path)
            skip();
        char *text = test_file_read(path, NULL);
        assert_non_null(text);
        doses d = {.row = row};
        read_doses(text, &d);
        const size_t n = row->asymmetric ? 5 : 4;
        const ww__lsq_problem problem = {
            .n = d.n, .p = n, .residual = dose_residual, .jacobian = dose_jacobian, .self = &d};
        const double *at = row->start;
        double p[5] = {at[1], at[2] - at[1], at[0], -at[3], at[4]}, covariance[25];
        ww__lsq *lsq = NULL;
        ww__lsq_result result;
        ww_error err = WW_ERROR_INIT;
        test_status(row->name, ww__lsq_new(d.n, n, &lsq, &err), WW_OK, &err);
        test_status(row->name, ww__lsq_solve(lsq, &problem, p, &result, &err), WW_OK, &err);
        ww__lsq_covariance(lsq, covariance);
        check_doses(&d, p, covariance, result.chi_squared);
        ww__lsq_free(lsq);
        free(text);
        free(path);
    }
}

/* ------------------------------------------------------------------ straight lines, weights */

enum { LINE_N = 7 };
static const double line_x[LINE_N] = {-2.731, -1.07, -0.33, 0.219, 1.013, 1.87, 3.141};
static const double line_y[LINE_N] = {0.117, 0.431, 0.502, 0.77, 0.913, 1.377, 1.618};
static const double line_weight[LINE_N] = {3.7, 11.0, 0.013, 2.9, 170.0, 1.3, 8.8};

static bool line_residual(const void *self, const double b[], double f[]) {
    (void)self;
    for (size_t i = 0; i < LINE_N; i++)
        f[i] = b[0] + b[1] * line_x[i] - line_y[i];
    return true;
}

static bool line_jacobian(const void *self, const double b[], double j[]) {
    (void)self;
    (void)b;
    for (size_t i = 0; i < LINE_N; i++) {
        j[2 * i] = 1.0;
        j[2 * i + 1] = line_x[i];
    }
    return true;
}

static const ww__lsq_problem line = {
    .n = LINE_N, .p = 2, .residual = line_residual, .jacobian = line_jacobian};

/* Source: gsl_fit_wlinear, the closed form of the straight line. */
static void weighted_line(void **state) {
    (void)state;
    ww__lsq_problem problem = line;
    problem.weight = line_weight;
    double c0, c1, c00, c01, c11, chi_squared;
    gsl_fit_wlinear(line_x, 1, line_weight, 1, line_y, 1, LINE_N, &c0, &c1, &c00, &c01, &c11,
                    &chi_squared);
    ww__lsq *lsq = NULL;
    ww__lsq_result result;
    double b[2] = {-40.0, 17.0}, covariance[4], once[2];
    assert_int_equal(ww__lsq_new(LINE_N, 2, &lsq, NULL), WW_OK);
    test_status("line", ww__lsq_solve(lsq, &problem, b, &result, NULL), WW_OK, NULL);
    ww__lsq_covariance(lsq, covariance);
    test_close("intercept", b[0], c0, 1e-12);
    test_close("slope", b[1], c1, 1e-12);
    test_close("chi squared", result.chi_squared, chi_squared, 1e-12);
    test_close("variance of intercept", covariance[0], c00, 1e-12);
    test_close("covariance", covariance[1], c01, 1e-12);
    test_close("covariance, other side", covariance[2], c01, 1e-12);
    test_close("variance of slope", covariance[3], c11, 1e-12);

    /* From the solution itself no step goes down: that is the bottom, not a failure. */
    memcpy(once, b, sizeof once);
    test_status("from the solution", ww__lsq_solve(lsq, &problem, b, NULL, NULL), WW_OK, NULL);
    test_close("it stays", b[0], once[0], 1e-14);
    test_close("it stays", b[1], once[1], 1e-14);

    /* Used again, a workspace gives the same bits (source: definition). */
    double first[2] = {3.0, 1.0}, second[2] = {3.0, 1.0};
    ww__lsq_solve(lsq, &line, first, NULL, NULL);
    ww__lsq_solve(lsq, &problem, b, NULL, NULL);
    ww__lsq_solve(lsq, &line, second, NULL, NULL);
    assert_memory_equal(first, second, sizeof first);
    ww__lsq_free(lsq);
}

/* ------------------------------------------------------------------ statuses */

/* `self` says which problem; one parameter b, two residuals. */
typedef enum trouble { ROOT, ENDLESS, IMPOSSIBLE, NOT_A_NUMBER, NO_JACOBIAN, BOTTOM } trouble;

static bool trouble_residual(const void *self, const double b[], double f[]) {
    f[1] = 0.0;
    switch (*(const trouble *)self) {
    case ROOT: /* root b = 0.001 */
        f[0] = sqrt(b[0]) - 0.001;
        return b[0] >= 0.0;
    case ENDLESS: /* falls for ever, and too slowly to be taken for a minimum */
        f[0] = 1.0 + 1.0 / log(b[0]);
        return b[0] > 1.0 && isfinite(b[0]);
    case IMPOSSIBLE:
        f[0] = b[0];
        return false;
    case NOT_A_NUMBER:
        f[0] = (double)NAN;
        return true;
    case NO_JACOBIAN:
        f[0] = b[0] - 1.0;
        return true;
    case BOTTOM:
        f[0] = b[0] - 1.0;
        f[1] = b[0] + 1.0;
        return true;
    }
    return false;
}

static bool trouble_jacobian(const void *self, const double b[], double j[]) {
    const trouble which = *(const trouble *)self;
    j[0] = which == ROOT      ? 0.5 / sqrt(b[0])
           : which == ENDLESS ? -1.0 / (b[0] * log(b[0]) * log(b[0]))
                              : 1.0;
    j[1] = which == BOTTOM ? 1.0 : 0.0;
    return which != NO_JACOBIAN && isfinite(j[0]);
}

static const struct trouble_row {
    const char *name;
    const char *source;
    trouble which;
    double start;
    ww_status status;
    double value; /* checked where tolerance > 0 */
    double tolerance;
} trouble_rows[] = {
    {"a long step would be impossible", "closed form: b = 0.001^2", ROOT, 100.0, WW_OK, 1e-6,
     1e-13},
    {"start at the bottom, residuals left over", "closed form", BOTTOM, 0.0, WW_OK, 0.0, 1e-12},
    {"residuals left over", "closed form", BOTTOM, 2.731e5, WW_OK, 0.0, 1e-9},
    {"minimum infinitely far", "closed form", ENDLESS, 2.731, WW_ECONVERGE, 0.0, 0.0},
    {"start outside the domain", "contract", ROOT, -1.0, WW_ECONVERGE, -1.0, 1e-300},
    {"impossible everywhere", "contract", IMPOSSIBLE, 2.731, WW_ECONVERGE, 2.731, 1e-300},
    {"not a number", "contract", NOT_A_NUMBER, 2.731, WW_ECONVERGE, 2.731, 1e-300},
    {"no Jacobian at the start", "contract", NO_JACOBIAN, 2.731, WW_ECONVERGE, 2.731, 1e-300},
};

static void statuses(void **state) {
    (void)state;
    ww__lsq *lsq = NULL;
    ww_error err = WW_ERROR_INIT;
    test_status("n < p", ww__lsq_new(4, 5, &lsq, &err), WW_EDOMAIN, &err);
    assert_null(lsq);
    ww__lsq_free(NULL);
    assert_int_equal(ww__lsq_new(2, 1, &lsq, NULL), WW_OK);
    for (size_t i = 0; i < COUNT(trouble_rows); i++) {
        const struct trouble_row *row = &trouble_rows[i];
        const ww__lsq_problem problem = {.n = 2,
                                         .p = 1,
                                         .residual = trouble_residual,
                                         .jacobian = trouble_jacobian,
                                         .self = &row->which};
        double b = row->start;
        test_status(row->name, ww__lsq_solve(lsq, &problem, &b, NULL, &err), row->status, &err);
        test_true(row->name, isfinite(b));
        if (row->tolerance > 0.0)
            test_close(row->name, b, row->value, row->tolerance);
        else
            test_true(row->name, b > row->start); /* the best point found */
    }
    ww__lsq_free(lsq);
}

/* Source: definition. Data that determine nothing leave a singular direction, which is zero. */
static bool idle_jacobian(const void *self, const double b[], double j[]) {
    (void)self;
    (void)b;
    for (size_t i = 0; i < LINE_N; i++) {
        j[2 * i] = 1.0;
        j[2 * i + 1] = 0.0;
    }
    return true;
}

static bool idle_residual(const void *self, const double b[], double f[]) {
    (void)self;
    for (size_t i = 0; i < LINE_N; i++)
        f[i] = b[0] - line_y[i];
    return true;
}

static void singular(void **state) {
    (void)state;
    const ww__lsq_problem problem = {
        .n = LINE_N, .p = 2, .residual = idle_residual, .jacobian = idle_jacobian};
    ww__lsq *lsq = NULL;
    double b[2] = {0.0, 5.3}, covariance[4], mean = 0.0;
    for (size_t i = 0; i < LINE_N; i++)
        mean += line_y[i] / LINE_N;
    assert_int_equal(ww__lsq_new(LINE_N, 2, &lsq, NULL), WW_OK);
    test_status("idle parameter", ww__lsq_solve(lsq, &problem, b, NULL, NULL), WW_OK, NULL);
    ww__lsq_covariance(lsq, covariance);
    test_close("mean", b[0], mean, 1e-9); /* the sum of squares is flat to rounding 1e-8 around */
    test_close("idle parameter stays", b[1], 5.3, 1e-12);
    test_close("variance of the mean", covariance[0], 1.0 / LINE_N, 1e-12);
    test_close("nothing known", covariance[3], 0.0, 0.0);
    ww__lsq_free(lsq);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(nist),     cmocka_unit_test(nist_derivatives),
        cmocka_unit_test(logistic), cmocka_unit_test(weighted_line),
        cmocka_unit_test(statuses), cmocka_unit_test(singular),
    };
    ww_start();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
