/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/support.h"
#include <math.h>
#include <wedgework/response.h>

static const double read_error = 0.003, by = 0.4; /* [log H] of a reading, and by 1 D */

/* Two prints made alike, apart by that much in every colour. */
static ww_status find(double apart, size_t n_greys, double *sd, double *wide, ww_error *err) {
    ww_response_row row[2] = {{.grey = 0}, {.grey = 0}};
    double per_d[2][WW_RESPONSE_COLOURS];
    for (size_t i = 0; i < 2; i++)
        for (size_t c = 0; c < WW_RESPONSE_COLOURS; c++) {
            row[i].log_h[c] = 0.7 + (double)i * apart;
            row[i].error[c] = read_error;
            per_d[i][c] = by;
        }
    return ww_response_scatter(row, (const double(*)[WW_RESPONSE_COLOURS])per_d, 2, n_greys, sd,
                               wide, err);
}

/* Source: closed form: 3 apart^2 / (2 error^2) = 3 for error^2 = 0.003^2 + (0.4 sd)^2; t of three
 * degrees of freedom is 3.18245 at 95 % (tables of Student's t), where a normal law has 1.95996. */
static void two_prints_tell_by_hand(void **state) {
    ww_error err = WW_ERROR_INIT;
    double sd = 1.0, wide = 1.0;
    (void)state;
    test_status("two", find(0.02731, 1, &sd, &wide, &err), WW_OK, &err);
    test_close("sd", sd, sqrt(0.02731 * 0.02731 / 2.0 - read_error * read_error) / by, 1e-8);
    test_close("wide", wide / sd, 3.18245 / 1.95996, 1e-5);
}

/* Prints no further apart than readings err show no scatter; definition. */
static void none_is_made_up(void **state) {
    ww_error err = WW_ERROR_INIT;
    double sd = 1.0, wide = 1.0;
    (void)state;
    test_status("near", find(0.004, 1, &sd, &wide, &err), WW_OK, &err);
    test_close("sd", sd, 0.0, 0.0);
    test_close("wide", wide, 0.0, 0.0);
}

/* One print a grey: nothing is left that could scatter, by whatever rounding leaves of a sum of
 * squares. Definition. */
static void a_print_a_grey_scatters_not(void **state) {
    static const double per_d[2][WW_RESPONSE_COLOURS] = {{by, by, by}, {by, by, by}};
    ww_response_row row[2] = {{.grey = 0}, {.grey = 1}};
    (void)state;
    for (int k = 1; k <= 50; k++) {
        ww_error err = WW_ERROR_INIT;
        double sd = 1.0, wide = 1.0;
        for (size_t i = 0; i < 2; i++)
            for (size_t c = 0; c < WW_RESPONSE_COLOURS; c++) {
                row[i].log_h[c] = 0.1 * (double)k / 3.0 + 0.7 * (double)i;
                row[i].error[c] = read_error;
            }
        test_status("one each", ww_response_scatter(row, per_d, 2, 2, &sd, &wide, &err), WW_OK,
                    &err);
        test_close("sd", sd, 0.0, 0.0);
        test_close("wide", wide, 0.0, 0.0);
    }
}

static void refuses_what_a_fit_refuses(void **state) {
    ww_error err = WW_ERROR_INIT;
    double sd = 0.25, wide = 0.25;
    (void)state;
    test_status("greys", find(0.02, 0, &sd, &wide, &err), WW_EDOMAIN, &err);
    test_close("untouched", sd + wide, 0.5, 0.0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(two_prints_tell_by_hand),
        cmocka_unit_test(none_is_made_up),
        cmocka_unit_test(a_print_a_grey_scatters_not),
        cmocka_unit_test(refuses_what_a_fit_refuses),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
