/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/cause.h"
#include "support/support.h"

typedef struct row {
    const char *name;
    double density, expected, tolerance;
    bool transmission;
    ww_cause cause;
    ww_optional would_be;
} row;

#define NONE                                                                                       \
    { false, 0.0 }

/* Source: definition (common practice, as the header says). Each slip is made by hand from the
 * density that is then asked for. */
static const row rows[] = {
    {"1.23 typed as 12.3", 12.3, 1.231, 0.015, false, WW_CAUSE_DECIMAL_POINT, {true, 1.23}},
    {"1.23 typed as .123", 0.123, 1.234, 0.015, true, WW_CAUSE_DECIMAL_POINT, {true, 1.23}},
    {"1.87 typed as 187", 187.0, 1.87, 0.015, true, WW_CAUSE_DECIMAL_POINT, {true, 1.87}},
    {"2.31 typed as 0.0231", 0.0231, 2.31, 0.015, true, WW_CAUSE_DECIMAL_POINT, {true, 2.31}},
    {"near zero any factor fits", 0.03, 0.05, 0.015, false, WW_CAUSE_SLIP, NONE},
    {"1.23 typed as 1.32", 1.32, 1.227, 0.015, false, WW_CAUSE_SLIP, {true, 1.23}},
    {"0.71 typed as 0.17", 0.17, 0.705, 0.015, true, WW_CAUSE_SLIP, {true, 0.71}},
    {"2.13 typed as 1.23", 1.23, 2.131, 0.015, true, WW_CAUSE_SLIP, {true, 2.13}},
    {"1.234 typed as 1.324", 1.324, 1.236, 0.015, true, WW_CAUSE_SLIP, {true, 1.234}},
    {"1.327 typed as 3.127", 3.127, 1.327, 0.015, true, WW_CAUSE_SLIP, {true, 1.327}},
    {"1.43 typed as 1.53", 1.53, 1.432, 0.015, true, WW_CAUSE_SLIP, {true, 1.43}},
    {"1.43 typed as 0.43", 0.43, 1.432, 0.015, true, WW_CAUSE_SLIP, {true, 1.43}},
    {"the nearer of two: 1.21, not 1.02", 1.12, 1.209, 0.2, true, WW_CAUSE_SLIP, {true, 1.21}},
    {"base side, -0.12 for 0.12 less 0.24",
     -0.12,
     -0.21,
     0.015,
     true,
     WW_CAUSE_SLIP,
     {true, -0.21}},
    {"no story fits", 1.55, 1.477, 0.015, false, WW_CAUSE_SLIP, NONE},
    {"a speck on a negative", 1.55, 1.513, 0.015, true, WW_CAUSE_DUST, NONE},
    {"a speck on a print is lighter or darker", 1.55, 1.513, 0.015, false, WW_CAUSE_SLIP, NONE},
    {"too thin for dust", 1.513, 1.55, 0.015, true, WW_CAUSE_SLIP, NONE},
    {"too dense for dust", 1.55, 1.489, 0.015, true, WW_CAUSE_SLIP, NONE},
    {"far beyond any digits", 1e300, 1.3, 0.015, true, WW_CAUSE_SLIP, NONE},
    {"the same, negative", -1e300, 1.3, 0.015, true, WW_CAUSE_SLIP, NONE},
};

static void causes(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const row *r = &rows[i];
        ww_optional would_be = {true, -77.0};
        const ww_cause cause =
            ww__cause_of_reading(r->density, r->expected, r->tolerance, r->transmission, &would_be);
        test_text(r->name, ww_cause_name(cause), ww_cause_name(r->cause));
        test_true(r->name, would_be.set == r->would_be.set);
        if (r->would_be.set)
            test_close(r->name, would_be.value, r->would_be.value, 1e-9);
    }
}

/* Property: whatever two neighbouring digits of a density below 4 are exchanged, where the two
 * differ, the density is found again; a mistake in the first decimal likewise. */
static void every_exchange_is_found(void **state) {
    (void)state;
    size_t tried = 0;
    for (int number = 1; number < 400; number++) {
        const int d[3] = {number / 100, number / 10 % 10, number % 10};
        const double expected = number / 100.0;
        const int slips[] = {d[1] * 100 + d[0] * 10 + d[2], d[0] * 100 + d[2] * 10 + d[1],
                             number + 10, number + 100};
        for (size_t k = 0; k < sizeof slips / sizeof *slips; k++) {
            ww_optional would_be;
            if (slips[k] == number)
                continue;
            const ww_cause cause =
                ww__cause_of_reading(slips[k] / 100.0, expected, 0.004, true, &would_be);
            test_true("a cause", cause == WW_CAUSE_SLIP || cause == WW_CAUSE_DECIMAL_POINT);
            test_true("found again", would_be.set);
            test_close("found again", would_be.value, expected, 0.004);
            tried++;
        }
    }
    test_true("many", tried > 1400);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(causes),
                                       cmocka_unit_test(every_exchange_is_found)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
