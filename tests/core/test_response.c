/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/response_made.h"
#include "support/emulsion.h"
#include "support/support.h"
#include <math.h>

enum { COLOURS = WW_RESPONSE_COLOURS, ACTS = WW_RESPONSE_ACTS, TERMS = WW_RESPONSE_TERMS };

static const double at[COLOURS] = {-0.13, 0.21, 0.07};
static const double none[ACTS] = {0.0};
static const double ring[][ACTS] = {{0, 0.2, 0, 0},  {0, 0, 0.2, 0},  {0, 0, 0, 0.2},
                                    {0.1, 0, 0, 0},  {0, -0.2, 0, 0}, {0, 0, -0.2, 0},
                                    {-0.1, 0, 0, 0}, {0, 0, 0, -0.2}};
enum { RING = sizeof ring / sizeof ring[0], ROWS = RING + 1 };

static void make_ring(ww_response_row row[ROWS], dice *d, double error) {
    row[0] = made_row(0, at, none, error);
    for (size_t i = 0; i < RING; i++)
        row[i + 1] = made_row(0, at, ring[i], error);
    for (size_t i = 0; d && i < ROWS; i++)
        for (size_t c = 0; c < COLOURS; c++)
            row[i].log_h[c] += dice_normal(d, error);
}

/* Source: closed form of one unknown: two prints that differ by time alone. What the time does is
 * known beforehand to sd = root(0.04^2 + 0.03^2) of its own channel; green and blue tell of the
 * common part too, so that the truth lies between. */
static void one_act_follows_the_closed_form(void **state) {
    const double act[ACTS] = {0.3, 0, 0, 0};
    ww_response_row row[2];
    ww_response response;
    const double e = 0.001, p = 0.03 * 0.03, common = 0.04 * 0.04, v = 2 * e * e / 0.09;
    double want;
    (void)state;
    row[0] = made_row(0, at, none, e);
    row[1] = made_row(0, at, act, e);
    test_status("fit", ww_response_fit(row, 2, 1, &response, NULL), WW_OK, NULL);
    /* Three channels x = 1 + common + own with readings y = x + noise of variance v: the mean of
     * y is off by common + ..., shrunk by (3 q + p) / (3 q + p + v), the differences by p / (p +
     * v). */
    want = 1.0 + ((1.00 + 1.01 + 0.99) / 3.0 - 1.0) * (3 * common + p) / (3 * common + p + v) +
           (1.01 - 1.0) * p / (p + v);
    test_close("green by time", response.term[WW_GREEN][0], want, 1e-9);
    test_close("freedom", (double)response.freedom, 3.0, 0.0);
}

/* Without a difference between prints nothing is learned. Source: definition. */
static void equal_prints_teach_nothing(void **state) {
    const ww_response_row row[] = {made_row(0, at, none, 0.004), made_row(0, at, none, 0.004)};
    ww_response response, usual;
    (void)state;
    ww_response_usual(&usual);
    test_status("fit", ww_response_fit(row, 2, 1, &response, NULL), WW_OK, NULL);
    for (size_t c = 0; c < COLOURS; c++)
        for (size_t a = 0; a < ACTS; a++)
            test_close("usual", response.term[c][a], usual.term[c][a], 1e-9);
    for (size_t k = 0; k < TERMS * TERMS; k++)
        test_close("doubt", response.covariance[k], usual.covariance[k], 1e-9);
    test_close("magenta", ww_response_told(&response, 2), 1.0, 1e-6);
}

/* A full ring-around without errors gives the enlarger back, but for what the prior still weighs
 * against the bend: of a move of 0.2 hypot(0.002, 0.004), against 0.03 (of what red has of other
 * filters, least) to 0.2 of it known beforehand. */
static void a_ring_tells_the_response(void **state) {
    ww_response_row row[ROWS];
    ww_response response;
    (void)state;
    make_ring(row, NULL, 0.002);
    test_status("fit", ww_response_fit(row, ROWS, 1, &response, NULL), WW_OK, NULL);
    for (size_t c = 0; c < COLOURS; c++)
        for (size_t a = 0; a < ACTS; a++)
            test_close("term", response.term[c][a], made_truth[c][a], 0.02);
    for (size_t a = 1; a < ACTS; a++)
        test_true("told", ww_response_told(&response, a) < 0.25);
    test_close("rows", (double)response.rows, (double)ROWS, 0.0);
}

/* Source: definition of the standard error: at least 95 of 100 of what is foretold lies within 1.96
 * of it. This enlarger is linear, so that the bend allowed for makes it hold more. */
static void its_doubt_holds_the_truth(void **state) {
    static const double move[ACTS] = {0.05, 0.1, -0.15, 0.05};
    dice d = {20261201};
    size_t held = 0, n = 0;
    (void)state;
    for (int i = 0; i < 400; i++) {
        ww_response_row row[ROWS];
        ww_response response;
        double change[COLOURS], covariance[COLOURS * COLOURS];
        make_ring(row, &d, 0.004);
        assert_int_equal(ww_response_fit(row, ROWS, 1, &response, NULL), WW_OK);
        ww_response_change(&response, move, change);
        ww_response_change_covariance(&response, move, covariance);
        for (size_t c = 0; c < COLOURS; c++) {
            double truth = 0.0;
            for (size_t a = 0; a < ACTS; a++)
                truth += made_truth[c][a] * move[a];
            held += fabs(change[c] - truth) < 1.96 * sqrt(covariance[c * (COLOURS + 1)]);
            n++;
        }
    }
    print_message("held %zu of %zu\n", held, n);
    test_true("95 of 100", (double)held > 0.95 * (double)n);
}

/* Source: definition; a reading 0.08 D off on a slope of 2 is 0.04 log H, ten errors. In a ring of
 * 10 and 20 CC either side it can be told from its neighbours; of three prints in a row it cannot,
 * and none is named. */
static void names_the_wrong_row(void **state) {
    enum { MANY = 3 * 4 + 2 + 1 };
    static const double level[] = {-0.2, -0.1, 0.1, 0.2};
    dice d = {20261202};
    size_t found = 0, vain = 0;
    (void)state;
    for (int i = 0; i < 200; i++) {
        ww_response_row row[MANY];
        size_t suspect, n = 0;
        const size_t bad = (size_t)i % MANY;
        row[n++] = made_row(0, at, none, 0.004);
        for (size_t a = 0; a < ACTS; a++)
            for (size_t k = a == 0 ? 1 : 0; k < (a == 0 ? 3 : 4); k++) {
                double act[ACTS] = {0.0};
                act[a] = level[k];
                row[n++] = made_row(0, at, act, 0.004);
            }
        for (size_t k = 0; k < MANY; k++)
            for (size_t c = 0; c < COLOURS; c++)
                row[k].log_h[c] += dice_normal(&d, 0.004);
        assert_int_equal(ww_response_suspect(row, MANY, 1, &suspect, NULL), WW_OK);
        vain += suspect != MANY;
        row[bad].log_h[i % 3] += i % 2 ? 0.04 : -0.04;
        assert_int_equal(ww_response_suspect(row, MANY, 1, &suspect, NULL), WW_OK);
        found += suspect == bad;
    }
    print_message("found %zu of 200, %zu in vain\n", found, vain);
    test_true("found", found > 180);
    test_true("seldom in vain", vain <= 2);
}

static void left_out_rows_do_not_count(void **state) {
    ww_response_row row[ROWS];
    ww_response with, without;
    (void)state;
    make_ring(row, NULL, 0.002);
    row[4].log_h[1] += 0.5;
    row[4].left_out = true;
    test_status("with", ww_response_fit(row, ROWS, 1, &with, NULL), WW_OK, NULL);
    row[4] = row[ROWS - 1];
    test_status("without", ww_response_fit(row, ROWS - 1, 1, &without, NULL), WW_OK, NULL);
    for (size_t c = 0; c < COLOURS; c++)
        test_close("the same", with.term[c][2], without.term[c][2], 1e-12);
}

static void refuses_what_is_no_ring(void **state) {
    ww_response_row row[2] = {made_row(0, at, none, 0.004), made_row(1, at, none, 0.004)};
    ww_response response;
    size_t suspect;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("no row", ww_response_fit(row, 0, 1, &response, &err), WW_EDOMAIN, &err);
    test_status("no grey", ww_response_fit(row, 1, 0, &response, &err), WW_EDOMAIN, &err);
    test_status("many greys", ww_response_fit(row, 2, 17, &response, &err), WW_EDOMAIN, &err);
    test_status("a grey too many", ww_response_fit(row, 2, 1, &response, &err), WW_EDOMAIN, &err);
    test_status("a grey without row", ww_response_fit(row, 1, 2, &response, &err), WW_EDOMAIN,
                &err);
    row[0].error[1] = 0.0;
    test_status("no error", ww_response_fit(row, 2, 2, &response, &err), WW_EDOMAIN, &err);
    row[0].error[1] = 0.004;
    row[0].act[2] = NAN;
    test_status("no number", ww_response_suspect(row, 2, 2, &suspect, &err), WW_EDOMAIN, &err);
}

/* Source: tables of chi-square: 7.815 has 5 % for 3 degrees. */
static void knows_the_chance(void **state) {
    (void)state;
    test_close("7.815", ww_response_chance(7.815, 3), 0.05, 1e-4);
}

/* Source: definition, by hand: 40 yellow bend as the usual filter's 0, 0.08 and 0.75 of it in red,
 * green and blue; another filter's bend is one of its own. */
static void bends_follow_the_filter(void **state) {
    const ww_response sure = {.rows = 1};
    const double yellow[ACTS] = {0.3, 0.4, 0, 0}, both[ACTS] = {0, 0.4, 0.2, 0};
    const double far = 0.4 * hypot(0.013, 0.13 * 0.4), near = 0.2 * hypot(0.013, 0.13 * 0.2);
    double got[COLOURS * COLOURS];
    (void)state;
    ww_response_change_covariance(&sure, yellow, got);
    test_close("red", got[0], 0.0, 1e-15);
    test_close("green", sqrt(got[4]), 0.08 * far, 1e-12);
    test_close("blue", sqrt(got[8]), 0.75 * far, 1e-12);
    test_close("apart", got[5], 0.0, 1e-15);
    ww_response_change_covariance(&sure, both, got);
    test_close("both", sqrt(got[4]), hypot(0.08 * far, 0.75 * near), 1e-12);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(one_act_follows_the_closed_form),
        cmocka_unit_test(equal_prints_teach_nothing),
        cmocka_unit_test(a_ring_tells_the_response),
        cmocka_unit_test(its_doubt_holds_the_truth),
        cmocka_unit_test(names_the_wrong_row),
        cmocka_unit_test(left_out_rows_do_not_count),
        cmocka_unit_test(refuses_what_is_no_ring),
        cmocka_unit_test(knows_the_chance),
        cmocka_unit_test(bends_follow_the_filter),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
