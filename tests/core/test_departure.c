/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/departure.h"
#include "support/emulsion.h"
#include "support/support.h"
#include <gsl/gsl_linalg.h>
#include <math.h>
#include <wedgework/start.h>

/* Rows of a straight ramp, slope 1, of n readings 0.1 D apart. */
enum { N = 11 };
typedef struct ramp {
    double u[N], fitted[N], slope[N];
    ww__rows rows;
} ramp;

static void ramp_make(ramp *r) {
    *r = (ramp){.rows = {.n = N, .u = r->u, .fitted = r->fitted, .slope = r->slope}};
    for (size_t i = 0; i < N; i++) {
        r->u[i] = 0.1 * (double)i;
        r->fitted[i] = 0.2 + r->u[i];
        r->slope[i] = 1.0;
    }
}

/* Source: definition (the header), worked out by hand. */
static void by_hand(void **state) {
    (void)state;
    ramp r;
    ramp_make(&r);
    /* The largest rise is 0.1 of a range of 1: half of a fifth, squared a quarter. */
    test_close("between", ww__departure_between(&r.rows, 0.7), 0.0035 * 0.7 / 4.0, 1e-15);
    test_close("flat", ww__departure_between(&r.rows, 0.0), 0.0, 0.0);
    test_close("typical", ww__departure_typical(&r.rows, WW_MODEL_TOE_LINE), 0.004375, 1e-15);
    test_close("typical", ww__departure_typical(&r.rows, WW_MODEL_SPLINE), 0.004375, 1e-15);
    test_close("logistic", ww__departure_typical(&r.rows, WW_MODEL_LOGISTIC), 0.007875, 1e-15);
    r.slope[7] = 3.0; /* the steepest counts */
    test_close("steep", ww__departure_typical(&r.rows, WW_MODEL_TOE_LINE), 3.0 * 0.004375, 1e-15);
    r.fitted[10] = 2.2; /* 0.2 ... 1.1, 2.2: a rise of 1.1 in 2, 2.75 fifths */
    test_close("sparse", ww__departure_between(&r.rows, 1.0), 0.0035 * 2.75 * 2.75, 1e-12);
    /* The order of the readings does not matter. */
    r.fitted[10] = r.fitted[3];
    r.fitted[3] = 2.2;
    test_close("order", ww__departure_between(&r.rows, 1.0), 0.0035 * 2.75 * 2.75, 1e-12);
}

static void layouts(void **state) {
    (void)state;
    static const struct {
        const char *name;
        double low, high, steepest;
        size_t bumps;
    } rows[] = {{"eight over the rise, 0.125 apart", 0.0, 1.0, 1.0, 9},
                {"never closer than 0.1", -2.0, -1.0, 40.0, 11},
                {"nor further than 0.3", -3.0, 0.0, 0.2, 11},
                {"at least three", 0.0, 0.01, 1.0, 3},
                {"at most 32", -300.0, 300.0, 1.0, 32}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        ramp r;
        ww__departure d = {0};
        ramp_make(&r);
        for (size_t k = 0; k < N; k++)
            r.slope[k] = rows[i].steepest;
        ww__departure_layout(&r.rows, rows[i].low, rows[i].high, &d);
        assert_int_equal(d.n_bumps, rows[i].bumps);
        const ww__bump first = ww__departure_bump(&d, 0),
                       last = ww__departure_bump(&d, d.n_bumps - 1);
        test_close(rows[i].name, first.centre, rows[i].low, 1e-12);
        test_close(rows[i].name, last.centre, rows[i].high, 1e-9);
        test_close(rows[i].name, first.width, d.spacing, 0.0);
        for (size_t k = 0; k < d.n_bumps; k++) { /* Source: the Gaussian function */
            const ww__bump b = ww__departure_bump(&d, k);
            test_close("top", ww__departure_at(&d, k, b.centre), 1.0, 1e-12);
            test_close("width", ww__departure_at(&d, k, b.centre + b.width), exp(-0.5), 1e-10);
            test_close("both sides", ww__departure_at(&d, k, b.centre - 2.0 * b.width), exp(-2.0),
                       1e-10);
            test_close("the base, far away", ww__departure_at(&d, k, -1e6), 0.0, 0.0);
        }
    }
}

/* ----------------------------------------------------------------- restricted likelihood */

enum { ROWS = 19, FIXED = 4, BUMPS = 7 };
typedef struct problem {
    double residual[ROWS], hat[ROWS * ROWS], bumps[ROWS * BUMPS];
    gsl_matrix *contrast; /* ROWS x (ROWS - FIXED), square to everything fitted */
} problem;

/* A linear fit of four columns by QR: its hat matrix, residuals, and the contrasts it leaves. */
static void problem_make(problem *p, uint64_t seed, double sd) {
    dice d = {seed};
    gsl_matrix *x = gsl_matrix_alloc(ROWS, FIXED), *q = gsl_matrix_alloc(ROWS, ROWS);
    gsl_matrix *rr = gsl_matrix_alloc(ROWS, FIXED);
    gsl_vector *tau = gsl_vector_alloc(FIXED);
    double y[ROWS];
    for (size_t i = 0; i < ROWS; i++) {
        const double u = 0.15 * (double)i;
        for (size_t a = 0; a < FIXED; a++)
            gsl_matrix_set(x, i, a, pow(u - 1.3, (double)a));
        for (size_t k = 0; k < BUMPS; k++)
            p->bumps[i * BUMPS + k] = exp(-0.5 * pow((u - 0.45 * (double)k) / 0.45, 2.0));
        y[i] = dice_normal(&d, sd) + 0.01 * sin(5.0 * u);
    }
    gsl_linalg_QR_decomp(x, tau);
    gsl_linalg_QR_unpack(x, tau, q, rr);
    p->contrast = gsl_matrix_alloc(ROWS, ROWS - FIXED);
    for (size_t i = 0; i < ROWS; i++) {
        for (size_t k = FIXED; k < ROWS; k++)
            gsl_matrix_set(p->contrast, i, k - FIXED, gsl_matrix_get(q, i, k));
        for (size_t j = 0; j < ROWS; j++) {
            double hat = 0.0;
            for (size_t a = 0; a < FIXED; a++)
                hat += gsl_matrix_get(q, i, a) * gsl_matrix_get(q, j, a);
            p->hat[i * ROWS + j] = hat;
        }
    }
    for (size_t i = 0; i < ROWS; i++) {
        p->residual[i] = y[i];
        for (size_t j = 0; j < ROWS; j++)
            p->residual[i] -= p->hat[i * ROWS + j] * y[j];
    }
    gsl_matrix_free(x);
    gsl_matrix_free(q);
    gsl_matrix_free(rr);
    gsl_vector_free(tau);
}

/* log density of the contrasts A'y ~ N(0, A'(scatter^2 I + scale^2 ZZ')A), by Cholesky. */
static double log_likelihood(const problem *p, double scale, double scatter) {
    enum { FREE = ROWS - FIXED };
    gsl_matrix *v = gsl_matrix_alloc(FREE, FREE);
    gsl_vector *y = gsl_vector_alloc(FREE), *solved = gsl_vector_alloc(FREE);
    double z[FREE][BUMPS], sum = 0.0, square;
    for (size_t a = 0; a < FREE; a++) {
        double along = 0.0;
        for (size_t i = 0; i < ROWS; i++)
            along += gsl_matrix_get(p->contrast, i, a) * p->residual[i];
        gsl_vector_set(y, a, along);
        for (size_t k = 0; k < BUMPS; k++) {
            z[a][k] = 0.0;
            for (size_t i = 0; i < ROWS; i++)
                z[a][k] += gsl_matrix_get(p->contrast, i, a) * p->bumps[i * BUMPS + k];
        }
    }
    for (size_t a = 0; a < FREE; a++) {
        for (size_t b = 0; b < FREE; b++) {
            double here = a == b ? scatter * scatter : 0.0;
            for (size_t k = 0; k < BUMPS; k++)
                here += scale * scale * z[a][k] * z[b][k];
            gsl_matrix_set(v, a, b, here);
        }
    }
    gsl_linalg_cholesky_decomp1(v);
    gsl_linalg_cholesky_solve(v, y, solved);
    for (size_t a = 0; a < FREE; a++)
        sum += 2.0 * log(gsl_matrix_get(v, a, a));
    square = 0.0;
    for (size_t a = 0; a < FREE; a++)
        square += gsl_vector_get(y, a) * gsl_vector_get(solved, a);
    gsl_matrix_free(v);
    gsl_vector_free(y);
    gsl_vector_free(solved);
    return -0.5 * (sum + square);
}

static double cell(const ww__departure *d, size_t i) {
    return i ? d->cumulative[i] - d->cumulative[i - 1] : d->cumulative[0];
}

/* Source: Patterson and Thompson 1971, on explicit contrasts through GSL's Cholesky; the
 * half-normal weight of the scale by definition. Ratios of cells to the heaviest one. */
static void learned_weights(void **state) {
    (void)state;
    enum { CELLS = WW__DEPARTURE_SCALES * WW__DEPARTURE_SCATTERS };
    const double typical = 0.004;
    for (uint64_t seed = 1; seed < 4; seed++) {
        problem p;
        ww__departure d = {.n_bumps = BUMPS, .first = 0.0, .spacing = 0.45};
        problem_make(&p, seed, 0.006);
        test_status("learn",
                    ww__departure_learn(&d, ROWS, p.residual, p.hat, p.bumps, typical, NULL), WW_OK,
                    NULL);
        double want[CELLS], most = -HUGE_VAL;
        size_t top = 0;
        for (size_t i = 0; i < CELLS; i++) {
            const double scale = d.scale[i / WW__DEPARTURE_SCATTERS];
            want[i] = log_likelihood(&p, scale, d.scatter[i % WW__DEPARTURE_SCATTERS]) -
                      0.5 * pow(scale / typical, 2.0);
            if (want[i] > most) {
                most = want[i];
                top = i;
            }
        }
        test_close("no scale at all is among them", d.scale[0], 0.0, 0.0);
        for (size_t i = 0; i < CELLS; i++)
            test_close("weight", cell(&d, i) / cell(&d, top), exp(want[i] - most), 1e-6);
        gsl_matrix_free(p.contrast);
    }
}

/* Draws come as often as their weights say, heights are normal with the scale drawn; the same seed
 * draws the same. */
static void draws(void **state) {
    (void)state;
    enum { DRAWS = 20000, CELLS = WW__DEPARTURE_SCALES * WW__DEPARTURE_SCATTERS };
    problem p;
    ww__departure d = {.n_bumps = BUMPS, .first = 0.0, .spacing = 0.45};
    problem_make(&p, 5, 0.006);
    test_status("learn", ww__departure_learn(&d, ROWS, p.residual, p.hat, p.bumps, 0.004, NULL),
                WW_OK, NULL);
    double by_scatter[WW__DEPARTURE_SCATTERS] = {0}, mean_square = 0.0, square = 0.0;
    for (size_t i = 0; i < CELLS; i++) {
        const double share = cell(&d, i) / d.cumulative[CELLS - 1];
        by_scatter[i % WW__DEPARTURE_SCATTERS] += share;
        mean_square += share * pow(d.scale[i / WW__DEPARTURE_SCATTERS], 2.0);
    }
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_taus2), *same = gsl_rng_alloc(gsl_rng_taus2);
    size_t seen[WW__DEPARTURE_SCATTERS] = {0};
    for (size_t k = 0; k < DRAWS; k++) {
        double height[BUMPS], again[BUMPS], scatter, scatter_again;
        ww__departure_draw(&d, rng, height, &scatter);
        ww__departure_draw(&d, same, again, &scatter_again);
        assert_memory_equal(height, again, sizeof height);
        test_close("the same", scatter_again, scatter, 0.0);
        for (size_t i = 0; i < WW__DEPARTURE_SCATTERS; i++)
            seen[i] += scatter == d.scatter[i];
        for (size_t i = 0; i < BUMPS; i++)
            square += height[i] * height[i] / (DRAWS * BUMPS);
    }
    for (size_t i = 0; i < WW__DEPARTURE_SCATTERS; i++) /* binomial, four and a half sd */
        test_close("frequency", (double)seen[i] / DRAWS, by_scatter[i],
                   4.5 * sqrt(by_scatter[i] * (1.0 - by_scatter[i]) / DRAWS) + 1e-4);
    test_close("mean square height", square, mean_square, 0.03 * mean_square);
    gsl_rng_free(rng);
    gsl_rng_free(same);
    gsl_matrix_free(p.contrast);
}

int main(void) {
    ww_start();
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(by_hand),
        cmocka_unit_test(layouts),
        cmocka_unit_test(learned_weights),
        cmocka_unit_test(draws),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
