/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/staircase_parts.h"
#include "support/emulsion.h"
#include "support/support.h"

#include <math.h>

enum { N = 11, LONG = 400 };

/* Source: definition, all 2^(N-1) ways to cut. */
static double least_cost(const double y[], const double w[], double penalty, unsigned *best_cut) {
    double best = HUGE_VAL;
    for (unsigned cut = 0; cut < 1u << (N - 1); cut++) {
        double sum = 0.0;
        for (size_t from = 0; from < N;) {
            size_t to = from + 1;
            while (to < N && !(cut >> (to - 1) & 1u))
                to++;
            double sw = 0.0, swy = 0.0;
            for (size_t i = from; i < to; i++)
                sw += w[i], swy += w[i] * y[i];
            for (size_t i = from; i < to; i++)
                sum += w[i] * (y[i] - swy / sw) * (y[i] - swy / sw);
            sum += penalty;
            from = to;
        }
        if (sum < best)
            best = sum, *best_cut = cut;
    }
    return best;
}

static void cuts_are_the_best_of_all(void **state) {
    dice d = {77};
    (void)state;
    for (int round = 0; round < 12; round++) {
        double y[N], w[N];
        ww__part part[N];
        size_t n = 0;
        unsigned want = 0, got = 0;
        for (size_t i = 0; i < N; i++)
            y[i] = (i > 3) + (i > 7) + dice_normal(&d, 0.4), w[i] = dice_even(&d, 3.0, 9.0);
        (void)least_cost(y, w, 2.0, &want);
        test_status("find", ww__parts_find(y, w, NULL, N, 2.0, part, &n, NULL), WW_OK, NULL);
        for (size_t k = 0; k + 1 < n; k++)
            got |= 1u << (part[k].to - 1);
        test_true("the same cut", got == want);
    }
}

static void flight_of(const double y[], double sign, ww__flight *flight) {
    double w[LONG];
    ww__part part[LONG];
    size_t n = 0;
    for (size_t i = 0; i < LONG; i++)
        w[i] = 1e4;
    test_status("parts", ww__parts_find(y, w, NULL, LONG, 12.0, part, &n, NULL), WW_OK, NULL);
    test_status("flight", ww__parts_flight(part, n, sign, 4, flight, NULL), WW_OK, NULL);
}

/* Source: the drawing: surround, 12 steps of 0.15 from place 60 on, 23 wide, surround. */
static double stairs(size_t i) {
    return i < 60 || i >= 336 ? 0.0 : -0.05 - 0.15 * (double)((i - 60) / 23);
}

static void steps_make_a_flight(void **state) {
    double y[LONG], lines[LONG], back[LONG], slope[LONG];
    ww__flight f;
    (void)state;
    for (size_t i = 0; i < LONG; i++) {
        y[i] = stairs(i);
        lines[i] = i >= 60 && i < 336 && (i - 60) % 23 < 2 ? 0.3 : y[i];
        back[i] = stairs(LONG - 1 - i);
        slope[i] = -0.006 * (double)i;
    }
    flight_of(y, 1.0, &f);
    test_true("12 steps and the surround before", f.n == 12 || f.n == 13);
    test_close("pitch", f.pitch, 23.0, 0.5);
    test_true("an edge counts one", f.score > 10.9 && f.score < 12.1);
    flight_of(y, -1.0, &f);
    test_true("nothing rises but the end", f.n <= 2);
    flight_of(back, -1.0, &f);
    test_true("the other way", f.n == 12 || f.n == 13);
    flight_of(lines, 1.0, &f);
    test_true("lines between", f.n == 12 || f.n == 13);
    flight_of(slope, 1.0, &f);
    test_true("a slope is none", f.score < 0.1 * (double)f.n);
    for (size_t i = 0; i < LONG; i++)
        y[i] = 1.0;
    flight_of(y, 1.0, &f);
    test_true("even", f.n == 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(cuts_are_the_best_of_all),
        cmocka_unit_test(steps_make_a_flight),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
