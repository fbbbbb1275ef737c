/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/response_made.h"
#include "support/support.h"
#include <math.h>
#include <string.h>

enum { COLOURS = WW_RESPONSE_COLOURS, ACTS = WW_RESPONSE_ACTS };

/* Source: by hand for ideal filters, with cyan at 0: E = red, dM = 100 (E - green), dY = 100 (E -
 * blue); the trade's example: .68/.80/.72 to .70 at slope 2.6 is 1.018 times, +4.6M, +1.5Y. */
static void ideal_filters_follow_the_hand(void **state) {
    static const double change[COLOURS] = {0.02 / 2.6, -0.10 / 2.6, -0.02 / 2.6};
    const ww_pack from = {{60, 45, 0}};
    const ww_response ideal = made_ideal();
    double act[ACTS];
    ww_pack to;
    (void)state;
    test_status("solve", ww_response_solve(&ideal, change, &from, act, &to, NULL), WW_OK, NULL);
    test_close("time", pow(10.0, act[0]), 1.0179, 1e-4);
    test_close("magenta", to.cc[WW_MAGENTA] - 45, 4.615, 1e-3);
    test_close("yellow", to.cc[WW_YELLOW] - 60, 1.538, 1e-3);
    test_close("cyan", to.cc[WW_CYAN], 0.0, 0.0);
}

/* Source: definition: whatever the pack begins with, the change comes out as asked for, two filters
 * at most, none below 0. */
static void comes_out_as_asked(void **state) {
    static const ww_pack packs[] = {
        {{60, 45, 0}}, {{5, 3, 0}}, {{46, 38, 12}}, {{0, 0, 0}}, {{0, 20, 30}}};
    static const double changes[][COLOURS] = {
        {0.1, -0.2, 0.05}, {-0.3, 0.1, 0.3}, {0.2, 0.2, 0.2}, {-0.01, 0.33, -0.27}};
    const ww_response response = made_response();
    (void)state;
    for (size_t p = 0; p < sizeof packs / sizeof packs[0]; p++)
        for (size_t k = 0; k < sizeof changes / sizeof changes[0]; k++) {
            double act[ACTS], change[COLOURS], least = HUGE_VAL;
            ww_pack to;
            test_status("solve",
                        ww_response_solve(&response, changes[k], &packs[p], act, &to, NULL), WW_OK,
                        NULL);
            ww_response_change(&response, act, change);
            for (size_t c = 0; c < COLOURS; c++) {
                test_close("change", change[c], changes[k][c], 1e-9);
                test_close("filter", act[c + 1], 0.01 * (to.cc[c] - packs[p].cc[c]), 1e-12);
                least = fmin(least, to.cc[c]);
            }
            test_close("the least is 0", least, 0.0, 0.0);
        }
}

/* Source: Army correspondence course SS0514: 46Y + 38M + 12C are 34Y + 26M, and the light of 12 CC
 * that were taken out is 10^0.12. */
static void takes_neutral_density_out(void **state) {
    static const double nothing[COLOURS] = {0.0, 0.0, 0.0};
    const ww_pack from = {{46, 38, 12}};
    const ww_response ideal = made_ideal();
    double act[ACTS];
    ww_pack to;
    (void)state;
    test_status("solve", ww_response_solve(&ideal, nothing, &from, act, &to, NULL), WW_OK, NULL);
    test_close("34Y", to.cc[WW_YELLOW], 34.0, 1e-9);
    test_close("26M", to.cc[WW_MAGENTA], 26.0, 1e-9);
    test_close("time", act[0], -0.12, 1e-12);
}

/* Source: calculus: the derivative of the weighted squares is 0 at the time found. */
static void finds_the_time_of_set_filters(void **state) {
    static const double change[COLOURS] = {0.1, -0.2, 0.05}, weight[COLOURS] = {1.0, 4.0, 2.0};
    const ww_response response = made_response();
    double act[ACTS] = {9.0, 0.025, -0.05, 0.0}, got[COLOURS], slope = 0.0;
    (void)state;
    ww_response_time(&response, change, weight, act);
    ww_response_change(&response, act, got);
    for (size_t c = 0; c < COLOURS; c++)
        slope += weight[c] * (got[c] - change[c]) * made_truth[c][0];
    test_close("least squares", slope, 0.0, 1e-12);
}

/* Source: by hand for ideal filters with cyan at 0: E is red's error, dM is E - green. */
static void doubt_follows_the_hand(void **state) {
    const double covariance[COLOURS * COLOURS] = {9e-6, 0, 0, 0, 16e-6, 0, 0, 0, 4e-6};
    const ww_pack to = {{60, 45, 0}};
    const ww_response ideal = made_ideal();
    double doubt[ACTS];
    (void)state;
    test_status("doubt", ww_response_doubt(&ideal, &to, covariance, doubt, NULL), WW_OK, NULL);
    test_close("time", doubt[0], 0.003, 1e-12);
    test_close("yellow", doubt[1], sqrt(9e-6 + 4e-6), 1e-12);
    test_close("magenta", doubt[2], 0.005, 1e-12);
    test_close("cyan stays 0", doubt[3], 0.0, 0.0);
}

static void refuses_what_cannot_be_solved(void **state) {
    static const double change[COLOURS] = {0.1, 0.0, 0.0}, none[COLOURS * COLOURS] = {0.0};
    const ww_pack from = {{60, 45, 0}};
    ww_response response = made_response();
    double act[ACTS] = {7, 7, 7, 7};
    ww_pack to = {{1, 2, 3}};
    ww_error err = WW_ERROR_INIT;
    (void)state;
    memcpy(response.term[0], response.term[1], sizeof response.term[0]);
    test_status("alike", ww_response_solve(&response, change, &from, act, &to, &err), WW_EDOMAIN,
                &err);
    test_holds("alike", err.msg, "do not tell the channels apart");
    test_status("nor doubt", ww_response_doubt(&response, &from, none, act, &err), WW_EDOMAIN,
                &err);
    response = made_response();
    response.term[1][2] = 0.9; /* a filter that gives light */
    test_status("no grey", ww_response_solve(&response, change, &from, act, &to, &err), WW_EDOMAIN,
                &err);
    test_holds("no grey", err.msg, "no mixture of the filters is grey");
    test_close("untouched", act[0] + to.cc[0], 8.0, 0.0);
}

/* Source: by hand: magenta that does 0.75 +- 0.3 of itself in green, 95 %, is asked for 1 / 0.6 to
 * 1 / 1.4 of what it was: half of that is 0.476, where to first order it is 0.4. */
static void a_weak_filter_leans(void **state) {
    ww_response response = {.rows = 0};
    (void)state;
    response.term[WW_GREEN][2] = -0.75;
    test_close("sure", ww_response_lean(&response, WW_MAGENTA), 1.0, 1e-15);
    response.covariance[(WW_GREEN * WW_RESPONSE_ACTS + 2) * (WW_RESPONSE_TERMS + 1)] =
        pow(0.3 / 1.959963984540054, 2);
    test_close("leans", ww_response_lean(&response, WW_MAGENTA),
               (1.0 / 0.6 - 1.0 / 1.4) / 2.0 / 0.4, 1e-12);
    response.term[WW_GREEN][2] = -0.01;
    test_close("no end", ww_response_lean(&response, WW_MAGENTA), 1.0 / 0.36, 1e-12);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ideal_filters_follow_the_hand),
        cmocka_unit_test(comes_out_as_asked),
        cmocka_unit_test(takes_neutral_density_out),
        cmocka_unit_test(finds_the_time_of_set_filters),
        cmocka_unit_test(doubt_follows_the_hand),
        cmocka_unit_test(refuses_what_cannot_be_solved),
        cmocka_unit_test(a_weak_filter_leans),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
