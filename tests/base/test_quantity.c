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

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(names_and_presence),
                                       cmocka_unit_test(starts_absent)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
