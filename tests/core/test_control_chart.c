/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/support.h"
#include <math.h>
#include <stdint.h>
#include <wedgework/control_chart.h>

#define COUNT(list) (sizeof(list) / sizeof *(list))

/* NIST/SEMATECH e-Handbook 6.3.2.2 (flowrate); data from memory, which gives its four results. */
static const double flowrate[] = {49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1};

/* A published set of 20 (SAS/QC sample SHWIR1); limits are its individuals chart with d2 = 1.128,
 * as the facts on process control have them. */
static const double twenty[] = {78.4, 80.1, 84.4, 79.1, 80.4, 83.5, 73.8, 83.5, 75.0, 76.8,
                                70.5, 80.3, 82.4, 79.4, 86.4, 90.5, 77.7, 82.5, 79.9, 83.2};

static void individuals(void **state) {
    static const struct {
        const char *row;
        const double *x;
        size_t n;
        double centre, range, sigma, lower, upper, tolerance;
    } rows[] = {
        {"NIST 6.3.2.2", flowrate, COUNT(flowrate), 50.81, 1.8778, 1.8778 / 1.128, 45.8159, 55.8041,
         5.1e-5},
        {"published n = 20", twenty, COUNT(twenty), 80.39, 5.326316, 4.721911, 66.224267, 94.555733,
         6e-7},
    };
    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++) {
        ww_control_individuals chart;
        test_status(rows[i].row, ww_control_individuals_of(rows[i].x, rows[i].n, 0.0, &chart, NULL),
                    WW_OK, NULL);
        test_close(rows[i].row, chart.centre, rows[i].centre, rows[i].tolerance);
        test_close(rows[i].row, chart.mean_range, rows[i].range, rows[i].tolerance);
        test_close(rows[i].row, chart.sigma, rows[i].sigma, rows[i].tolerance);
        test_close(rows[i].row, chart.lower, rows[i].lower, rows[i].tolerance);
        test_close(rows[i].row, chart.upper, rows[i].upper, rows[i].tolerance);
        test_true(rows[i].row, !chart.least);
    }
    /* The upper limit of the moving range of the 20: 17.401074. */
    test_close("moving range", WW_CONTROL_RANGE_UPPER * 5.326316, 17.401074, 5e-6);
}

static void sigma_has_a_floor(void **state) {
    static const double same[] = {0.731, 0.731, 0.731};
    ww_control_individuals chart;
    (void)state;
    test_status("floor", ww_control_individuals_of(same, 3, 0.003, &chart, NULL), WW_OK, NULL);
    test_close("sigma", chart.sigma, 0.003, 0.0);
    test_close("upper", chart.upper, 0.740, 1e-12);
    test_true("said", chart.least);
}

static void refusals(void **state) {
    const double bad[] = {1.0, NAN}, good[] = {1.0, 2.0};
    ww_control_individuals chart = {.centre = 2.731};
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("one", ww_control_individuals_of(good, 1, 0.0, &chart, &err), WW_EDOMAIN, &err);
    test_status("not finite", ww_control_individuals_of(bad, 2, 0.0, &chart, &err), WW_EDOMAIN,
                &err);
    test_status("floor", ww_control_individuals_of(good, 2, -1.0, &chart, &err), WW_EDOMAIN, &err);
    test_close("untouched", chart.centre, 2.731, 0.0);
}

/* Source: the rules' own words. */
static void runs(void **state) {
    static const struct {
        const char *row;
        size_t n;
        double z[8];
        unsigned found;
    } rows[] = {
        {"nothing", 0, {0}, 0},
        {"2 of 3", 3, {2.1, 0.0, 2.1}, WW_CONTROL_RUN_TWO},
        {"2 of 3, below", 3, {-2.1, 0.0, -2.1}, WW_CONTROL_RUN_TWO},
        {"2 of 2", 2, {2.1, 2.1}, WW_CONTROL_RUN_TWO},
        {"2 of 3 on two sides", 3, {2.1, 0.0, -2.1}, 0},
        {"the last is not one of them", 3, {2.1, 2.1, 0.0}, 0},
        {"at 2 sigma is not beyond", 3, {2.0, 0.0, 2.0}, 0},
        {"2 of 4", 4, {2.1, 0.0, 0.0, 2.1}, 0},
        {"4 of 5", 5, {1.1, 1.2, 0.5, 1.1, 1.2}, WW_CONTROL_RUN_FOUR},
        {"3 of 5", 5, {1.1, 0.9, 0.5, 1.1, 1.2}, 0},
        {"8", 8, {0.1, 0.2, 0.1, 0.3, 0.1, 0.2, 0.1, 0.2}, WW_CONTROL_RUN_EIGHT},
        {"8, below", 8, {-.1, -.2, -.1, -.3, -.1, -.2, -.1, -.2}, WW_CONTROL_RUN_EIGHT},
        {"7", 7, {0.1, 0.2, 0.1, 0.3, 0.1, 0.2, 0.1}, 0},
        {"on the centre is on no side", 8, {0.1, 0.2, 0.1, 0.0, 0.1, 0.2, 0.1, 0.2}, 0},
        {"trend", 6, {-0.9, -0.5, -0.1, 0.2, 0.3, 0.7}, WW_CONTROL_RUN_TREND},
        {"trend down", 6, {0.9, 0.5, 0.1, -0.2, -0.3, -0.7}, WW_CONTROL_RUN_TREND},
        {"5 rise", 5, {-0.5, -0.1, 0.2, 0.3, 0.7}, 0},
        {"a step that stays", 6, {-0.9, -0.5, -0.1, -0.1, 0.3, 0.7}, 0},
    };
    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++)
        test_close(rows[i].row, ww_control_runs(rows[i].z, rows[i].n), rows[i].found, 0.0);
}

/* --- simulated ------------------------------------------------------------------------------- */

static uint64_t seed = 88172645463325252U;

static double uniform(void) {
    seed ^= seed << 13;
    seed ^= seed >> 7;
    seed ^= seed << 17;
    return ((double)(seed >> 11) + 0.5) / 9007199254740992.0;
}

static double normal(void) {
    const double turn = 6.283185307179586;
    return sqrt(-2.0 * log(uniform())) * cos(turn * uniform());
}

/* The last eight values, which are all that rules look at. */
typedef struct window {
    double z[8];
    size_t n;
} window;

static void push(window *w, double z) {
    for (size_t i = 0; w->n == 8 && i < 7; i++)
        w->z[i] = w->z[i + 1];
    w->n -= w->n == 8;
    w->z[w->n++] = z;
}

static double run_length(unsigned rules, size_t trials) {
    double sum = 0.0;
    for (size_t t = 0; t < trials; t++) {
        window w = {.n = 0};
        for (bool over = false; !over; sum++) {
            push(&w, normal());
            over = fabs(w.z[w.n - 1]) > WW_CONTROL_LIMIT || (ww_control_runs(w.z, w.n) & rules);
        }
    }
    return sum / (double)trials;
}

/* Source: Champ and Woodall, Technometrics 29 (1987) 393-399 (from memory); the first 1 / (2
 * Phi(-3)). Run lengths scatter by about their mean. */
static void run_lengths_of_rules(void **state) {
    static const struct {
        const char *row;
        unsigned rules;
        double length;
    } rows[] = {{"limits alone", 0, 370.40},
                {"and 2 of 3", WW_CONTROL_RUN_TWO, 225.44},
                {"and 4 of 5", WW_CONTROL_RUN_FOUR, 166.05},
                {"and 8", WW_CONTROL_RUN_EIGHT, 152.73},
                {"and all three", 7, 91.75}};
    const size_t trials = test_quick() ? 400 : 20000;
    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++)
        test_close(rows[i].row, run_length(rows[i].rules, trials), rows[i].length,
                   4.0 * rows[i].length / sqrt((double)trials));
}

/* One value in so many, beyond limits and with runs, of charts whose limits are made of n. */
static void alarms(size_t n, size_t charts, double *limit, double *found) {
    enum { LONG = 200 };
    double beyond = 0.0, warned = 0.0;
    for (size_t t = 0; t < charts; t++) {
        ww_control_individuals chart = {.centre = 0.0, .sigma = 1.0};
        double x[20];
        window w = {.n = 0};
        for (size_t i = 0; i < n; i++)
            x[i] = normal();
        if (n > 0)
            test_status("chart", ww_control_individuals_of(x, n, 0.0, &chart, NULL), WW_OK, NULL);
        for (size_t i = 0; i < LONG + 8; i++) {
            push(&w, (normal() - chart.centre) / chart.sigma);
            beyond += i >= 8 && fabs(w.z[w.n - 1]) > WW_CONTROL_LIMIT;
            warned += i >= 8 && ww_control_runs(w.z, w.n) != 0;
        }
    }
    *limit = (double)(charts * LONG) / beyond;
    *found = (double)(charts * LONG) / warned;
}

static void false_alarms(void **state) {
    static const size_t baseline[] = {0, 10, 15, 20};
    const size_t charts = test_quick() ? 1000 : 20000;
    const double tolerance = test_quick() ? 0.3 : 0.05;
    (void)state;
    for (size_t i = 0; i < COUNT(baseline); i++) {
        double limit, found, said_limit, said;
        alarms(baseline[i], charts, &limit, &found);
        ww_control_false(baseline[i], &said_limit, &said);
        test_close("limit", limit, said_limit, tolerance * said_limit);
        test_close("runs", found, said, tolerance * said);
    }
    double a, b, c, d;
    ww_control_false(14, &a, &b);
    ww_control_false(10, &c, &d);
    test_close("14 are taken as 10", a, c, 0.0);
    ww_control_false(25, &a, &b);
    ww_control_false(20, &c, &d);
    test_close("25 are taken as 20", b, d, 0.0);
}

/* NIST 6.3.2.4: mean 50, s 2.0539, weight 0.3; limits as it prints them (truncated), the twenty
 * values and EWMAs from memory: each of the EWMAs follows from the values to 0.01. */
static void ewma(void **state) {
    static const double x[] = {52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5,
                               49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1};
    static const double want[] = {50.60, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75,
                                  49.85, 50.26, 50.33, 50.11, 49.36, 49.52, 50.05,
                                  49.38, 49.92, 50.73, 51.23, 51.94, 51.99};
    const double mean = 50.0, s = 2.0539, weight = 0.3;
    double at = 0.0;
    (void)state;
    test_close("upper", mean + s * ww_control_ewma_limit(weight), 52.5884, 5e-5);
    test_close("lower", mean - s * ww_control_ewma_limit(weight), 47.4115, 1e-4);
    for (size_t i = 0; i < COUNT(x); i++) {
        at = ww_control_ewma(at, (x[i] - mean) / s, weight);
        test_close("ewma", mean + s * at, want[i], 0.0051);
    }
}

/* Values until it is beyond its limit, of a process whose mean is off by `shift`. */
static double slow_length(ww_control_slow_kind kind, double shift, size_t trials) {
    double sum = 0.0;
    for (size_t t = 0; t < trials; t++) {
        ww_control_slow slow = {.kind = kind};
        do
            sum++;
        while (!ww_control_slow_add(&slow, normal() + shift));
    }
    return sum / (double)trials;
}

/*
 * Source: tabulated run lengths of the two-sided CUSUM with k 1/2, h 5 (Montgomery, Introduction to
 * Statistical Quality Control, from memory); of the EWMA with weight 0.2 at L 3, 560 in control and
 * about 10.5 at one sigma (Lucas and Saccucci, Technometrics 32 (1990), tables at L 2.962 and
 * around, from memory: hence 5 %).
 */
static void slow_drift(void **state) {
    static const struct {
        const char *row;
        ww_control_slow_kind kind;
        double shift, length;
    } rows[] = {{"CUSUM in control", WW_CONTROL_SLOW_CUSUM, 0.0, 465.0},
                {"CUSUM at 1", WW_CONTROL_SLOW_CUSUM, 1.0, 10.4},
                {"CUSUM at 2", WW_CONTROL_SLOW_CUSUM, 2.0, 4.01},
                {"EWMA in control", WW_CONTROL_SLOW_EWMA, 0.0, 560.0},
                {"EWMA at 1", WW_CONTROL_SLOW_EWMA, 1.0, 10.5}};
    const size_t trials = test_quick() ? 200 : 10000;
    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++)
        test_close(rows[i].row, slow_length(rows[i].kind, rows[i].shift, trials), rows[i].length,
                   rows[i].length * (0.04 + 4.0 / sqrt((double)trials)));
}

static void slow_words_and_places(void **state) {
    ww_control_slow none = {.kind = WW_CONTROL_SLOW_NONE};
    ww_control_slow sum = {.kind = WW_CONTROL_SLOW_CUSUM};
    (void)state;
    test_text("none", ww_control_slow_name(WW_CONTROL_SLOW_NONE), "none");
    test_text("ewma", ww_control_slow_name(WW_CONTROL_SLOW_EWMA), "ewma");
    test_text("cusum", ww_control_slow_name(WW_CONTROL_SLOW_CUSUM), "cusum");
    test_true("nothing is looked for", !ww_control_slow_add(&none, 99.0));
    test_true("not yet", !ww_control_slow_add(&sum, -3.0)); /* 2.5 of 5 */
    test_close("half way down", ww_control_slow_part(&sum), -0.5, 1e-12);
    test_true("at the limit", !ww_control_slow_add(&sum, -3.0));
    test_true("beyond", ww_control_slow_add(&sum, -0.6));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(individuals),
        cmocka_unit_test(sigma_has_a_floor),
        cmocka_unit_test(refusals),
        cmocka_unit_test(runs),
        cmocka_unit_test(run_lengths_of_rules),
        cmocka_unit_test(false_alarms),
        cmocka_unit_test(ewma),
        cmocka_unit_test(slow_drift),
        cmocka_unit_test(slow_words_and_places),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
