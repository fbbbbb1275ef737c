/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/support.h"
#include <wedgework/quantity.h>

/* Source: definition (the words of the curve file format). */
static const struct {
    ww_how how;
    const char *name;
    bool present;
} rows[] = {{WW_ABSENT, "absent", false},
            {WW_MEASURED, "measured", true},
            {WW_FITTED, "fitted", true},
            {WW_EXTRAPOLATED, "extrapolated", true},
            {WW_GIVEN, "given", true}};

static void names_and_presence(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const ww_quantity quantity = {0.0, 0.0, 0.0, rows[i].how};
        test_text(rows[i].name, ww_quantity_how_name(rows[i].how), rows[i].name);
        test_true(rows[i].name, ww_quantity_present(quantity) == rows[i].present);
    }
}

static void starts_absent(void **state) {
    const ww_quantity quantity = WW_QUANTITY_INIT;
    (void)state;
    assert_false(ww_quantity_present(quantity));
}

/* Source: by hand. Up to whole steps, one at least; 1.25 and a bit of a step is two, but of 1.04
 * less than a twentieth is let go, and of 20.2 a quarter of a step. */
static void doubts_are_rounded_up(void **state) {
    static const struct {
        double doubt, step, want;
    } doubts[] = {{0.0, 0.1, 0.1},   {0.01, 0.1, 0.1},
                  {0.104, 0.1, 0.1}, {0.106, 0.1, 0.2},
                  {0.12, 0.1, 0.2},  {-0.12, 0.1, 0.2},
                  {0.2, 0.1, 0.2},   {2.02, 0.1, 2.0},
                  {2.03, 0.1, 2.1},  {0.17, 1.0 / 12.0, 1.0 / 6.0}};
    (void)state;
    for (size_t i = 0; i < sizeof doubts / sizeof *doubts; i++)
        test_close("doubt", ww_doubt_shown(doubts[i].doubt, doubts[i].step), doubts[i].want, 1e-12);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(names_and_presence),
                                       cmocka_unit_test(starts_absent),
                                       cmocka_unit_test(doubts_are_rounded_up)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
