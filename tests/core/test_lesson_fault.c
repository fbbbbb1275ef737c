/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/support.h"
#include <string.h>
#include <wedgework/lesson.h>

/* Source: the header's list. */
static void names(void **state) {
    static const char *const want[] = {"none",          "swapped-rows", "missed-step",   "flare",
                                       "decimal-comma", "wrong-zero",   "reversed-wedge"};
    (void)state;
    for (size_t f = 0; f < WW_LESSON_FAULTS; f++) {
        test_text("name", ww_lesson_fault_name(f), want[f]);
        test_true("what", strlen(ww_lesson_fault_what((ww_lesson_fault)f)) > 10);
        test_true("sign", strlen(ww_lesson_fault_sign((ww_lesson_fault)f)) > 10);
    }
    assert_null(ww_lesson_fault_name(WW_LESSON_FAULTS));
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(names)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
