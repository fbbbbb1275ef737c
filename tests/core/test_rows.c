/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/model.h"
#include "core/rows.h"
#include "core/series_made.h"
#include <gsl/gsl_multifit.h>
#include <math.h>
#include <wedgework/start.h>

/* A fit of awkward readings: replicates, one left out, a base, nothing in the order of exposure. */
static ww__series read_back(bool falling, bool base) {
    dice d = {23};
    ww__series s = made_series(17, -2.9, 0.171);
    const ww_shape truth = {.model = WW_MODEL_TOE_LINE,
                            .falling = falling,
                            .n = 4,
                            .parameter = {0.2, 0.71, -1.9, 0.3}};
    for (size_t i = 0; i + 1 < s.n; i += 3) {
        const double u = s.u[i];
        s.u[i] = s.u[i + 1];
        s.u[i + 1] = u;
    }
    made_of_shape(&truth, &s);
    for (size_t i = 0; i < s.n; i++) {
        s.density[i] += dice_normal(&d, 0.006);
        s.weight[i] = i % 4 ? 1.0 : 3.7;
    }
    s.weight[5] = 0.0;
    if (base) {
        made_base(&s, 0.203);
        s.base_weight = 2.3;
    }
    test_status("sort", ww__series_sort(&s, NULL), WW_OK, NULL);
    return s;
}

static double density_of(const ww__shape_fit *fit, const double working[], double u) {
    ww_shape shape = fit->shape;
    ww__shape_fit_natural(working, &shape);
    return ww_model_density(&shape, shape.falling ? -u : u, NULL);
}

static void plain_columns(void **state) {
    (void)state;
    for (int k = 0; k < 4; k++) {
        const bool falling = k & 1, base = k & 2;
        ww__series s = read_back(falling, base);
        ww__shape_fit fit;
        ww__rows rows = WW__ROWS_INIT;
        test_status("fit", ww__shape_fit_solve(&s, WW_MODEL_TOE_LINE, falling, NULL, &fit, NULL),
                    WW_OK, NULL);
        test_status("rows", ww__rows_new(&s, &fit, &rows, NULL), WW_OK, NULL);
        assert_int_equal(rows.n, base ? 17 : 16);
        assert_int_equal(rows.p, 4);
        double squares = 0.0;
        for (size_t i = 0; i < rows.n; i++) {
            const bool last = base && i == rows.n - 1;
            const size_t at = i < 5 ? i : i + 1; /* the sixth was left out */
            const double weight = last ? s.base_weight : s.weight[at];
            const double h = 1e-5, here = last ? -50.0 : s.u[at];
            assert_true(rows.point[i] == (last ? SIZE_MAX : at));
            test_close("weight", rows.root_weight[i] * rows.root_weight[i], weight, 1e-12);
            test_close("fitted", rows.fitted[i], density_of(&fit, fit.working, here), 1e-12);
            /* Source: central differences; along u every curve rises. */
            test_close("slope", rows.slope[i],
                       (density_of(&fit, fit.working, here + h) -
                        density_of(&fit, fit.working, here - h)) /
                           (2.0 * h),
                       1e-8);
            test_close("residual", rows.residual[i],
                       sqrt(weight) * ((last ? s.base : s.density[at]) - rows.fitted[i]), 1e-12);
            squares += rows.residual[i] * rows.residual[i];
        }
        test_close("sum of squares", squares, fit.rss, 1e-12);
        ww__rows_release(&rows);
        ww__series_release(&s);
    }
}

/* Weighted linear least squares on the Jacobian by central differences, by GSL: its covariance
 * gives gain = C J'W and hat = W^1/2 J C J' W^1/2. */
static void check_hat(const ww__series *s, const ww__shape_fit *fit, const ww__rows *rows) {
    const size_t n = rows->n, p = rows->p;
    gsl_matrix *x = gsl_matrix_alloc(n, p), *c = gsl_matrix_alloc(p, p);
    gsl_vector *y = gsl_vector_calloc(n), *w = gsl_vector_alloc(n), *b = gsl_vector_alloc(p);
    gsl_multifit_linear_workspace *work = gsl_multifit_linear_alloc(n, p);
    double squares, moved[WW_MODEL_PARAMETERS_MAX];
    for (size_t i = 0; i < n; i++) {
        const double u = rows->point[i] == SIZE_MAX ? -50.0 : s->u[rows->point[i]];
        gsl_vector_set(w, i, rows->root_weight[i] * rows->root_weight[i]);
        for (size_t a = 0; a < p; a++) {
            const double h = 1e-5;
            for (size_t k = 0; k < p; k++)
                moved[k] = fit->working[k];
            moved[a] += h;
            const double up = density_of(fit, moved, u);
            moved[a] -= 2.0 * h;
            gsl_matrix_set(x, i, a, (up - density_of(fit, moved, u)) / (2.0 * h));
        }
    }
    gsl_multifit_wlinear(x, w, y, b, c, &squares, work);
    for (size_t j = 0; j < n; j++) {
        double gain[WW_MODEL_PARAMETERS_MAX];
        for (size_t a = 0; a < p; a++) {
            gain[a] = 0.0;
            for (size_t k = 0; k < p; k++)
                gain[a] += gsl_matrix_get(c, a, k) * gsl_matrix_get(x, j, k) * gsl_vector_get(w, j);
            test_close("gain", rows->gain[a * n + j], gain[a], 1e-6);
        }
        for (size_t i = 0; i < n; i++) {
            double hat = 0.0;
            for (size_t a = 0; a < p; a++)
                hat += gsl_matrix_get(x, i, a) * gain[a];
            hat *= rows->root_weight[i] / rows->root_weight[j];
            test_close("hat", rows->hat[i * n + j], hat, 1e-7);
        }
    }
    gsl_multifit_linear_free(work);
    gsl_vector_free(y);
    gsl_vector_free(w);
    gsl_vector_free(b);
    gsl_matrix_free(x);
    gsl_matrix_free(c);
}

static void hat_and_gain(void **state) {
    (void)state;
    for (int k = 0; k < 4; k++) {
        const bool falling = k & 1;
        ww__series s = read_back(falling, k & 2);
        ww__shape_fit fit;
        ww__rows rows = WW__ROWS_INIT;
        double trace = 0.0;
        test_status("fit", ww__shape_fit_solve(&s, WW_MODEL_TOE_LINE, falling, NULL, &fit, NULL),
                    WW_OK, NULL);
        test_status("rows", ww__rows_new(&s, &fit, &rows, NULL), WW_OK, NULL);
        check_hat(&s, &fit, &rows);
        /* Source: linear algebra. A hat matrix is a projection on as many directions as there are
         * parameters (no fence is in reach here). */
        for (size_t i = 0; i < rows.n; i++) {
            trace += rows.hat[i * rows.n + i];
            for (size_t j = 0; j < rows.n; j++) {
                double twice = 0.0;
                for (size_t m = 0; m < rows.n; m++)
                    twice += rows.hat[i * rows.n + m] * rows.hat[m * rows.n + j];
                test_close("projection", twice, rows.hat[i * rows.n + j], 1e-9);
                test_close("symmetric", rows.hat[i * rows.n + j], rows.hat[j * rows.n + i], 1e-9);
            }
        }
        test_close("trace", trace, 4.0, 1e-9);
        test_close("trace", trace, fit.used, 1e-9);
        ww__rows_release(&rows);
        ww__series_release(&s);
    }
}

/* What a row's gain says of one reading is what a new fit does, to first order. */
static void gain_foretells_a_fit(void **state) {
    (void)state;
    ww__series s = made_series(15, -2.9, 0.2);
    const ww_shape truth = {
        .model = WW_MODEL_TOE_LINE, .n = 4, .parameter = {0.2, 0.71, -1.9, 0.3}};
    made_of_shape(&truth, &s);
    ww__shape_fit fit, moved;
    ww__rows rows = WW__ROWS_INIT;
    test_status("fit", ww__shape_fit_solve(&s, WW_MODEL_TOE_LINE, false, NULL, &fit, NULL), WW_OK,
                NULL);
    test_status("rows", ww__rows_new(&s, &fit, &rows, NULL), WW_OK, NULL);
    const double by = 1e-4;
    for (size_t i = 0; i < s.n; i++) {
        s.density[i] += by;
        test_status("again", ww__shape_fit_solve(&s, WW_MODEL_TOE_LINE, false, &fit, &moved, NULL),
                    WW_OK, NULL);
        s.density[i] -= by;
        for (size_t a = 0; a < rows.p; a++)
            test_close("gain", (moved.working[a] - fit.working[a]) / by, rows.gain[a * s.n + i],
                       0.01 * (1.0 + fabs(rows.gain[a * s.n + i])));
    }
    ww__rows_release(&rows);
    ww__rows_release(&rows);
    ww__rows_release(NULL);
    ww__series_release(&s);
}

int main(void) {
    ww_start();
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(plain_columns),
        cmocka_unit_test(hat_and_gain),
        cmocka_unit_test(gain_foretells_a_fit),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
