/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/gls.h"
#include "core/response_prior.h"
#include "support/support.h"
#include <math.h>
#include <string.h>

enum { ACTS = WW_RESPONSE_ACTS, TERMS = WW_RESPONSE_TERMS };

/* Source: definition: red is held back by cyan, green by magenta, blue by yellow, most of all; and
 * 10Y + 10M + 10C are a grey of 0.10 D, as seen by a handbook's reader. */
static void the_usual_head_is_grey(void **state) {
    (void)state;
    for (size_t c = 0; c < WW_RESPONSE_COLOURS; c++) {
        double grey = 0.0;
        for (size_t f = 1; f < ACTS; f++) {
            const bool own = ww_filter_channel((ww_filter)(f - 1)) == (ww_channel)c;
            test_true("own", (ww__response_prior_mean(c, f) < -0.5) == own);
            test_true("none gives light", ww__response_prior_mean(c, f) <= 0.0);
            grey += ww__response_prior_mean(c, f);
        }
        test_close("grey", grey, -1.0, 1e-15);
        test_close("time", ww__response_prior_mean(c, 0), 1.0, 1e-15);
    }
}

/* Source: by hand: magenta does 0.75 of itself in green, 0.18 and 0.06 of that open; stray of cyan
 * and yellow there 0.12 and 0.05, shares of their dyes 0.08 and 0.06; time 0.04 and 0.03. */
static void its_spread_is_as_told(void **state) {
    double p[TERMS * TERMS];
    const size_t green_magenta = WW_GREEN * ACTS + 2, green_yellow = WW_GREEN * ACTS + 1;
    (void)state;
    ww__response_prior(p);
    test_close("own", sqrt(p[green_magenta * (TERMS + 1)]),
               hypot(0.75 * hypot(0.18, 0.06), hypot(0.08, 0.06)), 1e-12);
    test_close("other", sqrt(p[green_yellow * (TERMS + 1)]),
               hypot(0.08 * hypot(0.18, 0.06), hypot(0.05, 0.06)), 1e-12);
    test_close("time", sqrt(p[0]), 0.05, 1e-12);
    /* What another filter takes of a channel's light its own filter lacks; both are as strong. */
    test_close("shares", p[green_magenta * TERMS + green_yellow],
               0.75 * 0.08 * 0.18 * 0.18 - 0.0036, 1e-12);
}

/* A grey filter does what all dyes together do: the shares cancel, strength and stray are left; in
 * red they are 1 of the common strength, 0.95, 0.05 and 0 of each its own, 0.02 and 0.01 stray. */
static void shares_cancel_in_a_grey(void **state) {
    double p[TERMS * TERMS], sum = 0.0, copy[TERMS * TERMS];
    (void)state;
    ww__response_prior(p);
    for (size_t j = 1; j < ACTS; j++)
        for (size_t k = 1; k < ACTS; k++)
            sum += p[j * TERMS + k];
    test_close("grey", sum,
               0.0324 + 0.0036 * (0.95 * 0.95 + 0.05 * 0.05) + 0.02 * 0.02 + 0.01 * 0.01, 1e-12);
    memcpy(copy, p, sizeof copy);
    test_true("regular", ww__gls_factor(copy, TERMS));
    for (size_t j = 0; j < TERMS; j++)
        for (size_t k = 0; k < TERMS; k++)
            test_close("symmetric", p[j * TERMS + k], p[k * TERMS + j], 1e-15);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_usual_head_is_grey),
        cmocka_unit_test(its_spread_is_as_told),
        cmocka_unit_test(shares_cancel_in_a_grey),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
